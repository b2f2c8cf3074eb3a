import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { composePlan, type Applies, type IssuedSet, type Signed } from "#lib/domain/plan/compose";
import { atLeast, INSPECTOR, line, quantity, wait } from "#lib/domain/plan/line-part";
import { buildPlan, requirementSet, type Override, type PlanLine, type TimedOverride } from "#lib/domain/plan/plan";
import type { PlanLineSpec } from "#lib/domain/requirement/set";
import { writeRevision } from "#seed/specification";

const DAY = 24 * 3_600_000;
const at = (day: number): number => Date.parse("2026-11-01T12:00:00Z") + day * DAY;

/** A point with one limit, standing on the one before it. */
const point = (id: string, after: string[], limit = "8", parts: Partial<PlanLineSpec> = {}): PlanLineSpec =>
  line({ line: id, name: `Point ${id}`, kind: "H", after, quantities: [quantity("overlap", "Overlap", atLeast(limit, "in"))], release: INSPECTOR, ...parts });

const B: PlanLineSpec[] = [point("12", []), point("15", ["12"]), point("17", ["15"])];
const raised = (limit: string, ids = ["15"]): PlanLineSpec[] => B.map((one) => (ids.includes(one.line) ? point(one.line, one.after, limit) : one));

interface Issue {
  lines?: PlanLineSpec[] | null;
  answers?: Record<string, Applies>;
  seq?: number;
  approved?: number;
  from?: number;
}
const issue = (letter: string, { lines = B, answers = {}, seq = letter.charCodeAt(0), approved = 0, from = approved }: Issue = {}): IssuedSet => ({
  letter, seq, approvedAt: at(approved), appliesFrom: at(from), set: lines && { lines }, answers: new Map(Object.entries(answers)),
});
const FIRST = issue("B", { seq: 1, approved: 0 });

interface Standing {
  signed?: Record<string, Signed>;
  begun?: number | null;
  now?: number;
  overrides?: TimedOverride[];
}
function compose(revisions: IssuedSet[], { signed = {}, begun = 1, now = 20, overrides = [] }: Standing = {}) {
  return composePlan({ mark: "07-A", overrides }, { revisions, signed: new Map(Object.entries(signed)), begunAt: begun === null ? null : at(begun), at: at(now) })!;
}
const letters = (plan: ReturnType<typeof compose>): string => plan.lines.map(({ line: id }) => `${id}${plan.under.get(id)?.letter ?? "?"}`).join(" ");
const limitAt = (lines: readonly PlanLine[], id: string): unknown => {
  const rule = lines.find((one) => one.line === id)?.quantities[0]?.rule;
  return rule?.form === "min" ? rule.limit : rule?.form;
};

describe("a pile in work under a later revision", () => {
  const c = (answers: Record<string, Applies>, parts: Issue = {}): IssuedSet => issue("C", { lines: raised("9", ["12", "15"]), answers, seq: 50, approved: 5, ...parts });
  const signedBefore: Record<string, Signed> = { "12": { seq: 20, letter: "B" } };

  it.each<[string, Record<string, Applies>, Standing, string]>([
    ["leaves what is signed and moves what is open", { "12": "open points", "15": "open points" }, { signed: signedBefore }, "12B 15C 17C"],
    ["moves nothing that only later piles take up, but what is not changed goes on under it", { "12": "piles that start", "15": "piles that start" }, { signed: signedBefore }, "12B 15B 17C"],
    ["reaches what is signed where the answer is retroactive", { "12": "retroactive", "15": "piles that start" }, { signed: signedBefore }, "12C 15B 17C"],
    ["takes an answer for each line by itself", { "12": "open points", "15": "piles that start" }, {}, "12C 15B 17C"],
    ["moves an open point where no answer was given", {}, { signed: signedBefore }, "12B 15C 17C"],
    ["holds whole for a pile that has not begun", { "12": "piles that start", "15": "piles that start" }, { begun: null }, "12C 15C 17C"],
    ["holds whole for a pile that began under it", { "12": "piles that start", "15": "piles that start" }, { begun: 6 }, "12C 15C 17C"],
  ])("%s", (_what, answers, standing, expected) => {
    expect(letters(compose([FIRST, c(answers)], standing))).toBe(expected);
  });

  it("is not there before the instant it applies from, and is from that instant on", () => {
    const later = c({ "12": "open points", "15": "open points" }, { from: 10 });
    expect(letters(compose([FIRST, later], { now: 9.9 }))).toBe("12B 15B 17B");
    expect(letters(compose([FIRST, later], { now: 10 }))).toBe("12C 15C 17C");
    expect(compose([FIRST, later], { begun: null, now: 9.9 }).base.letter).toBe("B");
    expect(compose([FIRST, later], { begun: null, now: 10 }).base.letter).toBe("C");
  });

  it("reaches back from its approval and not only from when it applies to the rest", () => {
    const later = c({ "12": "retroactive", "15": "open points" }, { from: 10 });
    expect(letters(compose([FIRST, later], { signed: signedBefore, now: 6 }))).toBe("12C 15B 17B");
    expect(letters(compose([FIRST, later], { signed: signedBefore, now: 4 }))).toBe("12B 15B 17B");
  });

  it("leaves what was signed between its approval and its beginning under the revision that it names", () => {
    const later = c({ "12": "open points" }, { from: 10 });
    expect(letters(compose([FIRST, later], { signed: { "12": { seq: 60, letter: "B" } }, now: 12 }))).toBe("12B 15C 17C");
  });

  it("does not take up again what an earlier answer held off and it leaves as it was", () => {
    const d = issue("D", { lines: [...raised("9", ["12", "15"]).slice(0, 2), point("17", ["15"], "10")], answers: { "17": "open points" }, seq: 70, approved: 8 });
    const plan = compose([FIRST, c({ "12": "piles that start", "15": "piles that start" }), d]);
    expect(letters(plan)).toBe("12B 15B 17D");
    expect([limitAt(plan.lines, "12"), limitAt(plan.lines, "17")]).toEqual(["8", "10"]);
  });

  it("does not move what was signed under it by its own answer", () => {
    expect(letters(compose([FIRST, c({ "12": "retroactive" })], { signed: { "12": { seq: 60, letter: "C" } } }))).toBe("12C 15C 17C");
  });

  it("is taken in the order of approval, however the list comes", () => {
    const d = issue("D", { lines: raised("10"), answers: { "15": "open points" }, seq: 70, approved: 8 });
    expect(limitAt(compose([d, c({}), FIRST]).lines, "15")).toBe("10");
  });
});

describe("a line that comes or goes with a revision", () => {
  const added = [B[0]!, point("13", ["12"]), point("15", ["13"], "8", { waits: [wait("at most", "13", "2", "began", "resin to wrap")] }), B[2]!];
  const removed = [B[0]!, point("17", ["12"])];

  it("is added to a pile in work at its place in the plan", () => {
    const plan = compose([FIRST, issue("C", { lines: added, seq: 50, approved: 5 })]);
    expect(letters(plan)).toBe("12C 13C 15C 17C");
  });

  it("is not added where only later piles take it up, and nobody waits for it there", () => {
    const plan = compose([FIRST, issue("C", { lines: added, answers: { "13": "piles that start", "15": "open points" }, seq: 50, approved: 5 })]);
    expect(letters(plan)).toBe("12C 15C 17C");
    const wrap = plan.lines.find(({ line: id }) => id === "15");
    expect([wrap?.after, wrap?.waits]).toEqual([["12"], []]);
  });

  it("is taken out where it is open, and the next point stands on what it stood on", () => {
    const plan = compose([FIRST, issue("C", { lines: removed, answers: { "15": "open points", "17": "piles that start" }, seq: 50, approved: 5 })], { signed: { "12": { seq: 9, letter: "B" } } });
    expect(letters(plan)).toBe("12B 17B");
    expect(plan.lines[1]?.after).toEqual(["12"]);
  });

  it.each<Applies>(["open points", "retroactive"])("stays in the record where it is signed, also when the answer is %s", (applies) => {
    const plan = compose([FIRST, issue("C", { lines: removed, answers: { "15": applies }, seq: 50, approved: 5 })], { signed: { "15": { seq: 9, letter: "B" } } });
    expect(letters(plan)).toBe("12C 15B 17C");
  });

  it("leaves a type that a revision has no set for under the one before", () => {
    expect(letters(compose([FIRST, issue("C", { lines: null, seq: 50, approved: 5 })], { begun: null }))).toBe("12B 15B 17B");
    expect(composePlan({ mark: "x", overrides: [] }, { revisions: [issue("B", { lines: null })], signed: new Map(), begunAt: null, at: at(1) })).toBeNull();
  });

  it("keeps a project that applies from later under its first revision until then", () => {
    expect(compose([issue("B", { seq: 1, approved: 0, from: 9 })], { begun: null, now: 1 }).base.letter).toBe("B");
  });
});

describe("a pile's own requirement", () => {
  const override: Override = { line: "15", drawing: "S-9", words: "Wider.", change: { kind: "quantity", quantity: "overlap", rule: { form: "min", limit: "11", unit: "in", inclusive: true } } };
  const from = (fromSeq: number, untilSeq: number | null = null): TimedOverride => ({ override, fromSeq, untilSeq });

  it.each<[string, TimedOverride[], Record<string, Signed>, string]>([
    ["holds for an open point", [from(30)], {}, "11"],
    ["holds for what was signed after it", [from(30)], { "15": { seq: 31, letter: "B" } }, "11"],
    ["does not reach what was signed before it", [from(30)], { "15": { seq: 29, letter: "B" } }, "8"],
    ["stays with what was signed while it held", [from(10, 40)], { "15": { seq: 20, letter: "B" } }, "11"],
    ["is over for an open point once it ended", [from(10, 40)], {}, "8"],
  ])("%s", (_what, overrides, signed, limit) => {
    expect(limitAt(compose([FIRST], { overrides, signed }).lines, "15")).toBe(limit);
  });

  it("stays over a revision that changes what it replaces, and says what the type asks for now", () => {
    const plan = compose([FIRST, issue("C", { lines: raised("9"), seq: 50, approved: 5 })], { overrides: [from(0)] });
    expect(plan.lines[1]?.quantities[0]).toMatchObject({ rule: { limit: "11" }, override: { drawing: "S-9", was: { limit: "9" } } });
  });

  it("that no point uses is reported", () => {
    const elsewhere: TimedOverride = { override: { ...override, line: "16" }, fromSeq: 0, untilSeq: null };
    const jacket: TimedOverride = { override: { ...override, change: { kind: "jacket", field: "heightIn", value: "40" } }, fromSeq: 0, untilSeq: null };
    const plan = compose([FIRST], { overrides: [elsewhere, jacket, from(30)], signed: { "15": { seq: 29, letter: "B" } } });
    expect(plan.stray).toEqual([elsewhere.override, override]);
  });
});

describe("for any piles and revisions", () => {
  const SETS = (["B", "C"] as const).flatMap((letter) => ["H", "C", "T"].map((type) => requirementSet(writeRevision(letter), type)!));
  const Ids = fc.subarray(Array.from({ length: 26 }, (_, index) => `${index + 1}`));
  const APPLY = fc.constantFrom<Applies>("piles that start", "open points", "retroactive");

  it("one revision gives the plan as it is written", () => {
    fc.assert(fc.property(fc.constantFrom(...SETS), Ids, fc.integer({ min: -5, max: 25 }), (set, done, now) => {
      const signed = Object.fromEntries(done.map((id, index) => [id, { seq: index + 2, letter: "B" }]));
      const plan = compose([issue("B", { lines: set.lines, seq: 1 })], { signed, now });
      expect(plan.lines).toEqual(buildPlan(set, { mark: "07-A", overrides: [] }).lines);
    }), { numRuns: 60 });
  });

  it("revisions that ask for the same never move a signed point, and change no line", () => {
    fc.assert(fc.property(fc.constantFrom(...SETS), Ids, fc.array(APPLY, { minLength: 1, maxLength: 3 }), (set, done, answers) => {
      const revisions = answers.map((applies, index) => issue(String.fromCharCode(67 + index), { lines: structuredClone(set.lines), answers: Object.fromEntries(done.map((id) => [id, applies])), seq: 50 + index, approved: 5 + index }));
      const signed = Object.fromEntries(done.map((id, index) => [id, { seq: index + 2, letter: "B" }]));
      const plan = compose([issue("B", { lines: set.lines, seq: 1 }), ...revisions], { signed });
      expect(done.map((id) => plan.under.get(id)?.letter)).toEqual(done.map(() => "B"));
      expect(plan.lines).toEqual(buildPlan(set, { mark: "07-A", overrides: [] }).lines);
    }), { numRuns: 60 });
  });

  /** A set with some points left out: what stood on them stands on what they stood on. */
  const without = (set: readonly PlanLineSpec[], gone: readonly string[]): PlanLineSpec[] => {
    const standsOn = (ids: readonly string[]): string[] => [...new Set(ids.flatMap((id) => (gone.includes(id) ? standsOn(set.find((one) => one.line === id)!.after) : [id])))];
    return set.filter((one) => !gone.includes(one.line)).map((one) => ({
      ...one, after: standsOn(one.after), waits: one.waits.filter(({ from }) => !gone.includes(from)), hiddenBy: one.hiddenBy.filter((id) => !gone.includes(id)),
    }));
  };

  it("keeps every signed point, names no point that is not there, and puts each behind what it stands on", () => {
    fc.assert(fc.property(fc.constantFrom(...SETS), Ids, Ids, Ids, APPLY, APPLY, fc.integer({ min: 4, max: 12 }), ({ lines }, goneB, goneC, done, first, second, now) => {
      const [b, c] = [without(lines, goneB), without(lines, goneC)];
      if (b.length === 0 || c.length === 0) return;
      const answers = Object.fromEntries(lines.map(({ line: id }, index) => [id, index % 2 ? first : second]));
      const signed = Object.fromEntries(done.filter((id) => !goneB.includes(id)).map((id, index) => [id, { seq: index + 2, letter: "B" }]));
      const plan = compose([issue("B", { lines: b, seq: 1 }), issue("C", { lines: c, answers, seq: 50, approved: 5, from: 8 })], { signed, now });
      const ids = plan.lines.map(({ line: id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
      expect(ids).toEqual(expect.arrayContaining(Object.keys(signed)));
      const known = new Set(lines.map(({ line: id }) => id));
      plan.lines.forEach(({ after, waits }, index) => {
        for (const id of [...after, ...waits.map(({ from }) => from)].filter((one) => known.has(one))) expect(ids.slice(0, index)).toContain(id);
      });
    }), { numRuns: 150 });
  });
});
