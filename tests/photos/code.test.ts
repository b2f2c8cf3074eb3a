import { writeFile } from "node:fs/promises";
import path from "node:path";

import sharp from "sharp";
import { encode } from "uqr";
import { describe, expect, it } from "vitest";

import { pileCode } from "#lib/domain/photo/tag";
import { cardOf, modulesOf, sceneWith, type TagInScene } from "#tests/photos/tag-scene";
import { dataFolder, fixtureBytes } from "#tests/photos/fixture";
import { readFileCodes, readPixelCodes } from "../../lib/photos/work/code.mjs";

const SHORT = pileCode("w2-05-A");
const LONG = pileCode("0b3e4a34-3b5b-4b7e-9c5e-3f9a6a4a9b11");
const pixelsOf = (picture: Buffer) => sharp(picture).removeAlpha().raw().toBuffer({ resolveWithObject: true });
const codesIn = async (tag: TagInScene | null): Promise<string[]> => readPixelCodes(await pixelsOf(await sceneWith(tag)));

// A printed tag has its code in a third of its width: in 4000 px across, a tag of a tenth has modules of 3 to 4 px.
describe("a tag is read", () => {
  it.each<[string, Omit<TagInScene, "text">]>([
    ["small", { modulePx: 2.2 }],
    ["a tenth of a picture of 12 megapixels", { modulePx: 3 }],
    ["large", { modulePx: 12 }],
    ["turned a little", { modulePx: 4, turnDegrees: 7 }],
    ["turned by an eighth", { modulePx: 3, turnDegrees: 45 }],
    ["on its side", { modulePx: 3, turnDegrees: 90 }],
    ["upside down, not quite", { modulePx: 3, turnDegrees: 197 }],
    ["turned most of the way round", { modulePx: 4, turnDegrees: 311 }],
    ["from the side", { modulePx: 5, narrower: 0.4 }],
    ["leaning over", { modulePx: 5, lean: 0.3, turnDegrees: 20 }],
    ["somewhat out of focus", { modulePx: 5, blurPx: 2 }],
    ["in low light, grainy", { modulePx: 6, light: 0.2, noise: 25 }],
    ["saved small", { modulePx: 4, quality: 60, turnDegrees: 12 }],
    ["all of it at once", { modulePx: 7, turnDegrees: 140, narrower: 0.2, lean: 0.1, blurPx: 1.5, light: 0.5, quality: 60 }],
  ])("%s", async (_case, how) => {
    expect(await codesIn({ text: SHORT, ...how })).toEqual([SHORT]);
    expect(await codesIn({ text: LONG, ...how, modulePx: how.modulePx * 1.1 })).toEqual([LONG]);
  });

  it("at every angle", async () => {
    for (let turnDegrees = 0; turnDegrees < 360; turnDegrees += 24) expect(await codesIn({ text: SHORT, modulePx: 4, turnDegrees }), `${turnDegrees}°`).toEqual([SHORT]);
  });

  it("with a corner torn off", async () => {
    const spoiled = modulesOf(SHORT).map((row, y) => row.map((dark, x) => (x > 20 && y > 20 ? true : dark)));
    expect(await readPixelCodes(await pixelsOf(await cardOf(spoiled, 6)))).toEqual([SHORT]);
  });

  it("beside another, and both are told", async () => {
    const two = await sharp({ create: { width: 900, height: 420, channels: 3, background: "#777" } })
      .composite([{ input: await cardOf(modulesOf(SHORT), 8), left: 20, top: 20 }, { input: await cardOf(modulesOf(LONG), 8), left: 480, top: 20 }])
      .png().toBuffer();
    expect((await readPixelCodes(await pixelsOf(two))).sort()).toEqual([LONG, SHORT].sort());
  });

  it("from a PNG on nothing at all as from a JPEG", async () => {
    const file = path.join(await dataFolder(), "tag.png");
    const { data: modules } = encode(SHORT, { ecc: "Q", border: 4 });
    const dark = modules.flatMap((row, y) => row.map((on, x) => (on ? `<path d="M${x * 8} ${y * 8}h8v8h-8z"/>` : ""))).join("");
    await writeFile(file, await sharp(Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="${modules.length * 8}" height="${modules.length * 8}">${dark}</svg>`)).png().toBuffer());
    expect(await readFileCodes(file)).toEqual([SHORT]);
  });
});

describe("nothing is read", () => {
  it.each<[string, TagInScene | null]>([
    ["where there is no tag", null],
    ["from a tag of less than a pixel a module", { text: LONG, modulePx: 0.6 }],
    ["from a tag far out of focus", { text: LONG, modulePx: 4, blurPx: 9 }],
    ["from a tag seen edge on", { text: LONG, modulePx: 4, narrower: 0.95 }],
    ["from somebody else's code", { text: "https://elsewhere.example/lastlook:pile:w2-05-A", modulePx: 5 }],
    ["from a code that only begins like ours", { text: "lastlook:pile:w2 05-A é", modulePx: 5 }],
  ])("%s", async (_case, tag) => {
    expect(await codesIn(tag)).toEqual([]);
  });

  it("from a file that is no picture, which is said", async () => {
    const file = path.join(await dataFolder(), "x.jpg");
    await writeFile(file, await fixtureBytes("text.jpg"));
    await expect(readFileCodes(file)).rejects.toThrow();
  });
});

describe("a damaged tag", () => {
  // A small generator of its own, so that the same number is the same damage on every machine. Source: Marsaglia's xorshift.
  function randomOf(seed: number): () => number {
    let state = (seed + 1) * 2_654_435_761;
    return () => {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      return (state >>> 0) / 2 ** 32;
    };
  }

  it("is read as the pile that it was printed for, or not at all", async () => {
    const found = { right: 0, nothing: 0 };
    for (let seed = 0; seed < 120; seed += 1) {
      const random = randomOf(seed);
      const share = (seed % 12) * 0.01; // of the modules, until more codewords are wrong than can be mended
      const text = seed % 2 === 0 ? SHORT : LONG;
      const blot = { x: random() * 30, y: random() * 30, r: seed % 3 === 0 ? random() * 9 : 0 };
      const whole = modulesOf(text);
      // The three marks that a code is found by stay: one that is not found cannot be read wrongly.
      const far = whole.length - 8;
      const kept = (x: number, y: number): boolean => (x < 8 && y < 8) || (x < 8 && y >= far) || (x >= far && y < 8);
      const modules = whole.map((row, y) => row.map((dark, x) => (kept(x, y) ? dark : Math.hypot(x - blot.x, y - blot.y) < blot.r ? true : random() < share ? !dark : dark)));
      const codes = await readPixelCodes(await pixelsOf(await cardOf(modules, 4)));
      expect([[], [text]]).toContainEqual(codes);
      found[codes.length > 0 ? "right" : "nothing"] += 1;
    }
    expect(Math.min(found.right, found.nothing)).toBeGreaterThan(20); // both happen, or the damage proves nothing
  });
});
