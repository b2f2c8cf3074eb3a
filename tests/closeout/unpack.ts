import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { crc32 } from "node:zlib";

export interface ZipEntry {
  name: string;
  method: number;
  dosTime: number;
  mode: number;
  bytes: Buffer;
}

/** Reads a ZIP of stored entries by its central directory (APPNOTE 4.3), checking sizes and CRCs. */
export function readZip(zip: Buffer): ZipEntry[] {
  const end = zip.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
  if (end < 0) throw new Error("no end of central directory");
  const count = zip.readUInt16LE(end + 10);
  let at = zip.readUInt32LE(end + 16);
  const entries: ZipEntry[] = [];
  for (let i = 0; i < count; i++) {
    if (zip.readUInt32LE(at) !== 0x02014b50) throw new Error("no central directory entry");
    const size = zip.readUInt32LE(at + 24);
    const nameLength = zip.readUInt16LE(at + 28);
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const bytes = zip.subarray(start, start + size);
    const name = zip.toString("utf8", at + 46, at + 46 + nameLength);
    if (crc32(bytes) !== zip.readUInt32LE(at + 16)) throw new Error(`${name}: CRC differs`);
    entries.push({ name, method: zip.readUInt16LE(at + 10), dosTime: zip.readUInt32LE(at + 12), mode: zip.readUInt32LE(at + 38) >>> 16, bytes });
    at += 46 + nameLength + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return entries;
}

/** Unpacks a ZIP file below `dir`; returns the path of its one top folder. */
export function unpack(file: string, dir: string): string {
  const entries = readZip(readFileSync(file));
  for (const { name, bytes } of entries) {
    mkdirSync(dirname(join(dir, name)), { recursive: true });
    writeFileSync(join(dir, name), bytes);
  }
  const tops = new Set(entries.map(({ name }) => name.split("/")[0]));
  if (tops.size !== 1) throw new Error(`${tops.size} top folders`);
  return join(dir, [...tops][0]!);
}
