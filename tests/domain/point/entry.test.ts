import { describe, expect, it } from "vitest";
import { fieldName, missingFrom, type OfferedSubmission } from "#lib/domain/point/missing";
import { entryKind, readEntries, type RawValue } from "#lib/domain/point/read-entries";
import { judgePoint } from "#lib/domain/requirement/judge-point";
import { H, HOUR, lineOf, T0 } from "#tests/domain/point/factory";

const raw = (quantity: string, item: number | null, text: string, parts: Partial<RawValue> = {}): RawValue => ({ quantity, item, text, unit: null, instrumentId: null, unitConfirmed: false, reason: "", ...parts });
const BARS = lineOf("7");

describe("what was typed", () => {
  it.each([
    ["13", "ratio", { kind: "derived" }],
    ["4", "grade", { kind: "words" }],
    ["4", "profile", { kind: "measured", unit: "mil" }],
    ["8", "bolts", { kind: "count" }],
    ["9", "paint", { kind: "stated" }],
    ["2", "mark", { kind: "words" }],
    ["7", "bar-length", { kind: "measured", unit: "in" }],
    ["10", "size", { kind: "measured", unit: "in" }],
  ])("at point %s for %s is a %j", (line, id, kind) => {
    expect(entryKind(lineOf(line).quantities.find((one) => one.id === id)!)).toEqual(kind);
  });

  it("becomes entries with the number as typed and the instrument named", () => {
    const { entries, faults } = readEntries(BARS, [raw("bar-length", null, "1.0 m", { instrumentId: "tp" }), raw("projection", 3, "32.5 in"), raw("bars", null, "6"), raw("size", null, "#6"), raw("return", null, "yes"), raw("base", null, "")]);
    expect(faults).toEqual([]);
    expect(entries.map((entry) => [entry.quantity, entry.item, entry.kind])).toEqual([["bar-length", null, "measured"], ["projection", 3, "measured"], ["bars", null, "count"], ["size", null, "words"], ["return", null, "stated"]]);
    expect(entries[0]).toMatchObject({ instrumentId: "tp", measured: { text: "1.0 m", unit: "m" } });
  });

  it.each<[RawValue, RegExp]>([
    [raw("bar-length", null, "1e400 in"), /^Bar length: /],
    [raw("bar-length", null, "Infinity"), /^Bar length: /],
    [raw("bar-length", null, "NaN in"), /^Bar length: /],
    [raw("bar-length", null, "48"), /^Bar length: /],
    [raw("bar-length", null, "48 °C"), /^Bar length: /],
    [raw("bar-length", null, "48", { unit: "parsec" }), /^Bar length: parsec is not a unit/],
    [raw("bars", null, "6.5"), /^Bars: 6\.5 is not a count/],
    [raw("bars", null, "-6"), /^Bars: -6 is not a count/],
    [raw("return", null, "maybe"), /^Resin came back at every hole: answer yes or no/],
    [raw("embedment", 1, "7.5 in"), /^Embedment, bar 1: is worked out and cannot be typed/],
    [raw("girth", null, "7.5 in"), /^Point 7 does not measure girth/],
    [raw("projection", 7, "32 in"), /^Projection: there is no bar 7, only 6/],
    [raw("bars", 2, "6"), /^Bars: there is one value, and it has no number/],
  ])("%j is a fault at its field", (value, message) => {
    const { entries, faults } = readEntries(BARS, [value]);
    expect(entries).toEqual([]);
    expect(faults).toMatchObject([{ field: fieldName.value(value.quantity, value.item), message: expect.stringMatching(message) }]);
  });

  it("twice for one bar is a fault, not the first or the last of them", () => {
    expect(readEntries(BARS, [raw("projection", 1, "32 in"), raw("projection", 1, "33 in")]).faults).toMatchObject([{ field: "value.projection.1", message: "Projection, bar 1 is given twice." }]);
  });

  it("keeps reasons and confirmed units beside the values, also where no value stands", () => {
    const { reasons, unitConfirmed, entries } = readEntries(BARS, [raw("base", null, "", { reason: " probe broke " }), raw("projection", 1, "32 in", { unitConfirmed: true })]);
    expect(reasons).toEqual([{ quantity: "base", item: null, words: "probe broke" }]);
    expect([...unitConfirmed]).toEqual(["value.projection.1"]);
    expect(entries).toHaveLength(1);
  });
});

describe("what a submission lacks", () => {
  const NOW = T0 + 10 * HOUR;
  const full: RawValue[] = [
    raw("height", null, "42 in", { instrumentId: "tp" }), raw("length", null, "161 in", { instrumentId: "tp" }), raw("edges", null, "yes"),
  ];
  const tape = { id: "tp", mark: "TP-2", class: "tape", unit: "in" as const, rangeMin: null, rangeMax: null, accuracy: null, calibrations: [{ from: "2026-01-01", dueOn: "2027-01-01" }] };
  const cut = lineOf("12", H);

  function lacks(values: RawValue[], parts: Partial<OfferedSubmission> = {}) {
    const read = readEntries(cut, values);
    const judged = judgePoint(cut, read.entries, { workBegan: T0, workEnded: T0 + HOUR, day: "2026-10-20", instruments: new Map([["tp", tape]]), workAt: () => null, readings: [] });
    const offered: OfferedSubmission = {
      workBegan: T0, workEnded: T0 + HOUR, judged, reasons: read.reasons, unitConfirmed: read.unitConfirmed,
      photos: [{ sha256: "a", subject: "cut" }, { sha256: "b", subject: "label" }], documents: [], lots: [{ use: "jacket" }], ...parts,
    };
    return missingFrom(cut, offered, NOW).map(({ field, message }) => `${field}: ${message}`);
  }
  const change = (id: string, parts: Partial<RawValue>): RawValue[] => full.map((value) => (value.quantity === id ? { ...value, ...parts } : value));

  it("is nothing when all is there", () => {
    expect(lacks(full)).toEqual([]);
  });

  it.each<[string, RawValue[], Partial<OfferedSubmission>, string[]]>([
    ["the beginning", full, { workBegan: null }, ["workBegan: Work began: give the date and time."]],
    ["the end", full, { workEnded: null }, ["workEnded: Work ended: give the date and time."]],
    ["an end after its beginning", full, { workEnded: T0 - 1 }, ["workEnded: Work ended before it began. Check both times."]],
    ["an end that has come", full, { workEnded: NOW + 1 }, ["workEnded: Work ended lies in the future. Give the time it ended, or send this later."]],
    ["a value", change("height", { text: "" }), {}, ["value.height: Height: give the value, or say why it was not measured."]],
    ["an instrument", change("height", { instrumentId: null }), {}, ["value.height: Height: name the tape it was read with."]],
    ["a reason for what fails", change("height", { text: "40 in" }), {}, ["reason.height: Height fails: 40 in, needs 41.75 to 42.25 in: 1.75 in short. Mend it, or say why it is sent as it is."]],
    ["a word on the unit", change("length", { text: "16 in" }), {}, ["value.length: Length: 16 in, needs at least 159.86 in: 143.86 in short. Did you mean 16 ft? Choose the unit, or confirm in."]],
    ["a lot", full, { lots: [] }, ["lot.jacket: Jacket roll: choose the lot."]],
    ["a photo", full, { photos: [{ sha256: "a", subject: "cut" }] }, ["photo.label: Roll label: 1 more photo needed, 0 of 1 there."]],
    ["a second photo where one stands for two", full, { photos: [{ sha256: "a", subject: "cut" }, { sha256: "a", subject: "label" }] }, ["photo.label: Roll label: 1 more photo needed, 0 of 1 there."]],
  ])("is %s", (_what, values, parts, expected) => {
    expect(lacks(values, parts)).toEqual(expected);
  });

  it("is nothing where the reason is given, or the unit confirmed with a reason", () => {
    expect(lacks(change("height", { text: "40 in", reason: "drawing 7 allows it" }))).toEqual([]);
    expect(lacks(change("height", { text: "", reason: "tape lost" }))).toEqual([]);
    expect(lacks(change("length", { text: "16 in", unitConfirmed: true, reason: "offcut" }))).toEqual([]);
    expect(lacks(change("length", { text: "16 in", unitConfirmed: true }))).toHaveLength(1);
  });

  it("is a PDF where the plan asks for one", () => {
    const strength = lineOf("25");
    const offered: OfferedSubmission = { workBegan: T0, workEnded: T0, judged: [], reasons: [], unitConfirmed: new Set(), photos: [], documents: [], lots: [] };
    expect(missingFrom(strength, offered, NOW)).toEqual([{ field: "document.report", message: "Laboratory report: attach the PDF." }]);
    expect(missingFrom(strength, { ...offered, documents: [{ use: "report" }] }, NOW)).toEqual([]);
  });
});
