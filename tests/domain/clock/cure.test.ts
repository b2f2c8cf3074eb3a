import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cureClock, cureProgress, cureRate } from "#lib/domain/clock/cure";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import type { Reading, Step } from "#lib/domain/clock/temperature-clock";
import { HOUR, MINUTE } from "#lib/domain/instant";

const START = Date.parse("2026-10-31T20:30:00-03:00");
const jacket = { requiredHours: 18, referenceC: 20, minimumC: 8, underMinimum: "pause" as const };

/** Steps of so many hours at so many °C, one after another from START. */
function stepsOf(...log: [hours: number, celsius: number][]): Step[] {
  let at = START;
  return log.map(([hours, celsius]) => ({ from: at, to: (at += hours * HOUR), celsius }));
}
/** Readings at so many hours after START. */
function readingsOf(...log: [hour: number, celsius: number][]): Reading[] {
  return log.map(([hour, celsius]) => ({ at: START + hour * HOUR, celsius }));
}
const hoursIn = (instant: number | null) => (instant === null ? null : (instant - START) / HOUR);
const steady = (celsius: number, hours: number) => readingsOf(...Array.from({ length: hours + 1 }, (_, hour): [number, number] => [hour, celsius]));

describe("progress of a cure over known steps", () => {
  const log: [number, number][] = [[6, 20], [6, 10], [6, 14]];

  it("is 6 + 3 + 3.959 = 12.959 h after 6 h at 20, 6 h at 10 and 6 h at 14 °C", () => {
    const { progressHours, doneAt, segments } = cureProgress({ steps: stepsOf(...log), ...jacket });

    expect(progressHours).toBeCloseTo(12.9585, 4);
    expect(segments.map(({ counted }) => Number(counted.toFixed(3)))).toEqual([6, 3, 3.959]);
    expect(doneAt).toBeNull();
  });

  it("reaches 18 h at 26.78 h when it stays at 12 °C after that", () => {
    const { doneAt, segments } = cureProgress({ steps: stepsOf(...log, [24, 12]), ...jacket });

    expect(cureRate(12, 20)).toBeCloseTo(0.574, 3);
    expect(hoursIn(doneAt)).toBeCloseTo(26.7777, 4);
    expect(segments.at(-1)?.rate).toBeCloseTo(0.574, 3);
  });

  it("is done after exactly the required hours at the reference temperature, to the millisecond", () => {
    expect(cureProgress({ steps: stepsOf([30, 20]), ...jacket }).doneAt).toBe(START + 18 * HOUR);
    expect(cureProgress({ steps: stepsOf([18, 20]), ...jacket }).doneAt).toBe(START + 18 * HOUR);
    expect(cureProgress({ steps: stepsOf([17.9, 20]), ...jacket }).doneAt).toBeNull();
  });

  it("counts nothing under the minimum and everything at it", () => {
    const steps = (celsius: number) => stepsOf([6, 20], [3, celsius], [6, 20]);
    expect(cureProgress({ steps: steps(7.9), ...jacket }).progressHours).toBe(12);
    expect(cureProgress({ steps: steps(8), ...jacket }).progressHours).toBeCloseTo(12 + 3 * 2 ** -1.2, 9);
    expect(cureProgress({ steps: steps(-5), ...jacket, minimumC: null }).progressHours).toBeCloseTo(12 + 3 * 2 ** -2.5, 9);
  });

  it("starts again from nothing after a cold stretch where the requirement says restart", () => {
    const restarted = cureProgress({ steps: stepsOf([12, 20], [3, 6], [18, 20]), ...jacket, underMinimum: "restart" });
    expect(hoursIn(restarted.doneAt)).toBe(33);
    expect(restarted.segments.map(({ counted }) => counted)).toEqual([0, 0, 18]);
  });

  it("counts no more after a cold stretch where the requirement says void", () => {
    const { voided, doneAt, progressHours } = cureProgress({ steps: stepsOf([12, 20], [3, 6], [30, 20]), ...jacket, underMinimum: "void" });
    expect({ voided, doneAt, progressHours }).toEqual({ voided: true, doneAt: null, progressHours: 12 });
  });

  it.each(["restart", "void"] as const)("stays done when the cold comes after the end (%s)", (underMinimum) => {
    const { doneAt, voided } = cureProgress({ steps: stepsOf([18, 20], [3, 2]), ...jacket, underMinimum });
    expect({ doneAt, voided }).toEqual({ doneAt: START + 18 * HOUR, voided: false });
  });

  it("refuses steps that overlap, run backwards or carry no temperature", () => {
    const [step] = stepsOf([6, 20]) as [Step];
    expect(() => cureProgress({ steps: [step, step], ...jacket })).toThrow(RangeError);
    expect(() => cureProgress({ steps: [{ from: step.to, to: step.from, celsius: 20 }], ...jacket })).toThrow(RangeError);
    expect(() => cureProgress({ steps: [{ ...step, celsius: Number.NaN }], ...jacket })).toThrow(RangeError);
    expect(() => cureProgress({ steps: [], ...jacket, requiredHours: Number.POSITIVE_INFINITY })).toThrow(RangeError);
  });
});

describe("the cure clock", () => {
  const clock = (readings: Reading[], nowHour: number, change: Partial<Parameters<typeof cureClock>[0]> = {}) =>
    cureClock({ from: START, readings, now: START + nowHour * HOUR, ...jacket, ...change });

  it("takes 18 h at 20 °C over the autumn change from 20:30 −03:00 to 13:30 −04:00", () => {
    const { doneAt, state, done } = clock(steady(20, 20), 20);

    expect({ state, done }).toEqual({ state: "done", done: true });
    expect(siteTime(doneAt ?? 0, "America/Halifax").iso).toBe("2026-11-01T13:30:00-04:00");
    expect(formatWhen(doneAt ?? 0, "America/Halifax")).toBe("Sun 1 Nov 2026, 13:30 −04:00");
  });

  it("takes 18 h at 20 °C over the spring change from 20:30 −04:00 to 15:30 −03:00", () => {
    const from = Date.parse("2027-03-13T20:30:00-04:00");
    const readings = steady(20, 20).map(({ at, celsius }) => ({ at: at - START + from, celsius }));
    const { doneAt } = cureClock({ from, readings, now: from + 20 * HOUR, ...jacket });

    expect(siteTime(doneAt ?? 0, "America/Halifax").iso).toBe("2027-03-14T15:30:00-03:00");
  });

  it("projects from the last reading at its temperature, and counts nothing past it", () => {
    const { progressHours, earliest, state, lastC } = clock(steady(10, 6), 12);

    expect({ progressHours, state, lastC }).toEqual({ progressHours: 3, state: "running", lastC: 10 });
    expect(hoursIn(earliest)).toBe(36); // 6 h gave 3, and 15 more at half speed take 30
  });

  it("takes the lower of two readings for the time between them", () => {
    const { segments } = clock(readingsOf([0, 20], [1, 14], [2, 18]), 2);
    expect(segments.map(({ celsius }) => celsius)).toEqual([14, 14]);
  });

  it("marks a gap of 3 h as assumed and an hour as watched", () => {
    const { segments } = clock(readingsOf([0, 20], [1, 20], [4, 12], [5, 12]), 5);
    expect(segments.map(({ assumed, celsius }) => [assumed, celsius])).toEqual([[false, 20], [true, 12], [false, 12]]);
    expect(clock(readingsOf([0, 20], [4, 12]), 5, { assumedGapHours: 4 }).segments[0]?.assumed).toBe(false);
  });

  it("takes the first reading for the time before it, and marks that as assumed when it is long", () => {
    expect(clock(readingsOf([0.5, 20]), 1).segments).toMatchObject([{ from: START, to: START + 30 * MINUTE, celsius: 20, assumed: false }]);
    expect(clock(readingsOf([2, 20]), 2).segments[0]?.assumed).toBe(true);
  });

  it("leaves out what was read before it began and what is dated after now", () => {
    const { segments, lastC } = clock(readingsOf([-2, 2], [0, 20], [1, 20], [9, 2]), 2);
    expect(segments).toHaveLength(1);
    expect(lastC).toBe(20);
  });

  it("takes the lowest of several readings at one instant, in whatever order they were entered", () => {
    const readings = readingsOf([0, 20], [1, 20], [1, 12], [2, 20]);
    expect(clock(readings, 2)).toEqual(clock([...readings].reverse(), 2));
    expect(clock(readings, 2).segments.map(({ celsius }) => celsius)).toEqual([12, 12]);
  });

  it("pauses under the minimum, without an earliest time", () => {
    const readings = [...steady(20, 12), ...readingsOf([13, 6], [14, 6], [15, 6])];
    expect(clock(readings, 15)).toMatchObject({ state: "paused", progressHours: 12, earliest: null, doneAt: null, lastC: 6 });
  });

  it("goes on after a pause from where it stood", () => {
    const readings = [...steady(20, 12), ...readingsOf([13, 6], [14, 20], [15, 20])];
    const { state, progressHours, earliest } = clock(readings, 15);
    expect({ state, progressHours }).toEqual({ state: "running", progressHours: 13 });
    expect(hoursIn(earliest)).toBe(20);
  });

  it("restarts after the cold, and is void for good, where the requirement says so", () => {
    const readings = [...steady(20, 12), ...readingsOf([13, 6], [14, 20], [15, 20])];
    expect(clock(readings, 15, { underMinimum: "restart" })).toMatchObject({ state: "running", progressHours: 1 });
    expect(clock(readings, 15, { underMinimum: "void" })).toMatchObject({ state: "void", progressHours: 12, earliest: null });
    expect(clock(readingsOf([0, 6]), 0, { underMinimum: "void" }).state).toBe("void");
  });

  it("says so when there are no readings", () => {
    expect(clock([], 10)).toEqual({
      state: "no readings", done: false, doneAt: null, earliest: null, lastC: null, progressHours: 0, requiredHours: 18, segments: [],
      gaps: [], assumedHours: 0,
    });
    expect(clock(steady(20, 5), -1).state).toBe("no readings");
  });

  it("refuses a reading that is no number", () => {
    expect(() => clock(readingsOf([0, Number.NaN]), 1)).toThrow(RangeError);
  });

  const someReadings = fc.array(fc.tuple(fc.integer({ min: 0, max: 96 }), fc.integer({ min: -5, max: 40 })), { minLength: 1, maxLength: 40 });
  const policy = fc.constantFrom("pause" as const, "restart" as const, "void" as const);

  it("is never sooner done for being colder", () => {
    fc.assert(fc.property(someReadings, fc.integer({ min: 0, max: 39 }), fc.integer({ min: 1, max: 20 }), policy, (log, which, colder, underMinimum) => {
      const cooled = log.map(([hour, celsius], i): [number, number] => [hour, i === which % log.length ? celsius - colder : celsius]);
      const warm = clock(readingsOf(...log), 100, { underMinimum });
      const cold = clock(readingsOf(...cooled), 100, { underMinimum });
      expect(cold.doneAt ?? Infinity).toBeGreaterThanOrEqual(warm.doneAt ?? Infinity);
      // A clock that was done keeps counting, so only what led there is compared.
      if (!warm.done && underMinimum === "pause") expect(cold.progressHours).toBeLessThanOrEqual(warm.progressHours + 1e-9);
    }));
  });

  it("is the sum of what its segments count, which never overlap nor pass the last reading", () => {
    fc.assert(fc.property(someReadings, policy, (log, underMinimum) => {
      const { progressHours, segments, doneAt } = clock(readingsOf(...log), 100, { underMinimum });
      expect(segments.reduce((sum, { counted }) => sum + counted, 0)).toBeCloseTo(progressHours, 9);
      segments.forEach(({ from, to }, i) => {
        expect(from).toBe(segments[i - 1]?.to ?? START);
        expect(to).toBeGreaterThan(from);
      });
      if (doneAt !== null) expect(doneAt).toBeLessThanOrEqual(segments.at(-1)?.to ?? 0);
    }));
  });

  it("is the same whenever it begins, over any change of the clocks", () => {
    fc.assert(fc.property(someReadings, fc.integer({ min: -5_000, max: 5_000 }), (log, hours) => {
      const shift = hours * HOUR;
      const moved = readingsOf(...log).map(({ at, celsius }) => ({ at: at + shift, celsius }));
      const here = clock(readingsOf(...log), 100);
      const there = cureClock({ from: START + shift, readings: moved, now: START + 100 * HOUR + shift, ...jacket });
      expect(there.progressHours).toBe(here.progressHours);
      expect(there.doneAt === null).toBe(here.doneAt === null);
      expect(Math.abs((there.doneAt ?? shift) - shift - (here.doneAt ?? 0))).toBeLessThanOrEqual(1); // rounded up to a millisecond
    }));
  });
});
