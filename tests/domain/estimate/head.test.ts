import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { footPressureKpa, hoopForceNPerMm, hoopStressMpa, sealForceN, tieAllowedN, tieHeadLimitMm, tieLoadN, tieLoadsN, tiesCarry } from "#lib/domain/estimate/head";
import { near } from "#tests/support/near";

const IN = 25.4;
const LBF = 4.4482216152605;
const PSI_KPA = LBF / IN ** 2 * 1_000;
const PSF_KPA = PSI_KPA / 144;
const pcf = (value: number): number => (value * 0.45359237) / 0.3048 ** 3;
const GROUT = { groutKgM3: pcf(135) };
const JACKET = { ...GROUT, insideDiameterMm: 24 * IN };
const ANNULUS_IN2 = (Math.PI / 4) * 24 ** 2 - 15.5 - 6 * 0.44;

describe("the pressure of grout that has not set", () => {
  it.each([[3, "0.234", "101.8"], [42, "3.281", "1424.9"], [24, "1.875", "814.2"]])("under %d in of 135 lb/ft³ is %s psi, %s lbf on the seal", (head, psi, lbf) => {
    const kpa = footPressureKpa(head * IN, GROUT);
    near(kpa / PSI_KPA, (135 / 1728) * head, 1e-9);
    expect([(kpa / PSI_KPA).toFixed(3), (sealForceN(kpa, ANNULUS_IN2 * IN ** 2) / LBF).toFixed(1)]).toEqual([psi, lbf]);
    near(sealForceN(kpa, ANNULUS_IN2 * IN ** 2) / LBF, (135 / 1728) * head * ANNULUS_IN2, 1e-9);
  });

  it("is 12.93 kPa under 24 in, with 22.5 lbf on each inch of the jacket and 132 psi in two layers of 0.085 in", () => {
    const kpa = footPressureKpa(24 * IN, GROUT);
    expect(kpa.toFixed(2)).toBe("12.93");
    near((hoopForceNPerMm(kpa, 24 * IN) * IN) / LBF, 22.5, 1e-9);
    near((hoopStressMpa(kpa, { insideDiameterMm: 24 * IN, layers: 2, thicknessMm: 0.085 * IN }) * 1_000) / PSI_KPA, 22.5 / 0.17, 1e-9);
  });

  // Hydrostatic pressure and hoop tension p·r of fluid grout, worked for ACI 347R-14, 4.2.2.1 (p = w·h): head ft, inside in, lb/ft³, psf, kPa, lbf/in, kN/m.
  it.each([
    [1, 16, 135, 135, 6.464, 7.5, 1.3135], [2, 16, 135, 270, 12.928, 15, 2.6269], [5, 20, 120, 600, 28.728, 41.667, 7.297], [10, 24, 145, 1450, 69.426, 120.833, 21.1612],
    [20, 24, 135, 2700, 129.277, 225, 39.4035], [5, 30, 145, 725, 34.713, 75.521, 13.2257], [15, 30, 135, 2025, 96.958, 210.938, 36.9408],
  ])("under %d ft in a %d in jacket at %d lb/ft³ is %d psf (%d kPa), and pulls with %d lbf/in (%d kN/m)", (feet, inches, weight, psf, kpa, lbfPerIn, knPerM) => {
    const pressure = footPressureKpa(feet * 304.8, { groutKgM3: pcf(weight) });
    near(pressure / PSF_KPA, psf, 1e-9);
    near(pressure, kpa, 5e-5);
    near((hoopForceNPerMm(pressure, inches * IN) * IN) / LBF, lbfPerIn, 5e-5);
    near(hoopForceNPerMm(pressure, inches * IN), knPerM, 5e-5);
  });

  it("under water is that of the weight less the water's, as high as the water stands", () => {
    const water = { ...GROUT, waterKgM3: pcf(64) };
    near(footPressureKpa(42 * IN, { ...water, waterMm: 42 * IN }) / PSI_KPA, (71 / 1728) * 42, 1e-9);
    near(footPressureKpa(42 * IN, { ...water, waterMm: 30 * IN }) / PSI_KPA, (135 * 42 - 64 * 30) / 1728, 1e-9);
    near(footPressureKpa(42 * IN, { ...GROUT, waterMm: 42 * IN }) / PSI_KPA, (71 / 1728) * 42, 1e-3); // sea water in round numbers is 64 lb/ft³
    expect(footPressureKpa(10 * IN, { ...water, waterMm: 40 * IN })).toBeLessThan(0);
  });

  it("never falls with more or heavier grout, and never rises with more water", () => {
    const head = fc.double({ min: 0, max: 10_000, noNaN: true });
    fc.assert(
      fc.property(head, head, head, fc.double({ min: 900, max: 2_600, noNaN: true }), (a, more, waterMm, groutKgM3) => {
        const kpa = footPressureKpa(a, { groutKgM3, waterMm });
        expect(footPressureKpa(a + more, { groutKgM3, waterMm })).toBeGreaterThanOrEqual(kpa);
        expect(footPressureKpa(a, { groutKgM3: groutKgM3 + more, waterMm })).toBeGreaterThanOrEqual(kpa);
        expect(footPressureKpa(a, { groutKgM3, waterMm: waterMm + more })).toBeLessThanOrEqual(kpa);
      }),
    );
  });

  it.each([
    ["a negative head", () => footPressureKpa(-1, GROUT)], ["an infinite head", () => footPressureKpa(Number.POSITIVE_INFINITY, GROUT)], ["no density", () => footPressureKpa(1, { groutKgM3: 0 })],
    ["a depth of water that is none", () => footPressureKpa(1, { ...GROUT, waterMm: Number.NaN })], ["a pressure that is none", () => sealForceN(Number.NaN, 1)], ["no annulus", () => sealForceN(1, 0)],
    ["an infinite pressure", () => hoopForceNPerMm(Number.POSITIVE_INFINITY, 600)], ["no layers", () => hoopStressMpa(1, { insideDiameterMm: 600, layers: 0, thicknessMm: 2 })],
  ])("refuses %s", (_name, wrong) => expect(wrong).toThrow(RangeError));
});

describe("the ties of a jacket that has not cured", () => {
  const ties = { spacingMm: 10.5 * IN, ratingN: 120 * LBF, factor: 2 };
  const at = { ...JACKET, spacingMm: ties.spacingMm };

  it("bear 184.6 lbf on the bottom one under 24 in at 10.5 in, by 1.465 psi in the middle of its strip", () => {
    const lbf = tieLoadN(24 * IN, at) / LBF;
    near(lbf, (135 / 1728) * 18.75 * 12 * 10.5, 1e-9);
    expect([lbf.toFixed(1), ((135 / 1728) * 18.75).toFixed(3)]).toEqual(["184.6", "1.465"]);
  });

  it("bear less towards the top, and together what the grout pulls", () => {
    const loads = tieLoadsN(24 * IN, at).map((load) => load / LBF);
    expect(loads.map((load) => load.toFixed(2))).toEqual(["184.57", "81.21", "4.22"]);
    near(loads.reduce((sum, load) => sum + load, 0), ((135 / 1728) * 12 * 24 ** 2) / 2, 1e-9);
    expect(tieLoadsN(0, at)).toEqual([]);
    expect(tieLoadN(0, at)).toBe(0);
  });

  it("that are rated 120 lbf over 2 cannot carry 24 in: a cured jacket is required", () => {
    expect(tiesCarry(24 * IN, ties, JACKET)).toMatchObject({ carries: false, because: "The ties cannot carry this lift: a cured jacket is required." });
    expect(tiesCarry(24 * IN, ties, JACKET).allowedN / LBF).toBeCloseTo(60, 9);
    expect(tiesCarry(3 * IN, ties, JACKET)).toMatchObject({ carries: true, because: "" });
  });

  it("carry exactly the head at which they are at their limit", () => {
    const size = fc.double({ min: 50, max: 600, noNaN: true });
    fc.assert(
      fc.property(size, fc.double({ min: 1, max: 5_000, noNaN: true }), fc.double({ min: 1, max: 5, noNaN: true }), size, (spacingMm, ratingN, factor, insideDiameterMm) => {
        const [tie, jacket] = [{ spacingMm, ratingN, factor }, { ...GROUT, insideDiameterMm }];
        const limit = tieHeadLimitMm(tie, jacket);
        fc.pre(limit / spacingMm < 900);
        near(tieLoadN(limit, { ...jacket, spacingMm }), tieAllowedN(tie), 1e-9);
        expect([limit, limit * 1.001].map((head) => tiesCarry(head, tie, jacket).carries)).toEqual([true, false]);
      }),
    );
  });

  it("never carry with a greater factor what they did not carry before, nor bear less under more grout", () => {
    const head = fc.double({ min: 0, max: 3_000, noNaN: true });
    fc.assert(
      fc.property(head, head, fc.double({ min: 0, max: 5, noNaN: true }), (mm, more, stricter) => {
        expect(tieLoadN(mm + more, at)).toBeGreaterThanOrEqual(tieLoadN(mm, at) * (1 - 1e-12));
        if (!tiesCarry(mm, ties, JACKET).carries) expect(tiesCarry(mm, { ...ties, factor: ties.factor + stricter }, JACKET).carries).toBe(false);
      }),
    );
  });

  it.each([
    ["a factor under 1", () => tieAllowedN({ ratingN: 1, factor: 0.9 })], ["a factor that is none", () => tieAllowedN({ ratingN: 1, factor: Number.NaN })], ["no rating", () => tiesCarry(1, { ...ties, ratingN: 0 }, JACKET)],
    ["no spacing", () => tieHeadLimitMm({ ...ties, spacingMm: 0 }, JACKET)], ["a spacing that is none", () => tieHeadLimitMm({ ...ties, spacingMm: Number.NaN }, JACKET)],
    ["a head that is none", () => tieLoadN(Number.NaN, at)], ["more ties than a jacket has", () => tieLoadsN(1_000, { ...JACKET, spacingMm: 0.001 })],
  ])("refuse %s", (_name, wrong) => expect(wrong).toThrow(RangeError));
});
