import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";

import sharp from "sharp";

import { fromPixels } from "./picture.mjs";

/** A code of this house: what it is of and whose it is, in plain signs. Any other is somebody else's and is left out. */
const OWN = /^lastlook:[a-z]{1,20}:[!-~]{1,160}$/;

/**
 * Longest sides at which a picture is looked through. All there is comes first: it costs no more to decode than to reduce,
 * and only it shows a tag a tenth of the picture wide. Reduced, a large tag out of focus comes together. More pixels than
 * the first would cost a worker its memory.
 * Measured on photos of 12 megapixels: 67 of 70 tags read at the first (small, turned, slanted, dark, out of focus), 59 at
 * the second; of large tags out of focus the second read one more. A third of a second of CPU where there is none.
 */
const SIDES_PX = [4600, 2600];

/**
 * As measured: without trying harder half of the small tags are missed. The finder takes a code at any angle as it is, so
 * that turning the picture found none more; inverted ones nobody prints.
 */
const HOW = { formats: ["QRCode"], tryHarder: true, tryRotate: false, tryInvert: false, tryDownscale: false, maxNumberOfSymbols: 8 };

/** @type {Promise<typeof import("zxing-wasm/reader").readBarcodes> | undefined} */
let reader;

/** The reader is a program of its own, loaded once and from its package: nothing is fetched. */
function loadReader() {
  reader ??= (async () => {
    const { prepareZXingModule, readBarcodes } = await import("zxing-wasm/reader");
    const program = await readFile(createRequire(import.meta.url).resolve("zxing-wasm/reader/zxing_reader.wasm"));
    await prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(program).buffer }, fireImmediately: true });
    return readBarcodes;
  })();
  return reader;
}

/**
 * Every code of our own in a picture, without repeats. A code carries its own check: one too damaged to be mended is not
 * read at all, and never as another.
 * @param {string} path A JPEG, PNG or WebP.
 * @returns {Promise<string[]>}
 */
export function readFileCodes(path) {
  return lookThrough(sharp(path, { failOn: "none", limitInputPixels: false }));
}

/**
 * The same for pixels that are decoded already.
 * @param {import("./picture.mjs").Pixels} pixels
 */
export function readPixelCodes(pixels) {
  return lookThrough(fromPixels(pixels));
}

/** @param {sharp.Sharp} picture */
async function lookThrough(picture) {
  const readBarcodes = await loadReader();
  let grey = await greyOf(picture.flatten({ background: "#ffffff" }), SIDES_PX[0]);
  for (const px of SIDES_PX) {
    const { width, height } = grey.info;
    if (px !== SIDES_PX[0]) {
      if (Math.max(width, height) <= px) break;
      grey = await greyOf(fromPixels(grey), px);
    }
    const found = await readBarcodes(asImage(grey), HOW);
    const own = [...new Set(found.map(({ text }) => text).filter((text) => OWN.test(text)))];
    if (own.length > 0) return own;
  }
  return [];
}

/** @param {sharp.Sharp} picture @param {number} px */
function greyOf(picture, px) {
  return picture.resize(px, px, { fit: "inside", withoutEnlargement: true }).greyscale().raw({ depth: "uchar" }).toBuffer({ resolveWithObject: true });
}

/** The reader takes red, green, blue and opacity, and does not look at the last. @param {import("./picture.mjs").Pixels} grey */
function asImage({ data, info: { width, height, channels } }) {
  const cells = new Uint32Array(width * height);
  // All four bytes of a cell at once, so that the order of bytes in a word plays no part.
  for (let cell = 0; cell < cells.length; cell += 1) cells[cell] = (data[cell * channels] ?? 0) * 0x01010101;
  return /** @type {ImageData} */ ({ data: new Uint8ClampedArray(cells.buffer), width, height });
}
