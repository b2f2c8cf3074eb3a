import { describe, expect, it } from "vitest";
import { applyAnswers, type Answers, type ImportRun } from "#lib/domain/schedule/apply-answers";
import { questionsOf } from "#lib/domain/schedule/plausibility";
import type { Question } from "#lib/domain/schedule/question";
import type { ReadRow } from "#lib/domain/schedule/row";
import type { SiteLimit } from "#lib/domain/schedule/doubtful-place";
import { readSheet, SETS } from "./sheet";

const SITE: SiteLimit = { latitude: 44, longitude: -63.5, limitM: 150 };
const ask = (rows: readonly ReadRow[], site: SiteLimit | null = SITE): Question[] => questionsOf(rows, { sets: SETS, site, markColumn: 0 });
const apply = (rows: readonly ReadRow[], answers: Answers): ImportRun => applyAnswers(rows, answers, { sets: SETS, site: SITE, markColumn: 0 }, "Schedule 1");
const labels = ({ answers }: Question): string[] => answers.map(({ label }) => label);

describe("lengths that look like another unit", () => {
  const heights = (unit: string, values: readonly string[], type = "T"): ReadRow[] => readSheet([["Mark", "Type", `Height (${unit})`], ...values.map((value, index) => [`11-${index + 1}`, type, value])]);

  it.each<[string, string[], string, string[]]>([
    ["ft", ["3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "36"], "36 ft is 12 × the others (3 ft). It may be inches.", ["36 in", "36 ft is right", "leave the row out"]],
    ["in", ["36", "36", "36", "36", "36", "36", "36", "36", "36", "36", "3"], "3 in is 0.083 × the others (36 in). It may be feet.", ["3 ft", "3 in is right", "leave the row out"]],
    ["in", ["36", "36", "36", "36", "36", "36", "36", "36", "36", "36", "914"], "914 in is 25.4 × the others (36 in). It may be millimetres.", ["914 mm", "914 in is right", "leave the row out"]],
    ["ft", ["3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "914"], "914 ft is 304.7 × the others (3 ft). It may be millimetres.", ["914 mm", "914 ft is right", "leave the row out"]],
    ["ft", ["3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "500"], "500 ft is 166.7 × the others (3 ft).", ["500 ft is right", "leave the row out"]],
  ])("in a column of %s with %j", (unit, values, detail, answers) => {
    const questions = ask(heights(unit, values));
    expect(questions).toMatchObject([{ code: "length", row: 12, rows: [12], column: 2, detail }]);
    expect(questions.map(labels)).toEqual([answers]);
  });

  it("says nothing of jackets of several heights", () => {
    expect(ask(heights("ft", ["3", "3.5", "4", "3", "3.5", "4", "6", "2"]))).toEqual([]);
  });

  it("asks once for a value and the ditto marks below it, and an answer reaches them all", () => {
    const rows = heights("ft", ["3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "3", "36", "DO", "DO"]);
    expect(ask(rows)).toMatchObject([{ rows: [20, 21, 22], message: "Rows 20, 21 and 22: jacket height 36 in a column of feet" }]);
    const { ready, aside } = apply(rows, { [ask(rows)[0]?.id ?? ""]: "unit-in" });
    expect([ready.length, aside.length, ready.filter(({ pile }) => pile.overrides.length > 0).length]).toEqual([21, 0, 0]);
  });

  it("tells a slip by the type's jacket where the column is too short", () => {
    expect(ask(heights("ft", ["3", "36"]))).toMatchObject([{ row: 3, detail: "36 ft is 12 × the type's (3 ft). It may be inches." }]);
  });

  it("asks about the column when most of it is in another unit than the types", () => {
    const rows = heights("ft", ["36", "36", "36", "36", "36", "36"]);
    const questions = ask(rows);
    expect(questions).toMatchObject([{ code: "column unit", rows: [2, 3, 4, 5, 6, 7] }]);
    expect(questions.map(labels)).toEqual([["the column is in inches", "feet is right", "stop, the file is wrong"]]);
    expect(apply(rows, {}).ready).toEqual([]);
    expect(apply(rows, { [questions[0]?.id ?? ""]: "unit-in" })).toMatchObject({ ready: { length: 6 }, aside: [] });
  });

  it("judges elevations by their distance, since they cross zero", () => {
    const tops = (values: readonly string[]) => ask(readSheet([["Mark", "Type", "Top El (ft)"], ...values.map((value, index) => [`11-${index + 1}`, "T", value])]));
    expect(tops(["-1", "-0.5", "0", "0.1", "0.5", "1", "0.01", "-2"])).toEqual([]);
    expect(tops(["4.3", "4.2", "4.1", "4", "3.9", "4.2", "4", "4.1", "4", "4.1", "49"])).toMatchObject([{ row: 12, answers: [{ label: "49 in" }, {}, {}] }]);
  });
});

describe("marks and places", () => {
  const HEADER = ["Mark", "Bent", "Type"];
  const marked = (...rows: [string, string][]): ReadRow[] => readSheet([HEADER, ...rows.map(([mark, bent]) => [mark, bent, "C"])]);

  it.each<[string, [string, string][], number, string[]]>([
    ["first in its bent", [["17-F", "17"], ["17-F", "18"], ["18-B", "18"]], 3, ["it is 18-A", "leave the row out", "stop, the file is wrong"]],
    ["last in its bent", [["17-A", "17"], ["18-A", "18"], ["17-A", "18"]], 4, ["it is 18-B", "leave the row out", "stop, the file is wrong"]],
    ["between two", [["17-A", "17"], ["18-A", "18"], ["17-A", "18"], ["18-C", "18"]], 4, ["it is 18-B", "leave the row out", "stop, the file is wrong"]],
    ["where nothing is missing", [["17-A", "17"], ["18-A", "18"], ["17-A", "18"], ["18-B", "18"]], 4, ["leave the row out", "stop, the file is wrong"]],
    ["where too much is missing", [["17-A", "17"], ["18-A", "18"], ["17-A", "18"], ["18-D", "18"]], 4, ["leave the row out", "stop, the file is wrong"]],
    ["before its owner", [["18-A", "17"], ["17-B", "17"], ["18-A", "18"]], 2, ["it is 17-A", "leave the row out", "stop, the file is wrong"]],
  ])("asks about a mark that stands twice, %s", (_, piles, row, answers) => {
    const questions = ask(marked(...piles));
    expect(questions.map((question) => [question.code, question.row, labels(question)])).toEqual([["mark twice", row, answers]]);
  });

  it("does not read a mark's place out of the mark itself", () => {
    const rows = readSheet([["Mark", "Type"], ["17-E", "C"], ["17-F", "C"], ["17-F", "C"], ["18-B", "C"]]);
    expect(ask(rows).map(labels)).toEqual([["leave the row out", "stop, the file is wrong"]]);
  });

  it("asks about a mark of another bent where marks begin with their bent, and not where they do not", () => {
    const many = ["A", "B", "C", "D", "E"].map((row): [string, string] => [`17-${row}`, "17"]);
    expect(ask(marked(...many, ["19-F", "17"])).map((question) => [question.code, labels(question)])).toEqual([["mark of another bent", ["it is 17-F", "19-F is right", "leave the row out"]]]);
    expect(ask(marked(["1-A", "17"], ["2-A", "18"], ["3-A", "19"]))).toEqual([]);
    expect(ask(marked(["3-A", "03"], ["03-B", "3"]))).toEqual([]);
  });

  it("asks about two piles in one place, which nobody can call right", () => {
    const rows = readSheet([["Mark", "Bent", "Row", "Type"], ["P-1", "17", "A", "C"], ["P-2", "17", "A", "C"]]);
    expect(ask(rows).map((question) => [question.code, question.row, labels(question)])).toEqual([["place twice", 3, ["leave the row out", "stop, the file is wrong"]]]);
  });
});

describe("positions", () => {
  const placed = (...places: [string, string][]): ReadRow[] => readSheet([["Mark", "Type", "Lat", "Lon"], ...places.map(([latitude, longitude], index) => [`17-${index + 1}`, "C", latitude, longitude])]);

  it.each<[string, [string, string], string, string | null]>([
    ["swapped", ["-63.5", "44.0001"], "latitude and longitude are swapped", "44.0001"],
    ["on the other side", ["44.0001", "63.5"], "the longitude is west", "44.0001"],
    ["somewhere else", ["44.01", "-63.5"], "take them without a position", null],
  ])("asks about one that is %s", (_, place, label, latitude) => {
    const rows = placed(place, ["44.0002", "-63.5"]);
    const [question] = ask(rows);
    expect(question).toMatchObject({ code: "far", rows: [2] });
    expect(question?.answers[0]?.label).toBe(label);
    const run = apply(rows, { [question?.id ?? ""]: question?.answers[0]?.id ?? "" });
    expect(run.ready.map(({ pile }) => pile.latitude)).toEqual([latitude, "44.0002"]);
  });

  it("asks once for a file that is swapped throughout", () => {
    expect(ask(placed(["-63.5", "44.0001"], ["-63.5", "44.0002"], ["-63.5", "44.0003"]))).toMatchObject([{ rows: [2, 3, 4] }]);
  });

  // One ten-millionth of a degree of latitude is 0.0111 m (GeodSolve 2.1.2).
  it.each([["44.0000026", true], ["44.0000028", false]])("asks about a pile nearer than 0.3 m to another: %s, %s", (latitude, asked) => {
    expect(ask(placed(["44", "-63.5"], [latitude, "-63.5"])).length > 0).toBe(asked);
  });

  it("finds piles on each other across the date line and in any order of rows", () => {
    const line: SiteLimit = { latitude: -17, longitude: 180, limitM: 1000 };
    expect(ask(placed(["-17", "179.999999"], ["-17.001", "180"], ["-17", "-179.999999"]), line)).toMatchObject([{ code: "near", row: 4 }]);
  });

  it("keeps a row aside when the answer to one question makes another", () => {
    const rows = placed(["-63.5", "44.0001"], ["44.0001", "-63.5"]);
    const run = apply(rows, { "far-2-swapped": "swapped" });
    expect(run.questions.map(({ question, answer }) => [question.id, answer])).toEqual([["far-2-swapped", "swapped"], ["near-3-2", null]]);
    expect(run.ready.map(({ row }) => row)).toEqual([2]);
    expect(apply(rows, { "far-2-swapped": "swapped", "near-3-2": "keep" }).ready).toHaveLength(2);
  });

  it("holds nothing against a site that is not given", () => {
    expect(ask(placed(["10", "10"]), null)).toEqual([]);
  });
});

describe("the dry run", () => {
  const rows = readSheet([["Mark", "Type", "Height (ft)"], ["11-A", "H", "3.5"], ["11-B", "H", "far"], ["11-B", "H", "3.5"], ["12-A", "C", "4"], ["12-A", "C", "4"]]);

  it("sets rows with a fault or an open question aside, with the reason", () => {
    const { ready, aside, byType, byBent } = apply(rows, {});
    expect(ready.map(({ pile }) => pile.mark)).toEqual(["11-A", "11-B", "12-A"]);
    expect(aside).toEqual([{ row: 3, mark: null, why: ["far is not a number. Type digits, such as 6.4."] }, { row: 6, mark: "12-A", why: ["Row 6: mark 12-A is already on row 5"] }]);
    expect(byType).toEqual([{ type: "H", ready: 2, aside: 0, bents: ["11"] }, { type: "C", ready: 1, aside: 1, bents: ["12"] }]);
    expect(byBent[1]).toEqual({ bent: "12", piles: [{ row: 5, mark: "12-A", type: "C", state: "ready" }, { row: 6, mark: "12-A", type: "C", state: "aside" }] });
  });

  it("leaves rows out, and stops when the file is called wrong", () => {
    expect(apply(rows, { "mark-6-12-A": "leave-out" })).toMatchObject({ leftOut: [6], aside: [{ row: 3 }], stopped: false, questions: [{ answer: "leave-out" }] });
    expect(apply(rows, { "mark-6-12-A": "stop" }).stopped).toBe(true);
  });

  it("takes no answer that was not offered", () => {
    expect(apply(rows, { "mark-6-12-A": "keep", "mark-5-12-A": "leave-out" })).toEqual(apply(rows, {}));
  });
});
