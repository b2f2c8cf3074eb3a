import { describe, expect, it } from "vitest";
import { fieldName, missingFrom, type OfferedSubmission } from "#lib/domain/point/missing";
import { readEntries, type RawValue } from "#lib/domain/point/read-entries";
import { judgePoint } from "#lib/domain/requirement/judge-point";
import type { InstrumentFacts } from "#lib/domain/requirement/instrument";
import { HOUR, lineOf, MINUTE, T0 } from "#tests/domain/point/factory";

const NOW = T0 + 2 * HOUR;
const DAY = "2026-10-20";

const instrument = (id: string, kind: string, dueOn = "2027-03-28"): InstrumentFacts => ({
  id, mark: id.toUpperCase(), class: kind, unit: null, rangeMin: null, rangeMax: null, accuracy: null, calibrations: [{ from: "2026-09-28", dueOn }],
});
const ROUGH_TAPE: InstrumentFacts = { ...instrument("rough", "tape"), unit: "in", accuracy: { kind: "absolute", value: "0.5" } };
const INSTRUMENTS = new Map(
  [instrument("tp", "tape"), instrument("th", "thermometer"), instrument("tw", "torque wrench"), instrument("old", "tape", "2026-10-01"), ROUGH_TAPE].map((one) => [one.id, one]),
);

interface Typed extends Partial<Omit<RawValue, "quantity" | "item">> {
  text: string;
}
/** What was typed at point 7, by "quantity" or "quantity.item". */
const BARS: Record<string, Typed> = {
  base: { text: "12 °C", instrumentId: "th" },
  bars: { text: "6" },
  size: { text: lineOf("7").quantities.map(({ rule }) => (rule.form === "exact" ? rule.value : "")).join("") },
  "bar-length": { text: "40.0 in", instrumentId: "tp" },
  ...Object.fromEntries([1, 2, 3, 4, 5, 6].map((bar) => [`projection.${bar}`, { text: "32.5 in", instrumentId: "tp" }])),
  return: { text: "yes" },
};

const everyPhoto = (id: string) => lineOf(id).photos.flatMap(({ id: subject, count }) => Array.from({ length: count }, (_, index) => ({ sha256: `${subject} ${index}`, subject })));

/** Point 7 complete, with changes to what was typed and to what came with it. */
function missing(id: string, typed: Record<string, Typed>, parts: Partial<OfferedSubmission> = {}) {
  const line = lineOf(id);
  const raw = Object.entries(typed).map(([key, value]): RawValue => {
    const [quantity = "", item] = key.split(".");
    return { quantity, item: item === undefined ? null : Number(item), unit: null, instrumentId: null, unitConfirmed: false, reason: "", ...value };
  });
  const { entries, reasons, unitConfirmed, faults } = readEntries(line, raw);
  expect(faults).toEqual([]);
  const judged = judgePoint(line, entries, { workBegan: T0, workEnded: T0 + HOUR, day: DAY, instruments: INSTRUMENTS, workAt: () => null, entriesAt: () => [], readings: [] });
  const offered: OfferedSubmission = {
    workBegan: T0, workEnded: T0 + HOUR, judged, reasons, unitConfirmed, photos: everyPhoto(id), documents: [], lots: line.lots.map(({ id: use }) => ({ use })), ...parts,
  };
  return missingFrom(line, offered, NOW);
}
const bars = (change: Record<string, Typed> = {}, parts: Partial<OfferedSubmission> = {}) => missing("7", { ...BARS, ...change }, parts);
const without = (key: string): Record<string, Typed> => ({ [key]: { text: "" } });

describe("a submission with everything the plan asks for", () => {
  it("lacks nothing", () => {
    expect(bars()).toEqual([]);
  });
});

describe("the time of the work", () => {
  it.each<[string, Partial<OfferedSubmission>, string, RegExp]>([
    ["no beginning", { workBegan: null }, "workBegan", /^Work began: give/],
    ["no end", { workEnded: null }, "workEnded", /^Work ended: give/],
    ["an end before the beginning", { workBegan: T0 + HOUR, workEnded: T0 }, "workEnded", /before it began/],
    ["an end in the future", { workEnded: NOW + MINUTE }, "workEnded", /in the future/],
  ])("with %s is asked for", (_what, parts, field, words) => {
    expect(bars({}, parts)).toEqual([{ field, message: expect.stringMatching(words) }]);
  });

  it("is asked for at both fields when neither is given", () => {
    expect(bars({}, { workBegan: null, workEnded: null }).map(({ field }) => field)).toEqual(["workBegan", "workEnded"]);
  });

  it("may end as it begins, and at this moment", () => {
    expect(bars({}, { workBegan: NOW, workEnded: NOW })).toEqual([]);
  });
});

describe("a value", () => {
  it.each([
    ["base", "value.base", "Base temperature"],
    ["bars", "value.bars", "Bars"],
    ["return", "value.return", "Resin came back at every hole"],
    ["projection.4", "value.projection.4", "Projection, bar 4"],
  ])("that is not measured is asked for by its name, once: %s", (key, field, name) => {
    expect(bars(without(key))).toEqual([{ field, message: `${name}: give the value, or say why it was not measured.` }]);
  });

  it("that is not measured may be sent with the reason", () => {
    expect(bars({ "projection.4": { text: "", reason: "Bar 4 is under water." } })).toEqual([]);
  });

  it("that is worked out is never asked for: what it is worked out from is", () => {
    expect(bars(without("bar-length")).map(({ field }) => field)).toEqual(["value.bar-length"]);
  });

  it("that fails needs a reason at its own place, with how far it is off", () => {
    expect(bars({ "projection.4": { text: "33.6 in", instrumentId: "tp" } })).toEqual([
      { field: "reason.embedment.4", message: "Embedment, bar 4 fails: 6.4 in, needs at least 7.0 in: 0.6 in short. Mend it, or say why it is sent as it is." },
    ]);
  });

  it("that fails may be sent with a reason, for the bar or for all of them", () => {
    const short = { text: "33.6 in", instrumentId: "tp" };
    const reason = (item: number | null) => ({ reasons: [{ quantity: "embedment", item, words: "Rebar in the way." }] });
    expect(bars({ "projection.4": short }, reason(4))).toEqual([]);
    expect(bars({ "projection.4": short }, reason(null))).toEqual([]);
    expect(bars({ "projection.4": short }, reason(5)).map(({ field }) => field)).toEqual(["reason.embedment.4"]);
  });

  it("that cannot be told needs a reason too", () => {
    expect(bars({ "projection.2": { text: "41 in", instrumentId: "tp" } })).toEqual([
      { field: "reason.embedment.2", message: "Embedment, bar 2: cannot tell, more stands out than the bar is long. Mend it, or say why it is sent as it is." },
    ]);
  });

  it("that is inside the uncertainty needs none", () => {
    expect(bars({ "projection.1": { text: "32.9 in", instrumentId: "rough" } })).toEqual([]);
  });
});

describe("the instrument of a value", () => {
  it.each([
    ["none", null],
    ["one that the register does not hold", "xx"],
    ["one of another class", "tw"],
  ])("has to be named: %s", (_what, instrumentId) => {
    expect(bars({ base: { text: "12 °C", instrumentId } })).toEqual([{ field: "value.base", message: "Base temperature: name the thermometer it was read with." }]);
  });

  it("is not excused by a reason", () => {
    expect(bars({ base: { text: "12 °C", reason: "Forgot." } }).map(({ field }) => field)).toEqual(["value.base"]);
  });

  it("that is overdue stops no sending: it is for the decider to answer", () => {
    expect(bars({ "bar-length": { text: "40.0 in", instrumentId: "old" } })).toEqual([]);
  });
});

describe("a value that would fit in another unit", () => {
  const torque = (change: Partial<Typed> = {}) =>
    missing("9", {
      ...Object.fromEntries(lineOf("9").quantities.flatMap(({ id, rule }) => (rule.form === "each" ? Array.from({ length: rule.count ?? 1 }, (_, index) => [`${id}.${index + 1}`, { text: "70 ft·lbf", instrumentId: "tw" }]) : []))),
      retorque: { text: "30 h" }, paint: { text: "yes" },
      "torque.3": { text: "95 ft·lbf", instrumentId: "tw", ...change },
    });

  it("is asked about before anything else is", () => {
    expect(torque()).toEqual([{ field: "value.torque.3", message: expect.stringMatching(/^Torque, bolt 3: 95.*Did you mean 95 N·m\? Choose the unit, or confirm ft·lbf\.$/) }]);
    expect(torque({ reason: "As read." }).map(({ field }) => field)).toEqual(["value.torque.3"]);
  });

  it("fails like any other once its unit is confirmed", () => {
    expect(torque({ unitConfirmed: true })).toEqual([{ field: "reason.torque.3", message: expect.stringMatching(/^Torque, bolt 3 fails:/) }]);
    expect(torque({ unitConfirmed: true, reason: "As read." })).toEqual([]);
  });
});

describe("what comes with a submission", () => {
  it("is a lot for every use", () => {
    expect(bars({}, { lots: [{ use: "resin-a" }] })).toEqual([{ field: "lot.resin-b", message: "Resin part B: choose the lot." }]);
  });

  it.each([
    [1, "1 more photo needed, 5 of 6 there."],
    [2, "2 more photos needed, 4 of 6 there."],
    [6, "6 more photos needed, 0 of 6 there."],
  ])("is every photo of a subject: %d short", (short, words) => {
    expect(lineOf("7").photos.find(({ id }) => id === "bar")?.count).toBe(6);
    const all = everyPhoto("7");
    expect(bars({}, { photos: [...all.filter(({ subject }) => subject === "bar").slice(short), ...all.filter(({ subject }) => subject !== "bar")] })).toEqual([{ field: "photo.bar", message: `Bar with tape: ${words}` }]);
  });

  it("counts a file once, under the first subject it was sent with", () => {
    const all = everyPhoto("7");
    const [first] = all;
    const twice = all.map((one, index) => (index === 1 ? first! : one));
    expect(bars({}, { photos: twice }).map(({ field }) => field)).toEqual(["photo.bar"]);
    const across = all.map((one) => (one.subject === "label" ? { ...one, sha256: first!.sha256 } : one));
    expect(bars({}, { photos: across }).map(({ field }) => field)).toEqual(["photo.label"]);
  });

  it("takes more photos than are asked for, and photos of no subject it knows for none", () => {
    expect(bars({}, { photos: [...everyPhoto("7"), { sha256: "more", subject: "bar" }] })).toEqual([]);
    const strange = everyPhoto("7").map((one) => (one.subject === "label" ? { ...one, subject: "lunch" } : one));
    expect(bars({}, { photos: strange }).map(({ field }) => field)).toEqual(["photo.label"]);
  });

  it("is the document that a point needs beside or instead of photos", () => {
    const [document] = lineOf("25").documents;
    const offered = (documents: { use: string }[]) => missing("25", { "strength.1": { text: "6400 psi" } }, { documents });
    expect(offered([])).toEqual([{ field: fieldName.document(document!.id), message: "Laboratory report: attach the PDF." }]);
    expect(offered([{ use: "another" }]).map(({ field }) => field)).toEqual(["document.report"]);
    expect(offered([{ use: "report" }])).toEqual([]);
  });
});

describe("what is missing", () => {
  it("is listed in the order of the form, each with its field", () => {
    const fields = missing("7", {}, { workBegan: null, photos: [], lots: [] }).map(({ field }) => field);
    expect(fields).toEqual([
      "workBegan", "value.base", "value.bars", "value.size", "value.bar-length", ...[1, 2, 3, 4, 5, 6].map((bar) => `value.projection.${bar}`), "value.return",
      "lot.resin-a", "lot.resin-b", "photo.bar", "photo.return", "photo.label",
    ]);
  });
});
