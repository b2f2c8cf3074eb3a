import { describe, expect, it } from "vitest";
import { RuleSchema } from "#lib/domain/requirement/rule";
import { RevisionSchema, type PlanLineSpec, type Revision } from "#lib/domain/requirement/set";
import { writeRevision } from "#seed/specification";

function messages(change: (revision: Revision) => void): string[] {
  const revision = structuredClone(writeRevision("B"));
  change(revision);
  const read = RevisionSchema.safeParse(revision);
  return read.success ? [] : read.error.issues.map(({ message }) => message);
}

const line = (revision: Revision, id: string): PlanLineSpec => revision.sets[0]!.lines.find((one) => one.line === id)!;

describe("a requirement set", () => {
  it("is accepted as it stands", () => {
    expect(messages(() => undefined)).toEqual([]);
  });

  it.each<[string, (revision: Revision) => void, string]>([
    ["a point that stands on a later one", (r) => line(r, "4").after.push("5"), "Point 4 stands on 5, which is not a point before it."],
    ["a point that stands on itself", (r) => line(r, "4").after.push("4"), "Point 4 stands on 4, which is not a point before it."],
    ["a point written twice", (r) => r.sets[0]!.lines.push(structuredClone(line(r, "26"))), "Point 26 is written twice."],
    ["a wait from a later point", (r) => (line(r, "7").waits[0]!.from = "9"), "Point 7 waits for 9, which is not a point before it."],
    ["a point hidden by an earlier one", (r) => (line(r, "7").hiddenBy = ["6"]), "Point 7 is hidden by 6, which is not a point after it."],
    ["one quantity named twice", (r) => line(r, "8").quantities.push(line(r, "8").quantities[0]!), "Point 8 names one quantity twice."],
    ["a value worked out from one that is not measured", (r) => (line(r, "7").quantities = line(r, "7").quantities.filter(({ id }) => id !== "projection")), "Embedment is worked out from projection, which the point does not measure."],
    ["a ratio that nobody works out", (r) => (line(r, "13").quantities.find(({ id }) => id === "ratio")!.derived = null), "Mix ratio is judged by a rule of form ratio, and is worked out by nobody."],
    ["a cure that runs from a later point", (r) => {
      const cure = line(r, "17").quantities.find(({ id }) => id === "cure")!;
      cure.rule = { form: "cure", from: "18", hours: "18", referenceC: "20", minimumC: null, underMinimum: "pause" };
    }, "Cure at reference temperature runs from point 18, which is not a point before it."],
    ["a hold point that the contractor releases", (r) => (line(r, "18").release.roles = ["QC manager"]), "Point 18 is a hold point, and nobody independent of the contractor releases it."],
    ["a point of the project sheet that is not there", (r) => line(r, "1").after.push("P9"), "Point 1 stands on P9, which is no point of the project sheet."],
    ["two sets for a type", (r) => r.sets.push(structuredClone(r.sets[0]!)), "One pile type has two requirement sets."],
  ])("is refused with %s", (_what, change, message) => {
    expect(messages(change)).toContain(message);
  });

  it("is refused with a member that it does not know, or a number that is not plain decimal text", () => {
    expect(messages((r) => Object.assign(r.sets[0]!, { note: "x" }))).not.toEqual([]);
    expect(messages((r) => (r.sets[0]!.coreWidthIn = "1e400"))).toContain("Write a plain decimal number, such as 7.0.");
    expect(messages((r) => (line(r, "11").waits[0]!.hours = "Infinity"))).toContain("Write a plain decimal number, such as 7.0.");
  });
});

describe("a rule", () => {
  it.each([
    ["a range that ends before it begins", { form: "range", min: "72", max: "65", unit: "ft·lbf", inclusiveMin: true, inclusiveMax: true }],
    ["a negative tolerance", { form: "nominal", nominal: "3.5", plus: "0.1", minus: "-0.1", unit: "in" }],
    ["a count of nothing at all", { form: "count", exactly: null, atLeast: null }],
    ["a count both exact and least", { form: "count", exactly: 6, atLeast: 6 }],
    ["a grade on no scale", { form: "grade", atLeast: "Sa 4", chains: [["Sa 2", "Sa 3"]] }],
    ["a ratio to nothing", { form: "ratio", a: "100", b: "0", tolerancePct: "3", basis: "mass" }],
    ["an elapsed time without an end", { form: "elapsed", from: { line: "4", event: "ended" }, to: "ended", atLeastHours: null, atMostHours: null }],
    ["one of these for each bar", { form: "each", of: "bar", count: 6, rule: { form: "range", min: "2", max: "1", unit: "in", inclusiveMin: true, inclusiveMax: true } }],
    ["one of these among several", { form: "all of", rules: [{ form: "count", exactly: null, atLeast: null }, { form: "count", exactly: 6, atLeast: null }] }],
    ["a unit that is not known", { form: "min", limit: "7", unit: "furlong", inclusive: true }],
  ])("is refused with %s", (_what, rule) => {
    expect(RuleSchema.safeParse(rule).success).toBe(false);
  });
});
