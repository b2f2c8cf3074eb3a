import { readFileSync } from "node:fs";

/**
 * The header of a WebP that the decoder refuses as a whole because something is missing or wrong further on: its size and the
 * metadata that did arrive. A photo is not to be turned away for its end.
 * Source: WebP container specification, chunks VP8X, VP8 and VP8L; RFC 6386, 9.1 (from memory).
 * @param {string} path
 * @returns {{ format: "webp", width: number, height: number, exif?: Buffer, xmp?: Buffer } | null} Null when it is no WebP, or shows no size.
 */
export function readCutWebp(path) {
  const bytes = readFileSync(path);
  if (bytes.toString("latin1", 0, 4) !== "RIFF" || bytes.toString("latin1", 8, 12) !== "WEBP") return null;

  const found = { size: null, picture: false, exif: undefined, xmp: undefined };
  for (let at = 12; at + 8 <= bytes.length; ) {
    const name = bytes.toString("latin1", at, at + 4);
    const length = bytes.readUInt32LE(at + 4);
    const content = bytes.subarray(at + 8, at + 8 + length);
    found.size ??= sizeIn(name, content);
    if (name === "VP8 " || name === "VP8L") found.picture = true;
    if (content.length === length && name === "EXIF") found.exif = content;
    if (content.length === length && name === "XMP ") found.xmp = content;
    at += 8 + length + (length % 2);
  }
  if (found.size === null || !found.picture) return null;
  return { format: "webp", ...found.size, ...(found.exif && { exif: found.exif }), ...(found.xmp && { xmp: found.xmp }) };
}

/** @param {string} name @param {Buffer} content */
function sizeIn(name, content) {
  if (name === "VP8X" && content.length >= 10) return { width: content.readUIntLE(4, 3) + 1, height: content.readUIntLE(7, 3) + 1 };
  if (name === "VP8 " && content.length >= 10 && content.readUIntBE(3, 3) === 0x9d012a) {
    const [width, height] = [content.readUInt16LE(6) & 0x3fff, content.readUInt16LE(8) & 0x3fff];
    return width > 0 && height > 0 ? { width, height } : null;
  }
  if (name === "VP8L" && content.length >= 5 && content[0] === 0x2f) {
    const packed = content.readUInt32LE(1);
    return { width: (packed & 0x3fff) + 1, height: ((packed >>> 14) & 0x3fff) + 1 };
  }
  return null;
}
