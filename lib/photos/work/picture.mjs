import { createHash } from "node:crypto";
import { mkdir, rename, rm, writeFile } from "node:fs/promises";
import { dirname } from "node:path";

import sharp from "sharp";

/** @typedef {{ data: Buffer, info: { width: number, height: number, channels: 1 | 2 | 3 | 4 } }} Pixels */
/** @typedef {{ px: number, path: string }} RenditionJob Longest side, and where it is kept. */

const JPEG_QUALITY = 78;

/** Side of the grey grid that hashes are made from: it can be cut into 8 and into 9. */
export const GRID_SIDE = 72;

/**
 * The picture as it lies in the file, made to fit the longest side, never enlarged.
 * @param {string} path
 * @param {{ width: number, height: number, px: number, failOn: "warning" | "none" }} how
 * @returns {Promise<Pixels>}
 */
export function readPixels(path, { width, height, px, failOn }) {
  return (
    sharp(path, { failOn, limitInputPixels: false, sequentialRead: true })
      // Cutting out the whole picture keeps the decoder from skipping detail while it shrinks: a skipped part hides its damage.
      .extract({ left: 0, top: 0, width, height })
      .resize(px, px, { fit: "inside", withoutEnlargement: true })
      .flatten({ background: "#ffffff" })
      .toColourspace("srgb")
      .raw({ depth: "uchar" })
      .toBuffer({ resolveWithObject: true })
  );
}

/** @param {Pixels} pixels */
export function fromPixels({ data, info }) {
  return sharp(data, { raw: { width: info.width, height: info.height, channels: info.channels } });
}

/**
 * Turns the picture upright by its orientation tag, 1–8. Done on the small picture: it has a tenth of the pixels.
 * @param {Pixels} pixels
 * @param {number} orientation
 * @returns {Promise<Pixels>}
 */
export async function turn(pixels, orientation) {
  const mirrored = orientation === 2 || orientation === 4 || orientation === 5 || orientation === 7;
  const degrees = { 3: 180, 4: 180, 5: 270, 6: 90, 7: 90, 8: 270 }[orientation] ?? 0;
  if (!mirrored && degrees === 0) return pixels;

  // Mirrored first, then turned: in one go the order would not be ours to say.
  const straight = mirrored ? await fromPixels(pixels).flop().raw().toBuffer({ resolveWithObject: true }) : pixels;
  return degrees === 0 ? straight : fromPixels(straight).rotate(degrees).raw().toBuffer({ resolveWithObject: true });
}

/**
 * What the pixels give for finding the picture again: the digest of the reduced picture as it lies in the file, and its
 * brightness on a small square grid.
 * @param {Pixels} pixels
 */
export async function looksOf(pixels) {
  const { width, height, channels } = pixels.info;
  const digest = createHash("sha256").update(`${width}x${height}x${channels}\n`).update(pixels.data).digest("hex");
  return { pixels: digest, grid: await gridOf(pixels) };
}

/** Brightness 0–255 on a square grid, row by row. Reduced before it is made grey: that is a quarter of the work. @param {Pixels} pixels */
export async function gridOf(pixels) {
  const colours = await fromPixels(pixels).resize(GRID_SIDE, GRID_SIDE, { fit: "fill", kernel: "linear" }).raw({ depth: "uchar" }).toBuffer({ resolveWithObject: true });
  return new Uint8Array(await fromPixels(colours).greyscale().raw({ depth: "uchar" }).toBuffer());
}

/**
 * Writes the renditions of an upright picture, the smaller from the larger. They can be made again from the original, so
 * nobody waits for the disk. No metadata goes along.
 * @param {Pixels} upright
 * @param {readonly RenditionJob[]} renditions
 */
export async function writeRenditions(upright, renditions) {
  let from = upright;
  for (const { px, path } of [...renditions].sort((a, b) => b.px - a.px)) {
    if (Math.max(from.info.width, from.info.height) > px) from = await fromPixels(from).resize(px, px, { fit: "inside" }).raw().toBuffer({ resolveWithObject: true });
    const jpeg = await fromPixels(from).jpeg({ quality: JPEG_QUALITY }).toBuffer();
    await mkdir(dirname(path), { recursive: true });
    const arriving = `${path}.${process.pid}.part`;
    try {
      await writeFile(arriving, jpeg);
      await rename(arriving, path);
    } finally {
      await rm(arriving, { force: true });
    }
  }
}
