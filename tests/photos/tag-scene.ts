import sharp, { type OverlayOptions } from "sharp";
import { encode } from "uqr";

/** How a printed tag comes into a picture. */
export interface TagInScene {
  text: string;
  /** One module of the code in the picture, px. */
  modulePx: number;
  turnDegrees?: number;
  /** The tag seen from the side: how much narrower it gets, and how far it leans over, as shares. */
  narrower?: number;
  lean?: number;
  /** Sigma of a gaussian, px. */
  blurPx?: number;
  /** Share of the light; 1 is a clear day. */
  light?: number;
  /** Swing of the sensor's noise, levels (standard deviation). */
  noise?: number;
  /** Of the JPEG. */
  quality?: number;
}

/** Modules of margin that a code needs. Source: ISO/IEC 18004, quiet zone (from memory). */
const QUIET = 4;

/** Rows of a code, dark where true. */
export const modulesOf = (text: string): boolean[][] => encode(text, { ecc: "Q", border: 0 }).data;

/** The code on white card as a picture of its own, one module so many pixels wide. */
export async function cardOf(modules: readonly (readonly boolean[])[], modulePx: number): Promise<Buffer> {
  const side = modules.length + 2 * QUIET;
  const path = modules.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x + QUIET} ${y + QUIET}h1v1h-1z` : ""))).join("");
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${side} ${side}" width="${side * 8}" height="${side * 8}"><path d="M0 0H${side}V${side}H0Z" fill="#eceae2"/><path d="${path}" fill="#1b1a16" shape-rendering="crispEdges"/></svg>`;
  return sharp(Buffer.from(svg)).resize(Math.round(side * modulePx)).png().toBuffer();
}

const [WIDTH, HEIGHT] = [960, 720];

/** Noise takes its time to make and is the same to every reader: each kind is made once. */
const made = new Map<string, Promise<Buffer>>();
function once(name: string, make: () => Promise<Buffer>): Promise<Buffer> {
  const known = made.get(name) ?? make();
  made.set(name, known);
  return known;
}

const grain = (sigma: number) => sharp({ create: { width: WIDTH, height: HEIGHT, channels: 3, background: "#808080", noise: { type: "gaussian", mean: 128, sigma } } });
const grainOf = (sigma: number): Promise<Buffer> => once(`grain ${sigma}`, () => grain(sigma).png().toBuffer());
const wallOf = (): Promise<Buffer> => once("wall", async () => sharp(await grain(60).blur(6).png().toBuffer()).linear(3, -240).png().toBuffer());

/** A JPEG of 960 × 720 px: concrete of a kind, with the tag in it, or with none. */
export async function sceneWith(tag: TagInScene | null): Promise<Buffer> {
  const { light = 1, noise = 8, quality = 85 } = tag ?? {};
  const layers: OverlayOptions[] = [...(tag ? [{ input: await placed(tag) }] : []), { input: await grainOf(noise), blend: "soft-light" }];
  const seen = await sharp(await wallOf()).composite(layers).raw().toBuffer({ resolveWithObject: true });
  return sharp(seen.data, { raw: seen.info }).linear(light, 0).jpeg({ quality }).toBuffer();
}

async function placed({ text, modulePx, turnDegrees = 0, narrower = 0, lean = 0, blurPx = 0 }: TagInScene): Promise<Buffer> {
  const turn = (turnDegrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const across = 1 - narrower;
  const moved = sharp(await cardOf(modulesOf(text), modulePx)).ensureAlpha().affine([cos * across, lean - sin, sin * across, cos], { background: "#00000000", interpolator: sharp.interpolators.bicubic });
  const flat = await moved.png().toBuffer();
  return blurPx > 0 ? sharp(flat).blur(blurPx).png().toBuffer() : flat;
}
