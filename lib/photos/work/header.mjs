import sharp from "sharp";

import { readExif } from "../read-exif.mjs";

/**
 * What the file says before any pixel is read. Null when it is no picture.
 * @param {{ path: string, maxMetadataBytes: number }} job
 */
export async function readHeader({ path, maxMetadataBytes }) {
  const metadata = await sharp(path, { failOn: "none", limitInputPixels: false }).metadata().catch(() => null);
  if (metadata === null) return null;

  const metadataBytes = (metadata.exif?.length ?? 0) + (metadata.xmp?.length ?? 0);
  const carried = metadataBytes <= maxMetadataBytes;
  const exif = (carried && metadata.exif) || null;
  return {
    format: metadata.format,
    width: metadata.width,
    height: metadata.height,
    metadataBytes,
    exif: exif && (await readExif(exif)),
    xmp: (carried && metadata.xmp) || null,
  };
}
