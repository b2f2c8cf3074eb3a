import { converter } from "culori";
import sharp from "sharp";
import { deltaE00, type Lab } from "#lib/domain/photo/colour";
import { randFrom } from "#seed/photo/random";

/** A drawn photo of a bucket from above: what is in it, how it is lit, and what the camera makes of it. */
export interface Plate {
  mix?: Lab;
  /** How much of a streak there is at a place, 0–1; x and y run from −1 to 1 over the mix. */
  streak?: (x: number, y: number) => number;
  /** How much the streak differs (CIEDE2000), and in what. */
  deltaE?: number;
  towards?: Towards;
  /** Times the light, by place. */
  light?: (x: number, y: number) => number;
  /** White added by a reflection, 0–1 and more where it is clipped. */
  gloss?: (x: number, y: number) => number;
  /** Standard deviation of the sensor's noise, levels of 255. */
  noise?: number;
  jpeg?: number;
  /** Smearing of the whole picture, pixels. */
  blur?: number;
  /** What stands before everything else: a stirrer, a hand. */
  thing?: (x: number, y: number) => Lab | null;
}
export type Towards = "paler" | "darker" | "redder" | "yellower";

export const TAN: Lab = { l: 66, a: 5, b: 30 };
export const GREY: Lab = { l: 55, a: 0, b: 2 };
export const DARK: Lab = { l: 30, a: 1, b: -6 };
export const GREEN: Lab = { l: 52, a: -9, b: 12 };
export const CREAM: Lab = { l: 82, a: 2, b: 14 };
const WALL: Lab = { l: 80, a: 0, b: 2 };
const FLOOR: Lab = { l: 28, a: 6, b: 12 };

const [WIDTH, HEIGHT, RADIUS] = [360, 270, 112];
/** The mix in the upright picture, marked as a hand does: a little inside the wall. */
export const MARKED = { x: 0.5, y: 0.5, r: (RADIUS * 0.97) / HEIGHT };

const toRgb = converter("rgb");

/** The colour that differs from another by a stated CIEDE2000, in a stated way. */
export function differing(from: Lab, deltaE: number, towards: Towards): Lab {
  const at = (step: number): Lab =>
    ({
      paler: { l: from.l + step * 0.8, a: from.a * (1 - step / 60), b: from.b * (1 - step / 60) },
      darker: { l: from.l - step * 0.8, a: from.a + step * 0.15, b: from.b + step * 0.1 },
      redder: { l: from.l, a: from.a + step, b: from.b },
      yellower: { l: from.l, a: from.a, b: from.b + step * 1.5 },
    })[towards];
  let step = 0;
  while (deltaE00(from, at(step)) < deltaE && step < 120) step += 0.05;
  return at(step);
}

const levels = ({ l, a, b }: Lab): [number, number, number] => {
  const rgb = toRgb({ mode: "lab65", l, a, b });
  return [rgb.r * 255, rgb.g * 255, rgb.b * 255];
};

/** As light falls, levels go with the 2.4th root of it. Source: IEC 61966-2-1, without its straight foot. */
const lit = (level: number, light: number): number => level * Math.max(0, light) ** (1 / 2.4);

/** Draws the photo as a JPEG of 360 × 270 px; the same plate and seed give the same bytes. */
export async function drawPlate(plate: Plate, seed = "plate"): Promise<Buffer> {
  const { mix = TAN, streak = () => 0, deltaE = 0, towards = "paler", light = () => 1, gloss = () => 0, noise = 3, jpeg = 80, blur = 0, thing = () => null } = plate;
  const rand = randFrom(seed);
  const [clean, other, wall, floor] = [levels(mix), levels(differing(mix, deltaE, towards)), levels(WALL), levels(FLOOR)];
  const pixels = Buffer.alloc(WIDTH * HEIGHT * 3);
  for (let row = 0; row < HEIGHT; row += 1) {
    for (let column = 0; column < WIDTH; column += 1) {
      const [x, y] = [(column + 0.5 - WIDTH / 2) / RADIUS, (row + 0.5 - HEIGHT / 2) / RADIUS];
      const out = Math.hypot(x, y);
      const thingHere = thing(x, y);
      const share = out < 1 ? streak(x, y) : 0;
      const surface = thingHere ? levels(thingHere) : out > 1.14 ? floor : out > 1 ? wall : clean.map((level, i) => level + share * ((other[i] ?? 0) - level));
      for (let i = 0; i < 3; i += 1) {
        const grain = noise * Math.sqrt(3) * rand.between(-1, 1);
        pixels[(row * WIDTH + column) * 3 + i] = Math.max(0, Math.min(255, Math.round(lit(surface[i] ?? 0, light(x, y)) + 255 * gloss(x, y) + grain)));
      }
    }
  }
  const drawn = sharp(pixels, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } });
  return (blur > 0 ? drawn.blur(blur) : drawn).jpeg({ quality: jpeg }).toBuffer();
}

const near = (distance: number, width: number): number => Math.max(0, Math.min(1, (width / 2 - Math.abs(distance)) * 40 + 0.5));

/** Streaks as stirring leaves them. `width` in radii of the bucket. */
export const STREAKS: Readonly<Record<string, (width: number) => (x: number, y: number) => number>> = {
  "a spiral": (width) => (x, y) => {
    const [out, turn] = [Math.hypot(x, y), Math.atan2(y, x)];
    const distance = out - 0.15 - ((((turn / (2 * Math.PI)) % 1) + 1) % 1) * 0.35;
    return out > 0.85 ? 0 : near(Math.min(...[0, 0.35].map((ring) => Math.abs(distance - ring))), width);
  },
  "three arcs": (width) => (x, y) => Math.max(...[0.3, 0.5, 0.72].map((out, i) => (Math.cos(Math.atan2(y, x) - i * 2) > -0.2 ? near(Math.hypot(x, y) - out, width) : 0))),
  "a wavy band and a blot": (width) => (x, y) => Math.max(near(y - 0.25 * Math.sin(4 * x) - 0.2, width), Math.hypot(x + 0.35, y + 0.4) < width * 1.3 ? 1 : 0),
  "threads beside each other": (width) => (x, y) => near(((((x + 0.2 * Math.sin(3 * y)) % 0.4) + 0.4) % 0.4) - 0.2, width),
};

/** Ways in which light falls on a bucket. */
export const LIGHTS: Readonly<Record<string, (x: number, y: number) => number>> = {
  "even light": () => 1,
  "light from one side": (x) => 0.8 + 0.35 * x,
  "a shaded wall": (x, y) => 1.05 - 0.5 * Math.hypot(x, y) ** 2,
  "a lamp above": (x, y) => 0.25 + 1.1 * Math.exp(-((x - 0.2) ** 2 + (y + 0.1) ** 2) / 1.2),
  "night": (x, y) => 0.12 - 0.04 * y + 0.02 * x,
};
