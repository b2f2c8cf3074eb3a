import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { SIDE_CELLS, type MixPixels } from "#lib/domain/photo/mix-cell";
import { streakFinding } from "#lib/domain/photo/streak";

const SIDE = 128;
type Rgb = readonly [number, number, number];

/** A small generator of its own, so that grain is the same on every machine. Source: Marsaglia's xorshift. */
function grainOf(seed: number): () => number {
  let state = (seed + 1) * 2_654_435_761;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) / 2 ** 32 - 0.5) * 2;
  };
}

interface Plate {
  mix?: Rgb;
  /** Whether a point of the unit square lies in a streak, and its colour. */
  streak?: (x: number, y: number) => boolean;
  streakRgb?: Rgb;
  /** Times the brightness, by place. */
  light?: (x: number, y: number) => number;
  grain?: number;
  glare?: (x: number, y: number) => boolean;
  outside?: (x: number, y: number) => boolean;
  sourcePx?: number;
  smear?: number | null;
}

/** Grey-green epoxy as it looks mixed. */
const MIX: Rgb = [138, 128, 104];

function plate({ mix = MIX, streak = () => false, streakRgb = [200, 170, 90], light = () => 1, grain = 4, glare = () => false, outside = () => false, sourcePx = 600, smear = 0.01 }: Plate): MixPixels {
  const rgba = new Uint8Array(SIDE * SIDE * 4);
  const next = grainOf(7);
  for (let y = 0; y < SIDE; y += 1) {
    for (let x = 0; x < SIDE; x += 1) {
      const [u, v] = [(x + 0.5) / SIDE, (y + 0.5) / SIDE];
      const colour = glare(u, v) ? [255, 255, 255] : streak(u, v) ? streakRgb : mix;
      const noise = next() * grain;
      rgba.set([...colour.map((part) => Math.max(0, Math.min(255, part * light(u, v) + noise))), outside(u, v) ? 0 : 255], (y * SIDE + x) * 4);
    }
  }
  return { side: SIDE, rgba, sourcePx, smear };
}

const find = (one: Plate) => streakFinding(plate(one), PHOTO_LIMIT_DEFAULTS);
const band = (middle: number, width: number) => (x: number, y: number) => Math.abs(x - middle - 0.12 * Math.sin(7 * y)) < width / 2;
/** A stick that comes in from above, with a blade in the middle. */
const stirrer = (x: number, y: number) => (Math.abs(x - 0.55 + 0.2 * (y - 0.5)) < 0.03 && y < 0.55) || Math.hypot(x - 0.54, (y - 0.55) * 2) < 0.09;
const spiral = (x: number, y: number) => Math.sin(3 * Math.atan2(y - 0.5, x - 0.5) + 14 * Math.hypot(x - 0.5, y - 0.5)) > 0.75;

describe("a mix of one colour", () => {
  it.each<[string, Plate]>([
    ["evenly lit", {}],
    ["with coarse grain", { grain: 25 }],
    ["lit from one side", { light: (x) => 0.6 + 0.6 * x }],
    ["darker towards the wall of the bucket", { light: (x, y) => 1.15 - 0.9 * ((x - 0.5) ** 2 + (y - 0.5) ** 2) }],
    ["with a spot of glare", { glare: (x, y) => Math.hypot(x - 0.4, y - 0.35) < 0.09 }],
    ["with ridges that stirring left", { light: (x, y) => 1 + 0.04 * Math.sin(30 * x + 12 * y) }],
    ["under a lamp", { light: (x, y) => 0.8 + 0.5 * Math.exp(-((x - 0.6) ** 2 + (y - 0.4) ** 2) * 4) }],
    ["of another colour altogether", { mix: [80, 90, 120] }],
    ["with single bubbles", { streak: (x, y) => Math.hypot(x - 0.3, y - 0.6) < 0.016 || Math.hypot(x - 0.7, y - 0.4) < 0.016 }],
  ])("%s is uniform", (_, one) => {
    expect(find(one).verdict).toBe("uniform");
  });
});

describe("a mix with another colour in it", () => {
  it.each<[string, Plate]>([
    ["a streak across", { streak: band(0.5, 0.09) }],
    ["two thin streaks", { streak: (x, y) => band(0.35, 0.05)(x, y) || band(0.65, 0.05)(x, y) }],
    ["a spiral", { streak: spiral }],
    ["a spiral of a colour that is hardly another", { streak: spiral, streakRgb: [160, 138, 92] }],
    ["a streak under light from one side", { streak: band(0.5, 0.09), light: (x) => 0.6 + 0.6 * x }],
    ["a streak beside glare", { streak: band(0.6, 0.09), glare: (x, y) => Math.hypot(x - 0.3, y - 0.3) < 0.09 }],
    ["a white streak of the unmixed part", { streak: band(0.45, 0.1), streakRgb: [215, 210, 200] }],
    ["a streak beside a stirrer", { streak: (x, y) => spiral(x, y) || stirrer(x, y) }],
    ["a spiral in a mix of one grey and another", { mix: [120, 120, 120], streak: spiral, streakRgb: [190, 190, 190] }],
  ])("%s shows streaks, and where", (_what, one) => {
    const found = find(one);
    expect([found.verdict, found.reason]).toEqual(["streaks", ""]);
    expect(found.sharePct).toBeGreaterThan(PHOTO_LIMIT_DEFAULTS.streakSharePct);
    expect(found.contrastDeltaE).toBeGreaterThan(PHOTO_LIMIT_DEFAULTS.streakDeltaE);
    const marks = [...found.cells.marks];
    const hit = marks.filter((mark, cell) => mark === "s" && one.streak!(((cell % SIDE_CELLS) + 0.5) / SIDE_CELLS, (Math.trunc(cell / SIDE_CELLS) + 0.5) / SIDE_CELLS)).length;
    expect(hit / marks.filter((mark) => mark === "s").length).toBeGreaterThan(0.5);
  });
});

describe("what cannot be told", () => {
  it.each<[string, Plate, RegExp]>([
    ["a circle too small", { sourcePx: 70 }, /70 px wide; at least 100/],
    ["glare over most of it", { glare: (x) => x > 0.35 }, /can be judged/],
    ["nearly no light", { light: () => 0.1 }, /can be judged/],
    ["a circle half outside the picture", { outside: (x) => x < 0.6 }, /can be judged/],
    ["little light", { light: () => 0.5 }, /too dark in the picture: lightness 27 of 100; at least 35/],
    ["so much light that a colour is lost in it", { light: () => 1.9 }, /100 % of the mix is as bright/],
    ["a picture that is blurred", { smear: 0.05 }, /smeared over 5 % of the circle; at most 3.1 %/],
    ["a picture in which nothing is sharp", { smear: null }, /whether it is sharp/],
    ["grain as coarse as streaks", { grain: 250 }, /grain/],
    ["a circle that takes in the wall of the bucket", { streak: (x, y) => Math.hypot(x - 0.5, y - 0.5) > 0.42, streakRgb: [230, 230, 60] }, /without the wall of the bucket/],
    ["a circle that lies half over the wall", { streak: (x) => x > 0.62, streakRgb: [225, 225, 220] }, /a wide part at the edge/],
    ["half of it unmixed", { streak: (x, y) => x + 0.05 * Math.sin(9 * y) > 0.55 }, /a wide part at the edge/],
    ["a stirrer", { streak: stirrer, streakRgb: [150, 155, 160] }, /as a stirrer does/],
    ["one straight streak to the wall, which looks like a stirrer", { streak: (x, y) => Math.abs(y - 0.5) < 0.04 && x > 0.45 }, /as a stirrer does/],
    ["a window that is reflected", { streak: (x, y) => Math.abs(x - 0.6) < 0.08 && Math.abs(y - 0.4) < 0.1, streakRgb: [205, 203, 196] }, /as a reflection is/],
    ["a thin white line that is clipped", { glare: (x, y) => Math.abs(y - 0.45 - 0.1 * Math.sin(8 * x)) < 0.02 && x > 0.2 && x < 0.8 }, /a white streak would look the same/],
    ["ridges", { light: (x, y) => (spiral(x, y) ? 0.82 : 1) }, /in lightness alone/],
    ["a share near the limit", { streak: (x, y) => Math.hypot(x - 0.4, (y - 0.5) / 3) < 0.027 }, /close to the limit of 2 %/],
    ["a colour near the limit", { streak: spiral, streakRgb: [143, 126, 106] }, /close to the limit of 5/],
  ])("%s", (_, one, reason) => {
    const found = find(one);
    expect([found.verdict, found.reason]).toEqual(["cannot tell", expect.stringMatching(reason)]);
  });
});

it("leaves the halo of glare out with the glare", () => {
  const [near, far] = [0.05, 0.09];
  const halo = { glare: (x: number, y: number) => Math.hypot(x - 0.4, y - 0.5) < near, streak: (x: number, y: number) => Math.hypot(x - 0.4, y - 0.5) < far, streakRgb: [190, 184, 172] as const };
  const found = find(halo);
  expect([found.verdict, found.sharePct]).toEqual(["uniform", 0]);
  expect(found.cells.marks[16 * SIDE_CELLS + 15]).toBe("x");
});

it("says the same of a mix that is turned, mirrored or lit a little otherwise", () => {
  fc.assert(
    fc.property(fc.constantFrom<Plate>({}, { streak: spiral }, { streak: stirrer }, { streak: (x) => x > 0.62 }), fc.integer({ min: 0, max: 3 }), fc.boolean(), fc.double({ min: 0.9, max: 1.15, noNaN: true }), (one, quarters, mirrored, brightness) => {
      const at = (x: number, y: number): [number, number] => {
        let [u, v] = [mirrored ? 1 - x : x, y];
        for (let turn = 0; turn < quarters; turn += 1) [u, v] = [v, 1 - u];
        return [u, v];
      };
      const { streak = () => false } = one;
      expect(find({ ...one, light: () => brightness, streak: (x, y) => streak(...at(x, y)) }).verdict).toBe(find(one).verdict);
    }),
    { numRuns: 24 },
  );
});

it("gives a mark for every cell, finite figures, and no reason but for cannot tell, whatever the picture is", () => {
  fc.assert(
    fc.property(fc.uint8Array({ minLength: 64, maxLength: 64 }), fc.integer({ min: 0, max: 4000 }), fc.option(fc.double({ min: 0, max: 1, noNaN: true })), (bytes, sourcePx, smear) => {
      // Patches of any colour, among them some outside the picture.
      const rgba = Uint8Array.from({ length: SIDE * SIDE * 4 }, (_, i) => {
        const [pixel, part] = [Math.trunc(i / 4), i % 4];
        const patch = (Math.trunc(pixel / SIDE / 32) * 4 + Math.trunc((pixel % SIDE) / 32)) * 4;
        return part === 3 ? ((bytes[patch + 3] ?? 0) < 200 ? 255 : 0) : (bytes[patch + part] ?? 0);
      });
      const found = streakFinding({ side: SIDE, rgba, sourcePx, smear }, PHOTO_LIMIT_DEFAULTS);
      expect(found.cells.marks).toMatch(new RegExp(`^[usx]{${SIDE_CELLS ** 2}}$`));
      expect(found.sharePct).toBeGreaterThanOrEqual(0);
      expect(found.sharePct).toBeLessThanOrEqual(100);
      expect(Number.isFinite(found.contrastDeltaE)).toBe(true);
      expect(found.reason !== "").toBe(found.verdict === "cannot tell");
    }),
    { numRuns: 40 },
  );
});
