import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { holesResin, holeVolumeMl, injectedAgainstVolume } from "#lib/domain/estimate/hole";
import { fromSi, toSi } from "#lib/domain/quantity/unit";
import { near } from "#tests/support/near";

const mm = (inches: number) => toSi(inches, "in").toNumber() * 1000;
const inch = { holeDiameterMm: mm(1), barDiameterMm: mm(0.75), depthMm: mm(7) };
const six = { holes: 6, wasteShare: 0.25, cartridgeMl: 380 };
const volume = (hole = inch) => holeVolumeMl(hole) ?? Number.NaN;

describe("the resin of a hole", () => {
  it("of 1 in round a 3/4 in bar, 7 in deep, is 2.405 in³", () => {
    expect(fromSi(volume() / 1e6, "in³").toFixed(3)).toBe("2.405");
    expect(volume().toFixed(2)).toBe("39.42");
  });

  it("times six with 25 % waste is 295.6 mL: one cartridge of 380", () => {
    const { netMl, totalMl, cartridges } = holesResin({ volumeMl: volume(), ...six });
    expect([netMl.toFixed(1), totalMl.toFixed(1), cartridges]).toEqual(["236.5", "295.6", 1]);
    near(totalMl, ((Math.PI / 4) * (1 - 0.75 ** 2) * 7 * 16.387064 * 6) * 1.25);
  });

  it("of 22 mm round a 16 mm bar, 150 mm deep, is 26.86 mL, and 201.5 mL for six", () => {
    const volumeMl = volume({ holeDiameterMm: 22, barDiameterMm: 16, depthMm: 150 });
    expect([volumeMl.toFixed(2), holesResin({ volumeMl, ...six }).totalMl.toFixed(1)]).toEqual(["26.86", "201.5"]);
  });

  it.each([[100, 1, 100], [100, 2, 50], [100, 3, 49.99]])("of %s mL takes %s cartridges of %s mL", (volumeMl, cartridges, cartridgeMl) => {
    expect(holesResin({ volumeMl, holes: 1, wasteShare: 0, cartridgeMl }).cartridges).toBe(cartridges);
  });

  it("cannot be told where the bar does not go in", () => {
    expect(holeVolumeMl({ ...inch, barDiameterMm: mm(1) })).toBeNull();
    expect(holeVolumeMl({ ...inch, barDiameterMm: mm(1.128) })).toBeNull();
  });

  it("is never less in a deeper hole, and the cartridges always hold it", () => {
    fc.assert(
      fc.property(fc.double({ min: 10, max: 1000, noNaN: true }), fc.double({ min: 1, max: 500, noNaN: true }), fc.integer({ min: 1, max: 60 }), (depthMm, more, holes) => {
        const volumeMl = volume({ ...inch, depthMm });
        expect(volume({ ...inch, depthMm: depthMm + more })).toBeGreaterThan(volumeMl);
        const { totalMl, cartridges } = holesResin({ volumeMl, holes, wasteShare: 0.25, cartridgeMl: 380 });
        expect(cartridges * 380).toBeGreaterThanOrEqual(totalMl * (1 - 2e-9));
        expect((cartridges - 1) * 380).toBeLessThan(totalMl);
      }),
    );
  });

  it.each([{ holeDiameterMm: 0 }, { barDiameterMm: -1 }, { depthMm: Number.NaN }, { depthMm: Number.POSITIVE_INFINITY }])("refuses %j", (wrong) => {
    expect(() => holeVolumeMl({ ...inch, ...wrong })).toThrow(RangeError);
  });
  it.each([{ holes: 0 }, { holes: 1.5 }, { wasteShare: -0.1 }, { cartridgeMl: 0 }])("refuses %j", (wrong) => {
    expect(() => holesResin({ volumeMl: 40, ...six, ...wrong })).toThrow(RangeError);
  });
});

describe("resin injected into a hole that holds 39.42 mL", () => {
  const against = (injectedMl: number | null, uncertaintyMl = 0) => injectedAgainstVolume({ injectedMl, uncertaintyMl, volumeMl: volume() });

  it("of 36 mL is short by 3.42 mL: air, or less depth", () => {
    const { verdict, shortMl, because } = against(36);
    expect([verdict, shortMl?.toFixed(2), because]).toEqual(["fails", "3.42", "Less went in than the hole holds: air, or less depth."]);
  });

  it.each<[number, number, string]>([[45, 0, "meets"], [volume(), 0, "meets"], [40, 1, "meets, inside uncertainty"], [0, 0, "fails"]])("of %s mL ± %s %s", (injectedMl, uncertaintyMl, verdict) => {
    expect(against(injectedMl, uncertaintyMl).verdict).toBe(verdict);
  });

  it("is not judged when it was not measured, or the hole is not known", () => {
    expect(against(null)).toMatchObject({ verdict: "not measured", shortMl: null });
    expect(injectedAgainstVolume({ injectedMl: 40, uncertaintyMl: 0, volumeMl: null })).toMatchObject({ verdict: "cannot tell", shortMl: null });
  });

  it.each([[-1, 0], [Number.NaN, 0], [40, -1]])("of %s mL ± %s is refused", (injectedMl, uncertaintyMl) => expect(() => against(injectedMl, uncertaintyMl)).toThrow(RangeError));
});
