import { describe, expect, it } from "vitest";
import { isDitto, leftOut, typeWords } from "#lib/domain/schedule/data-row";
import { headerParts, type ColumnUnit } from "#lib/domain/schedule/field";
import { toRemember, type ColumnMapping, type Mapping } from "#lib/domain/schedule/mapping";
import { proposeMapping } from "#lib/domain/schedule/propose";
import { faultsOf, proposed, SETS, sheet } from "./sheet";

const column = (field: ColumnMapping["field"], unit: ColumnUnit | null = null): ColumnMapping => ({ field, unit, comma: null, requirement: null });
const fields = (mapping: Mapping) => mapping.columns.map(({ field }) => field);

describe("proposing what columns are", () => {
  it.each<[string, string, ColumnUnit | null]>([
    ["JKT LENGTH (FT)", "jkt length", "ft"],
    ["Height, mm", "height", "mm"],
    ["TOP EL [ft-in]", "top el", "ft-in"],
    ["Pile #", "pile no", null],
    ["Pile (old)", "pile old", null],
    ["Lat/Long", "lat long", null],
  ])("takes %s apart into words and unit", (header, words, unit) => {
    expect(headerParts(header)).toEqual({ words, unit });
  });

  it("finds the header under titles and takes a row of units with it", () => {
    const mapping = proposed(sheet([["QUAY WALL"], null, ["Mark", "Type", "Height", "Dia"], ["", "", "(mm)", "(in)"], ["11-A", "HP", "1067", "24"]]));
    expect(mapping).toMatchObject({ headerRow: 3, firstRow: 5 });
    expect(mapping.columns.map(({ field, unit }) => [field, unit])).toEqual([["mark", null], ["type", null], ["jacket height", "mm"], ["inside diameter", "in"]]);
  });

  it("gives a field to the first of two columns with one name, and leaves the other out", () => {
    expect(fields(proposed(sheet([["PILE NO", "BENT", "PILE NO"], ["11-A", "11", "A"]])))).toEqual(["mark", "bent", "leave out"]);
  });

  it("proposes nothing for a hidden column or without a header", () => {
    expect(fields(proposed(sheet([["Mark", "Type", "Bent"], ["11-A", "HP", "11"]], [2])))).toEqual(["mark", "type", "leave out"]);
    expect(proposed(sheet([["11-A", "HP"], ["11-B", "HP"]]))).toMatchObject({ headerRow: null, firstRow: 1, columns: [column("leave out"), column("leave out")] });
  });

  it("takes a remembered header over its own words, and what the file says of the unit over both", () => {
    const grid = sheet([["NR", "Type", "HEIGHT (IN)"], ["11-A", "RAKER", "42"]]);
    const memory = { NR: { column: column("mark"), types: {} }, TYPE: { column: column("type"), types: { RAKER: "C" } }, "HEIGHT (IN)": { column: column("jacket height", "ft"), types: {} } };
    const mapping = proposeMapping(grid, memory, SETS);
    expect(mapping.columns).toEqual([column("mark"), column("type"), column("jacket height", "in")]);
    expect(mapping.types).toEqual({ RAKER: "C" });
    expect(Object.keys(toRemember(grid, mapping))).toEqual(["NR", "TYPE", "HEIGHT (IN)"]);
  });

  it("does not remember a header that stands twice", () => {
    const grid = sheet([["Mark", "Dia", "Dia"], ["11-A", "24", "28"]]);
    expect(Object.keys(toRemember(grid, proposed(grid)))).toEqual(["MARK"]);
  });

  it.each<[string[], ColumnMapping["comma"]]>([
    [["0,47", "0,470"], "decimal"],
    [["1,5", "1,234"], "decimal"],
    [["1,234", "2,345"], null],
    [["0,47", "1.5"], null],
    [["3.5", "4"], null],
  ])("recognises the decimal comma of a column with %j as %s", (values, comma) => {
    expect(proposed(sheet([["Mark", "Height (m)"], ...values.map((value, index) => [`11-${index}`, value])])).columns[1]?.comma).toBe(comma);
  });

  it("asks once for each word of the type column, and proposes what only one type can be", () => {
    const grid = sheet([["Mark", "Type"], ["11-A", "HP"], ["11-B", "DO"], ["11-C", "Conc."], ["11-D", "do"], ["11-E", "BATTER"], ["11-F", "T"]]);
    const mapping = proposed(grid);
    expect(typeWords(grid, mapping)).toEqual(["HP", "CONC", "BATTER", "T"]);
    expect(mapping.types).toEqual({ HP: "H", CONC: "C", T: "T" });
    expect(faultsOf(grid, mapping)).toEqual(["Which pile type is BATTER?"]);
  });
});

describe("what keeps a mapping from being read", () => {
  const grid = sheet([["Mark", "Type", "a", "b"], ["11-A", "H", "1", "2"]]);
  const requirement = (line: string, id: string, unit: ColumnUnit | null = null): ColumnMapping => ({ field: "requirement", unit, comma: null, requirement: { line, kind: "quantity", id } });
  it.each<[string, ColumnMapping[], Partial<Mapping>, string[]]>([
    ["nothing", [column("mark"), column("type"), column("bent"), column("row")], {}, []],
    ["no mark", [column("bent"), column("type"), column("note"), column("row")], {}, ["No column is the mark. Say which column holds the marks of the piles."]],
    ["a field twice", [column("mark"), column("type"), column("bent"), column("bent")], {}, ["Columns C and D are both bent. Keep one and leave the other out."]],
    ["a length without unit", [column("mark"), column("type"), column("top elevation"), column("row")], {}, ["In which unit is top elevation? Nothing is read from column C before."]],
    ["a length in kilograms", [column("mark"), column("type"), column("top elevation", "kg"), column("row")], {}, ["kg does not measure a length."]],
    ["half a position", [column("mark"), column("type"), column("latitude"), column("row")], {}, ["There is a column for latitude and none for longitude. Match both, or leave it out."]],
    ["a grid without origin", [column("mark"), column("type"), column("grid x"), column("grid y")], {}, ["Give the origin of the grid, the bearing of its y axis and its unit."]],
    ["no type at all", [column("mark"), column("row"), column("bent"), column("note")], {}, ["No column is the type. Say which one it is, or give one type for every pile."]],
    ["one type for all", [column("mark"), column("row"), column("bent"), column("note")], { everyType: "H" }, []],
    ["a type that the revision has not", [column("mark"), column("row"), column("bent"), column("note")], { everyType: "X" }, ["The requirement revision has no pile type X."]],
    ["a requirement", [column("mark"), column("type"), requirement("9", "torque", "N·m"), column("row")], {}, []],
    ["a requirement without unit", [column("mark"), column("type"), requirement("9", "torque"), column("row")], {}, ["In which unit is column C? Nothing is read from it before."]],
    ["a requirement in another quantity", [column("mark"), column("type"), requirement("9", "torque", "mm"), column("row")], {}, ["mm does not measure what ft·lbf measures."]],
    ["a requirement of no type", [column("mark"), column("type"), requirement("9", "colour"), column("row")], {}, ["No pile type has the requirement colour at point 9."]],
  ])("%s", (_, columns, changes, faults) => {
    expect(faultsOf(grid, proposed(grid, { columns, ...changes }))).toEqual(faults);
  });
});

describe("rows around the piles", () => {
  it("leaves out totals with or without a mark, repeated headers and hidden rows, and says so", () => {
    const grid = sheet([["Mark", "Type", "Bent"], ["11-A", "H", "11"], ["", "Subtotal", "1"], ["Mark", "Type", "Bent"], ["12-A", "H", "12"], ["TOTAL", "", "2 piles"], ["13-A", "H", "13"]]);
    grid.rows = grid.rows.map((row) => (row.number === 7 ? { ...row, hidden: true } : row));
    expect(leftOut(grid, proposed(grid))).toEqual(["Rows 3, 6: totals, left out.", "Row 7: hidden in the file, left out."]);
    expect(leftOut(grid, proposed(grid, { hiddenRows: "read" }))).toEqual(["Rows 3, 6: totals, left out."]);
  });

  it.each(["DO", "do.", "Ditto", "\"", "″", "〃", "''", "—\"—", "- \" -"])("knows %s as a ditto mark", (text) => expect(isDitto(text)).toBe(true));
  it.each(["-", "—", "DOLPHIN", "", "0", "6\""])("does not take %s for one", (text) => expect(isDitto(text)).toBe(false));
});
