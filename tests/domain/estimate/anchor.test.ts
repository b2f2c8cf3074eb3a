import { describe, expect, it } from "vitest";
import { barsApart, basicBondN, bondDesignHolds, bondReachMm, LEAST_BOND_MPA } from "#lib/domain/estimate/anchor";

const IN = 25.4;
const LBF = 4.4482216152605;
const PSI_MPA = LBF / IN ** 2;

describe("a bar bonded in a hole", () => {
  // Diameter of the bar and 4 and 20 times it, inches: ACI 318-19, 17.3.3 (from memory).
  it.each([
    ["#3", 0.375, 1.5, 7.5], ["#4", 0.5, 2, 10], ["#5", 0.625, 2.5, 12.5], ["#6", 0.75, 3, 15], ["#7", 0.875, 3.5, 17.5], ["#8", 1, 4, 20], ["#9", 1.128, 4.512, 22.56], ["#10", 1.27, 5.08, 25.4], ["#11", 1.41, 5.64, 28.2],
  ])("%s of %d in has an embedment of %d to %d in for its bond design", (_bar, diameter, least, most) => {
    const holds = (inches: number) => bondDesignHolds({ barMm: diameter * IN, embedmentMm: inches * IN }).holds;
    expect([least, most, least * 0.999, most * 1.001].map(holds)).toEqual([true, true, false, false]);
  });

  // Worked from ACI 318-19, equations 17.6.5.2.1 and 17.6.5.1.2b: bar in, embedment in, psi, Nba lbf, cNa in at 650 psi.
  it.each([
    [0.625, 10, 200, 3927, 4.804], [0.625, 10, 650, 12762.7, 4.804], [0.5, 5, 200, 1570.8, 3.844], [0.75, 6, 200, 2827.4, 5.765], [0.625, 10, 80, 1570.8, 4.804],
  ])("of %d in, %d in deep, at %d psi holds %d lbf and reaches %d in", (bar, deep, psi, lbf, reach) => {
    const [barMm, embedmentMm] = [bar * IN, deep * IN];
    expect(Math.abs(basicBondN({ barMm, embedmentMm, bondMpa: psi * PSI_MPA }) / LBF - lbf)).toBeLessThan(0.1);
    expect(Math.abs(bondReachMm({ barMm, uncrackedBondMpa: LEAST_BOND_MPA.outdoors.uncracked }) / IN - reach)).toBeLessThan(0.001);
    expect(bondDesignHolds({ barMm, embedmentMm }).diameters).toBeCloseTo(deep / bar, 9);
  });

  it("has the least bond stresses of 200, 650, 300 and 1000 psi", () => {
    const { outdoors, indoors } = LEAST_BOND_MPA;
    expect([outdoors.cracked, outdoors.uncracked, indoors.cracked, indoors.uncracked].map((mpa) => Math.round((mpa / PSI_MPA) * 1e6) / 1e6)).toEqual([200, 650, 300, 1000]);
  });

  it("stands six diameters from its neighbour and from an edge, or says how far it is", () => {
    const { spacing, edge } = barsApart({ barMm: 0.75 * IN, spacingMm: 4.5 * IN, edgeMm: 4 * IN });
    expect(spacing).toMatchObject({ reached: true, leastMm: expect.closeTo(4.5 * IN, 9) });
    expect(edge?.reached).toBe(false);
    expect(edge?.diameters).toBeCloseTo(5.3333, 4);
    expect(barsApart({ barMm: 19, spacingMm: null, edgeMm: null })).toEqual({ spacing: null, edge: null });
  });

  it.each([
    () => bondDesignHolds({ barMm: 0, embedmentMm: 100 }), () => bondDesignHolds({ barMm: 19, embedmentMm: Number.NaN }), () => basicBondN({ barMm: 19, embedmentMm: 100, bondMpa: -1 }),
    () => basicBondN({ barMm: 19, embedmentMm: 100, bondMpa: 1, lightweight: 0 }), () => bondReachMm({ barMm: 19, uncrackedBondMpa: Number.POSITIVE_INFINITY }), () => barsApart({ barMm: 19, spacingMm: 0, edgeMm: null }),
  ])("refuses %s", (wrong) => expect(wrong).toThrow(RangeError));
});
