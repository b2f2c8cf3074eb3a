import { describe, expect, it } from "vitest";
import { buildPlan, jacketOf, OverrideSchema } from "#lib/domain/plan/plan";
import { overridesOf, type PileOverrides } from "#lib/domain/schedule/overrides";
import type { ColumnMapping } from "#lib/domain/schedule/mapping";
import { readSheet, SETS } from "./sheet";

type Columns = { header: string; cell: string; type?: string };
function setOf(type: string) {
  const set = SETS.find((one) => one.type === type);
  if (!set) throw new Error(type);
  return set;
}
function overrides({ header, cell, type = "H" }: Columns): PileOverrides {
  const [row] = readSheet([["Mark", "Type", header], ["11-A", type, cell]]);
  if (!row?.pile) throw new Error(row?.faults[0]?.message);
  return overridesOf(row.pile, setOf(type), "S-12");
}
function requirement(line: string, id: string, kind: "quantity" | "wait", unit: ColumnMapping["unit"], cell: string, type = "H"): PileOverrides {
  const plain: ColumnMapping = { field: "mark", unit: null, comma: null, requirement: null };
  const [row] = readSheet([["Mark", "Type", "x"], ["11-A", type, cell]], { columns: [plain, { ...plain, field: "type" }, { ...plain, field: "requirement", unit, requirement: { line, kind, id } }] });
  if (!row?.pile) throw new Error(row?.faults[0]?.message);
  return overridesOf(row.pile, setOf(type), "S-12");
}

describe("what a row changes against its type", () => {
  it.each<[string, Columns]>([
    ["the type's height", { header: "Height (in)", cell: "42" }],
    ["the type's height in feet", { header: "Height (ft)", cell: "3.5" }],
    ["the type's height in whole millimetres", { header: "Height (mm)", cell: "1067" }],
    ["an empty cell", { header: "Height (in)", cell: "" }],
    ["the type's bars", { header: "Bars", cell: "6-#6" }],
    ["the type's bars without a size", { header: "Bars", cell: "6" }],
    ["the type's diameter", { header: "Jkt dia (in)", cell: "24.0" }],
    ["the bars of a pile whose bars stand free", { header: "Bars", cell: "4-#5", type: "T" }],
  ])("nothing, with %s", (_, columns) => {
    expect(overrides(columns)).toEqual({ overrides: [], unmet: [] });
  });

  it("the jacket and the point that states its height", () => {
    expect(overrides({ header: "Height (ft)", cell: "3'-4\"" }).overrides).toEqual([
      { line: "12", change: { kind: "jacket", field: "heightIn", value: "40" }, drawing: "S-12", words: "The schedule has jacket height 3'-4\"; the type has 42 in." },
      { line: "12", change: { kind: "quantity", quantity: "height", rule: { form: "nominal", nominal: "40", plus: "0.25", minus: "0.25", unit: "in" } }, drawing: "S-12", words: expect.any(String) as string },
    ]);
  });

  it("a height that is half an inch off, which is no rounding", () => {
    expect(overrides({ header: "Height (ft)", cell: "3.4" }).overrides[0]?.change).toEqual({ kind: "jacket", field: "heightIn", value: "40.8" });
    expect(overrides({ header: "Height (mm)", cell: "1080" }).overrides[0]?.change).toMatchObject({ value: "42.519685039" });
  });

  it("whole inches where a spreadsheet has a third of a foot", () => {
    expect(overrides({ header: "Height (ft)", cell: "3.333333333333" }).overrides[0]).toMatchObject({ change: { value: "40" }, words: "The schedule has jacket height 3.333333333333 ft; the type has 42 in." });
  });

  it("every list and count of bars and holes, where a pile has eight bars", () => {
    const { overrides: eight, unmet } = overrides({ header: "Bars", cell: "8-#6" });
    expect(unmet).toEqual([]);
    expect(eight.map(({ line, change }) => (change.kind === "quantity" ? `${line} ${change.quantity}` : `${change.kind}`))).toEqual([
      "jacket", "6 count", "6 diameter", "6 depth", "7 bars", "7 projection", "7 embedment",
    ]);
    expect(jacketOf(setOf("H"), eight).bars).toBe(8);
    const { lines, stray } = buildPlan(setOf("H"), { mark: "11-A", overrides: eight });
    expect(stray).toEqual([]);
    expect(lines.find(({ line }) => line === "7")?.quantities.find(({ id }) => id === "embedment")?.rule).toMatchObject({ form: "each", of: "bar", count: 8 });
    expect(eight.every((one) => OverrideSchema.safeParse(one).success)).toBe(true);
  });

  it("the size of the bars where a point asks for it, and a question where none does", () => {
    expect(overrides({ header: "Bars", cell: "6-#5" }).overrides.map(({ line, change }) => [line, change])).toEqual([["7", { kind: "quantity", quantity: "size", rule: { form: "exact", value: "#5" } }]]);
    expect(overrides({ header: "Bars", cell: "4-#6", type: "T" })).toEqual({ overrides: [], unmet: ["#6 bars where the type has #5, and no point of the type asks for the size."] });
  });

  it("a requirement with a column of its own, in the unit of the rule", () => {
    expect(requirement("18", "width", "quantity", "in", "99").overrides[0]?.change).toMatchObject({ kind: "quantity", quantity: "width", rule: { form: "min", limit: "99", unit: "in" } });
    expect(requirement("18", "width", "quantity", "mm", "254").overrides[0]?.change).toMatchObject({ rule: { limit: "10", unit: "in" } });
    expect(requirement("9", "torque", "quantity", "ft·lbf", "60 to 65").overrides[0]?.change).toMatchObject({ rule: { form: "each", rule: { form: "range", min: "60", max: "65" } } });
    expect(requirement("11", "4", "wait", null, "24").overrides[0]?.change).toEqual({ kind: "wait", from: "4", hours: "24" });
  });

  it("nothing with a requirement that is the type's own", () => {
    expect(requirement("9", "torque", "quantity", "ft·lbf", "65.0-72")).toEqual({ overrides: [], unmet: [] });
  });

  it.each<[string, () => PileOverrides, RegExp]>([
    ["a type that does not have it", () => requirement("9", "torque", "quantity", "ft·lbf", "60 to 65", "T"), /type T does not have/],
    ["one number for a range", () => requirement("9", "torque", "quantity", "ft·lbf", "60"), /two ends/],
    ["a range the wrong way round", () => requirement("9", "torque", "quantity", "ft·lbf", "72 to 65"), /ends before it begins/],
    ["half a pass", () => requirement("6", "passes", "quantity", null, "2.5"), /whole number/],
  ])("a question, with %s", (_, made, words) => {
    expect(made()).toMatchObject({ overrides: [], unmet: [expect.stringMatching(words)] });
  });
});
