import { writeFile } from "node:fs/promises";
import path from "node:path";
import sharp from "sharp";
import { withExif } from "#seed/photo/exif";

const [WIDTH, HEIGHT] = [4000, 3000];
const SMALLER = 4;

export interface Kind {
  /** Of the JPEG, 1–100. */
  quality: number;
  /** Spread of the grain, levels. */
  grain: number;
}

/** Some 4 MB each, and some 16 MB. */
export const ORDINARY: Kind = { quality: 88, grain: 9 };
export const LARGE: Kind = { quality: 99, grain: 90 };

/**
 * Writes photos of 12 megapixels with the detail of a real one: clouds of several sizes, each another picture, and grain.
 *
 * @param from Number of the first one: photos of different numbers are different pictures, taken at different times.
 */
export async function makePhotos(folder: string, count: number, { quality, grain }: Kind, from = 0): Promise<string[]> {
  const input = await sharp({ create: { width: WIDTH, height: HEIGHT, channels: 3, background: "#777", noise: { type: "gaussian", mean: 128, sigma: grain } } }).jpeg({ quality: 98 }).toBuffer();
  const files: string[] = [];
  for (let number = from; number < from + count; number += 1) {
    const [first, ...layers] = await Promise.all([40, 200, 1000].map((side) => cloud(side)));
    const clouds = await sharp(first).composite(layers.map((layer) => ({ input: layer, blend: "overlay" as const }))).png().toBuffer();
    const whole = await sharp(clouds).resize(WIDTH, HEIGHT, { fit: "fill", kernel: "cubic" }).raw().toBuffer({ resolveWithObject: true });
    const jpeg = await sharp(whole.data, { raw: whole.info }).composite([{ input, blend: "overlay" }]).jpeg({ quality }).toBuffer();
    const file = path.join(folder, `${number}.jpg`);
    const at = new Date(Date.UTC(2026, 11, 2, 8, number)).toISOString();
    await writeFile(file, withExif(jpeg, { dateTimeOriginal: `${at.slice(0, 10).replaceAll("-", ":")} ${at.slice(11, 19)}`, offset: "-04:00", make: "Bench", model: "Twelve" }));
    files.push(file);
  }
  return files;
}

async function cloud(side: number): Promise<Buffer> {
  const noise = { type: "gaussian" as const, mean: 128, sigma: 60 };
  const small = await sharp({ create: { width: side, height: Math.round((side * 3) / 4), channels: 3, background: "#777", noise } }).png().toBuffer();
  return sharp(small).resize(WIDTH / SMALLER, HEIGHT / SMALLER, { fit: "fill", kernel: "cubic" }).png({ compressionLevel: 0 }).toBuffer();
}
