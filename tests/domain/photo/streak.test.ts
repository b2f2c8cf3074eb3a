import { differenceCiede2000 } from "culori";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { SIDE_CELLS, streakFinding, type MixPixels } from "#lib/domain/photo/streak";
import { CIEDE2000_PAIRS } from "#tests/domain/photo/ciede2000";

const SIDE = 96;
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
}

/** Grey-green epoxy as it looks mixed. */
const MIX: Rgb = [138, 128, 104];

function plate({ mix = MIX, streak = () => false, streakRgb = [200, 170, 90], light = () => 1, grain = 4, glare = () => false, outside = () => false, sourcePx = 600 }: Plate): MixPixels {
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
  return { side: SIDE, rgba, sourcePx };
}

const find = (one: Plate) => streakFinding(plate(one), PHOTO_LIMIT_DEFAULTS);
const band = (middle: number, width: number) => (x: number, y: number) => Math.abs(x - middle - 0.12 * Math.sin(7 * y)) < width / 2;
const spiral = (x: number, y: number) => Math.sin(3 * Math.atan2(y - 0.5, x - 0.5) + 14 * Math.hypot(x - 0.5, y - 0.5)) > 0.75;

describe("the difference of two colours", () => {
  // The published figures have four decimals, so half of the last one is their rounding.
  it.each(CIEDE2000_PAIRS)("of %j and %j is the published one", ([l1, a1, b1], [l2, a2, b2], published) => {
    const found = differenceCiede2000()({ mode: "lab65", l: l1, a: a1, b: b1 }, { mode: "lab65", l: l2, a: a2, b: b2 });
    expect(Math.abs(found - published)).toBeLessThan(0.0001);
  });
});

describe("a mix of one colour", () => {
  it.each<[string, Plate]>([
    ["evenly lit", {}],
    ["with coarse grain", { grain: 25 }],
    ["lit from one side", { light: (x) => 0.6 + 0.6 * x }],
    ["darker towards the wall of the bucket", { light: (x, y) => 1.15 - 0.9 * ((x - 0.5) ** 2 + (y - 0.5) ** 2) }],
    ["with a spot of glare", { glare: (x, y) => Math.hypot(x - 0.4, y - 0.35) < 0.09 }],
    ["dark, at night", { light: () => 0.25 }],
    ["of another colour altogether", { mix: [60, 70, 95] }],
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
    ["half of it unmixed", { streak: (x, y) => x + 0.1 * Math.sin(9 * y) > 0.55 }],
  ])("%s shows streaks, and where", (_, one) => {
    const found = find(one);
    expect(found.verdict).toBe("streaks");
    expect(found.sharePct).toBeGreaterThan(PHOTO_LIMIT_DEFAULTS.streakSharePct);
    expect(found.contrastDeltaE).toBeGreaterThan(PHOTO_LIMIT_DEFAULTS.streakDeltaE);
    const marks = [...found.cells.marks];
    const hit = marks.filter((mark, cell) => mark === "s" && one.streak!(((cell % SIDE_CELLS) + 0.5) / SIDE_CELLS, (Math.trunc(cell / SIDE_CELLS) + 0.5) / SIDE_CELLS)).length;
    // Where half differs from half, either may be called the streak.
    if (!_.startsWith("half")) expect(hit / marks.filter((mark) => mark === "s").length).toBeGreaterThan(0.5);
  });
});

describe("what cannot be told", () => {
  it.each<[string, Plate, RegExp]>([
    ["a circle too small", { sourcePx: 40 }, /40 px wide; at least 60/],
    ["glare over most of it", { glare: (x) => x > 0.35 }, /can be judged/],
    ["a picture too dark", { light: () => 0.03 }, /can be judged/],
    ["a circle half outside the picture", { outside: (x) => x < 0.6 }, /can be judged/],
    ["a circle that takes in the wall of the bucket", { streak: (x, y) => Math.hypot(x - 0.5, y - 0.5) > 0.38, streakRgb: [230, 230, 60] }, /mark the mix alone/],
  ])("%s", (_, one, reason) => {
    const found = find(one);
    expect([found.verdict, found.reason]).toEqual(["cannot tell", expect.stringMatching(reason)]);
  });
});

it("never depends on how bright the whole picture is, and always gives a cell for every place and finite figures", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.2, max: 1.2, noNaN: true }), fc.integer({ min: 0, max: 30 }), fc.boolean(), (brightness, grain, streaked) => {
      const found = find({ light: () => brightness, grain, ...(streaked ? { streak: band(0.5, 0.12) } : {}) });
      expect(found.cells.marks).toHaveLength(SIDE_CELLS ** 2);
      expect([found.sharePct, found.contrastDeltaE].every(Number.isFinite)).toBe(true);
      expect(found.verdict).not.toBe(streaked ? "uniform" : "streaks");
    }),
    { numRuns: 60 },
  );
});
