import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Decimal } from "#lib/domain/quantity/decimal";
import { chainsWith, GRADE_CHAINS } from "#lib/domain/requirement/grade";
import { findingOf, judgeFinding } from "#lib/domain/requirement/judge";
import { RuleSchema, type SingleRule } from "#lib/domain/requirement/rule";

const ALL = GRADE_CHAINS.map(({ grades }) => [...grades]);
const grades = ALL.flat();
const ruleOf = (atLeast: string): SingleRule => ({ form: "grade", atLeast, chains: ALL });
const verdict = (achieved: string, atLeast: string) => judgeFinding(ruleOf(atLeast), findingOf({ kind: "words", quantity: "grade", item: null, words: achieved }, new Decimal(0))).verdict;

describe("the published grades of surface preparation", () => {
  it("make rules that a requirement may hold, each grade once", () => {
    expect(new Set(grades).size).toBe(grades.length);
    for (const atLeast of grades) expect(RuleSchema.safeParse(ruleOf(atLeast)).success, atLeast).toBe(true);
    for (const { name, source, note } of GRADE_CHAINS) expect([name, source, note].every((words) => words.length > 0), name).toBe(true);
  });

  // Orders within ISO 8501-1, SSPC/NACE and ICRI 310.2R; what has no common order from pages that compare them: SP 6 is stricter than Sa 2, SP 11 and SP 15 have
  // no ISO grade, and a tool grade is never a blast grade.
  it.each([
    ["Sa 2½", "Sa 2", "meets"], ["Sa 2", "Sa 2½", "fails"], ["Sa 3", "Sa 3", "meets"], ["St 3", "St 2", "meets"], ["St 2", "St 3", "fails"],
    ["SP 10", "SP 6", "meets"], ["SP 6", "SP 10", "fails"], ["SP 5", "SP 14", "meets"], ["SP 7", "SP 14", "fails"], ["SP 11", "SP 15", "meets"], ["SP 3", "SP 15", "fails"], ["CSP 5", "CSP 3", "meets"], ["CSP 2", "CSP 10", "fails"],
    ["SP 6", "Sa 2", "cannot tell"], ["Sa 2", "SP 6", "cannot tell"], ["SP 11", "Sa 2", "cannot tell"], ["SP 11", "St 3", "cannot tell"], ["SP 15", "St 3", "cannot tell"], ["SP 15", "Sa 1", "cannot tell"],
    ["SP 11", "SP 6", "cannot tell"], ["SP 11", "SP 10", "cannot tell"], ["SP 15", "SP 6", "cannot tell"], ["SP 7", "SP 3", "cannot tell"], ["St 3", "Sa 1", "cannot tell"], ["CSP 5", "SP 5", "cannot tell"], ["SP 1", "SP 2", "cannot tell"],
  ])("%s where %s is asked for: %s", (achieved, atLeast, wanted) => expect(verdict(achieved, atLeast)).toBe(wanted));

  it("never meet across scales, and never meet a stricter grade where they fail", () => {
    const grade = fc.constantFrom(...grades);
    fc.assert(
      fc.property(grade, grade, (achieved, atLeast) => {
        const chain = ALL.find((one) => one.includes(atLeast))!;
        if (!chain.includes(achieved)) expect(verdict(achieved, atLeast)).toBe("cannot tell");
        if (verdict(achieved, atLeast) === "fails") for (const stricter of chain.slice(chain.indexOf(atLeast))) expect(verdict(achieved, stricter)).toBe("fails");
      }),
    );
  });
});

describe("the scales proposed for a grade", () => {
  it.each([
    ["Sa 2½", "Steel, blast-cleaned (ISO)"], ["sa 2 1/2", "Steel, blast-cleaned (ISO)"], ["SSPC-SP 10", "Steel, blast-cleaned (SSPC/NACE)"], ["sp11", "Steel, hand or power tools (SSPC)"], ["CSP 3", "Concrete profile (ICRI)"],
  ])("%s are %s", (grade, name) => expect(chainsWith(grade).map((chain) => chain.name)).toEqual([name]));

  it.each(["Sa 4", "SP 1", "bright", ""])("%j are none", (grade) => expect(chainsWith(grade)).toEqual([]));
});
