// The small picture that a camera puts beside the large one, in the second directory of the Exif block.
import exifr from "exifr";
import sharp from "sharp";

import { gridOf } from "./picture.mjs";

const OFFSET = 0x0201;
const LENGTH = 0x0202;
const READ = { reviveValues: false, translateValues: false, translateKeys: false, mergeOutput: false, ifd0: false, exif: false, gps: false, ifd1: { pick: [OFFSET, LENGTH] } };

/** Larger ones are no small pictures, pixels on a side. */
const MOST_PX = 1024;

/**
 * The bytes of the small picture, a JPEG. Null without one, or when the block is too broken to find it.
 * Source: CIPA DC-008-2019, JPEGInterchangeFormat and its length in the first IFD.
 * @param {Uint8Array} block With or without "Exif\0\0" in front.
 * @returns {Promise<Uint8Array | null>}
 */
export async function smallPictureIn(block) {
  const whole = Buffer.from(new Uint8Array(block).buffer);
  const tiff = whole.toString("latin1", 0, 6) === "Exif\0\0" ? whole.subarray(6) : whole;
  const found = await exifr.parse(tiff, READ).catch(() => null);
  const [offset, length] = [found?.ifd1?.[OFFSET], found?.ifd1?.[LENGTH]];
  if (!Number.isInteger(offset) || !Number.isInteger(length) || offset <= 0 || offset + length > tiff.length) return null;
  const jpeg = tiff.subarray(offset, offset + length);
  return jpeg[0] === 0xff && jpeg[1] === 0xd8 ? new Uint8Array(jpeg) : null;
}

/**
 * What the small picture shows, on the same grid as the large one. Null when it cannot be decoded.
 * @param {Uint8Array} jpeg
 * @returns {Promise<{ width: number, height: number, grid: Uint8Array } | null>}
 */
export async function readSmallPicture(jpeg) {
  try {
    const { data, info } = await sharp(jpeg, { failOn: "none", limitInputPixels: MOST_PX ** 2 }).flatten({ background: "#ffffff" }).toColourspace("srgb").raw({ depth: "uchar" }).toBuffer({ resolveWithObject: true });
    return { width: info.width, height: info.height, grid: await gridOf({ data, info }) };
  } catch {
    return null;
  }
}
