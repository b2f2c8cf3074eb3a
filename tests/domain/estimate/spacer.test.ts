import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clearanceMm, cornerCover, spacerFits } from "#lib/domain/estimate/spacer";
import { fromSi, toSi } from "#lib/domain/quantity/unit";
import { near } from "#tests/support/near";

const mm = (inches: number) => toSi(inches, "in").toNumber() * 1000;
const inches = (millimetres: number) => fromSi(millimetres / 1000, "in").toNumber();
/** A steel section of 11.78 by 12.045 in in a jacket of 24 in. */
const steel = { insideDiameterMm: mm(24), widestMm: Math.hypot(mm(11.78), mm(12.045)) };
const fit = (sizeIn: number) => spacerFits({ ...steel, sizeMm: mm(sizeIn) });

describe("a spacer at the widest point", () => {
  it("of 4 in does not fit into 3.576 in, and one of 3 1/2 in does with 0.076 in of play", () => {
    expect(inches(clearanceMm(steel)).toFixed(3)).toBe("3.576");
    expect(fit(4)).toMatchObject({ fits: false, leastMm: null });
    expect([fit(3.5).fits, inches(fit(3.5).playMm).toFixed(3)]).toEqual([true, "0.076"]);
  });

  it("has 3.204 in beside a chamfered 16 in square in 28 in", () => {
    near(inches(clearanceMm({ insideDiameterMm: mm(28), widestMm: 2 * Math.hypot(mm(8), mm(7.25)) })), 3.203589, 1e-6);
  });

  it("of exactly the clearance fits without play", () => {
    expect(spacerFits({ insideDiameterMm: 600, widestMm: 400, sizeMm: 100 })).toEqual({ fits: true, playMm: 0, centredMm: 100, leastMm: 100 });
    expect(spacerFits({ insideDiameterMm: 600, widestMm: 400, sizeMm: 100.001 }).fits).toBe(false);
  });

  it("has a negative clearance where the jacket does not go round the pile", () => expect(clearanceMm({ insideDiameterMm: 400, widestMm: 410 })).toBe(-5));

  it("keeps no more cover than the clearance, and fits whenever a bigger one does", () => {
    fc.assert(
      fc.property(fc.double({ min: 100, max: 2000, noNaN: true }), fc.double({ min: 50, max: 2000, noNaN: true }), fc.double({ min: 1, max: 500, noNaN: true }), fc.double({ min: 0.01, max: 1, noNaN: true }), (insideDiameterMm, widest, sizeMm, share) => {
        const bigger = spacerFits({ insideDiameterMm, widestMm: widest, sizeMm });
        if (!bigger.fits) return;
        expect(bigger.leastMm).toBeLessThanOrEqual(bigger.centredMm);
        expect(spacerFits({ insideDiameterMm, widestMm: widest, sizeMm: sizeMm * share }).fits).toBe(true);
      }),
    );
  });

  it.each([{ sizeMm: 0 }, { sizeMm: Number.NaN }, { widestMm: -1 }, { insideDiameterMm: Number.POSITIVE_INFINITY }])("refuses %j", (wrong) => {
    expect(() => spacerFits({ ...steel, sizeMm: 50, ...wrong })).toThrow(RangeError);
  });
});

describe("a minimum cover at the corner", () => {
  it.each<[number, number, string]>([
    [3.5, 3, "meets"], [3.5, 3.5, "meets"], [3.5, 3.55, "meets only in the middle"], [3.5, 3.6, "fails"], [4, 3, "cannot tell"], [4, 3.6, "fails"],
  ])("with a spacer of %s in against %s in %s", (sizeIn, coverMinIn, verdict) => {
    expect(cornerCover(fit(sizeIn), mm(coverMinIn))).toBe(verdict);
  });

  it("of nothing is refused", () => expect(() => cornerCover(fit(3.5), 0)).toThrow(RangeError));
});
