import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import type { MixPixels } from "#lib/domain/photo/mix-cell";
import { streakFinding, type MixArea, type StreakFinding } from "#lib/domain/photo/streak";
import type { StreakVerdict } from "#lib/domain/photo/verdict";
import { readMix } from "../../lib/photos/work/mix.mjs";
import { PAINTERS } from "#seed/photo/draw/painters";
import { randFrom } from "#seed/photo/random";
import { drawScene, type SceneOptions } from "#seed/photo/scene";
import type { Shot } from "#seed/photo/shot";
import { CREAM, DARK, drawPlate, GREEN, GREY, LIGHTS, MARKED, type Plate, STREAKS, TAN, type Towards } from "#tests/photos/mix-plate";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), "mix-"));
});
afterAll(() => rm(folder, { recursive: true }));

let files = 0;
async function read(picture: Buffer, area: MixArea = MARKED, { orientation = 1, heic = false } = {}): Promise<MixPixels> {
  const file = path.join(folder, String((files += 1)));
  await writeFile(file, picture);
  return readMix({ path: file, heic, orientation, area });
}
const judge = async (picture: Buffer, area?: MixArea): Promise<StreakFinding> => streakFinding(await read(picture, area), PHOTO_LIMIT_DEFAULTS);

const MIXES = { tan: TAN, grey: GREY, green: GREEN, cream: CREAM, dark: DARK };
const NOISES = [{ noise: 2, jpeg: 90 }, { noise: 9, jpeg: 55 }];
type Case = [name: string, plate: Plate];

const each = <T>(record: Readonly<Record<string, T>>): [string, T][] => Object.entries(record);
/** Every mix in every light, alternately with a good and a poor camera. */
const CLEAN: Case[] = each(MIXES).flatMap(([colour, mix], i) => each(LIGHTS).map(([name, light], j): Case => [`${colour}, ${name}`, { mix, light, ...NOISES[(i + j) % 2] }]));
/** What else is in a photo of a mix that is even. */
const EVEN_BUT: Case[] = each<Plate>({
  "a soft reflection": { gloss: (x, y) => 0.12 * Math.exp(-((x - 0.3) ** 2 + (y + 0.3) ** 2) / 0.16) },
  "a reflected lamp": { gloss: (x, y) => 0.6 * Math.exp(-((x - 0.3) ** 2 + (y + 0.3) ** 2) / 0.0225) },
  "a reflected window": { gloss: (x, y) => (Math.abs(x - 0.2) < 0.15 && Math.abs(y + 0.2) < 0.2 ? 0.25 : 0) },
  "a reflected tube": { gloss: (x, y) => (Math.abs(x + y * 0.3 - 0.2) < 0.04 && Math.abs(y) < 0.6 ? 1 : 0) },
  "ridges": { light: (x, y) => 1 + 0.15 * Math.sin(9 * x + 4 * y) },
  "dappled light": { light: (x, y) => 1 + 0.1 * Math.sin(5 * x) * Math.cos(6 * y + 1) },
  "half of it in shadow": { light: (x, y) => (x + 0.3 * y > 0.2 ? 0.3 : 1) },
  "a rope's shadow": { light: (x, y) => (Math.abs(x - 0.5 * y - 0.1) < 0.05 ? 0.3 : 1) },
  "a hand's shadow": { light: (x, y) => (y > 0.1 && Math.abs(x) < 0.35 ? 0.3 : 1) },
  "a stirrer": { thing: (x, y) => ((Math.abs(x + y * 0.4 - 0.1) < 0.05 && y < 0.2) || Math.hypot(x - 0.05, (y - 0.2) * 2) < 0.2 ? { l: 60, a: 0, b: -2 } : null) },
  "a stick across": { thing: (x, y) => (Math.abs(y - x * 0.3) < 0.06 ? { l: 40, a: 8, b: 20 } : null) },
  "bubbles": { thing: (x, y) => (Math.hypot(((x * 3.1 + 9) % 1) - 0.5, ((y * 3.7 + 9) % 1) - 0.5) < 0.08 ? { l: 78, a: 3, b: 18 } : null) },
  "heavy noise": { noise: 45, jpeg: 40 },
  "a poor JPEG": { noise: 14, jpeg: 25 },
  "blur": { blur: 12 },
  "hardly any light": { light: () => 0.02 },
  "far too much light": { light: () => 3 },
}).flatMap(([name, plate]) => each({ tan: TAN, grey: GREY, cream: CREAM }).map(([colour, mix]): Case => [`${colour}, ${name}`, { mix, ...plate }]));

const TOWARDS: Towards[] = ["paler", "darker", "redder", "yellower"];
/** Streaks twice as strong as the limit and more, as wide as two cells, in every light. */
const STREAKED: Case[] = each(MIXES).flatMap(([colour, mix], i) => each(LIGHTS).flatMap(([lit, light], j) => each(STREAKS).map(([shape, of], k): Case => {
  const [towards, deltaE] = [TOWARDS[(i + j + k) % 4] ?? "paler", (i + k) % 2 === 0 ? 12 : 20];
  return [`${colour}, ${lit}, ${shape}, ${towards} by ${deltaE}`, { mix, light, streak: of(0.12), deltaE, towards, ...NOISES[(i + j + k) % 2] }];
})));

/** How many of the pictures got each verdict, and which got the one that they must not get. */
async function tally(cases: readonly Case[], never: StreakVerdict): Promise<{ counts: Record<StreakVerdict, number>; wrong: string[] }> {
  const counts = { uniform: 0, streaks: 0, "cannot tell": 0 };
  const wrong: string[] = [];
  for (const [name, plate] of cases) {
    const found = await judge(await drawPlate(plate, name));
    counts[found.verdict] += 1;
    if (found.verdict === never) wrong.push(`${name}: ${found.sharePct} %, ΔE ${found.contrastDeltaE}`);
  }
  return { counts, wrong };
}

describe("photos of a bucket that is drawn", () => {
  // The counts are those of the limits as they stand, and are told in the words of the limits.
  it("never shows streaks in an even mix, however it is lit", async () => {
    expect(await tally(CLEAN, "streaks")).toEqual({ counts: { uniform: 17, streaks: 0, "cannot tell": 8 }, wrong: [] });
  }, 30_000);

  it("never shows streaks where a reflection, a shadow, a stirrer, grain or bubbles are all there is", async () => {
    expect(await tally(EVEN_BUT, "streaks")).toEqual({ counts: { uniform: 14, streaks: 0, "cannot tell": 37 }, wrong: [] });
  }, 60_000);

  it("never calls a mix with clear streaks uniform, and finds them in most", async () => {
    expect(await tally(STREAKED, "uniform")).toEqual({ counts: { uniform: 0, streaks: 75, "cannot tell": 25 }, wrong: [] });
  }, 90_000);
});

describe("photos of the demonstration", () => {
  const optionsFor = (variant: number, streaks: boolean) => ({ core: (["H", "square", "round"] as const)[variant % 3] ?? "H", variant, mark: "03-D", item: 1, streaks, night: variant % 4 === 3 });
  const MIDDLE = { x: 0.5, y: 0.5, r: 0.25 };

  it("shows streaks where they were drawn, also when nobody marked the mix, and takes no stirrer for one", async () => {
    const verdicts = async (streaks: boolean) => Promise.all(Array.from({ length: 12 }, async (_, i) => (await judge(await drawScene("mix", optionsFor(i, streaks)), MIDDLE)).verdict));
    expect(new Set(await verdicts(true))).toEqual(new Set(["streaks"]));
    expect(new Set(await verdicts(false))).toEqual(new Set(["cannot tell"]));
  });

  it("is uniform in nearly all where the mix is marked beside the stirrer", async () => {
    const verdicts = await Promise.all(Array.from({ length: 12 }, async (_, i) => (await judge(await drawScene("mix", optionsFor(i, false)), besideStirrer(optionsFor(i, false)))).verdict));
    expect(verdicts.filter((verdict) => verdict === "streaks")).toEqual([]);
    expect(verdicts.filter((verdict) => verdict === "uniform").length).toBeGreaterThanOrEqual(11);
  });
});

/** Where a hand would mark the mix of a drawn photo: left of the stirrer, by how the camera was held. */
function besideStirrer({ core, variant, mark, item, streaks, night }: Required<Pick<SceneOptions, "core" | "variant" | "mark" | "item" | "streaks" | "night">>): MixArea {
  const rand = randFrom(JSON.stringify(["mix", core, variant, mark, "", item, "", "", night, streaks]));
  const { objects } = PAINTERS.mix({ rand, core, variant, mark, item, streaks, night } as Shot);
  const [, left, top, degrees, zoom] = (/translate\(([-\d.]+) ([-\d.]+)\) rotate\(([-\d.]+)\) scale\(([-\d.]+)\)/.exec(objects ?? "") ?? []).map(Number) as [number, number, number, number, number];
  const [cos, sin] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const [dx, dy] = [-130 * zoom, 20 * zoom];
  return { x: (left + dx * cos - dy * sin) / 960, y: (top + dx * sin + dy * cos) / 720, r: (100 * zoom) / 720 };
}

describe("the marked circle", () => {
  /** Red over blue, with the left half of the red in green. */
  const quarters = () => sharp(Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="600" height="400"><rect width="600" height="400" fill="#00f"/><rect width="600" height="200" fill="#f00"/><rect width="300" height="200" fill="#0f0"/></svg>`));
  const middle = ({ side, rgba }: MixPixels): number[] => [...rgba.slice((side * side) / 2 * 4 + side * 2, (side * side) / 2 * 4 + side * 2 + 4)];
  const RIGHT_TOP = { x: 0.75, y: 0.25, r: 0.2 };

  it.each([
    [1, [255, 0, 0]], [2, [0, 255, 0]], [3, [0, 0, 255]], [4, [0, 0, 255]], [5, [0, 0, 255]], [6, [0, 255, 0]], [7, [255, 0, 0]], [8, [0, 0, 255]],
  ])("is that of the upright picture for orientation %i", async (orientation, colour) => {
    const found = middle(await read(await quarters().png().toBuffer(), RIGHT_TOP, { orientation }));
    expect(found).toEqual([...colour, 255]);
  });

  it.each(["png", "jpeg", "webp"] as const)("is read from %s", async (format) => {
    const [red = 0, green = 255, blue = 255] = middle(await read(await quarters().toFormat(format).toBuffer(), RIGHT_TOP));
    // JPEG and WebP keep colours to a few levels.
    expect([red > 245, green < 10, blue < 10]).toEqual([true, true, true]);
  });

  it("has no colour where it lies outside the picture, and says how many pixels it had", async () => {
    const { side, rgba, sourcePx } = await read(await quarters().png().toBuffer(), { x: 0, y: 0.25, r: 0.25 });
    expect(sourcePx).toBe(200);
    expect([rgba[(side * side) / 2 * 4 + 3], rgba[(side * side) / 2 * 4 + side * 2 + 20 * 4 + 3]]).toEqual([0, 255]);
  });

  it("comes with how far the sharpest edges of the picture are smeared, and with nothing where there are none", async () => {
    const smear = async (blur: number) => (await read(await sharp(await drawPlate({ noise: 0 })).blur(blur || 0.3).png().toBuffer())).smear ?? Number.NaN;
    expect(await smear(0)).toBeLessThan(0.012);
    // 8 pixels of the circle's 217: the measure may be a fifth off.
    expect(Math.abs((await smear(8)) / (8 / 217) - 1)).toBeLessThan(0.2);
    expect((await read(await sharp({ create: { width: 400, height: 300, channels: 3, background: "#a98" } }).png().toBuffer())).smear).toBeNull();
  });
});
