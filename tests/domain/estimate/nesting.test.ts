import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cutList, cutListByLot, type CutList, type Piece } from "#lib/domain/estimate/nesting";
import { jacketLengthMm } from "#lib/domain/estimate/jacket-length";
import { near } from "#tests/support/near";

const IN = 25.4;
const ROLL = { lengthMm: 720 * IN, widthMm: 48 * IN };
const pieces = (type: string, count: number, d: number, overlap: number, height: number): Piece[] =>
  Array.from({ length: count }, (_, index) => ({ id: `${type}${index + 1}`, heightMm: height * IN, lengthMm: jacketLengthMm({ insideDiameterMm: d * IN, thicknessMm: 0.085 * IN, layers: 2, overlapMm: overlap * IN }) }));
const WHARF = [...pieces("H", 8, 24, 8, 42), ...pieces("C", 12, 28, 10, 48), ...pieces("T", 4, 19, 8, 36)];

const placed = (list: CutList): string[] => list.rolls.flatMap(({ lanes }) => lanes.flatMap((lane) => lane.pieces.map(({ id }) => id))).sort();

describe("the cut list", () => {
  it("takes six rolls for 24 jackets, and no plan takes fewer", () => {
    const list = cutList(WHARF, ROLL);
    expect(list).toMatchObject({ bound: 6, best: true, left: [] });
    expect(list.rolls).toHaveLength(6);
    near(list.used, 0.9344, 1e-4);
    expect(placed(list)).toEqual(WHARF.map(({ id }) => id).sort());
  });

  it("finds a plan that first-fit decreasing misses", () => {
    // 6, 5, 4, 3, 2 lots of 10: first fit takes a third roll for these, and two are enough.
    const lengths = [44, 24, 24, 22, 21, 17, 8, 8, 6, 6];
    const list = cutList(lengths.map((lengthMm, index) => ({ id: `p${index}`, lengthMm, heightMm: 40 })), { lengthMm: 61, widthMm: 50 });
    expect(list.rolls.length).toBe(list.bound);
    expect(list.best).toBe(true);
  });

  it("lays low pieces in two lanes", () => {
    const list = cutList(pieces("S", 8, 24, 8, 20), ROLL);
    expect(list.rolls).toHaveLength(1);
    expect(list.rolls[0]?.lanes).toHaveLength(2);
  });

  it("names what no roll takes, and cuts the rest", () => {
    const list = cutList([{ id: "long", lengthMm: 721 * IN, heightMm: 40 * IN }, { id: "high", lengthMm: 10, heightMm: 49 * IN }, { id: "sound", lengthMm: 10, heightMm: 40 * IN }], ROLL);
    expect(list.left.map(({ piece, because }) => `${piece.id}: ${because}`)).toEqual(["long: it is longer than a roll", "high: it is higher than a roll is wide"]);
    expect(placed(list)).toEqual(["sound"]);
  });

  it("is empty for nothing", () => expect(cutList([], ROLL)).toEqual({ rolls: [], bound: 0, best: true, used: 0, left: [] }));

  it("never mixes a jacket over two lots, and buys what the lots do not hold", () => {
    const cuts = cutListByLot(WHARF, ROLL, [{ lot: "J-1", rolls: 2 }, { lot: "J-2", rolls: 3 }]);
    expect(cuts.map(({ lot, cut }) => [lot, cut.rolls.length])).toEqual([["J-1", 2], ["J-2", 3], [null, expect.any(Number)]]);
    expect(cuts.flatMap(({ cut }) => placed(cut)).sort()).toEqual(WHARF.map(({ id }) => id).sort());
  });

  it("places every piece once, overfills no roll, and stays at or above its bound", () => {
    const some = fc.array(fc.record({ lengthMm: fc.integer({ min: 1, max: 100 }), heightMm: fc.integer({ min: 1, max: 50 }) }), { maxLength: 24 });
    fc.assert(
      fc.property(some, (sizes) => {
        const all = sizes.map((size, index) => ({ ...size, id: `p${index}` }));
        const list = cutList(all, { lengthMm: 100, widthMm: 50 });
        expect(placed(list)).toEqual(all.map(({ id }) => id).sort());
        expect(list.rolls.length).toBeGreaterThanOrEqual(list.bound);
        for (const { lanes } of list.rolls) {
          for (const lane of lanes) {
            expect(lane.pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0)).toBeLessThanOrEqual(100.0001);
            lane.pieces.forEach((piece, index) => expect(piece.offsetMm).toBeCloseTo(lane.pieces.slice(0, index).reduce((sum, { lengthMm }) => sum + lengthMm, 0), 6));
          }
          if (lanes.length > 1) for (const { heightMm } of lanes.flatMap((lane) => lane.pieces)) expect(heightMm).toBeLessThanOrEqual(25);
        }
      }),
      { numRuns: 150 },
    );
  });

  it("refuses a roll of no length", () => expect(() => cutList([], { lengthMm: 0, widthMm: 10 })).toThrow(RangeError));
});
