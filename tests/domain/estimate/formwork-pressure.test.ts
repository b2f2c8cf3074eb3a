import fc from "fast-check";
import { expect, it } from "vitest";
import { formworkPressureKpa, type FormworkPressure, type Placing } from "#lib/domain/estimate/formwork-pressure";
import { footPressureKpa } from "#lib/domain/estimate/head";
import { near } from "#tests/support/near";

const PSF_KPA = 0.04788025898;
const FT = 304.8;
const kgM3 = (pcf: number): number => (pcf * 0.45359237) / 0.3048 ** 3;
const celsius = (fahrenheit: number): number => (fahrenheit - 32) / 1.8;
type Element = NonNullable<Placing["element"]>;
const placing = (element: Element, feet: number, feetPerHour: number, fahrenheit: number, pcf: number, chemistry: number): Placing => ({
  element, headMm: feet * FT, rateMPerH: feetPerHour * 0.3048, celsius: celsius(fahrenheit), densityKgM3: kgM3(pcf), chemistry,
});

// Worked from the equations and tables of ACI 347R-14, 4.2.2.1 (both read in two public sources that agree): height ft, rate ft/h, °F, lb/ft³, Cc, psf, kPa.
it.each<[Element, number, number, number, number, number, number, number, FormworkPressure["governs"]]>([
  ["column", 10, 4, 70, 145, 1, 664.3, 31.81, "the equation"],
  ["column", 12, 10, 60, 145, 1, 1650, 79, "the equation"],
  ["column", 3, 2, 70, 145, 1, 435, 20.83, "the liquid head"],
  ["column", 16, 3, 90, 145, 1, 600, 28.73, "the least value"],
  ["wall", 12, 5, 60, 145, 1, 900, 43.09, "the equation"],
  ["wall", 16, 5, 60, 145, 1.2, 1328, 63.58, "the equation"],
  ["wall", 12, 10, 60, 145, 1, 1340, 64.16, "the equation"],
  ["wall", 12, 16, 60, 145, 1, 1740, 83.31, "the liquid head"],
  ["column", 10, 4, 70, 120, 1.2, 728.4, 34.88, "the equation"],
  ["column", 10, 4, 70, 160, 1.4, 1026.2, 49.14, "the equation"],
])("a %s of %d ft at %d ft/h, %d °F, %d lb/ft³ and Cc %d presses with %d psf, %d kPa: %s governs", (element, feet, rate, fahrenheit, pcf, chemistry, psf, kpa, governs) => {
  const pressure = formworkPressureKpa(placing(element, feet, rate, fahrenheit, pcf, chemistry));
  expect(Math.abs(pressure.kpa / PSF_KPA - psf)).toBeLessThan(0.5);
  expect(Math.abs(pressure.kpa - kpa)).toBeLessThan(0.05);
  expect(pressure.governs).toBe(governs);
});

it("is the liquid head and a quarter when it is pumped in from the base", () => {
  const pressure = formworkPressureKpa({ ...placing("column", 10, 20, 70, 135, 1.2), pumpedFromBase: true });
  near(pressure.kpa / PSF_KPA, 1687.5, 1e-6); // ACI 347R-14, 4.2.2.4
  expect(pressure.governs).toBe("the liquid head and a quarter");
});

it("is the full liquid head of a jacket's 42 in, however slowly it is filled", () => {
  near(formworkPressureKpa(placing("column", 3.5, 1, 60, 135, 1)).kpa, footPressureKpa(42 * 25.4, { groutKgM3: kgM3(135) }), 1e-9);
});

it("weighs light mixes at no less than 0.80 and takes 140 to 150 lb/ft³ for 1", () => {
  const least = (pcf: number) => formworkPressureKpa(placing("column", 60, 0, 70, pcf, 0.1)).kpa / PSF_KPA / 600;
  expect([60, 87, 120, 139.9, 140, 150, 160].map((pcf) => Number(least(pcf).toFixed(4)))).toEqual([0.8, 0.8, 0.9138, 0.9824, 1, 1, 1.1034]);
});

it("never is more than the liquid head, and never falls with a faster pour, a colder mix or more head", () => {
  const positive = (max: number) => fc.double({ min: 0, max, noNaN: true });
  fc.assert(
    fc.property(positive(60), positive(30), fc.double({ min: 40, max: 100, noNaN: true }), fc.double({ min: 80, max: 170, noNaN: true }), positive(10), (feet, rate, fahrenheit, pcf, more) => {
      const kpa = (change: Partial<Placing> = {}) => formworkPressureKpa({ ...placing("column", feet, rate, fahrenheit, pcf, 1.2), ...change }).kpa;
      const slack = kpa() * 1e-9 + 1e-12;
      expect(kpa()).toBeLessThanOrEqual(footPressureKpa(feet * FT, { groutKgM3: kgM3(pcf) }) + slack);
      expect(kpa({ rateMPerH: (rate + more) * 0.3048 })).toBeGreaterThanOrEqual(kpa() - slack);
      expect(kpa({ celsius: celsius(fahrenheit - more) })).toBeGreaterThanOrEqual(kpa() - slack);
      expect(kpa({ headMm: (feet + more) * FT })).toBeGreaterThanOrEqual(kpa() - slack);
    }),
  );
});

it.each<Partial<Placing>>([{ densityKgM3: 0 }, { headMm: -1 }, { rateMPerH: Number.NaN }, { celsius: -18 }, { celsius: Number.POSITIVE_INFINITY }, { chemistry: 0 }])("refuses %j", (wrong) => {
  expect(() => formworkPressureKpa({ ...placing("column", 10, 4, 70, 145, 1), ...wrong })).toThrow(RangeError);
});
