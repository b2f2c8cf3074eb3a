import { describe, expect, it } from "vitest";
import { fieldName } from "#lib/domain/point/missing";
import { entryKind, readEntries, type RawValue } from "#lib/domain/point/read-entries";
import { lineOf } from "#tests/domain/point/factory";

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
