import sharp from "sharp";

import { readHeicPixels } from "./heic.mjs";
import { fromPixels, readPixels, turn } from "./picture.mjs";

/** Longest side at which the picture is read: a marked circle of a tenth of it still has its pixels. */
const READ_PX = 2400;
/** Side of the square that is answered: four pixels for each cell. */
const SIDE_PX = 128;

/**
 * The colours inside the square around a marked circle of the upright picture. What lies outside the picture has no opacity.
 * @param {{ path: string, heic: boolean, orientation: number, area: { x: number, y: number, r: number } }} job
 * @returns {Promise<import("../../domain/photo/mix-cell.ts").MixPixels>}
 */
export async function readMix({ path, heic, orientation, area }) {
  const upright = heic ? await readHeicPixels(path, { px: READ_PX }) : await readUpright(path, orientation);
  const { width, height } = upright.info;
  const radius = Math.max(1, area.r * Math.min(width, height));
  const [left, top, side] = [Math.round(area.x * width - radius), Math.round(area.y * height - radius), Math.max(2, Math.round(2 * radius))];
  const [from, to] = [[Math.max(0, left), Math.max(0, top)], [Math.min(width, left + side), Math.min(height, top + side)]];
  const square = { side: SIDE_PX, sourcePx: side, smear: await smearOf(upright, side) };
  if (to[0] <= from[0] || to[1] <= from[1]) return { ...square, rgba: new Uint8Array(SIDE_PX ** 2 * 4) };

  const scale = SIDE_PX / side;
  const [wide, high] = [Math.max(1, Math.round((to[0] - from[0]) * scale)), Math.max(1, Math.round((to[1] - from[1]) * scale))];
  const part = await fromPixels(upright)
    .extract({ left: from[0], top: from[1], width: to[0] - from[0], height: to[1] - from[1] })
    .resize(Math.min(SIDE_PX, wide), Math.min(SIDE_PX, high), { fit: "fill", kernel: "linear" })
    .ensureAlpha()
    .png()
    .toBuffer();
  const at = { left: Math.min(SIDE_PX - 1, Math.round((from[0] - left) * scale)), top: Math.min(SIDE_PX - 1, Math.round((from[1] - top) * scale)) };
  const rgba = await sharp({ create: { width: SIDE_PX, height: SIDE_PX, channels: 4, background: { r: 0, g: 0, b: 0, alpha: 0 } } })
    .composite([{ input: part, ...at }])
    .raw({ depth: "uchar" })
    .toBuffer();
  return { ...square, rgba: new Uint8Array(rgba) };
}

/** @param {string} path @param {number} orientation */
async function readUpright(path, orientation) {
  const { width, height } = await sharp(path, { failOn: "none", limitInputPixels: false }).metadata();
  return turn(await readPixels(path, { width, height, px: READ_PX, failOn: "none" }), orientation);
}

/** Pixels on either side of an edge between which it is finished, and between which it is held to be steep. */
const [COARSE_PX, FINE_PX] = [12, 1];
/** Levels (0–255) that an edge has at least, and the part of the picture's strongest edges that counts as one: less is grain. */
const [LEAST_LEVELS, OF_STRONGEST] = [24, 0.6];
/** Fewer places on edges than this say nothing of a picture's sharpness. */
const LEAST_PLACES = 40;

/**
 * How wide the sharpest edges of the whole picture are smeared, as a share of the circle's diameter: the standard deviation of
 * a Gaussian that leaves as much of an edge's step within two pixels. Null where the picture has no edges.
 * @param {import("./picture.mjs").Pixels} upright
 * @param {number} side Diameter of the circle, pixels.
 * @returns {Promise<number | null>}
 */
async function smearOf(upright, side) {
  // At the size of the square that is answered: what is finer is seen by nobody who judges the answer.
  const scale = Math.min(1, SIDE_PX / side);
  const size = [upright.info.width, upright.info.height].map((px) => Math.max(1, Math.round(px * scale)));
  const { data, info } = await fromPixels(upright).greyscale().resize(size[0], size[1], { fit: "fill", kernel: "linear" }).raw({ depth: "uchar" }).toBuffer({ resolveWithObject: true });
  const edges = [];
  for (const [along, across, step, row] of [[info.width, info.height, 1, info.width], [info.height, info.width, info.width, 1]]) {
    for (let line = 0; line < across; line += 1) {
      for (let at = COARSE_PX; at < along - COARSE_PX; at += 1) {
        const place = line * row + at * step;
        const coarse = Math.abs(data[place + COARSE_PX * step] - data[place - COARSE_PX * step]);
        if (coarse >= LEAST_LEVELS) edges.push([coarse, Math.abs(data[place + FINE_PX * step] - data[place - FINE_PX * step])]);
      }
    }
  }
  const strong = part(edges.map(([coarse]) => coarse), 0.99) * OF_STRONGEST;
  const steep = edges.filter(([coarse]) => coarse >= strong).map(([coarse, fine]) => Math.min(1, fine / coarse));
  if (steep.length < LEAST_PLACES) return null;
  // The share of a smeared step within one pixel on either side is the error function of 1 / (σ√2), about 0.8 / σ.
  return 0.8 / Math.max(0.01, part(steep, 0.95)) / (side * scale);
}

/** The value under which a part of all values lies. @param {number[]} values @param {number} share 0–1 */
function part(values, share) {
  return values.sort((a, b) => a - b)[Math.min(values.length - 1, Math.trunc(values.length * share))] ?? 0;
}
