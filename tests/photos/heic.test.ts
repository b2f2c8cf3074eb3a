import { writeFile } from "node:fs/promises";
import path from "node:path";

import sharp from "sharp";
import { describe, expect, it } from "vitest";

import { dataFolder, fixtureBytes, fixturePath } from "#tests/photos/fixture";
import { readHeicPixels } from "../../lib/photos/work/heic.mjs";

type Pixels = Awaited<ReturnType<typeof readHeicPixels>>;

function colourAt({ data, info }: Pixels, x: number, y: number): string {
  const at = (Math.round(y * info.height) * info.width + Math.round(x * info.width)) * info.channels;
  return [...data.subarray(at, at + 3)].map((level) => (level > 200 ? "1" : level < 60 ? "0" : "?")).join("");
}

describe("the pixels of a HEIC", () => {
  it("are those of the picture that it was made from", async () => {
    const pixels = await readHeicPixels(fixturePath("phone.heic"), { px: 1600 });
    const from = await sharp(fixturePath("plain.png")).removeAlpha().toColourspace("srgb").raw().toBuffer();
    expect(pixels.info).toMatchObject({ width: 240, height: 180, channels: 3 });
    const difference = from.reduce((sum, level, i) => sum + Math.abs(level - pixels.data[i]!), 0) / from.length;
    expect(difference).toBeLessThan(15); // of 255 levels: quality 40 of a palette picture; upside down it would be over 40
  });

  it("are made to fit, and never enlarged", async () => {
    expect((await readHeicPixels(fixturePath("phone.heic"), { px: 120 })).info).toMatchObject({ width: 120, height: 90 });
    expect((await readHeicPixels(fixturePath("phone.heic"), { px: 5000 })).info).toMatchObject({ width: 240, height: 180 });
  });

  // red, green / blue, yellow, turned by a quarter clockwise: blue, red / yellow, green.
  it("stand upright once: turned by the file's own property, not again by its orientation tag", async () => {
    const pixels = await readHeicPixels(fixturePath("turned.heic"), { px: 1600 });
    expect(pixels.info).toMatchObject({ width: 80, height: 120 });
    expect([colourAt(pixels, 0.25, 0.25), colourAt(pixels, 0.75, 0.25), colourAt(pixels, 0.25, 0.75), colourAt(pixels, 0.75, 0.75)]).toEqual(["001", "100", "110", "010"]);
  });

  it.each([
    ["text", () => Promise.resolve(Buffer.from("this is no picture"))],
    ["a JPEG", () => fixtureBytes("no-metadata.jpg")],
    ["half a HEIC", async () => (await fixtureBytes("phone.heic")).subarray(0, 2000)],
    ["a HEIC without its picture", async () => (await fixtureBytes("phone.heic")).subarray(0, 700)],
  ])("cannot be read from %s, which is said", async (_name, bytes) => {
    const file = path.join(await dataFolder(), "x.heic");
    await writeFile(file, await bytes());
    await expect(readHeicPixels(file, { px: 1600 })).rejects.toThrow(/^the HEIC cannot be decoded: .+/);
  });
});
