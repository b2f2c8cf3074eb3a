import { describe, expect, it } from "vitest";
import { equivalentAgeHours, maturityClock, maturityProgress } from "#lib/domain/clock/cure";
import type { Step } from "#lib/domain/clock/temperature-clock";
import { HOUR } from "#lib/domain/instant";

const START = Date.parse("2026-11-20T12:00:00Z");
const grout = { requiredDegreeHours: 400, datumC: 0, minimumC: null, underMinimum: "pause" as const };

function stepsOf(...log: [hours: number, celsius: number][]): Step[] {
  let at = START;
  return log.map(([hours, celsius]) => ({ from: at, to: (at += hours * HOUR), celsius }));
}
const cold: [number, number][] = [[6, 20], [6, 10], [6, 14]];

describe("the temperature-time factor of Nurse and Saul", () => {
  it("is 120 + 60 + 84 = 264 °C·h after 6 h at 20, 6 h at 10 and 6 h at 14 °C", () => {
    const { progressDegreeHours, segments } = maturityProgress({ steps: stepsOf(...cold), ...grout });
    expect(progressDegreeHours).toBe(264);
    expect(segments.map(({ counted }) => counted)).toEqual([120, 60, 84]);
  });

  it("reaches 400 °C·h at 29.33 h when it stays at 12 °C after that", () => {
    const { doneAt } = maturityProgress({ steps: stepsOf(...cold, [24, 12]), ...grout });
    expect(((doneAt ?? 0) - START) / HOUR).toBeCloseTo(29.3333, 4);
  });

  const ramp = Array.from({ length: 24 }, (_, i): [number, number] => [0.5, 20.25 + i / 2]);
  // Nurse–Saul and Arrhenius functions of ASTM C1074, worked for these records; Q = 5000 K.
  const records: { log: [number, number][]; datum0: number; datumMinus10: number; age20: number; age23: number }[] = [
    { log: [[72, 23]], datum0: 1656, datumMinus10: 2376, age20: 85.5794, age23: 72 },
    { log: [[24, 20]], datum0: 480, datumMinus10: 720, age20: 24, age23: 20.1918 },
    { log: [[24, 10]], datum0: 240, datumMinus10: 480, age20: 13.1403, age23: 11.0552 },
    { log: [[12, 15], [12, 5], [24, 10]], datum0: 480, datumMinus10: 960, age20: 26.8493, age23: 22.589 },
    { log: [[6, 25], [6, 35], [12, 30]], datum0: 720, datumMinus10: 960, age20: 42.8136, age23: 36.0201 },
    { log: [[12, 10], [6, -2], [6, 8]], datum0: 168, datumMinus10: 396, age20: 10.9711, age23: 9.2302 },
    { log: ramp, datum0: 312, datumMinus10: 432, age20: 17.1735, age23: 14.4485 },
  ];

  it.each(records)("over $log is $datum0 °C·h from 0 °C and $datumMinus10 from −10 °C", ({ log, datum0, datumMinus10 }) => {
    const steps = stepsOf(...log);
    expect(maturityProgress({ steps, ...grout }).progressDegreeHours).toBeCloseTo(datum0, 6);
    expect(maturityProgress({ steps, ...grout, datumC: -10 }).progressDegreeHours).toBeCloseTo(datumMinus10, 6);
  });

  it.each(records)("goes with an equivalent age of $age20 h at 20 °C and $age23 h at 23 °C over $log", ({ log, age20, age23 }) => {
    const steps = stepsOf(...log);
    expect(equivalentAgeHours({ steps, activationK: 5000, referenceC: 20 })).toBeCloseTo(age20, 3);
    expect(equivalentAgeHours({ steps, activationK: 5000, referenceC: 23 })).toBeCloseTo(age23, 3);
  });
});

describe("equivalent age", () => {
  it("of the cold record is 13.486 h at Q = 5000 K and 14.195 h at Q = 33 500/8.314 K", () => {
    expect(equivalentAgeHours({ steps: stepsOf(...cold), activationK: 5000, referenceC: 20 })).toBeCloseTo(13.4863, 4);
    expect(equivalentAgeHours({ steps: stepsOf(...cold), activationK: 33_500 / 8.314, referenceC: 20 })).toBeCloseTo(14.1947, 4);
  });

  // Age conversion factors for one hour at each temperature, from the Arrhenius function of ASTM C1074.
  it.each([
    [0, 0.2868, 0.2413, 0.3655], [5, 0.3986, 0.3354, 0.4765], [10, 0.5475, 0.4606, 0.6154], [15, 0.7438, 0.6258, 0.7878], [20, 1, 0.8413, 1],
    [23, 1.1886, 1, 1.1494], [25, 1.3311, 1.1199, 1.2592], [30, 1.7553, 1.4768, 1.5737], [35, 2.2939, 1.9299, 1.9524], [40, 2.9723, 2.5006, 2.4057],
  ])("of an hour at %d °C is %d, %d and %d h", (celsius, at20, at23, at20With33kJ) => {
    const steps = stepsOf([1, celsius]);
    expect(equivalentAgeHours({ steps, activationK: 5000, referenceC: 20 })).toBeCloseTo(at20, 4);
    expect(equivalentAgeHours({ steps, activationK: 5000, referenceC: 23 })).toBeCloseTo(at23, 4);
    expect(equivalentAgeHours({ steps, activationK: 33_500 / 8.314, referenceC: 20 })).toBeCloseTo(at20With33kJ, 4);
  });

  it("refuses a temperature below absolute zero and a step that runs backwards", () => {
    expect(() => equivalentAgeHours({ steps: stepsOf([1, -300]), activationK: 5000, referenceC: 20 })).toThrow(RangeError);
    expect(() => equivalentAgeHours({ steps: stepsOf([-1, 20]), activationK: 5000, referenceC: 20 })).toThrow(RangeError);
  });
});

describe("the maturity clock", () => {
  const clock = (log: [number, number][], change: Partial<Parameters<typeof maturityClock>[0]> = {}) =>
    maturityClock({ from: START, readings: log.map(([hour, celsius]) => ({ at: START + hour * HOUR, celsius })), now: START + 48 * HOUR, ...grout, ...change });

  it("projects 400 °C·h from the last reading", () => {
    const { state, progressDegreeHours, requiredDegreeHours, earliest } = clock([[0, 20], [1, 20], [2, 20]]);
    expect({ state, progressDegreeHours, requiredDegreeHours }).toEqual({ state: "running", progressDegreeHours: 40, requiredDegreeHours: 400 });
    expect(((earliest ?? 0) - START) / HOUR).toBe(20);
  });

  it("stands still at the datum and below", () => {
    expect(clock([[0, 20], [1, 0]])).toMatchObject({ state: "paused", earliest: null, progressDegreeHours: 0 });
    expect(clock([[0, 20], [1, 20], [2, -4]])).toMatchObject({ state: "paused", progressDegreeHours: 20 });
  });

  it("is void once colder than the minimum where the requirement says so", () => {
    expect(clock([[0, 20], [1, 20], [2, 4], [3, 20]], { minimumC: 5, underMinimum: "void" })).toMatchObject({ state: "void", progressDegreeHours: 20 });
  });
});
