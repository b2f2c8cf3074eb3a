import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { contactLengthMm, contactShare, jacketLengthMm, type JacketRoll } from "#lib/domain/estimate/jacket-length";
import { averageFilmMm, batchPlan, largestBatchKg, oneBatchUpToC, resinMassKg, splitMass, type Spreading } from "#lib/domain/estimate/resin";
import { celsiusOfPotLife, potLifeMinutes } from "#lib/domain/estimate/pot-life";
import type { PotLife } from "#lib/domain/requirement/rule";
import { near } from "#tests/support/near";

const IN = 25.4;
const roll = (d: number, layers: number, overlap: number): JacketRoll => ({ insideDiameterMm: d * IN, thicknessMm: 0.085 * IN, layers, overlapMm: overlap * IN });

describe("a jacket's strip", () => {
  it.each([
    [24, 2, 8, 159.8646],
    [28, 2, 10, 186.9973],
    [19, 2, 8, 128.4487],
    [19, 2, 9, 129.4487],
  ])("for %s in inside, %s layers and %s in of overlap is %s in long", (d, layers, overlap, inches) => {
    near(jacketLengthMm(roll(d, layers, overlap)) / IN, inches, 1e-6);
  });

  it("is 13 % of the overlap too short where the thickness is left out", () => {
    near((jacketLengthMm(roll(24, 2, 8)) - jacketLengthMm({ ...roll(24, 2, 8), thicknessMm: 0 })) / IN, 1.0681, 1e-4);
  });

  it("is coated where it touches itself", () => {
    near(contactLengthMm(roll(24, 2, 8)) / IN, 83.9323, 1e-6);
    near(contactShare(roll(24, 2, 8)), 0.525, 1e-4);
    near(contactShare(roll(24, 3, 8)), 0.678, 2e-4);
  });

  it("of one layer is coated over its overlap alone", () => expect(contactLengthMm(roll(24, 1, 8))).toBe(8 * IN));

  it("is never shorter with another layer, and never coated beyond its length", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 3_000, noNaN: true }), fc.double({ min: 0, max: 10, noNaN: true }), fc.integer({ min: 1, max: 5 }), fc.double({ min: 0, max: 500, noNaN: true }), (insideDiameterMm, thicknessMm, layers, overlapMm) => {
        const one = { insideDiameterMm, thicknessMm, layers, overlapMm };
        expect(jacketLengthMm({ ...one, layers: layers + 1 })).toBeGreaterThan(jacketLengthMm(one));
        expect(contactLengthMm(one)).toBeLessThanOrEqual(jacketLengthMm(one));
      }),
    );
  });

  it.each([{ layers: 0 }, { layers: 1.5 }, { insideDiameterMm: -1 }, { insideDiameterMm: Number.NaN }, { overlapMm: -1 }, { thicknessMm: Number.POSITIVE_INFINITY }])("refuses %j", (wrong) => {
    expect(() => jacketLengthMm({ ...roll(24, 2, 8), ...wrong })).toThrow(RangeError);
  });
});

const HALF: PotLife = { kind: "doubling", referenceC: "25", minutes: "40", factor: "2" };
const TABLE: PotLife = { kind: "table", rows: [{ celsius: "30", minutes: "28" }, { celsius: "10", minutes: "112" }, { celsius: "20", minutes: "56" }] };
const SPREADING: Spreading = { life: HALF, rateKgPerMin: 0.09, usableShare: 0.8, capKg: 2 };

describe("pot life", () => {
  it.each([[33, 22.974], [15, 80], [25, 40], [38, 16.2445]])("halves for each 10 °C more: at %s °C it is %s min", (celsius, minutes) => near(potLifeMinutes(HALF, celsius) ?? 0, minutes, 1e-4));

  it("follows the data sheet between its rows on the logarithm of the time, and says nothing beyond them", () => {
    expect([10, 20, 30].map((celsius) => potLifeMinutes(TABLE, celsius))).toEqual([112, 56, 28]);
    near(potLifeMinutes(TABLE, 15) ?? 0, Math.sqrt(112 * 56), 1e-9);
    expect([9.9, 30.1].map((celsius) => potLifeMinutes(TABLE, celsius))).toEqual([null, null]);
  });

  it("is never longer when it is warmer, and its temperature is found again", () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 30, noNaN: true }), fc.double({ min: 10, max: 30, noNaN: true }), fc.constantFrom(HALF, TABLE), (a, b, life) => {
        const [cool, warm] = a <= b ? [a, b] : [b, a];
        expect(potLifeMinutes(life, warm)!).toBeLessThanOrEqual(potLifeMinutes(life, cool)! * (1 + 1e-12));
        near(celsiusOfPotLife(life, potLifeMinutes(life, warm)!)!, warm, 1e-9);
      }),
    );
  });

  it("refuses what is no temperature", () => expect(() => potLifeMinutes(HALF, Number.NaN)).toThrow(RangeError));
});

describe("resin", () => {
  const areaM2 = (contactLengthMm(roll(24, 2, 8)) / 1000) * ((42 * IN) / 1000);
  const filmMm = 0.02 * IN;
  const massKg = resinMassKg({ areaM2, filmMm, densityKgPerL: 1.1, wastePct: 10 });
  const ratio = { a: 100, b: 38, basis: "mass", densityAKgPerL: null, densityBKgPerL: null } as const;

  it("for a jacket is area by film by density, with waste", () => {
    near(areaM2, 2.2743, 1e-4);
    near(massKg, 1.398, 1e-4);
    near(averageFilmMm({ massKg: 1.3, areaM2, densityKgPerL: 1.1 }), 0.5196, 1e-4);
  });

  it("is split by mass, and by volume only with both densities", () => {
    const split = splitMass(massKg, ratio);
    near(split?.aKg ?? 0, 1.013, 1e-4);
    near(split?.bKg ?? 0, 0.385, 1e-3);
    expect(splitMass(massKg, { ...ratio, basis: "volume" })).toBeNull();
    near(splitMass(2, { a: 1, b: 1, basis: "volume", densityAKgPerL: 1.2, densityBKgPerL: 0.8 })?.aKg ?? 0, 1.2, 1e-9);
  });

  it("is mixed in batches that can be spread in time, under the data sheet's cap", () => {
    near(largestBatchKg(33, SPREADING) ?? 0, 1.6541, 1e-4);
    expect(largestBatchKg(25, SPREADING)).toBe(2);
    near(largestBatchKg(38, SPREADING) ?? 0, 1.1696, 1e-4);
    expect(batchPlan(massKg, 33, SPREADING)?.batches).toBe(1);
    expect(batchPlan(massKg, 38, SPREADING)?.batches).toBe(2);
    near(oneBatchUpToC(massKg, SPREADING) ?? 0, 35.43, 1e-3);
    expect(oneBatchUpToC(2.1, SPREADING)).toBeNull();
    expect(batchPlan(massKg, 5, { ...SPREADING, life: TABLE })).toBeNull();
  });

  it("loses nothing between its parts and its batches", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 50, noNaN: true }), fc.double({ min: 10, max: 30, noNaN: true }), (mass, celsius) => {
        const split = splitMass(mass, ratio)!;
        near(split.aKg + split.bKg, mass, 1e-9);
        const plan = batchPlan(mass, celsius, SPREADING)!;
        near(plan.batches * plan.eachKg, mass, 1e-9);
        expect(plan.eachKg).toBeLessThanOrEqual(plan.largestKg * (1 + 1e-8));
      }),
    );
  });
});
