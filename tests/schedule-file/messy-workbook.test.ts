import * as xlsx from "@e965/xlsx";
import { describe, expect, it } from "vitest";
import { applyAnswers, type Answers, type ImportRun } from "#lib/domain/schedule/apply-answers";
import { leftOut, typeWords } from "#lib/domain/schedule/data-row";
import { GridSchema, type Grid } from "#lib/domain/schedule/grid";
import { columnOf, mappingFaults, MappingSchema, toRemember, type Mapping } from "#lib/domain/schedule/mapping";
import { proposeMapping } from "#lib/domain/schedule/propose";
import { readRows } from "#lib/domain/schedule/read-rows";
import { readGrid } from "#lib/schedule-file/read-grid";
import { writeRevision } from "#seed/specification";

const SETS = writeRevision("B").sets;
const HEADER = ["BENT", "PILE NO", "TYPE", "TOP EL", "JKT LENGTH (FT)", "OLD NO", "JKT DIA", "BARS", "TAKE-OFF (M)", "REMARKS"];
const OLD_NO = 5;

/** 180 piles in bents 11 to 40, six in each: steel to bent 16, concrete to 36, timber from there. */
function messyWorkbook(): Uint8Array {
  const rows: (string | number | null)[][] = [];
  for (let bent = 11; bent <= 40; bent += 1) {
    const [type, feet, dia, bars] = bent <= 16 ? ["HP", 3.5, 24, "6-#6"] : bent <= 36 ? ["CONC", 4, 28, "8-#5"] : ["TIM", 3, 19, "4-#5"];
    ["A", "B", "C", "D", "E", "F"].forEach((row, index) => {
      const first = index === 0;
      rows.push([
        first ? bent : null, `${bent}-${row}`, first ? type : "DO", index % 2 === 0 ? `4'-${index} 1/2"` : `3'-${12 - index}"`, first ? feet : "do.", `P${rows.length}`, first ? dia : "DO",
        first ? bars : "″", `0,${47 + index}`, row === "C" ? "fender bracket" : null,
      ]);
    });
  }
  const sheet = xlsx.utils.aoa_to_sheet([["NORTH QUAY, PILE SCHEDULE"], HEADER, ...rows, [], [null, "TOTAL", null, null, null, null, null, "180 piles"]]);
  const at = (mark: string): number => 3 + rows.findIndex(([, one]) => one === mark);
  sheet["!merges"] = [{ s: { r: 0, c: 0 }, e: { r: 0, c: 9 } }, ...Array.from({ length: 30 }, (_, bent) => ({ s: { r: 2 + bent * 6, c: 0 }, e: { r: 7 + bent * 6, c: 0 } }))];
  sheet["!cols"] = HEADER.map((_, index) => (index === OLD_NO ? { hidden: true } : {}));
  sheet[`B${at("18-A")}`] = { t: "s", v: "17-F" };
  sheet[`E${at("25-F")}`] = { t: "n", v: 48 };
  sheet[`G${at("12-A")}`] = { t: "n", f: "G9", v: 24 };
  sheet[`E${at("30-A")}`] = { t: "n", f: "E3+0.5" };
  const book = xlsx.utils.book_new();
  xlsx.utils.book_append_sheet(book, sheet, "Piles");
  return xlsx.write(book, { type: "buffer", bookType: "xlsx" }) as Uint8Array;
}

function gridOf(bytes: Uint8Array): Grid {
  const reading = readGrid(bytes, "north-quay.xlsx");
  if (!reading.ok) throw new Error(reading.message);
  return reading.grid;
}
/** The proposal, and the two things that it cannot know: the unit of the diameters, and that the take-off is no concern. */
function settled(grid: Grid): Mapping {
  const mapping = proposeMapping(grid, {}, SETS);
  const dia = columnOf(mapping, "inside diameter");
  return { ...mapping, columns: mapping.columns.map((column, index) => (index === dia ? { ...column, unit: "in" } : column)) };
}

const grid = gridOf(messyWorkbook());
const mapping = settled(grid);
const rows = readRows(grid, mapping);
const run = (answers: Answers): ImportRun => applyAnswers(rows, answers, { sets: SETS, site: null, markColumn: columnOf(mapping, "mark") }, "North Quay schedule");
const rowOf = (number: number) => rows.find((row) => row.number === number);

describe("a messy workbook of 180 piles", () => {
  it("gives a grid and a mapping that can be kept as JSON", () => {
    expect(GridSchema.parse(JSON.parse(JSON.stringify(grid)))).toEqual(grid);
    expect(MappingSchema.parse(JSON.parse(JSON.stringify(mapping)))).toEqual(mapping);
  });

  it("proposes a field for every known header, with the units that are written, and asks for the one that is not", () => {
    expect(mapping.headerRow).toBe(2);
    expect(mapping.columns.map(({ field, unit }) => [field, unit])).toEqual([
      ["bent", null], ["mark", null], ["type", null], ["top elevation", "ft-in"], ["jacket height", "ft"], ["leave out", null], ["inside diameter", "in"], ["bars", null], ["leave out", null], ["note", null],
    ]);
    expect(mapping.types).toEqual({ HP: "H", CONC: "C", TIM: "T" });
    const proposal = proposeMapping(grid, {}, SETS);
    expect(mappingFaults(grid, proposal, typeWords(grid, proposal), SETS)).toEqual([{ column: 6, message: "In which unit is inside diameter? Nothing is read from column G before." }]);
    expect(mappingFaults(grid, mapping, typeWords(grid, mapping), SETS)).toEqual([]);
  });

  it("proposes the whole mapping again from what was remembered", () => {
    expect(proposeMapping(grid, toRemember(grid, mapping), SETS)).toEqual(mapping);
  });

  it("leaves out the title, the total and the hidden column, and says so", () => {
    expect(rows).toHaveLength(180);
    expect(leftOut(grid, mapping)).toEqual(["Row 1: above the piles, left out.", "Row 184: totals, left out.", "Column F, OLD NO: hidden in the file, left out."]);
  });

  it("reads merged bents downward and ditto marks as the value above", () => {
    expect(rowOf(5)?.pile).toMatchObject({ bent: "11", row: "C", mark: "11-C", type: "H", bars: { count: 6, size: "#6" } });
    expect(rowOf(5)?.reads.map(({ text, shown, fromRow }) => [text, shown, fromRow])).toEqual([
      ["", "11", 3], ["11-C", "11-C", 5], ["DO", "H", 3], ["4'-2 1/2\"", "4.208 ft", 5], ["do.", "42 in", 3], ["DO", "24 in", 3], ["″", "6 × #6", 3], ["fender bracket", "fender bracket", 5],
    ]);
    expect(new Set(rows.flatMap(({ notes }) => notes.filter(({ code }) => code === "merged"))).size).toBe(150);
    expect(rows.flatMap(({ notes }) => notes.filter(({ code }) => code === "ditto"))).toHaveLength(30 * 5 * 4 - 1);
  });

  it("takes the value that is kept beside a formula and says so, and takes none where none is kept", () => {
    expect(rowOf(9)?.notes).toContainEqual({ column: 6, code: "formula", message: "G9 holds a formula; its last value 24 was taken." });
    const without = rows.filter(({ faults }) => faults.length > 0);
    expect(without.map(({ number }) => number)).toEqual([117, 118, 119, 120, 121, 122]);
    expect(without[0]?.faults).toEqual([{ column: 4, message: "A formula without a value. Open the file in the spreadsheet, let it calculate, and save it again." }]);
  });

  it("asks about the mark that stands twice and about 48 in a column of feet, and about nothing else", () => {
    const { questions, ready, aside } = run({});
    expect(questions.map(({ question }) => [question.row, question.message, question.detail, question.answers.map(({ label }) => label)])).toEqual([
      [45, "Row 45: mark 17-F is already on row 44", "Bent 18 has no A. The row stands first in bent 18.", ["it is 18-A", "leave the row out", "stop, the file is wrong"]],
      [92, "Row 92: jacket height 48 in a column of feet", "48 ft is 12 × the others (3 ft … 4 ft). It may be inches.", ["48 in", "48 ft is right", "leave the row out"]],
    ]);
    expect([ready.length, aside.length]).toEqual([172, 8]);
  });

  it("counts by type and by bent in a dry run, and has everything ready when it is answered", () => {
    const [twice, length] = run({}).questions.map(({ question }) => question.id);
    const { ready, aside, byType, byBent, questions } = run({ [twice ?? ""]: "mark", [length ?? ""]: "unit-in" });
    expect(questions.map(({ answer }) => answer)).toEqual(["mark", "unit-in"]);
    expect([ready.length, aside.length]).toEqual([174, 6]);
    expect(byType.map(({ type, ready: count, bents }) => [type, count, bents.length])).toEqual([["H", 36, 6], ["C", 114, 19], ["T", 24, 4]]);
    expect(byBent.map(({ piles }) => piles.length)).toEqual([...Array.from({ length: 19 }, () => 6), ...Array.from({ length: 10 }, () => 6)]);
    expect(ready.find(({ row }) => row === 45)?.pile).toMatchObject({ bent: "18", row: "A", mark: "18-A", overrides: [] });
    expect(ready.find(({ row }) => row === 92)?.pile).toMatchObject({ mark: "25-F", overrides: [], drawn: { top: { value: "43", unit: "in" }, bottom: null } });
  });
});
