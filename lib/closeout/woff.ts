import { inflateSync } from "node:zlib";

/**
 * The font file inside a WOFF 1.0 file. A document opens its fonts anew each time, and unpacking them then costs most of the time of a
 * PDF; unpacked once, they cost nothing. Throws when the file is not WOFF 1.0.
 * @source W3C Recommendation "WOFF File Format 1.0", sections 3 to 5; OpenType, "Table directory".
 */
export function sfntOfWoff(woff: Buffer): Buffer {
  if (woff.toString("latin1", 0, 4) !== "wOFF") throw new Error("not a WOFF 1.0 file");
  const count = woff.readUInt16BE(12);
  const header = Buffer.alloc(12 + 16 * count);
  woff.copy(header, 0, 4, 8); // flavor
  header.writeUInt16BE(count, 4);
  const power = 2 ** Math.floor(Math.log2(count));
  header.writeUInt16BE(power * 16, 6);
  header.writeUInt16BE(Math.log2(power), 8);
  header.writeUInt16BE((count - power) * 16, 10);

  const tables: Buffer[] = [];
  let offset = header.length;
  for (let i = 0; i < count; i++) {
    const entry = 44 + 20 * i;
    const start = woff.readUInt32BE(entry + 4);
    const packedLength = woff.readUInt32BE(entry + 8);
    const length = woff.readUInt32BE(entry + 12);
    const packed = woff.subarray(start, start + packedLength);
    const table = Buffer.alloc(Math.ceil(length / 4) * 4); // tables begin on multiples of four bytes
    (packedLength < length ? inflateSync(packed) : packed).copy(table);

    const row = 12 + 16 * i;
    woff.copy(header, row, entry, entry + 4); // tag
    woff.copy(header, row + 4, entry + 16, entry + 20); // checksum
    header.writeUInt32BE(offset, row + 8);
    header.writeUInt32BE(length, row + 12);
    tables.push(table);
    offset += table.length;
  }
  return Buffer.concat([header, ...tables]);
}
