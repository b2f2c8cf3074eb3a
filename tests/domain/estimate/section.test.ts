import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { barOf, BARS, HP_SHAPES, hpShape, sectionAreaMm2, widestMm, type PileSection } from "#lib/domain/estimate/section";
import { fromSi, toSi } from "#lib/domain/quantity/unit";
import { near } from "#tests/support/near";

const mm = (inches: number) => toSi(inches, "in").toNumber() * 1000;
const inches = (millimetres: number) => fromSi(millimetres / 1000, "in").toNumber();
const in2 = (mm2: number) => fromSi(mm2 / 1e6, "in²").toNumber();
const shapeOf = (designation: string) => hpShape(designation) ?? expect.fail(`no ${designation}`);
const square = (side: number, chamfer: number): PileSection => ({ kind: "square", sideMm: mm(side), chamferMm: mm(chamfer) });

describe("an H-pile", () => {
  // AISC Manual, 15th edition, Table 1-4: depth, flange width, web, flange, area, and the diagonal of depth and width.
  it.each([
    ["HP18X204", 18.3, 18.1, 1.13, 1.13, 60.2, 25.74],
    ["HP16X88", 15.3, 15.7, 0.54, 0.54, 25.8, 21.92],
    ["HP14X89", 13.8, 14.7, 0.615, 0.615, 26.1, 20.16],
    ["HP12X74", 12.1, 12.2, 0.605, 0.61, 21.8, 17.18],
    ["HP12X53", 11.8, 12.0, 0.435, 0.435, 15.5, 16.83],
    ["HP10X42", 9.7, 10.1, 0.415, 0.42, 12.4, 14.0],
    ["HP8X36", 8.02, 8.16, 0.445, 0.445, 10.6, 11.44],
  ])("%s has its printed sizes", (designation, depth, width, web, flange, area, diagonal) => {
    const shape = shapeOf(designation);
    [[shape.depthMm, depth], [shape.flangeWidthMm, width], [shape.webMm, web], [shape.flangeMm, flange]].forEach(([size = 0, printed = 0]) => near(inches(size), printed));
    near(in2(sectionAreaMm2({ kind: "HP", shape })), area);
    expect(inches(widestMm({ kind: "HP", shape })).toFixed(2)).toBe(diagonal.toFixed(2));
  });

  // Grout round the pile, AISC areas: shape, inside diameter in, clearance at the corner in, annulus in². The clearances were worked from
  // diagonals rounded to 0.01 in, so they may be 0.0025 in off besides their own rounding.
  it.each([
    ["HP8X36", 16, 2.28, 190.46], ["HP10X42", 20, 3.0, 301.76], ["HP10X57", 24, 4.86, 435.69], ["HP12X53", 24, 3.59, 436.89], ["HP12X63", 30, 6.52, 688.46],
    ["HP12X84", 20, 1.3, 289.56], ["HP14X73", 22, 1.03, 358.73], ["HP14X102", 24, 1.81, 422.29], ["HP14X117", 30, 4.71, 672.46],
  ])("%s in a jacket of %s in leaves %s in at the corner and %s in² round it", (designation, insideIn, clearance, annulus) => {
    const section: PileSection = { kind: "HP", shape: shapeOf(designation) };
    expect(Math.abs((insideIn - inches(widestMm(section))) / 2 - clearance)).toBeLessThan(0.0075);
    expect(((Math.PI / 4) * insideIn ** 2 - in2(sectionAreaMm2(section))).toFixed(2)).toBe(annulus.toFixed(2));
  });

  it("weighs what its name says, and its plates make up its area but for the fillets", () => {
    for (const { designation, depthMm, flangeWidthMm, webMm, flangeMm, areaMm2 } of HP_SHAPES) {
      // Steel of 490 lb/ft³, and a fillet area of 0.1 to 1.3 in² as the printed areas show.
      near((in2(areaMm2) / 144) * 490, Number(designation.split("X")[1]), 0.02);
      const fillets = in2(areaMm2 - 2 * flangeWidthMm * flangeMm - (depthMm - 2 * flangeMm) * webMm);
      expect(fillets, designation).toBeGreaterThan(0.1);
      expect(fillets, designation).toBeLessThan(1.3);
    }
    expect(HP_SHAPES).toHaveLength(22);
  });

  it.each(["HP12X53", "HP 12 × 53", "hp12x53"])("is found as %s", (written) => expect(hpShape(written)?.designation).toBe("HP12X53"));
  it.each(["HP12", "W12X53", "", "HP12X530"])("is not found as %j", (written) => expect(hpShape(written)).toBeNull());

  it("is 16.848 in across with the three decimals of older manuals", () => {
    near(inches(widestMm({ kind: "HP", shape: { ...shapeOf("HP12X53"), depthMm: mm(11.78), flangeWidthMm: mm(12.045) } })), Math.hypot(11.78, 12.045));
    expect(Math.hypot(11.78, 12.045).toFixed(3)).toBe("16.848");
  });
});

describe("a square pile of 16 in with chamfers of 3/4 in", () => {
  it("is widest between chamfer corners: 21.593 in, neither 22.627 nor 21.567", () => {
    expect(inches(widestMm(square(16, 0.75))).toFixed(3)).toBe("21.593");
    expect(inches(widestMm(square(16, 0))).toFixed(3)).toBe("22.627");
    near((28 - inches(widestMm(square(16, 0.75)))) / 2, 3.2035890);
  });

  it("loses the four corners: 254.875 in²", () => near(in2(sectionAreaMm2(square(16, 0.75))), 254.875));

  it("is never wider than its diagonal, nor narrower than its side", () => {
    fc.assert(
      fc.property(fc.double({ min: 50, max: 1500, noNaN: true }), fc.double({ min: 0, max: 0.49, noNaN: true }), (sideMm, share) => {
        const widest = widestMm({ kind: "square", sideMm, chamferMm: sideMm * share });
        expect(widest).toBeLessThanOrEqual(Math.SQRT2 * sideMm * (1 + 1e-12));
        expect(widest).toBeGreaterThanOrEqual(sideMm);
      }),
    );
  });
});

it("a round pile of 13 in is 132.732 in²", () => {
  const section: PileSection = { kind: "round", diameterMm: mm(13) };
  expect(in2(sectionAreaMm2(section)).toFixed(3)).toBe("132.732");
  near(inches(widestMm(section)), 13);
});

it.each<PileSection>([
  { kind: "round", diameterMm: 0 }, { kind: "round", diameterMm: Number.NaN }, { kind: "round", diameterMm: Number.POSITIVE_INFINITY },
  { kind: "square", sideMm: 400, chamferMm: 200 }, { kind: "square", sideMm: 400, chamferMm: -1 }, { kind: "square", sideMm: -400, chamferMm: 0 },
])("%j is refused", (section) => {
  expect(() => sectionAreaMm2(section)).toThrow(RangeError);
  expect(() => widestMm(section)).toThrow(RangeError);
});

describe("a bar", () => {
  // ASTM A615/A615M-20, Table 1: in, in², lb/ft, and the metric columns mm, mm², kg/m (from memory).
  it.each([
    ["#3", 0.375, 0.11, 9.5, 71, 0.56], ["#4", 0.5, 0.2, 12.7, 129, 0.994], ["#5", 0.625, 0.31, 15.9, 199, 1.552], ["#6", 0.75, 0.44, 19.1, 284, 2.235],
    ["#7", 0.875, 0.6, 22.2, 387, 3.042], ["#8", 1.0, 0.79, 25.4, 510, 3.973], ["#9", 1.128, 1.0, 28.7, 645, 5.06], ["#10", 1.27, 1.27, 32.3, 819, 6.404],
    ["#11", 1.41, 1.56, 35.8, 1006, 7.907],
  ])("%s has its printed sizes, and its metric ones within their rounding", (size, diameterIn, areaIn2, diameterMm, areaMm2, kgPerM) => {
    const bar = barOf(size) ?? expect.fail(`no ${size}`);
    near(inches(bar.diameterMm), diameterIn);
    near(in2(bar.areaMm2), areaIn2);
    expect(Math.abs(bar.diameterMm - diameterMm)).toBeLessThan(0.06);
    expect(Math.abs(bar.areaMm2 - areaMm2)).toBeLessThan(1.1);
    near(bar.kgPerM, kgPerM, 1e-3);
  });

  it("of a size that the table does not hold is not found", () => {
    expect(BARS).toHaveLength(9);
    expect(barOf("#2")).toBeNull();
  });
});
