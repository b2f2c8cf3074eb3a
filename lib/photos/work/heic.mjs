import { readFile } from "node:fs/promises";

import { fromPixels } from "./picture.mjs";

/**
 * The pixels of a HEIC, made to fit the longest side, never enlarged. They stand upright: the decoder turns them as the
 * file's own properties say, and by the standard the orientation tag of the Exif block plays no part. Nobody turns them again.
 * Takes about a second for 12 megapixels, and five times their bytes in memory. Rejects when the file cannot be decoded.
 * Source: ISO/IEC 23008-12, transformative item properties and Exif metadata (from memory).
 * @param {string} path
 * @param {{ px: number }} how
 * @returns {Promise<import("./picture.mjs").Pixels>}
 */
export async function readHeicPixels(path, { px }) {
  // The decoder is some megabytes of program: a worker that meets no HEIC does without it.
  const { default: decode } = await import("heic-decode");
  const { data, width, height } = await decode({ buffer: await readFile(path) }).catch((/** @type {unknown} */ error) => {
    throw new Error(`the HEIC cannot be decoded: ${complaintOf(error)}`);
  });
  const whole = { data: Buffer.from(data.buffer, data.byteOffset, data.byteLength), info: { width, height, channels: /** @type {const} */ (4) } };
  return fromPixels(whole).resize(px, px, { fit: "inside", withoutEnlargement: true }).flatten({ background: "#ffffff" }).raw({ depth: "uchar" }).toBuffer({ resolveWithObject: true });
}

/** The decoder throws errors, texts and objects with a message. @param {unknown} error */
function complaintOf(error) {
  const message = typeof error === "object" && error !== null && "message" in error ? error.message : error;
  return String(message).split("\n")[0].slice(0, 200);
}
