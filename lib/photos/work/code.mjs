import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";

import sharp from "sharp";

import { fromPixels } from "./picture.mjs";

/** Codes of this house begin like this; any other is somebody else's and is left out. */
const OWN = "lastlook:";

/**
 * Longest sides at which a picture is looked through, the cheap ones first: a tag a tenth of the picture wide is sharp
 * enough at the second, one half as wide at the third.
 */
const SIDES_PX = [1600, 2600, 4600];

/** As measured: trying harder and turned finds tags at every angle for twice the time; inverted ones nobody prints. */
const HOW = { formats: ["QRCode"], tryHarder: true, tryRotate: true, tryInvert: false, tryDownscale: true, maxNumberOfSymbols: 8 };

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
export async function readFileCodes(path) {
  const { width, height } = await sharp(path, { failOn: "none", limitInputPixels: false }).metadata();
  return lookThrough(Math.max(width, height), (px) =>
    // The decoder may skip detail that the smaller picture does not show.
    sharp(path, { failOn: "none", limitInputPixels: false }).resize(px, px, { fit: "inside", withoutEnlargement: true }).flatten({ background: "#ffffff" }),
  );
}

/**
 * The same for pixels that are decoded already.
 * @param {import("./picture.mjs").Pixels} pixels
 */
export function readPixelCodes(pixels) {
  return lookThrough(Math.max(pixels.info.width, pixels.info.height), (px) => fromPixels(pixels).resize(px, px, { fit: "inside", withoutEnlargement: true }));
}

/** @param {number} longest @param {(px: number) => sharp.Sharp} reduced */
async function lookThrough(longest, reduced) {
  const readBarcodes = await loadReader();
  for (const px of SIDES_PX.filter((side, i) => i === 0 || longest > (SIDES_PX[i - 1] ?? 0))) {
    const { data, info } = await reduced(px).greyscale().raw({ depth: "uchar" }).toBuffer({ resolveWithObject: true });
    const found = await readBarcodes(asImage(data, info), HOW);
    const own = [...new Set(found.map(({ text }) => text).filter((text) => text.startsWith(OWN) && text.length <= 200))];
    if (own.length > 0) return own;
  }
  return [];
}

/** The reader takes red, green, blue and opacity, and does not look at the last. @param {Buffer} grey @param {sharp.OutputInfo} info */
function asImage(grey, { width, height, channels }) {
  const cells = new Uint32Array(width * height);
  // All four bytes of a cell at once, so that the order of bytes in a word plays no part.
  for (let cell = 0; cell < cells.length; cell += 1) cells[cell] = (grey[cell * channels] ?? 0) * 0x01010101;
  return /** @type {ImageData} */ ({ data: new Uint8ClampedArray(cells.buffer), width, height });
}
