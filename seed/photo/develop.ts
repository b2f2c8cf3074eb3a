import sharp from "sharp";
import { curves, HEIGHT, type Light, lightGrid, MARGIN, shadowGrid, stretchRow, WIDTH } from "#seed/photo/light";
import { noiseField, type Octave } from "#seed/photo/noise";
import { type Plate, type SurfaceName, surfacePlate } from "#seed/photo/plate";
import { PLATE_HEIGHT, PLATE_WIDTH } from "#seed/photo/plate-finish";
import { type Rand, randFrom } from "#seed/photo/random";
import { HORIZON_PX, underdeckPlate } from "#seed/photo/underdeck";

/** A ramp down the picture: `above` over the first row, `below` under the last, in between a straight line. 0 to 1. */
interface Ramp {
  fromPx: number;
  toPx: number;
  above: number;
  below: number;
}

/**
 * Shapes that take their colour from a surface. In the drawing red is the shade (128 leaves the surface as it is),
 * green is the share of the second surface, blue is wetness; noise makes the border of the two ragged.
 */
interface SurfaceLayer {
  svg: string;
  base: SurfaceName;
  over?: SurfaceName;
  overRamp?: Ramp;
  wetRamp?: Ramp;
}

/** What a scene hands to the darkroom. */
export interface Picture {
  backdrop: { surface: SurfaceName } | { underdeckView: number; horizonPx: number };
  /** From the back to the front. */
  surfaces?: readonly SurfaceLayer[];
  /** Shapes in their own colours; they throw a shadow. */
  objects: string;
  /** How far the objects stand off what is behind them, px. */
  standOffPx?: number;
  light: Light;
}

function rampAt(ramp: Ramp | undefined, y: number): number {
  if (!ramp) return 0;
  const share = Math.min(1, Math.max(0, (y - ramp.fromPx) / (ramp.toPx - ramp.fromPx)));
  return Math.round((ramp.above + (ramp.below - ramp.above) * share) * 255);
}

const NOISE_SIDE = 1024;
const NOISE_AREA = NOISE_SIDE * NOISE_SIDE;
let sharedNoise: { grain: Int8Array; ragged: Uint8ClampedArray; glint: Uint8ClampedArray } | undefined;

function noise(): NonNullable<typeof sharedNoise> {
  if (sharedNoise) return sharedNoise;
  const rand = randFrom("shared noise");
  const grain = new Int8Array(NOISE_AREA);
  // Two neighbours share some of their grain, as after a camera's own noise filter.
  for (let i = 0, last = 0; i < NOISE_AREA; i++) {
    const fresh = rand.next() + rand.next() + rand.next() - 1.5;
    grain[i] = Math.round((fresh + last * 0.5) * 7);
    last = fresh;
  }
  const bytes = (octaves: readonly Octave[]): Uint8ClampedArray => {
    const field = noiseField(NOISE_SIDE, NOISE_SIDE, octaves, rand);
    const levels = new Uint8ClampedArray(NOISE_AREA);
    for (let at = 0; at < NOISE_AREA; at++) levels[at] = 128 + (field[at] ?? 0) * 127;
    return levels;
  };
  sharedNoise = {
    grain,
    ragged: bytes([[70, 60, 0.4], [26, 26, 0.4], [9, 9, 0.4], [3, 3, 0.25]]),
    glint: bytes([[60, 40, 0.4], [11, 7, 0.6], [4, 3, 0.4]]),
  };
  return sharedNoise;
}

const frame = (drawing: string): Buffer =>
  Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}">${drawing}</svg>`);

const raster = (drawing: string): Promise<Uint8Array> => sharp(frame(drawing)).ensureAlpha().raw().toBuffer();

interface Placed {
  plate: Plate;
  left: number;
  top: number;
}

/** Where a plate is read from: any window for a surface, the window with the wanted horizon for a view under a deck. */
async function placeBackdrop(picture: Picture, rand: Rand): Promise<Placed> {
  const left = rand.whole(0, PLATE_WIDTH - WIDTH);
  if ("surface" in picture.backdrop) return { plate: surfacePlate(picture.backdrop.surface), left, top: rand.whole(0, PLATE_HEIGHT - HEIGHT) };
  const top = Math.min(PLATE_HEIGHT - HEIGHT, Math.max(0, Math.round(HORIZON_PX - picture.backdrop.horizonPx)));
  return { plate: await underdeckPlate(picture.backdrop.underdeckView), left, top };
}

/** Copies the window of the backdrop into the photo. */
function layBackdrop(photo: Uint8ClampedArray, { plate, left, top }: Placed): void {
  for (let y = 0; y < HEIGHT; y++) {
    const from = ((top + y) * PLATE_WIDTH + left) * 3;
    photo.set(plate.rgb.subarray(from, from + WIDTH * 3), y * WIDTH * 3);
  }
}

function laySurface(photo: Uint8ClampedArray, shapes: Uint8Array, layer: SurfaceLayer, rand: Rand): void {
  const base = surfacePlate(layer.base).rgb;
  const over = layer.over ? surfacePlate(layer.over).rgb : base;
  const { ragged, glint } = noise();
  const left = rand.whole(0, PLATE_WIDTH - WIDTH);
  const top = rand.whole(0, PLATE_HEIGHT - HEIGHT);
  const noiseFrom = rand.whole(0, NOISE_AREA - 1);

  for (let y = 0, p = 0, o = 0; y < HEIGHT; y++) {
    const overHere = rampAt(layer.overRamp, y);
    const wetHere = rampAt(layer.wetRamp, y);
    let from = ((top + y) * PLATE_WIDTH + left) * 3;
    let noiseAt = noiseFrom + y * NOISE_SIDE;
    for (let x = 0; x < WIDTH; x++, p += 4, o += 3, from += 3, noiseAt++) {
      const cover = shapes[p + 3]!;
      if (cover === 0) continue;
      let shade = shapes[p]! * 2;
      let r = base[from]!;
      let g = base[from + 1]!;
      let b = base[from + 2]!;
      const wanted = Math.max(shapes[p + 1]!, overHere);
      if (wanted > 2) {
        const share = Math.min(256, Math.max(0, 128 + (((wanted * 3) >> 1) - 64 - ragged[noiseAt & (NOISE_AREA - 1)]!) * 6));
        r += ((over[from]! - r) * share) >> 8;
        g += ((over[from + 1]! - g) * share) >> 8;
        b += ((over[from + 2]! - b) * share) >> 8;
      }
      const wet = Math.max(shapes[p + 2]!, wetHere);
      let shine = 0;
      if (wet > 0) {
        shade = (shade * (671 - wet)) / 671;
        shine = Math.max(0, ((glint[noiseAt & (NOISE_AREA - 1)]! - 168) * wet * 333) >> 16);
      }
      r = ((r * shade) >> 8) + shine;
      g = ((g * shade) >> 8) + shine;
      b = ((b * shade) >> 8) + shine;
      if (cover < 255) {
        r = photo[o]! + (((r - photo[o]!) * cover) >> 8);
        g = photo[o + 1]! + (((g - photo[o + 1]!) * cover) >> 8);
        b = photo[o + 2]! + (((b - photo[o + 2]!) * cover) >> 8);
      }
      photo[o] = r;
      photo[o + 1] = g;
      photo[o + 2] = b;
    }
  }
}

/** Lays the objects over their own shadow, then light, grain and the camera's curves: one walk over the photo for all. */
function expose(photo: Uint8ClampedArray, objects: Uint8Array, { light, standOffPx = 12 }: Picture, rand: Rand): void {
  const lightOn = lightGrid(light, rand);
  const shadow = shadowGrid(objects, standOffPx);
  const lightRow = new Int32Array(WIDTH);
  const shadowRow = new Int32Array(WIDTH);
  const [reds, greens, blues] = curves(light.warmth);
  const { ragged, grain } = noise();
  const noiseFrom = rand.whole(0, NOISE_AREA - 1);
  const grainFrom = rand.whole(0, NOISE_AREA - 1);
  for (let y = 0, p = 0, o = 0; y < HEIGHT; y++) {
    stretchRow(lightOn, y, lightRow, 256);
    stretchRow(shadow, y, shadowRow, 159);
    let noiseAt = noiseFrom + y * NOISE_SIDE;
    let grainAt = grainFrom + y * WIDTH;
    for (let x = 0; x < WIDTH; x++, p += 4, o += 3, noiseAt++, grainAt++) {
      const lit = lightRow[x]!;
      const noisy = grain[grainAt & (NOISE_AREA - 1)]! + MARGIN;
      const cover = objects[p + 3]!;
      // What is left of the light behind the objects, in their shadow.
      const kept = (((255 - cover) * (256 - shadowRow[x]!)) >> 8) * lit;
      let r = Math.imul(photo[o]!, kept);
      let g = Math.imul(photo[o + 1]!, kept);
      let b = Math.imul(photo[o + 2]!, kept);
      if (cover > 0) {
        // Dust and handling: nothing on a site is one flat colour.
        const worn = ((cover * (220 + (ragged[noiseAt & (NOISE_AREA - 1)]! >> 2))) >> 8) * lit;
        r += Math.imul(objects[p]!, worn);
        g += Math.imul(objects[p + 1]!, worn);
        b += Math.imul(objects[p + 2]!, worn);
      }
      photo[o] = reds[(r >> 16) + noisy]!;
      photo[o + 1] = greens[(g >> 16) + noisy]!;
      photo[o + 2] = blues[(b >> 16) + noisy]!;
    }
  }
}

/** Canvases that are free again: allocating two megabytes for each photo keeps the garbage collector busy. */
const freeCanvases: Uint8ClampedArray[] = [];

/** Turns a picture into a photo, WIDTH × HEIGHT px, as a camera's JPEG. */
export async function develop(picture: Picture, rand: Rand): Promise<Buffer> {
  const layers = picture.surfaces ?? [];
  const backdrop = await placeBackdrop(picture, rand);
  const [objects, ...shapes] = await Promise.all([picture.objects, ...layers.map(({ svg }) => svg)].map(raster)) as [Uint8Array, ...Uint8Array[]];
  const photo = freeCanvases.pop() ?? new Uint8ClampedArray(WIDTH * HEIGHT * 3);

  layBackdrop(photo, backdrop);
  layers.forEach((layer, i) => laySurface(photo, shapes[i]!, layer, rand));
  expose(photo, objects, picture, rand);
  const jpeg = await sharp(photo, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } }).jpeg({ quality: 74, optimiseCoding: false }).toBuffer();
  freeCanvases.push(photo);
  return jpeg;
}
