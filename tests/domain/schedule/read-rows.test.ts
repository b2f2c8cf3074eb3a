import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ColumnMapping } from "#lib/domain/schedule/mapping";
import { readRows } from "#lib/domain/schedule/read-rows";
import type { ReadRow } from "#lib/domain/schedule/row";
import { proposed, readSheet, sheet, type Given } from "./sheet";

const HEADER = ["Bent", "Mark", "Type", "Top El (ft)", "Jacket Height (ft)", "Bars", "Lat", "Lon", "Remarks"];
const one = (changes: Partial<Record<number, Given>>): ReadRow => {
  const cells: Given[] = ["17", "17-F", "C", "3.5", "4", "8-#5", "44.001", "-63.5", "x"];
  const [row] = readSheet([HEADER, cells.map((cell, index) => (index in changes ? (changes[index] ?? null) : cell))]);
  if (!row) throw new Error("no row");
  return row;
};

describe("reading a row", () => {
  it("reads every field, and shows how", () => {
    const { pile, reads, faults, notes } = one({});
    expect({ ...pile, lengths: Object.fromEntries(Object.entries(pile?.lengths ?? {}).map(([field, { measured }]) => [field, `${measured.number} ${measured.unit}`])) }).toEqual({
      bent: "17", row: "F", mark: "17-F", type: "C", bentFromMark: false, rowFromMark: true, place: { latitude: "44.001", longitude: "-63.5" },
      lengths: { "top elevation": "3.5 ft", "jacket height": "4 ft" }, bars: { count: 8, size: "#5" }, requirements: [], drawing: "", words: "x",
    });
    expect(reads.map(({ shown }) => shown)).toEqual(["17", "17-F", "C", "3.5 ft", "48 in", "8 × #5", "44.001", "-63.5", "x"]);
    expect([faults, notes]).toEqual([[], []]);
  });

  it.each<[string, Partial<Record<number, Given>>, Partial<ReadRow["pile"] & object>]>([
    ["a bent out of the mark", { 0: "" }, { bent: "17", row: "F", bentFromMark: true }],
    ["the last two parts of a long mark", { 0: "", 1: "W2-03-C" }, { bent: "03", row: "C", mark: "W2-03-C" }],
    ["a mark in small letters and odd hyphens", { 1: "17 – f" }, { mark: "17-F" }],
    ["bars in brackets", { 5: "(6) #6" }, { bars: { count: 6, size: "#6" } }],
    ["bars with a cross", { 5: "8 × #5" }, { bars: { count: 8, size: "#5" } }],
    ["bars by number", { 5: "6 no. 15m" }, { bars: { count: 6, size: "15M" } }],
    ["a bare count of bars", { 5: "6" }, { bars: { count: 6, size: null } }],
    ["no bars", { 5: "" }, { bars: null }],
    ["no position", { 6: "", 7: "" }, { place: null }],
    ["degrees, minutes and seconds", { 6: "44°00'36\"N", 7: "63 30 00 W" }, { place: { latitude: "44.01", longitude: "-63.5" } }],
    ["more digits of a position than are shown", { 6: { text: "44.00", number: "44.0012345" } }, { place: { latitude: "44.0012345", longitude: "-63.5" } }],
    ["a bent as it is shown", { 0: { text: "02", number: "2" }, 1: "02-F" }, { bent: "02" }],
  ])("reads %s", (_, changes, pile) => {
    expect(one(changes).faults).toEqual([]);
    expect(one(changes).pile).toMatchObject(pile);
  });

  it.each<[string, Partial<Record<number, Given>>, RegExp]>([
    ["no mark", { 1: "" }, /no mark.*leave the row out/],
    ["a mark that is none", { 1: "17/F" }, /17\/F is not a mark/],
    ["a mark like the one above", { 1: "DO" }, /DO stands below nothing/],
    ["no type", { 2: "" }, /no type/],
    ["a negative height", { 4: "-4" }, /more than nothing/],
    ["no height at all", { 4: "0" }, /more than nothing/],
    ["a number past all bounds", { 4: "1e400" }, /too large/],
    ["words for a height", { 4: "see dwg" }, /is not a number/],
    ["a weight for a height", { 4: "4 kg" }, /kg measures a mass/],
    ["a comma that can mean two things", { 4: "1,234" }, /1234 or as 1.234/],
    ["a date that the spreadsheet made", { 5: { text: "6-Jun", date: true } }, /made the date 6-Jun/],
    ["an error of the spreadsheet", { 4: "#REF!" }, /#REF! is an error/],
    ["a formula without a value", { 4: { text: "", formula: "no value" } }, /formula without a value/],
    ["a formula as text", { 8: { text: "=CMD()", formula: "text" } }, /looks like a formula/],
    ["half a position", { 7: "" }, /one half of the position/],
    ["a latitude past the pole", { 6: "98" }, /beyond 90/],
    ["6-6 for bars", { 5: "6-6" }, /not a count of bars/],
    ["a hundred bars", { 5: "100-#5" }, /more than the 60/],
    ["a bent of words", { 0: "Bent seventeen" }, /is not a bent/],
    ["a format with a rounded number", { 4: { text: "4'", number: "4.25" } }, /shows 4' and holds 4.25/],
  ])("refuses %s, with words", (_, changes, message) => {
    const { pile, faults } = one(changes);
    expect(pile).toBeNull();
    expect(faults.map((fault) => fault.message).join(" ")).toMatch(message);
  });

  it("lets a cell's own unit stand above the column's, and notes it", () => {
    const { pile, notes } = one({ 4: "48 in" });
    expect(pile?.lengths["jacket height"]).toMatchObject({ bare: false, measured: { number: "48", unit: "in" } });
    expect(notes).toEqual([{ column: 4, code: "own unit", message: "48 in has a unit of its own; the column is in ft." }]);
  });

  it("refuses a bare number in a column of feet and inches", () => {
    const rows = readSheet([["Mark", "Type", "Top El"], ["17-A", "C", "4'-3 1/2\""], ["17-B", "C", "4'-0\""], ["17-C", "C", "48"]]);
    expect(rows.map(({ faults }) => faults.map(({ message }) => message))).toEqual([[], [], ["48 what? In a column of feet and inches write 48 ft or 48 in."]]);
    expect(rows[0]?.reads[2]?.shown).toBe("4.292 ft");
  });

  it.each<[ColumnMapping["comma"], string, string | null]>([
    ["decimal", "1,234", "1.234"],
    ["thousands", "1,234", "1234"],
    [null, "1,234", null],
    ["decimal", "1.234", null],
    ["decimal", "0,47", "0.47"],
    [null, "0,47", "0.47"],
    ["thousands", "1,234.5", "1234.5"],
  ])("with a %s comma reads %s as %s", (comma, text, number) => {
    const grid = sheet([["Mark", "Type", "Height (m)"], ["17-A", "C", text]]);
    const mapping = proposed(grid);
    const [row] = readRows(grid, { ...mapping, columns: mapping.columns.map((column) => (column.field === "jacket height" ? { ...column, comma } : column)) });
    expect(row?.pile?.lengths["jacket height"]?.measured.number ?? null).toBe(number);
  });

  it("reads a position on the grid of the drawings", () => {
    const columns = (["mark", "type", "grid x", "grid y"] as const).map((field): ColumnMapping => ({ field, unit: null, comma: null, requirement: null }));
    const [row] = readSheet([["Mark", "Type", "X", "Y"], ["17-A", "C", "0", "50.418811"]], { columns, grid: { origin: { latitude: "40.7", longitude: "-74.02" }, bearingDeg: "39.56692", unit: "m" } });
    // GeodSolve 2.1.2: 50.418811 m at 39.56692° from 40.7 N 74.02 W ends at 40.70035 N 74.01962 W.
    expect(Math.abs(Number(row?.pile?.place?.latitude) - 40.70035)).toBeLessThan(2e-8);
    expect(Math.abs(Number(row?.pile?.place?.longitude) + 74.01962)).toBeLessThan(2e-8);
  });

  it("reads a range for a requirement, with either dash and another unit than the rule's", () => {
    const columns = (unit: ColumnMapping["unit"]): ColumnMapping[] => [
      { field: "mark", unit: null, comma: null, requirement: null }, { field: "type", unit: null, comma: null, requirement: null }, { field: "requirement", unit, comma: null, requirement: { line: "9", kind: "quantity", id: "torque" } },
    ];
    const read = (text: string) => readSheet([["Mark", "Type", "Torque"], ["17-A", "H", text]], { columns: columns("ft·lbf") })[0]?.pile?.requirements[0];
    const expected = { line: "9", kind: "quantity", id: "torque", first: { number: "60", unit: "ft·lbf" }, second: { number: "65", unit: "ft·lbf" } };
    for (const text of ["60 to 65", "60-65", "60 – 65", "60…65 ft-lb"]) expect(read(text)).toEqual(expected);
    expect(read("88 N·m")).toMatchObject({ first: { number: "88", unit: "N·m" }, second: null });
  });
});

describe("merged cells and ditto marks", () => {
  it("take what stands above, over totals and blank rows, through several marks", () => {
    const rows = readSheet([["Mark", "Type"], ["17-A", "C"], ["17-B", "DO"], ["", "1 pile"], ["", ""], ["17-C", "″"], ["17-D", "H"], ["17-E", "do."]]);
    expect(rows.map(({ number, pile }) => [number, pile?.type])).toEqual([[2, "C"], [3, "C"], [6, "C"], [7, "H"], [8, "H"]]);
  });

  it("are refused with nothing above, and below a fault they share it", () => {
    const rows = readSheet([["Mark", "Type", "Height (ft)"], ["17-A", "C", "DO"], ["17-B", "C", "far"], ["17-C", "C", "DO"]]);
    expect(rows.map(({ faults }) => faults.map(({ message }) => message))).toEqual([
      ["DO stands below nothing. Write the value itself."], ["far is not a number. Type digits, such as 6.4."], ["far is not a number. Type digits, such as 6.4."],
    ]);
  });

  it("across columns give a value to the first column only, and say so", () => {
    const [row] = readSheet([["Mark", "Type", "Bent", "Drawing"], ["17-A", "C", "17", { merged: { row: 2, column: 2 } }]]);
    expect(row).toMatchObject({ pile: { bent: "17", drawing: "" }, notes: [{ column: 3, code: "merged across" }] });
  });

  it("never give two piles one mark", () => {
    const rows = readSheet([["Mark", "Type"], ["17-A", "C"], [{ merged: { row: 2, column: 0 } }, "C"], ["DO", "C"]]);
    expect(rows.map(({ faults }) => faults.length)).toEqual([0, 1, 1]);
  });
});

describe("the order of the rows", () => {
  const cell = fc.constantFrom("3.5", "4", "48", "4'-3\"", "", "1,234", "far", "-2", "42 in");
  it("changes nothing at a row without ditto marks", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.integer({ min: 10, max: 99 }), fc.constantFrom("H", "C", "T"), cell), { minLength: 1, maxLength: 20 }), fc.infiniteStream(fc.nat()), (rows, order) => {
        const lines = rows.map(([bent, type, height], index) => [`${bent}-${index}`, type, height]);
        const ranks = lines.map((line) => ({ line, rank: order.next().value ?? 0 }));
        const shuffled = [...ranks].sort((a, b) => a.rank - b.rank).map(({ line }) => line);
        const header = ["Mark", "Type", "Height (ft)"];
        const read = (body: string[][]) => new Map(readSheet([header, ...body], { types: { H: "H", C: "C", T: "T" } }).map(({ pile, faults, reads }) => [reads[0]?.text, { mark: pile?.mark, si: pile?.lengths["jacket height"]?.measured.si, faults }]));
        const [before, after] = [read(lines), read(shuffled)];
        for (const [mark, row] of before) expect(after.get(mark)).toEqual(row);
      }),
      { numRuns: 60 },
    );
  });
});
