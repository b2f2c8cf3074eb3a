import { describe, expect, it } from "vitest";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import type { Reading } from "#lib/domain/clock/temperature-clock";
import { buildPlan, requirementSet, type PlanLine } from "#lib/domain/plan/plan";
import { readEntries } from "#lib/domain/point/read-entries";
import { instrumentMark, uncertaintySi, type InstrumentFacts } from "#lib/domain/requirement/instrument";
import { itemsOf, judgePoint, runningClock, type JudgedValue, type PointFacts } from "#lib/domain/requirement/judge-point";
import { lotMark } from "#lib/domain/requirement/lot";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { writeRevision } from "#seed/specification";

const { lines } = buildPlan(requirementSet(writeRevision("B"), "H")!, { mark: "02-A", overrides: [] });
const line = (id: string): PlanLine => lines.find((one) => one.line === id)!;
const T0: Instant = Date.parse("2026-10-20T12:00:00Z");

const instrument = (parts: Partial<InstrumentFacts> = {}): InstrumentFacts => ({
  id: "tw", mark: "TW-1", class: "torque wrench", unit: "ft·lbf", rangeMin: "20", rangeMax: "150", accuracy: { kind: "per cent", value: "4" },
  calibrations: [{ from: "2026-09-28", dueOn: "2027-03-28" }], ...parts,
});

const facts = (parts: Partial<PointFacts> = {}): PointFacts => ({
  workBegan: T0, workEnded: T0 + HOUR, day: "2026-10-20", instruments: new Map(), workAt: () => null, entriesAt: () => [], readings: [], ...parts,
});

/** Judges what was typed, written as "quantity" or "quantity.item" to text. */
function judged(id: string, typed: Record<string, string>, parts: Partial<PointFacts> = {}, instrumentId: string | null = null): JudgedValue[] {
  const values = Object.entries(typed).map(([key, text]) => {
    const [quantity = "", item] = key.split(".");
    return { quantity, item: item === undefined ? null : Number(item), text, unit: null, instrumentId, unitConfirmed: false, reason: "" };
  });
  const { entries, faults } = readEntries(line(id), values);
  expect(faults).toEqual([]);
  return judgePoint(line(id), entries, facts(parts));
}
const one = (values: readonly JudgedValue[], id: string, item: number | null = null): JudgedValue => values.find((value) => value.quantity.id === id && value.item === item)!;

describe("embedment", () => {
  it("is bar length less projection, bar by bar, with one length for all", () => {
    const values = judged("7", { "bar-length": "40.0 in", "projection.1": "33.0 in", "projection.4": "33.6 in", "projection.5": "41 in" });
    expect(one(values, "embedment", 1)).toMatchObject({ verdict: "meets", measured: "7 in" });
    expect(one(values, "embedment", 4)).toMatchObject({ verdict: "fails", margin: "6.4 in, needs at least 7.0 in: 0.6 in short" });
    expect(one(values, "embedment", 5)).toMatchObject({ verdict: "cannot tell", margin: "more stands out than the bar is long" });
    expect(one(values, "embedment", 6)).toMatchObject({ verdict: "not measured" });
  });

  it("carries the uncertainty of both readings, as the root of the sum of squares", () => {
    const tape = instrument({ id: "tp", class: "tape", unit: "in", rangeMin: null, rangeMax: null, accuracy: { kind: "absolute", value: "0.3" } });
    const values = judged("7", { "bar-length": "40.0 in", "projection.1": "32.6 in", "projection.2": "32.5 in" }, { instruments: new Map([["tp", tape]]) }, "tp");
    // √(0.3² + 0.3²) = 0.424 in: 7.4 in is not sure, 7.5 in is.
    expect(one(values, "embedment", 1).verdict).toBe("meets, inside uncertainty");
    expect(one(values, "embedment", 2).verdict).toBe("meets");
  });
});

describe("the mix ratio", () => {
  it.each([
    ["1013 g", "385 g", "meets"],
    ["1020 g", "372 g", "fails"],
    ["1000 g", "391.4 g", "meets"], // exactly + 3 %
    ["1000 g", "391.5 g", "fails"],
    ["0 g", "372 g", "cannot tell"],
    ["1000 g", "0 g", "cannot tell"],
  ])("of %s A and %s B %s", (a, b, verdict) => {
    expect(one(judged("13", { "mass-a": a, "mass-b": b }), "ratio").verdict).toBe(verdict);
  });

  it("is shown as its error: 372 g on 1020 g is −4.02 %", () => {
    const { margin, measured } = one(judged("13", { "mass-a": "1020 g", "mass-b": "372 g" }), "ratio");
    expect(measured).toMatch(/^−4\.02/);
    expect(margin).toMatch(/^−4\.02\d* %, needs −3\.0 to 3\.0 %: 1\.02\d* % short$/);
  });
});

describe("the dew margin", () => {
  it.each([
    // 12.0 °C at 84 %: dew point 9.378 °C by the Magnus form, so 11.5 °C stands 2.12 K above it.
    ["12.0 °C", "84 %", "11.5 °C", "fails", /^2\.12\d* K, needs at least 3(\.0)? K: 0\.87\d* K short$/],
    ["18.0 °C", "60 %", "16.0 °C", "meets", /to spare$/],
    ["12.0 °C", "0 %", "11.5 °C", "cannot tell", /outside/],
  ])("of air %s, %s, surface %s %s", (air, humidity, surface, verdict, words) => {
    const value = one(judged("13", { air, humidity, surface }), "dew-margin");
    expect(value.verdict).toBe(verdict);
    expect(value.margin).toMatch(words);
  });

  it("waits for all three readings", () => {
    expect(one(judged("13", { air: "12 °C", surface: "11 °C" }), "dew-margin").verdict).toBe("not measured");
  });
});

describe("the time between two points", () => {
  const age = (prepared: Instant | null, looked: Instant): JudgedValue =>
    one(judged("11", {}, { workEnded: looked, workAt: (other, event) => (other === "4" && event === "ended" ? prepared : null) }), "age");

  it.each([
    ["just in time", 96 * 60, "meets"],
    ["a minute late", 96 * 60 + 1, "fails"],
  ] as const)("from preparation to cover-up is judged across points: %s", (_what, minutes, verdict) => {
    expect(age(T0, T0 + minutes * MINUTE).verdict).toBe(verdict);
  });

  it("cannot be told where the other point has no time, or a later one", () => {
    expect(age(null, T0)).toMatchObject({ verdict: "cannot tell", margin: "point 4 has no time for its work" });
    expect(age(T0 + MINUTE, T0)).toMatchObject({ verdict: "cannot tell", margin: "point 4 has a later time for its work" });
  });

  it("is not measured before the work has ended", () => {
    expect(one(judged("15", {}, { workEnded: null, workAt: () => T0 }), "pot-life").verdict).toBe("not measured");
  });
});

describe("a cure and a maturity", () => {
  // Logged 6 h at 20, 6 h at 10, 6 h at 14, then 12 °C: k = 2^((T − 20)/10).
  const readings: Reading[] = [[0, 20], [6, 20], [6.0001, 10], [12, 10], [12.0001, 14], [18, 14], [18.0001, 12], [24, 12]].map(([h, celsius]) => ({ at: T0 + h! * HOUR, celsius: celsius! }));
  const at = (id: string, hours: number, used: readonly Reading[] = readings, ended: Instant | null = T0) =>
    judged(id, {}, { workEnded: T0 + hours * HOUR, readings: used.length > 0 ? [...used, { at: T0 + hours * HOUR, celsius: 12 }] : [], workAt: () => ended })[0]!;

  it.each([
    ["17", 26.7, "fails"],
    ["17", 26.8, "meets"],
    ["22", 29.3, "fails"],
    ["22", 29.4, "meets"],
  ])("point %s after %d h %s", (id, hours, verdict) => {
    expect(at(id, hours).verdict).toBe(verdict);
  });

  it("cannot be told without a reading, without the end of the work before it, or when it is void", () => {
    expect(at("17", 20, [])).toMatchObject({ verdict: "cannot tell", margin: "no temperature has been read" });
    expect(at("17", 20, readings, null)).toMatchObject({ verdict: "cannot tell", margin: "point 16 has no time for the end of its work" });
    const voiding = { form: "cure", from: "16", hours: "18", referenceC: "20", minimumC: "15", underMinimum: "void" } as const;
    expect(runningClock(voiding, T0, readings, T0 + 20 * HOUR)?.state).toBe("void");
    expect(runningClock(voiding, null, readings, T0)).toBeNull();
  });
});

describe("values for each bar, test or lift", () => {
  it("are as many as the plan says, or as were entered where it does not say", () => {
    expect(itemsOf(line("7").quantities.find(({ id }) => id === "embedment")!, line("7"), [])).toEqual([1, 2, 3, 4, 5, 6]);
    expect(judged("25", {}).map(({ item, verdict }) => [item, verdict])).toEqual([[1, "not measured"]]);
    expect(judged("25", { "strength.1": "6420 psi", "strength.3": "5900 psi" }).map(({ verdict }) => verdict)).toEqual(["meets", "not measured", "fails"]);
  });

  it("share their number where they are of the same thing: three lifts have three rates", () => {
    const values = judged("20", { "height.3": "12 in" });
    expect(values.filter(({ quantity }) => quantity.id === "rate").map(({ item }) => item)).toEqual([1, 2, 3]);
  });
});

describe("the instrument of a value", () => {
  const torque = (parts: Partial<InstrumentFacts> | null, day = "2026-10-20", text = "68 ft·lbf"): JudgedValue =>
    one(judged("9", { "torque.1": text }, { day, instruments: new Map(parts === null ? [] : [["tw", instrument(parts)]]) }, "tw"), "torque", 1);

  it.each([
    ["in date and range", {}, "2026-10-20", null],
    ["on the day it falls due", {}, "2027-03-28", null],
    ["on the day of its calibration", {}, "2026-09-28", null],
    ["past it", {}, "2027-03-29", "instrument overdue"],
    ["before its first calibration", {}, "2026-09-27", "instrument overdue"],
    ["never calibrated", { calibrations: [] }, "2026-10-20", "instrument overdue"],
    ["used under its range", { rangeMin: "70" }, "2026-10-20", "outside instrument range"],
    ["used over its range", { rangeMax: "60" }, "2026-10-20", "outside instrument range"],
    ["of another class", { class: "tape" }, "2026-10-20", "instrument not named"],
    ["not on the register", null, "2026-10-20", "instrument not named"],
  ] as const)("%s is marked %s beside the verdict", (_what, parts, day, mark) => {
    const value = torque(parts as Partial<InstrumentFacts> | null, day);
    expect(value.mark).toBe(mark);
    expect(value.verdict).toMatch(/^meets/);
  });

  it("asks for no instrument where the plan names none", () => {
    expect(one(judged("9", { retorque: "13 h" }), "retorque").mark).toBeNull();
  });

  it("is as uncertain as the register says: a share of the value, or an amount in its own unit", () => {
    const reading = parseMeasured("65 ft·lbf", { dimension: "torque" });
    if (!reading.ok) throw new Error("unreadable");
    expect(uncertaintySi(reading.measured, instrument()).div("1.3558179483314004").toNumber()).toBeCloseTo(2.6, 9); // ± 4 % of 65
    expect(uncertaintySi(reading.measured, instrument({ accuracy: { kind: "absolute", value: "2" } })).div("1.3558179483314004").toNumber()).toBeCloseTo(2, 9);
    expect(uncertaintySi(reading.measured, instrument({ accuracy: null })).isZero()).toBe(true);
    expect(uncertaintySi(reading.measured, null).isZero()).toBe(true);
    expect(instrumentMark(null, instrument(), "2026-10-20")).toBeNull();
  });
});

describe("a lot on the day it is used", () => {
  it.each([
    ["2026-10-21", "K-9", null],
    ["2026-10-20", "K-9", "lot expired"],
    ["2026-10-19", "", "lot expired"],
    [null, "K-9", null],
    [null, " ", "lot without certificate"],
  ] as const)("that expires on %s with certificate %j is marked %s", (expiresOn, certificate, mark) => {
    expect(lotMark({ expiresOn, certificate }, "2026-10-20")).toBe(mark);
  });
});
