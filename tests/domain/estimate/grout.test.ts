import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { annulusMm2, bags, bagsByLift, groutL, groutTake, type Annulus } from "#lib/domain/estimate/grout";
import { near } from "#tests/support/near";

const IN = 25.4;
const IN2 = IN ** 2;
const FT3_L = 28.316846592;
const MIX = { bagYieldL: 0.43 * FT3_L, wastePct: 8 };
const BAND = { min: 0.97, max: 1.15 };

/** A pile in its jacket, inches: annulus in², height in, volume ft³, bags before and after rounding up. */
const PILES = [
  { name: "HP 12 × 53 in 24 in, 6 bars #6", inside: 24, pile: 15.5, bars: 6, bar: 0.44, annulus: 24 ** 2 * (Math.PI / 4) - 15.5 - 6 * 0.44, printed: 434.25, height: 42, ft3: 10.555, exact: 26.5094, whole: 27 },
  { name: "16 in square with ¾ in chamfers in 28 in, 8 bars #5", inside: 28, pile: 256 - 2 * 0.75 ** 2, bars: 8, bar: 0.31, annulus: 28 ** 2 * (Math.PI / 4) - 254.875 - 2.48, printed: 358.4, height: 48, ft3: 9.956, exact: 25.0045, whole: 26 },
  { name: "13 in timber in 19 in, 4 bars #5", inside: 19, pile: (Math.PI / 4) * 13 ** 2, bars: 4, bar: 0.31, annulus: (19 ** 2 - 13 ** 2) * (Math.PI / 4) - 1.24, printed: 149.56, height: 36, ft3: 3.116, exact: 7.8256, whole: 8 },
];
const annulusOf = ({ inside, pile, bars, bar }: (typeof PILES)[number], lost = 0): number => annulusMm2({ insideDiameterMm: inside * IN, pileAreaMm2: pile * IN2, bars, barAreaMm2: bar * IN2, lost });

describe("the grout of a jacket", () => {
  it.each(PILES)("around $name is $ft3 ft³: $exact, that is $whole bags", (pile) => {
    const annulus = annulusOf(pile);
    const litres = groutL(annulus, pile.height * IN);
    near(annulus / IN2, pile.annulus, 1e-9);
    expect((annulus / IN2).toFixed(2)).toBe(pile.printed.toFixed(2));
    expect(Math.abs(litres / FT3_L - pile.ft3)).toBeLessThan(0.001); // printed from an area rounded to two places
    const { exact, whole } = bags(litres, MIX);
    near(exact, (pile.annulus * pile.height * 1.08) / 1728 / 0.43, 1e-9);
    expect(exact.toFixed(4)).toBe(pile.exact.toFixed(4));
    expect(whole).toBe(pile.whole);
  });

  const H = PILES[0]!;
  it("is 0.2513 ft³ for each inch, 0.754 ft³ for a first lift of 3 in, and 11.399 ft³ with waste", () => {
    const perInch = groutL(annulusOf(H), IN) / FT3_L;
    expect([perInch.toFixed(4), (perInch * 3).toFixed(3), (perInch * 42 * 1.08).toFixed(3)]).toEqual(["0.2513", "0.754", "11.399"]);
  });

  it("is 1.07 % more, 0.113 ft³, where 30 % of the section is lost over 42 in", () => {
    const [sound, lost] = [groutL(annulusOf(H), 42 * IN), groutL(annulusOf(H, 0.3), 42 * IN)];
    expect([((lost - sound) / FT3_L).toFixed(3), (100 * (lost / sound - 1)).toFixed(2)]).toEqual(["0.113", "1.07"]);
  });

  it("is told lift by lift in parts of bags, and rounded up once for the pile", () => {
    const { lifts, exact, whole } = bagsByLift(annulusOf(H), [3 * IN, 19.5 * IN, 19.5 * IN], MIX);
    expect(lifts.map((one) => one.toFixed(1))).toEqual(["1.9", "12.3", "12.3"]);
    near(lifts.reduce((sum, one) => sum + one, 0), exact, 1e-12);
    expect(whole).toBe(27); // lift by lift it would be 2 + 13 + 13
  });

  it.each([[25.0045, 26], [26, 26], [26.0000000001, 26], [26.0000001, 27], [0.2, 1], [1_000_000.0001, 1_000_000], [1_000_000.01, 1_000_001]])("of %d bags takes %d", (exact, whole) => {
    expect(bags(exact, { bagYieldL: 1, wastePct: 0 }).whole).toBe(whole);
  });

  it("never takes fewer bags for more grout, more waste or a smaller bag", () => {
    const some = fc.double({ min: 0, max: 5_000, noNaN: true });
    fc.assert(
      fc.property(some, some, fc.double({ min: 0, max: 50, noNaN: true }), fc.double({ min: 1, max: 50, noNaN: true }), (volume, more, wastePct, bagYieldL) => {
        const { whole, exact } = bags(volume, { bagYieldL, wastePct });
        expect(whole).toBeGreaterThanOrEqual(exact * (1 - 1e-8) - 1e-8);
        expect(whole).toBeLessThan(exact + 1);
        expect(bags(volume + more, { bagYieldL, wastePct }).whole).toBeGreaterThanOrEqual(whole);
        expect(bags(volume, { bagYieldL, wastePct: wastePct + 1 }).whole).toBeGreaterThanOrEqual(whole);
        expect(bags(volume, { bagYieldL: bagYieldL / 2, wastePct }).whole).toBeGreaterThanOrEqual(whole);
      }),
    );
  });

  it("is never less for a pile that has lost more of its section", () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(fc.property(share, share, (a, b) => {
      expect(annulusOf(H, Math.max(a, b))).toBeGreaterThanOrEqual(annulusOf(H, Math.min(a, b)));
    }));
  });

  const sound: Annulus = { insideDiameterMm: 600, pileAreaMm2: 10_000, bars: 6, barAreaMm2: 284 };
  it.each<Partial<Annulus>>([
    { insideDiameterMm: 0 }, { insideDiameterMm: 100 }, { insideDiameterMm: Number.NaN }, { insideDiameterMm: 1e200 }, { pileAreaMm2: -1 }, { pileAreaMm2: Number.POSITIVE_INFINITY },
    { bars: -1 }, { bars: 2.5 }, { barAreaMm2: Number.NaN }, { lost: -0.1 }, { lost: 1.1 }, { lost: Number.NaN },
  ])("refuses %j", (wrong) => expect(() => annulusMm2({ ...sound, ...wrong })).toThrow(RangeError));

  it.each([
    () => groutL(1e300, 1e300), () => groutL(1, -1), () => bags(1, { bagYieldL: 0, wastePct: 8 }), () => bags(-1, MIX), () => bags(1, { bagYieldL: 1, wastePct: -1 }), () => bags(1e308, { bagYieldL: 1e-10, wastePct: 0 }),
  ])("refuses what is no amount: %s", (wrong) => expect(wrong).toThrow(RangeError));
});

describe("grout take", () => {
  const take = (bagsPlaced: number, band = BAND) => groutTake({ bagsPlaced, bagYieldL: 0.43 * FT3_L, volumeL: 10.555 * FT3_L }, band);

  it.each([
    [23, "0.937", "low: void or short"],
    [24, "0.978", "inside the band"],
    [26, "1.059", "inside the band"],
    [31, "1.263", "high: leak or bulge"],
    [0, "0.000", "low: void or short"],
  ])("of %d bags of 0.43 ft³ in 10.555 ft³ is %s: %s", (placed, ratio, verdict) => {
    expect([take(placed).ratio.toFixed(3), take(placed).verdict]).toEqual([ratio, verdict]);
  });

  it("at an end of the band is inside it", () => {
    const at = (bagsPlaced: number) => groutTake({ bagsPlaced, bagYieldL: 1, volumeL: 100 }, BAND).verdict;
    expect([97, 115, 96.99, 115.01].map(at)).toEqual(["inside the band", "inside the band", "low: void or short", "high: leak or bulge"]);
  });

  it("never comes inside a band that is made narrower", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 60, noNaN: true }), fc.double({ min: 0, max: 0.05, noNaN: true }), fc.double({ min: 0, max: 0.1, noNaN: true }), (placed, up, down) => {
        if (take(placed).verdict !== "inside the band") expect(take(placed, { min: BAND.min + up, max: BAND.max - down }).verdict).toBe(take(placed).verdict);
      }),
    );
  });

  it.each([
    [-1, 1, 1, BAND], [1, 0, 1, BAND], [1, 1, 0, BAND], [1, 1, 1, { min: 1.15, max: 0.97 }], [1, 1, 1, { min: Number.NaN, max: 1 }], [1, 1, 1, { min: 0, max: Number.POSITIVE_INFINITY }], [Number.NaN, 1, 1, BAND],
  ])("refuses %d bags of %d L in %d L against %j", (bagsPlaced, bagYieldL, volumeL, band) => {
    expect(() => groutTake({ bagsPlaced, bagYieldL, volumeL }, band)).toThrow(RangeError);
  });
});
