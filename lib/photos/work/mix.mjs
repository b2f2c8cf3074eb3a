import sharp from "sharp";

import { readHeicPixels } from "./heic.mjs";
import { fromPixels, readPixels, turn } from "./picture.mjs";

/** Longest side at which the picture is read: a marked circle of a tenth of it still has its pixels. */
const READ_PX = 2400;
/** Side of the square that is answered. */
const SIDE_PX = 96;

/**
 * The colours inside the square around a marked circle of the upright picture. What lies outside the picture has no opacity.
 * @param {{ path: string, heic: boolean, orientation: number, area: { x: number, y: number, r: number } }} job
 * @returns {Promise<import("../../domain/photo/streak.ts").MixPixels>}
 */
export async function readMix({ path, heic, orientation, area }) {
  const upright = heic ? await readHeicPixels(path, { px: READ_PX }) : await readUpright(path, orientation);
  const { width, height } = upright.info;
  const radius = Math.max(1, area.r * Math.min(width, height));
  const [left, top, side] = [Math.round(area.x * width - radius), Math.round(area.y * height - radius), Math.max(2, Math.round(2 * radius))];
  const [from, to] = [[Math.max(0, left), Math.max(0, top)], [Math.min(width, left + side), Math.min(height, top + side)]];
  const square = { side: SIDE_PX, sourcePx: side };
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
