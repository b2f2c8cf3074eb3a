import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cureClock, cureRate, equivalentAgeClock, maturityClock } from "#lib/domain/clock/cure";
import { fromSite, siteTime } from "#lib/domain/clock/site-time";
import type { Reading } from "#lib/domain/clock/temperature-clock";
import { HOUR } from "#lib/domain/instant";

const START = Date.parse("2026-12-02T22:00:00Z");
const NOW = START + 100 * HOUR;
const jacket = { requiredHours: 18, referenceC: 20, minimumC: 8, underMinimum: "pause" as const };
const readingsOf = (...log: [hour: number, celsius: number][]): Reading[] => log.map(([hour, celsius]) => ({ at: START + hour * HOUR, celsius }));
const hourly = (from: number, to: number, celsius: number) => readingsOf(...Array.from({ length: to - from + 1 }, (_, i): [number, number] => [from + i, celsius]));
const clock = (readings: readonly Reading[], change: Partial<Parameters<typeof cureClock>[0]> = {}) => cureClock({ from: START, readings, now: NOW, ...jacket, ...change });

describe("a gap of the logger", () => {
  const threeHours = [...hourly(0, 4, 20), ...hourly(7, 20, 12)];

  it("of 3 h is named with its ends and the lower temperature, which is what counts", () => {
    const { gaps, assumedHours, progressHours, segments } = clock(threeHours);
    expect(gaps).toEqual([{ from: START + 4 * HOUR, to: START + 7 * HOUR, hours: 3, assumedC: 12 }]);
    expect(assumedHours).toBe(3);
    expect(segments.filter(({ assumed }) => assumed)).toHaveLength(1);
    expect(progressHours).toBeCloseTo(4 + 16 * cureRate(12, 20), 9);
  });

  it("is none where somebody read often enough, or the limit is longer", () => {
    expect(clock(hourly(0, 10, 20))).toMatchObject({ gaps: [], assumedHours: 0 });
    expect(clock(threeHours, { assumedGapHours: 3 })).toMatchObject({ gaps: [], assumedHours: 0 });
  });

  it("after the clock was done is nobody's to accept", () => {
    expect(clock([...hourly(0, 18, 20), ...readingsOf([30, 20])])).toMatchObject({ state: "done", gaps: [] });
    expect(clock([...hourly(0, 12, 20), ...readingsOf([30, 20])])).toMatchObject({ state: "done", assumedHours: 18 });
  });

  it("that a restart took back is nobody's to accept either", () => {
    const readings = [...threeHours, ...readingsOf([21, 5]), ...hourly(22, 25, 20)];
    expect(clock(readings).assumedHours).toBe(3);
    expect(clock(readings, { underMinimum: "restart" }).gaps).toEqual([]);
  });

  it("with a cold end counts nothing and is named all the same", () => {
    expect(clock(readingsOf([0, 20], [3, 6], [4, 20]))).toMatchObject({ progressHours: 0, gaps: [{ hours: 3, assumedC: 6 }] });
  });

  it("is told by maturity and age clocks as by a cure clock", () => {
    const common = { from: START, readings: threeHours, now: NOW, minimumC: null, underMinimum: "pause" as const };
    const { gaps } = clock(threeHours);
    expect(maturityClock({ ...common, requiredDegreeHours: 400, datumC: 0 }).gaps).toEqual(gaps);
    expect(equivalentAgeClock({ ...common, requiredHours: 24, referenceC: 20, activationK: 5000 }).gaps).toEqual(gaps);
  });
});

describe("the age clock", () => {
  const age = (readings: readonly Reading[], change: Partial<Parameters<typeof equivalentAgeClock>[0]> = {}) =>
    equivalentAgeClock({ from: START, readings, now: NOW, requiredHours: 18, referenceC: 20, activationK: 5000, minimumC: 8, underMinimum: "pause", ...change });
  const record = [...hourly(0, 6, 20), ...hourly(7, 12, 10), ...hourly(13, 18, 14)];

  it("has gone 13.486 h less what the colder ends of two hours take, after 6 h at 20, 10 and 14 °C", () => {
    // Between 20 and 10 °C, and between 10 and 14 °C, an hour counts at 10 °C: 6, 7 and 5 h.
    const rate = (celsius: number) => Math.exp(-5000 * (1 / (celsius + 273.15) - 1 / 293.15));
    expect(age(record).progressHours).toBeCloseTo(6 + 7 * rate(10) + 5 * rate(14), 9);
    expect(age(record)).toMatchObject({ state: "running", lastC: 14 });
  });

  it("is done after exactly the required hours at the reference temperature", () => {
    expect(age(hourly(0, 20, 20)).doneAt).toBe(START + 18 * HOUR);
  });

  it("pauses, restarts or is void under the minimum, as the requirement says", () => {
    const cold = [...hourly(0, 12, 20), ...readingsOf([13, 6], [14, 20], [15, 20])];
    expect(age(cold)).toMatchObject({ state: "running", progressHours: 13 });
    expect(age(cold, { underMinimum: "restart" })).toMatchObject({ state: "running", progressHours: 1 });
    expect(age(cold, { underMinimum: "void" })).toMatchObject({ state: "void", earliest: null });
  });

  it("refuses a temperature below absolute zero", () => {
    expect(() => age(readingsOf([0, 20], [1, -300]), { minimumC: null })).toThrow(RangeError);
  });
});

describe("every clock", () => {
  const log = fc.array(fc.tuple(fc.integer({ min: 0, max: 96 }), fc.integer({ min: -5, max: 40 })), { minLength: 1, maxLength: 40 });
  const policy = fc.constantFrom("pause" as const, "restart" as const, "void" as const);
  const clocks = (readings: readonly Reading[], underMinimum: "pause" | "restart" | "void", now = NOW) => {
    const common = { from: START, readings, now, minimumC: 8, underMinimum };
    return [
      cureClock({ ...common, requiredHours: 18, referenceC: 20 }),
      maturityClock({ ...common, requiredDegreeHours: 400, datumC: 0 }),
      equivalentAgeClock({ ...common, requiredHours: 18, referenceC: 20, activationK: 4029 }),
    ];
  };

  it("is never sooner done for being colder", () => {
    fc.assert(fc.property(log, fc.integer({ min: 0, max: 39 }), fc.integer({ min: 1, max: 20 }), policy, (readings, which, colder, underMinimum) => {
      const cooled = readings.map(([hour, celsius], i): [number, number] => [hour, i === which % readings.length ? celsius - colder : celsius]);
      const warm = clocks(readingsOf(...readings), underMinimum);
      clocks(readingsOf(...cooled), underMinimum).forEach(({ doneAt }, i) => expect(doneAt ?? Infinity).toBeGreaterThanOrEqual(warm[i]?.doneAt ?? Infinity));
    }));
  });

  it("keeps the instant at which it was done, whatever is read later and however late it is asked", () => {
    fc.assert(fc.property(log, log, policy, (readings, more, underMinimum) => {
      const last = Math.max(...readings.map(([hour]) => hour));
      const later = readingsOf(...readings, ...more.map(([hour, celsius]): [number, number] => [last + 1 + hour, celsius]));
      const before = clocks(readingsOf(...readings), underMinimum);
      clocks(later, underMinimum, NOW + 200 * HOUR).forEach((after, i) => {
        const done = before[i]?.doneAt ?? null;
        if (done !== null) expect(after).toMatchObject({ state: "done", doneAt: done, earliest: done, gaps: before[i]?.gaps });
      });
    }));
  });

  it("assumes as many hours as its gaps add up to, each of them a stretch that it counted at that temperature", () => {
    fc.assert(fc.property(log, policy, (readings, underMinimum) => {
      for (const { gaps, assumedHours, segments } of clocks(readingsOf(...readings), underMinimum)) {
        expect(gaps.reduce((sum, { hours }) => sum + hours, 0)).toBe(assumedHours);
        for (const gap of gaps) {
          expect(gap.hours).toBeGreaterThan(1);
          expect(segments).toContainEqual(expect.objectContaining({ from: gap.from, to: gap.to, celsius: gap.assumedC, assumed: true }));
        }
      }
    }));
  });
});

describe("18 h at 20 °C", () => {
  // Starts and ends on the clocks of zones north and south, at whole, half and quarter hours, over midnight and changes of the clocks.
  it.each([
    ["America/Halifax", "2026-12-02T20:30", "2026-12-03T14:30:00-04:00"],
    ["America/Halifax", "2026-10-31T20:30", "2026-11-01T13:30:00-04:00"],
    ["America/Halifax", "2027-03-13T20:30", "2027-03-14T15:30:00-03:00"],
    ["America/St_Johns", "2026-10-31T20:30", "2026-11-01T13:30:00-03:30"],
    ["Pacific/Auckland", "2026-09-26T20:30", "2026-09-27T15:30:00+13:00"],
    ["Pacific/Auckland", "2027-04-03T20:30", "2027-04-04T13:30:00+12:00"],
    ["Australia/Lord_Howe", "2026-10-03T20:30", "2026-10-04T15:00:00+11:00"],
    ["Australia/Lord_Howe", "2027-04-03T20:30", "2027-04-04T14:00:00+10:30"],
    ["Asia/Kathmandu", "2026-12-31T20:30", "2027-01-01T14:30:00+05:45"],
  ])("in %s from %s are over at %s", (zone, start, end) => {
    const [from = Number.NaN] = fromSite(start, zone).instants;
    const readings = Array.from({ length: 20 }, (_, hour) => ({ at: from + hour * HOUR, celsius: 20 }));
    const { doneAt } = cureClock({ from, readings, now: from + 19 * HOUR, ...jacket });
    expect(siteTime(doneAt ?? 0, zone).iso).toBe(end);
  });
});
