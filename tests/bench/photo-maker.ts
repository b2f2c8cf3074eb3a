import { writeFile } from "node:fs/promises";
import path from "node:path";
import sharp from "sharp";
import { withExif } from "#seed/photo/exif";

const [WIDTH, HEIGHT] = [4000, 3000];

/**
 * Writes photos of 12 megapixels with the detail of a real one: clouds of several sizes and grain, each another picture.
 *
 * @param quality Of the JPEG, 1–100: 88 gives some 4 MB.
 */
export async function makePhotos(folder: string, count: number, quality: number, from = 0): Promise<string[]> {
  const files: string[] = [];
  for (let number = from; number < from + count; number += 1) {
    const layers = await Promise.all([40, 200, 1000].map((side) => cloud(side)));
    const grain = await sharp({ create: { width: WIDTH, height: HEIGHT, channels: 3, background: "#777", noise: { type: "gaussian", mean: 128, sigma: quality > 90 ? 60 : 9 } } }).png({ compressionLevel: 0 }).toBuffer();
    const jpeg = await sharp(grain).composite(layers.map((input) => ({ input, blend: "overlay" as const }))).jpeg({ quality }).toBuffer();
    const file = path.join(folder, `${number}.jpg`);
    await writeFile(file, withExif(jpeg, { dateTimeOriginal: `2026:12:02 08:${String(number % 60).padStart(2, "0")}:00`, offset: "-04:00", make: "Bench", model: "Twelve" }));
    files.push(file);
  }
  return files;
}

async function cloud(side: number): Promise<Buffer> {
  const noise = { type: "gaussian" as const, mean: 128, sigma: 60 };
  const small = await sharp({ create: { width: side, height: Math.round((side * 3) / 4), channels: 3, background: "#777", noise } }).png().toBuffer();
  return sharp(small).resize(WIDTH, HEIGHT, { fit: "fill", kernel: "cubic" }).png({ compressionLevel: 0 }).toBuffer();
}
