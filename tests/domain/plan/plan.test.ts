import { describe, expect, it } from "vitest";
import { buildPlan, downstream, predecessors, requirementSet, revisionInForce, upstream, type Override, type PlanLine } from "#lib/domain/plan/plan";
import { RevisionSchema, type RequirementSet, type Revision } from "#lib/domain/requirement/set";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { writeRevision } from "#seed/specification";

const REVISION = writeRevision("B");
const setOf = (type: string): RequirementSet => requirementSet(REVISION, type)!;
const planOf = (type: string, overrides: Override[] = []) => buildPlan(setOf(type), { mark: "04-B", overrides });
const lineOf = (lines: readonly PlanLine[], id: string): PlanLine => lines.find(({ line }) => line === id)!;

describe("the plan of a pile", () => {
  it.each([
    ["H", 26, []],
    ["C", 24, ["8", "9"]],
    ["T", 23, ["6", "7", "9"]],
  ] as const)("of type %s has 26 points of which %i apply", (type, applicable, without) => {
    const { lines } = planOf(type);
    expect(lines.map(({ line }) => line)).toEqual(Array.from({ length: 26 }, (_, index) => `${index + 1}`));
    const absent = lines.filter(({ notApplicable }) => notApplicable !== null);
    expect(absent.map(({ line }) => line)).toEqual(without);
    expect(lines.length - absent.length).toBe(applicable);
    expect(absent.every(({ notApplicable }) => notApplicable!.length > 10)).toBe(true);
    expect(absent.flatMap(({ quantities, photos, lots, waits }) => [...quantities, ...photos, ...lots, ...waits])).toEqual([]);
  });

  it("makes 588 points of eight steel, twelve concrete and four timber piles", () => {
    const applicable = (type: string): number => planOf(type).lines.filter(({ notApplicable }) => notApplicable === null).length;
    expect(applicable("H") * 8 + applicable("C") * 12 + applicable("T") * 4).toBe(588);
  });

  it("writes the pile's mark where a rule asks for it, and leaves the set alone", () => {
    expect(lineOf(planOf("H").lines, "2").quantities.find(({ id }) => id === "mark")?.rule).toEqual({ form: "exact", value: "04-B" });
    expect(setOf("H").lines[1]?.quantities[0]?.rule).toEqual({ form: "exact", value: "{mark}" });
  });

  it("has no set for a type that the revision does not know", () => {
    expect(requirementSet(REVISION, "Z")).toBeNull();
  });
});

describe("what a point stands on", () => {
  it.each([
    ["T", "10", ["5", "8"]],
    ["C", "10", ["7", "5"]],
    ["H", "10", ["7", "9", "8"]],
    ["T", "11", ["4", "5", "8", "10"]],
    ["C", "9", ["5"]],
  ] as const)("on type %s, point %s passes through what does not apply: %j", (type, line, before) => {
    const { lines } = planOf(type);
    expect(predecessors(lines, lineOf(lines, line))).toEqual(before);
  });

  it("is behind it when it is reached through another: the survey of a concrete pile lies behind its bars", () => {
    const { lines } = planOf("C");
    expect(upstream(lines, lineOf(lines, "7"))).toContain("5");
  });

  it("never names a point that does not apply, for any type and point", () => {
    for (const type of ["H", "C", "T"]) {
      const { lines } = planOf(type);
      const absent = new Set(lines.filter(({ notApplicable }) => notApplicable).map(({ line }) => line));
      for (const line of lines) expect([...predecessors(lines, line), ...upstream(lines, line), ...downstream(lines, line)].filter((id) => absent.has(id))).toEqual([]);
    }
  });

  it("puts the project's points first, then the plan's order", () => {
    const { lines } = planOf("H");
    expect(upstream(lines, lineOf(lines, "3"))).toEqual(["P1", "P4", "1", "2"]);
  });

  it("mirrors what stands on it", () => {
    for (const type of ["H", "C", "T"]) {
      const { lines } = planOf(type);
      const applicable = lines.filter(({ notApplicable }) => !notApplicable);
      for (const line of applicable) {
        expect(downstream(lines, line)).toEqual(applicable.filter((one) => upstream(lines, one).includes(line.line)).map((one) => one.line));
      }
    }
  });
});

const embedment: Override = {
  line: "7", drawing: "S-114 rev. 2", words: "Thin cap.",
  change: { kind: "quantity", quantity: "embedment", rule: { form: "each", of: "bar", count: 6, sample: null, rule: { form: "min", limit: "8.0", unit: "in", inclusive: true } } },
};
const toCoverUp: Override = { line: "11", drawing: "S-114 rev. 2", words: "Bent note.", change: { kind: "wait", from: "4", hours: "24" } };

describe("an override of one pile", () => {
  it("of a quantity stands in place of the type's, with its drawing and what it was", () => {
    const { lines, stray } = planOf("H", [embedment]);
    const found = lineOf(lines, "7").quantities.find(({ id }) => id === "embedment");
    expect(found?.rule).toMatchObject({ rule: { limit: "8.0" } });
    expect(found?.override).toMatchObject({ drawing: "S-114 rev. 2", words: "Thin cap.", was: { rule: { limit: "7.0" } } });
    expect(stray).toEqual([]);
  });

  it("of a wait changes its hours, and no other wait of the point", () => {
    const { waits } = lineOf(planOf("H", [toCoverUp]).lines, "11");
    expect(waits.map(({ from, hours, override }) => [from, hours, override?.was ?? null])).toEqual([["3", "168", null], ["4", "24", "96"]]);
  });

  it("may ask for the pile's mark as the type's rule does", () => {
    const mark: Override = { line: "2", drawing: "S-1", words: "Old tag.", change: { kind: "quantity", quantity: "mark", rule: { form: "exact", value: "{mark} / P-9" } } };
    expect(lineOf(planOf("H", [mark]).lines, "2").quantities[0]?.rule).toEqual({ form: "exact", value: "04-B / P-9" });
  });

  it.each([
    ["names no quantity of the point", { ...embedment, line: "8" } satisfies Override],
    ["names no wait of the point", { ...toCoverUp, change: { kind: "wait", from: "5", hours: "24" } } satisfies Override],
    ["names a point that is not in the plan", { ...embedment, line: "31" } satisfies Override],
    ["comes second for the same thing", embedment],
  ])("is reported when it %s", (why, override) => {
    const overrides = why.includes("second") ? [embedment, { ...override, drawing: "S-115" }] : [override];
    const { stray, lines } = planOf("H", overrides);
    expect(stray).toEqual([overrides.at(-1)]);
    expect(lineOf(lines, "7").quantities.find(({ id }) => id === "embedment")?.override?.drawing ?? null).toBe(why.includes("second") ? "S-114 rev. 2" : null);
  });

  it("is reported on a type where the point does not apply", () => {
    expect(planOf("T", [embedment]).stray).toEqual([embedment]);
  });
});

describe("a revision", () => {
  it("is read as it was written, and its digest stays the same", () => {
    expect(RevisionSchema.parse(JSON.parse(JSON.stringify(REVISION)))).toEqual(REVISION);
    const shuffled = Object.fromEntries(Object.entries(REVISION).reverse()) as unknown as Revision;
    expect(sha256(canonicalBytes(shuffled))).toBe(sha256(canonicalBytes(REVISION)));
    expect(sha256(canonicalBytes(writeRevision("B")))).toBe(sha256(canonicalBytes(REVISION)));
    expect(sha256(canonicalBytes(writeRevision("C")))).not.toBe(sha256(canonicalBytes(REVISION)));
  });

  it("puts four points on the project sheet; the mock-up needs two releases", () => {
    const lines = buildPlan({ lines: REVISION.projectLines }, { mark: "", overrides: [] }).lines;
    expect(lines.map(({ line, kind, register }) => [line, kind, register])).toEqual([["P1", "H", null], ["P2", "R", "instruments"], ["P3", "W", "lots"], ["P4", "H", null]]);
    expect(lines[3]?.release).toMatchObject({ roles: ["inspector", "engineer"], all: true });
  });

  it("in force is the last one that applies at the instant", () => {
    const revisions = [{ letter: "C", appliesFrom: 200 }, { letter: "B", appliesFrom: 100 }];
    expect([99, 100, 199, 200, 900].map((at) => revisionInForce(revisions, at)?.letter ?? null)).toEqual([null, "B", "B", "C", "C"]);
  });
});
