// The bare work of an intake, without a record, a server or a worker: what any intake has to do at the least. Reads file
// names from the command line, works on so many at a time, and prints how long each took.
import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { mkdir, open, rename, writeFile } from "node:fs/promises";
import path from "node:path";
import { cpuUsage, hrtime, stdout } from "node:process";
import exifr from "exifr";
import sharp from "sharp";

sharp.concurrency(1);
sharp.cache(false);

const [folder = ".", atOnce = "1", ...files] = process.argv.slice(2);
await mkdir(folder, { recursive: true });
const RAW = { reviveValues: false, translateValues: false, translateKeys: false, mergeOutput: false };

/** @param {string} file @param {number} number */
async function take(file, number) {
  const arriving = path.join(folder, `${number}.part`);
  const hash = createHash("sha256");
  const kept = await open(arriving, "wx");
  for await (const chunk of createReadStream(file)) {
    hash.update(chunk);
    await kept.write(chunk);
  }
  await kept.sync();
  await kept.close();
  const digest = hash.digest("hex");

  const { width = 0, height = 0, exif } = await sharp(arriving).metadata();
  if (exif) await exifr.parse(exif.subarray(6), RAW);
  const { data, info } = await sharp(arriving, { failOn: "warning", sequentialRead: true })
    .extract({ left: 0, top: 0, width, height }) // every pixel, since a skipped part hides its damage
    .resize(1600, 1600, { fit: "inside", withoutEnlargement: true })
    .raw()
    .toBuffer({ resolveWithObject: true });
  for (const px of [1600, 320]) {
    const jpeg = await sharp(data, { raw: info }).resize(px, px, { fit: "inside" }).jpeg({ quality: 78 }).toBuffer();
    await writeFile(path.join(folder, `${digest}-${number}-${px}.jpg`), jpeg);
  }
  await rename(arriving, path.join(folder, `${digest}-${number}`));
  const held = await open(folder, "r");
  await held.sync();
  await held.close();
}

const waiting = files.map((file, number) => ({ file, number }));
const took = [];
const began = hrtime.bigint();
const before = cpuUsage();
await Promise.all(
  Array.from({ length: Number(atOnce) }, async () => {
    for (let next = waiting.shift(); next; next = waiting.shift()) {
      const start = hrtime.bigint();
      await take(next.file, next.number);
      took.push(Number(hrtime.bigint() - start) / 1e6);
    }
  }),
);
const { user, system } = cpuUsage(before);
stdout.write(JSON.stringify({ wallMs: Number(hrtime.bigint() - began) / 1e6, cpuMs: (user + system) / 1e3, took }));
