import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { acceptCurve, acceptProbability, LARGEST_LOT, missProbability, smallestSample } from "#lib/domain/statistics/sampling-risk";
import { near } from "#tests/support/near";

/** Any sampling of a lot up to `most`. */
const sampling = (most: number) =>
  fc.integer({ min: 1, max: most }).chain((lot) => fc.record({ lot: fc.constant(lot), bad: fc.integer({ min: 0, max: lot }), checked: fc.integer({ min: 0, max: lot }), accept: fc.integer({ min: 0, max: 12 }) }));

describe("what a sample misses", () => {
  it.each([[5, "0.5526"], [10, "0.2368"], [13, "0.1105"], [16, "0.0316"]])("when %d of 20 bolts are checked and 2 are loose is %s", (checked, chance) => {
    expect(missProbability({ lot: 20, bad: 2, checked }).toFixed(4)).toBe(chance);
  });

  it("is exactly what counting gives: C(18, 5) / C(20, 5) is 8568 of 15 504", () => {
    near(missProbability({ lot: 20, bad: 2, checked: 5 }), 8_568 / 15_504, 1e-15);
    near(missProbability({ lot: 20, bad: 2, checked: 19 }), 0, 0);
    expect(missProbability({ lot: 20, bad: 0, checked: 20 })).toBe(1);
  });

  it("in a lot of 10 000 is right to twelve digits, as a product of shares gives it", () => {
    for (const [bad, checked] of [[1, 5_000], [50, 300], [400, 60], [9_000, 3]] as const) {
      let product = 1;
      for (let drawn = 0; drawn < checked; drawn++) product *= (LARGEST_LOT - bad - drawn) / (LARGEST_LOT - drawn);
      expect(missProbability({ lot: LARGEST_LOT, bad, checked }) / product).toBeCloseTo(1, 12);
    }
    expect(missProbability({ lot: LARGEST_LOT, bad: 1, checked: 5_000 })).toBe(0.5);
    expect(missProbability({ lot: LARGEST_LOT, bad: 5_000, checked: 5_000 })).toBe(0); // 1 in C(10 000, 5000), less than a number can hold
  });
});

describe("the chance of acceptance", () => {
  it.each([[8, "0.948"], [16, "0.598"], [32, "0.070"]])("of 160 bolts with %d loose, 32 checked and 3 accepted, is %s", (bad, chance) => {
    expect(acceptProbability({ lot: 160, bad, checked: 32, accept: 3 }).toFixed(3)).toBe(chance);
  });

  it("is one when every number of bad ones is accepted, and none when more are surely found", () => {
    expect(acceptProbability({ lot: 50, bad: 10, checked: 20, accept: 10 })).toBe(1);
    expect(acceptProbability({ lot: 50, bad: 40, checked: 20, accept: 5 })).toBe(0);
  });

  it("lies between 0 and 1, falls with more bad ones and a larger sample, and rises with more accepted", () => {
    fc.assert(
      fc.property(sampling(300), (plan) => {
        const chance = acceptProbability(plan);
        expect(chance).toBeGreaterThanOrEqual(0);
        expect(chance).toBeLessThanOrEqual(1);
        if (plan.bad < plan.lot) expect(acceptProbability({ ...plan, bad: plan.bad + 1 })).toBeLessThanOrEqual(chance);
        if (plan.checked < plan.lot) expect(acceptProbability({ ...plan, checked: plan.checked + 1 })).toBeLessThanOrEqual(chance);
        expect(acceptProbability({ ...plan, accept: plan.accept + 1 })).toBeGreaterThanOrEqual(chance);
      }),
    );
  });

  it("is the same when bad and checked change places", () => {
    fc.assert(fc.property(sampling(300), ({ lot, bad, checked, accept }) => {
      expect(acceptProbability({ lot, bad: checked, checked: bad, accept })).toBe(acceptProbability({ lot, bad, checked, accept }));
    }));
  });

  it("is drawn from no bad ones to the whole lot, and never rises", () => {
    const curve = acceptCurve({ lot: 160, checked: 32, accept: 3 });
    expect(curve.find(({ bad }) => bad === 32)?.chance.toFixed(4)).toBe("0.0700");
    expect([curve[0], curve.at(-1)]).toEqual([{ bad: 0, chance: 1 }, { bad: 160, chance: 0 }]);
    expect(curve).toHaveLength(41);
    for (const [lot, checked] of [[7, 3], [588, 80], [LARGEST_LOT, 2_000]] as const) {
      const points = acceptCurve({ lot, checked, accept: 2 });
      expect(points.length).toBeLessThanOrEqual(42);
      expect(points.at(-1)?.bad).toBe(lot);
      expect(points.slice(1).every(({ bad, chance }, index) => bad > points[index]!.bad && chance <= points[index]!.chance)).toBe(true);
    }
  });
});

describe("the smallest sample", () => {
  it.each([
    [20, 2, 0.95, 16],
    [160, 8, 0.95, 49],
    [20, 1, 0.95, 19], // misses exactly 1 in 20
    [20, 2, 1, 19],
    [LARGEST_LOT, 100, 1, 9_901],
    [20, 20, 0.5, 1],
    [20, 5, 0, 0],
  ])("of %d with %d bad that finds one with a chance of %d is %d", (lot, bad, detect, checked) => expect(smallestSample({ lot, bad, detect })).toBe(checked));

  it("cannot be told where nothing is bad", () => expect(smallestSample({ lot: 20, bad: 0, detect: 0.95 })).toBeNull());

  it("is enough, and one fewer is not", () => {
    fc.assert(
      fc.property(sampling(400), fc.double({ min: 0.01, max: 0.99, noNaN: true }), ({ lot, bad }, detect) => {
        fc.pre(bad > 0);
        const enough = smallestSample({ lot, bad, detect })!;
        expect(1 - missProbability({ lot, bad, checked: enough })).toBeGreaterThanOrEqual(detect - 1e-9);
        expect(1 - missProbability({ lot, bad, checked: enough - 1 })).toBeLessThan(detect);
      }),
    );
  });
});

it.each([
  [{ lot: 0, bad: 0, checked: 0, accept: 0 }], [{ lot: LARGEST_LOT + 1, bad: 0, checked: 0, accept: 0 }], [{ lot: 10, bad: 11, checked: 0, accept: 0 }], [{ lot: 10, bad: 0, checked: 11, accept: 0 }],
  [{ lot: 10, bad: 1.5, checked: 2, accept: 0 }], [{ lot: 10, bad: -1, checked: 2, accept: 0 }], [{ lot: 10, bad: 1, checked: Number.NaN, accept: 0 }], [{ lot: 10, bad: 1, checked: 2, accept: Number.POSITIVE_INFINITY }],
])("refuses %j", (wrong) => expect(() => acceptProbability(wrong)).toThrow(RangeError));

it.each([() => smallestSample({ lot: 10, bad: 1, detect: 1.01 }), () => smallestSample({ lot: 10, bad: 1, detect: Number.NaN }), () => acceptCurve({ lot: 10, checked: 2, accept: 0 }, 1), () => acceptCurve({ lot: 10, checked: 20, accept: 0 })])(
  "refuses %s", (wrong) => expect(wrong).toThrow(RangeError),
);
