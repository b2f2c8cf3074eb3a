import { readFile } from "node:fs/promises";

import sharp from "sharp";

import { readExif, readExifOfHeic } from "../read-exif.mjs";
import { readCutWebp } from "./cut-webp.mjs";
import { readLayout } from "./layout.mjs";
import { smallPictureIn } from "./small-picture.mjs";

/** Texts that a PNG carries beside its picture, and their longest, characters. */
const MOST_NOTES = 32;
const NOTE_LENGTH = 1024;

/**
 * What the file says before any pixel is read. Null when it is no picture.
 * @param {{ path: string, maxMetadataBytes: number }} job
 */
export async function readHeader({ path, maxMetadataBytes }) {
  const metadata = await sharp(path, { failOn: "none", limitInputPixels: false }).metadata().catch(() => readCutWebp(path));
  if (metadata === null) return null;

  const { format, width, height, pages = 1 } = metadata;
  const xmp = metadata.xmp ?? null;
  const { exifBlocks, ...layout } = readLayout(path, format, xmp);
  // The decoder gives the first block of a JPEG, though it may be no block at all and the camera's own stand behind it.
  const exif = exifBlocks[0] ?? metadata.exif ?? null;
  const metadataBytes = Math.max(layout.metadataBytes, (exif?.length ?? 0) + (xmp?.length ?? 0));
  const start = { format, width, height, pages, metadataBytes, layout: { ...layout, exifBlocks: exifBlocks.length } };
  if (metadataBytes > maxMetadataBytes) return { ...start, exif: null, xmp: null, smallPicture: null, notes: [] };

  return {
    ...start,
    exif: exif ? await readExif(exif) : format === "heif" ? await readExifOfHeic(await readFile(path)) : null,
    xmp,
    smallPicture: exif && (await smallPictureIn(exif)),
    notes: (metadata.comments ?? []).slice(0, MOST_NOTES).map(({ keyword, text }) => ({ keyword, text: text.slice(0, NOTE_LENGTH) })),
  };
}
