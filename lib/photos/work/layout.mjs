// How a file is put together: where its picture ends, what stands behind that, and how much of it is not picture.
import { readFileSync } from "node:fs";

/**
 * @typedef {object} Layout
 * @property {number} trailingBytes Behind the end of the picture, without what the file itself says is there.
 * @property {number} metadataBytes All blocks that are not picture: Exif, XMP, profiles, comments, whatever is unknown.
 * @property {boolean} cutShort The file says that it is longer than it is.
 * @property {string[]} sourceTypes What its C2PA blocks call the source of the picture, in the words of the IPTC.
 * @property {Buffer[]} exifBlocks Of a JPEG, those that begin as one should.
 */

/** What a walk through a file finds; the end is null where the file is too broken to tell. @typedef {{ end: number | null, metadataBytes: number, cutShort?: boolean, credentials: Buffer[], pictures?: Span[], exifBlocks?: Buffer[] }} Walk */
/** From a byte up to, not including, another. @typedef {[from: number, to: number]} Span */

/** Most values taken from the C2PA blocks of a file. */
const MOST_SOURCE_TYPES = 8;

/**
 * Walks through the blocks of a file without decoding anything.
 * @param {string} path
 * @param {string} format As the header reader calls it.
 * @param {Uint8Array | null} xmp
 * @returns {Layout}
 */
export function readLayout(path, format, xmp) {
  const bytes = readFileSync(path); // the process has nothing else to do meanwhile
  const { end, metadataBytes, cutShort = false, credentials, pictures = [], exifBlocks = [] } = walk(bytes, format);
  const declared = end === null ? [] : [...declaredByXmp(xmp, end, bytes.length), ...pictures, ...declaredBySamsung(bytes)];
  return {
    trailingBytes: end === null ? 0 : uncovered([end, bytes.length], declared),
    metadataBytes,
    cutShort,
    sourceTypes: sourceTypesIn(credentials),
    exifBlocks,
  };
}

/** @param {Buffer} bytes @param {string} format @returns {Walk} */
function walk(bytes, format) {
  if (format === "jpeg") return walkJpeg(bytes);
  if (format === "png") return walkPng(bytes);
  if (format === "webp") return walkWebp(bytes);
  return walkBoxes(bytes);
}

/**
 * Segment by segment to the end marker.
 * Source: ITU-T T.81, annex B; JPEG application segments APP2 "MPF" (CIPA DC-007) and APP11 (ISO/IEC 19566-5), from memory.
 * @param {Buffer} bytes
 * @returns {Walk}
 */
function walkJpeg(bytes) {
  const found = { end: null, metadataBytes: 0, credentials: [], pictures: [], exifBlocks: [] };
  let at = 2;
  while (at + 4 <= bytes.length && bytes[at] === 0xff) {
    const marker = bytes[at + 1];
    if (marker === 0xd9) return { ...found, end: at + 2 };
    if (marker === 0xff) {
      at += 1; // any number of 0xff may fill the way to a marker
      continue;
    }
    if (marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) {
      at += 2;
      continue;
    }
    const length = bytes.readUInt16BE(at + 2);
    const content = bytes.subarray(at + 4, at + 2 + length);
    if (marker === 0xfe || (marker >= 0xe0 && marker <= 0xef)) found.metadataBytes += length + 2;
    if (marker === 0xe1 && /^Exif\0\0(?:II\*\0|MM\0\*)/.test(content.toString("latin1", 0, 10))) found.exifBlocks.push(content);
    if (marker === 0xeb) found.credentials.push(content);
    if (marker === 0xe2 && content.toString("latin1", 0, 4) === "MPF\0") found.pictures.push(...furtherPictures(content.subarray(4), at + 8));
    at += 2 + length;
    if (marker !== 0xda) continue;
    // A healthy file has its first end marker at its very end, which is found at once; any other is walked through.
    if (bytes.indexOf(END_MARKER, at) === bytes.length - 2) return { ...found, end: bytes.length };
    at = endOfScan(bytes, at);
  }
  // The two bytes of the end marker may be the last of the file.
  const ends = at + 2 <= bytes.length && bytes[at] === 0xff && bytes[at + 1] === 0xd9;
  return ends ? { ...found, end: at + 2 } : found;
}

const END_MARKER = Buffer.from([0xff, 0xd9]);

/** Where the next marker stands: a 0xff in picture data is followed by 0x00, restart markers belong to it. @param {Buffer} bytes @param {number} from */
function endOfScan(bytes, from) {
  let at = bytes.indexOf(0xff, from);
  while (at !== -1) {
    const next = bytes[at + 1];
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at;
    at = bytes.indexOf(0xff, next === 0xff ? at + 1 : at + 2);
  }
  return bytes.length;
}

/**
 * The pictures behind the first one that a multi-picture index names.
 * Source: CIPA DC-007, MP Index IFD, tag 0xb002: 16 bytes each, size at 4 and offset at 8 (from memory).
 * @param {Buffer} index
 * @param {number} start Where the index stands in the file: its offsets count from there.
 * @returns {Span[]}
 */
function furtherPictures(index, start) {
  const order = index.toString("latin1", 0, 4);
  if (order !== "II*\0" && order !== "MM\0*") return [];
  const little = order[0] === "I";
  const u16 = (at) => (at + 2 > index.length ? 0 : little ? index.readUInt16LE(at) : index.readUInt16BE(at));
  const u32 = (at) => (at + 4 > index.length ? 0 : little ? index.readUInt32LE(at) : index.readUInt32BE(at));

  const directory = u32(4);
  for (let entry = 0; entry < u16(directory) && entry < 16; entry += 1) {
    const at = directory + 2 + entry * 12;
    if (u16(at) !== 0xb002) continue;
    const list = u32(at + 8);
    const count = Math.min(u32(at + 4) / 16, 32);
    return Array.from({ length: Math.trunc(count) }, (_, i) => [u32(list + i * 16 + 4), u32(list + i * 16 + 8)])
      .filter(([, offset]) => offset !== 0) // the first picture is the file itself
      .map(([size, offset]) => [start + offset, start + offset + size]);
  }
  return [];
}

/** Chunk by chunk to IEND. Source: PNG specification, third edition; caBX holds C2PA (from memory). @param {Buffer} bytes @returns {Walk} */
function walkPng(bytes) {
  const found = { end: null, metadataBytes: 0, credentials: [] };
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    const name = bytes.toString("latin1", at + 4, at + 8);
    const next = at + 12 + length;
    if (next > bytes.length) return { ...found, cutShort: true };
    if (name === "IEND") return { ...found, end: next };
    if (/^[a-z]/.test(name)) found.metadataBytes += 12 + length; // a small first letter: not needed to show the picture
    if (name === "caBX") found.credentials.push(bytes.subarray(at + 8, at + 8 + length));
    at = next;
  }
  return found;
}

/** @param {Buffer} bytes @returns {Walk} */
function walkWebp(bytes) {
  const size = bytes.readUInt32LE(4);
  const end = 8 + size + (size % 2);
  const found = { end: Math.min(end, bytes.length), metadataBytes: 0, cutShort: 8 + size > bytes.length, credentials: [] };
  for (let at = 12; at + 8 <= found.end; ) {
    const name = bytes.toString("latin1", at, at + 4);
    const length = bytes.readUInt32LE(at + 4);
    if (!["VP8 ", "VP8L", "VP8X", "ALPH"].includes(name)) found.metadataBytes += 8 + Math.min(length, found.end - at - 8);
    if (name === "C2PA") found.credentials.push(bytes.subarray(at + 8, at + 8 + length));
    at += 8 + length + (length % 2);
  }
  return found;
}

/** Boxes that a HEIC or a phone's film inside it may have side by side at its top. Source: ISO/IEC 14496-12 and 23008-12 (from memory). */
const BOXES = new Set(["ftyp", "meta", "mdat", "free", "skip", "wide", "moov", "moof", "udta", "uuid", "idat", "jumb", "mpvd", "sefd", "etyp", "pdin", "mfra"]);

/** Box by box, as far as they are known ones. @param {Buffer} bytes @returns {Walk} */
function walkBoxes(bytes) {
  const found = { end: 0, metadataBytes: 0, credentials: [] };
  let at = 0;
  while (at + 8 <= bytes.length) {
    const short = bytes.readUInt32BE(at);
    const name = bytes.toString("latin1", at + 4, at + 8);
    if (!BOXES.has(name)) break;
    const long = short === 1 && at + 16 <= bytes.length ? Number(bytes.readBigUInt64BE(at + 8)) : short;
    const next = short === 0 ? bytes.length : at + long;
    if (long !== 0 && long < 8) break;
    if (next > bytes.length) return { ...found, end: bytes.length, cutShort: true };
    if (name === "uuid" || name === "udta") found.metadataBytes += next - at;
    if (name === "uuid" || name === "jumb") found.credentials.push(bytes.subarray(at, next));
    at = next;
  }
  return { ...found, end: at };
}

/**
 * A film or a second picture behind the first, by its length in the XMP packet: one number from the end of the file (older
 * form), or the lengths of all items in order.
 * Source: Motion Photo format 1.0, MicroVideoOffset and Container:Directory (from memory).
 * @param {Uint8Array | null} xmp
 * @param {number} end
 * @param {number} size
 * @returns {Span[]}
 */
function declaredByXmp(xmp, end, size) {
  const packet = xmp === null ? "" : Buffer.from(xmp).toString("latin1");
  const offset = /:MicroVideoOffset\s?[=>]\s?["']?(\d{1,10})/.exec(packet);
  const items = [...packet.matchAll(/Item:(?:Length|Padding)\s?[=>]\s?["']?(\d{1,10})/g)].slice(0, 64);
  const together = items.reduce((sum, [, length]) => sum + Number(length), 0);
  return [...(offset === null ? [] : [[Math.max(end, size - Number(offset[1])), size]]), ...(together === 0 ? [] : [[end, Math.min(size, end + together)]])];
}

/**
 * Some phones end a file with a list of what they put behind the picture: "SEFH", a count, entries of 12 bytes whose second
 * number is how far before the list a part begins, then the length of the list and "SEFT".
 * Source: from memory; checked against how exiftool reads it.
 * @param {Buffer} bytes
 * @returns {Span[]}
 */
function declaredBySamsung(bytes) {
  const last = bytes.length - 8;
  if (last < 12 || bytes.toString("latin1", last + 4) !== "SEFT") return [];
  const list = last - bytes.readUInt32LE(last);
  if (list < 0 || bytes.toString("latin1", list, list + 4) !== "SEFH") return [];
  const count = Math.min(bytes.readUInt32LE(list + 8), 64);
  const back = Array.from({ length: count }, (_, i) => list + 12 + i * 12 + 4).filter((at) => at + 4 <= last).map((at) => bytes.readUInt32LE(at));
  return [[list - Math.max(0, ...back), bytes.length]];
}

/** Bytes of a span that no other covers. @param {Span} span @param {Span[]} covers */
function uncovered([from, to], covers) {
  let bytes = 0;
  let at = from;
  for (const [start, stop] of [...covers].sort(([a], [b]) => a - b)) {
    bytes += Math.max(0, Math.min(start, to) - at);
    at = Math.max(at, Math.min(stop, to));
  }
  return bytes + Math.max(0, to - at);
}

/** @param {Buffer[]} credentials */
function sourceTypesIn(credentials) {
  const values = credentials.flatMap((block) => [...block.toString("latin1").matchAll(/digitalsourcetype\/([A-Za-z]{1,60})/g)].map(([, value]) => value));
  return [...new Set(values)].slice(0, MOST_SOURCE_TYPES);
}
