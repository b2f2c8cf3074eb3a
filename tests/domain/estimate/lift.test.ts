import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { headsByLiftMm, liftHeightsMm, riseMPerH, unsetHeadMm, waitsBetween, type PlacedLift } from "#lib/domain/estimate/lift";
import { HOUR } from "#lib/domain/instant";
import { near } from "#tests/support/near";

const IN = 25.4;
const START = Date.parse("2026-10-31T23:30:00Z");
/** A lift by its height in inches and the hours at which it began and ended. */
const lift = (heightIn: number, began: number, ended: number): PlacedLift => ({ heightMm: heightIn * IN, beganAt: START + began * HOUR, endedAt: START + ended * HOUR });

describe("the lifts of a jacket", () => {
  it.each([
    [42, 3, 24, [3, 19.5, 19.5]],
    [48, 3.5, 24, [3.5, 22.25, 22.25]],
    [36, 3, 18, [3, 16.5, 16.5]],
    [27, 3, 24, [3, 24]],
    [3, 3, 24, [3]],
    [2, 3, 24, [2]],
    [51, 3, 24, [3, 24, 24]],
  ])("of %d in with a first of %d in and at most %d in are %j in", (total, first, most, inches) => {
    const heights = liftHeightsMm({ totalMm: total * IN, firstMm: first * IN, mostMm: most * IN });
    expect(heights.map((height) => Number((height / IN).toFixed(9)))).toEqual(inches);
  });

  it("fill it, none over the most", () => {
    const size = fc.double({ min: 1, max: 3_000, noNaN: true });
    fc.assert(
      fc.property(size, size, size, (totalMm, a, b) => {
        const [firstMm, mostMm] = [Math.min(a, b), Math.max(a, b)];
        fc.pre(totalMm / mostMm < 1_000);
        const heights = liftHeightsMm({ totalMm, firstMm, mostMm });
        near(heights.reduce((sum, height) => sum + height, 0), totalMm, 1e-9);
        expect(Math.max(...heights)).toBeLessThanOrEqual(mostMm * (1 + 1e-8));
      }),
    );
  });

  it.each([
    { totalMm: 0 }, { totalMm: Number.POSITIVE_INFINITY }, { firstMm: -1 }, { firstMm: 700 }, { mostMm: Number.NaN }, { totalMm: 1e9 },
  ])("are refused for %j", (wrong) => {
    expect(() => liftHeightsMm({ totalMm: 1_000, firstMm: 75, mostMm: 600, ...wrong })).toThrow(RangeError);
  });
});

describe("the head of grout that has not set", () => {
  // 24 in ends at 1 h, 18 in is placed 1.5 h after that; the grout needs 4 h.
  const two = [lift(24, 0, 1), lift(18, 2.5, 3)];
  const headIn = (lifts: PlacedLift[], hours: number, setHours = 4) => Number((unsetHeadMm(lifts, { setHours, at: START + hours * HOUR }) / IN).toFixed(9));

  it("is 42 in and not 18 when 18 in go on 24 in that were placed 1.5 h before", () => {
    expect(headIn(two, 2.5)).toBe(42);
    expect(headsByLiftMm(two, 4).map(({ mostMm, endMm }) => [mostMm / IN, endMm / IN])).toEqual([[24, 24], [42, 42]].map((pair) => pair.map((value) => expect.closeTo(value, 9))));
  });

  it.each([
    [-0.1, 0], [0, 24], [0.5, 24], [2.4, 24], [4.9, 42], [5, 18], [6.9, 18], [7, 0],
  ])("at %d h is %d in: a lift counts whole from its beginning until it has set", (hours, inches) => expect(headIn(two, hours)).toBe(inches));

  it("is at its most while a lift is placed, though the one below sets before its end", () => {
    const slow = [lift(24, 0, 1), lift(18, 4.5, 6)];
    expect(headsByLiftMm(slow, 4).at(-1)).toEqual({ mostMm: expect.closeTo(42 * IN, 9), endMm: expect.closeTo(18 * IN, 9) });
  });

  it("is the last lift alone where every lift waits for the one below to set", () => {
    expect(headsByLiftMm([lift(3, 0, 0.5), lift(19.5, 4.5, 5), lift(19.5, 9, 10)], 4).map(({ mostMm }) => Number((mostMm / IN).toFixed(9)))).toEqual([3, 19.5, 19.5]);
  });

  it("never falls when the grout needs longer to set, and never is more than what has been begun", () => {
    const pour = fc.array(fc.record({ height: fc.double({ min: 0, max: 40, noNaN: true }), wait: fc.double({ min: 0, max: 9, noNaN: true }), lasts: fc.double({ min: 0, max: 3, noNaN: true }) }), { minLength: 1, maxLength: 6 });
    const hours = fc.double({ min: 0, max: 30, noNaN: true });
    fc.assert(
      fc.property(pour, hours, hours, fc.double({ min: 0, max: 10, noNaN: true }), (parts, at, setHours, longer) => {
        let now = START;
        const lifts = parts.map(({ height, wait, lasts }) => {
          const beganAt = now + wait * HOUR;
          now = beganAt + lasts * HOUR;
          return { heightMm: height, beganAt, endedAt: now };
        });
        const head = (set: number) => unsetHeadMm(lifts, { setHours: set, at: START + at * HOUR });
        expect(head(setHours + longer)).toBeGreaterThanOrEqual(head(setHours));
        expect(head(setHours)).toBeLessThanOrEqual(lifts.filter(({ beganAt }) => beganAt <= START + at * HOUR).reduce((sum, { heightMm }) => sum + heightMm, 0) + 1e-9);
      }),
    );
  });

  it.each([
    ["a set time that is negative", () => unsetHeadMm(two, { setHours: -1, at: START })],
    ["an instant that is none", () => unsetHeadMm(two, { setHours: 4, at: Number.NaN })],
    ["a lift with no time", () => unsetHeadMm([{ ...two[0]!, endedAt: Number.NaN }], { setHours: 4, at: START })],
    ["a lift that ends before it begins", () => unsetHeadMm([lift(24, 1, 0)], { setHours: 4, at: START })],
    ["lifts in the wrong order", () => unsetHeadMm([...two].reverse(), { setHours: 4, at: START })],
    ["a negative height", () => headsByLiftMm([lift(-1, 0, 1)], 4)],
  ])("refuses %s", (_name, wrong) => expect(wrong).toThrow(RangeError));
});

describe("a pour", () => {
  it("rises by its height over its time, and tells no rate of a lift with one time", () => {
    expect(riseMPerH({ heightMm: 600, beganAt: START, endedAt: START + 0.5 * HOUR })).toBeCloseTo(1.2, 12);
    expect(riseMPerH(lift(24, 1, 1))).toBeNull();
  });

  it("has a cold joint where a lift waits longer than the specification lets it", () => {
    const lifts = [lift(3, 0, 0.5), lift(19.5, 1.5, 2), lift(19.5, 3.01, 4)];
    expect(waitsBetween(lifts, 1).map(({ hours, coldJoint }) => [Number(hours.toFixed(6)), coldJoint])).toEqual([[1, false], [1.01, true]]);
    expect(waitsBetween(lifts.slice(0, 1), 1)).toEqual([]);
  });

  it("never loses a cold joint when the longest wait is made shorter", () => {
    const wait = fc.double({ min: 0, max: 10, noNaN: true });
    fc.assert(fc.property(wait, wait, wait, (gap, a, b) => {
      const cold = (mostHours: number) => waitsBetween([lift(3, 0, 1), lift(3, 1 + gap, 2 + gap)], mostHours)[0]!.coldJoint;
      expect(Number(cold(Math.min(a, b)))).toBeGreaterThanOrEqual(Number(cold(Math.max(a, b))));
    }));
  });

  it("is not told of with a wait that is no number", () => expect(() => waitsBetween([], Number.NaN)).toThrow(RangeError));
});
