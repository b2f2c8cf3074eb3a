import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sameLine } from "#lib/domain/plan/compose";
import { atLeast, between, each, exactly, photo, quantity, releasedBy, wait } from "#lib/domain/plan/line-part";
import { differenceOf, isSame, type Change } from "#lib/domain/requirement/difference";
import type { PlanLineSpec, Revision } from "#lib/domain/requirement/set";
import { writeRevision } from "#seed/specification";

const B = writeRevision("B");
const C = writeRevision("C");

/** Revision B with a line of one type, or of all, changed; null takes it out. */
function changed(line: string, change: (line: PlanLineSpec) => PlanLineSpec | null, type?: string): Revision {
  const next = structuredClone(B);
  for (const set of next.sets.filter((one) => !type || one.type === type)) set.lines = set.lines.flatMap((one) => (one.line === line ? (change(one) ?? []) : one));
  return next;
}
const parts = (now: Revision): string[] => differenceOf(B, now).changes.flatMap(({ lines: [lead] }) => lead!.parts.map(({ name, was, now: is }) => `${name}: ${was ?? "none"} > ${is ?? "none"}`));
const shape = ({ number, lead, types, lines, followers }: Change) => ({ number, lead: `${lead.type} ${lead.line}`, types, lines: lines.map(({ type, line }) => `${type} ${line}`), followers: followers.map(({ line }) => line) });

describe("what revision C changes", () => {
  it("is the overlap on timber with the length and the coated share that follow from it, and the cure on every type", () => {
    const { changes, facts, addedTypes, removedTypes } = differenceOf(B, C);
    expect(changes.map(shape)).toEqual([
      { number: 1, lead: "T 15", types: ["T"], lines: ["T 15", "T 12", "T 14"], followers: ["12", "14"] },
      { number: 2, lead: "H 17", types: ["H", "C", "T"], lines: ["H 17", "C 17", "T 17"], followers: [] },
    ]);
    expect(changes.flatMap(({ lines }) => lines.flatMap((line) => line.parts.map(({ name, was, now }) => `${line.type} ${name}: ${was} > ${now}`)))).toEqual([
      "T Overlap: ≥ 8 in > ≥ 9 in", "T Length: ≥ 128.45 in > ≥ 129.45 in", "T Share of strip coated: ≥ 53.1 % > ≥ 53.5 %",
      ...["H", "C", "T"].map((type) => `${type} Cure at reference temperature: 18 h at 20 °C, paused under 8 °C > 20 h at 20 °C, paused under 8 °C`),
    ]);
    expect(changes[0]?.from).toEqual([{ type: "T", name: "sheet, overlap", was: "8 in", now: "9 in" }]);
    expect([facts, addedTypes, removedTypes]).toEqual([[], [], []]);
  });

  it("is nothing against itself", () => {
    expect(isSame(differenceOf(B, writeRevision("B")))).toBe(true);
    expect(isSame(differenceOf(B, C))).toBe(false);
  });
});

describe("what changes at a line", () => {
  const first = (line: PlanLineSpec) => line.quantities[0]!;

  it.each<[string, Revision, string[]]>([
    ["a quantity added", changed("16", (line) => ({ ...line, quantities: [...line.quantities, quantity("knots", "Knots", exactly(2))] })), ["Knots: none > 2"]],
    ["a quantity removed", changed("16", (line) => ({ ...line, quantities: line.quantities.filter(({ id }) => id !== "seam") })), ["Widest seam gap: ≤ 0.06 in > none"]],
    ["a rule of another form", changed("18", (line) => ({ ...line, quantities: line.quantities.map((one) => (one.id === "width" ? { ...one, rule: between("2", "3", "in") } : one)) })), ["Seal width: ≥ 2.0 in > 2 … 3 in"]],
    ["how many are measured", changed("15", (line) => ({ ...line, quantities: line.quantities.map((one) => (one.id === "gap" ? { ...one, rule: each("face", 8, atLeast("2.0", "in")) } : one)) })), ["Gap to pile: 4 faces: ≥ 2.0 in > 8 faces: ≥ 2.0 in"]],
    ["the instrument", changed("18", (line) => ({ ...line, quantities: line.quantities.map((one) => (one.id === "width" ? { ...one, instrument: null } : one)) })), ["Seal width, instrument: tape > none named"]],
    ["the name and the hint", changed("18", (line) => ({ ...line, quantities: line.quantities.map((one) => (one === first(line) ? { ...one, name: "Kind of seal", hint: "As drawn." } : one)) })), ["Kind of seal, name: Seal > Kind of seal", "Kind of seal, hint: none > As drawn."]],
    ["a wait", changed("19", (line) => ({ ...line, waits: [wait("at most", "18", "24", "began", "seal test to first lift")] })), ["seal test to first lift: at most 48 h from the end of 18 until this begins > at most 24 h from the end of 18 until this begins"]],
    ["a photo added, and one more of another", changed("17", (line) => ({ ...line, photos: [photo("seam", "Seam after cure", 2), line.photos[1]!, photo("tag", "Tag", 1)] })), ["Photo Seam after cure: 1 photo > 2 photos", "Photo Tag: none > 1 photo"]],
    ["kind, roles and policies", changed("17", (line) => ({ ...line, kind: "W", submits: ["QC manager"], release: releasedBy(["inspector", "engineer"], { all: true }), evidenceOnly: null })),
      ["Kind: hold point > witness point", "Submitted by: crew lead or QC manager > QC manager", "Released by: inspector or delegate > inspector and engineer", "On evidence alone: with 2 photos in order > never"]],
    ["the order alone", changed("18", (line) => ({ ...line, quantities: [...line.quantities].reverse() })), ["Order: Seal, Seal width, Test head held, Drop of the head, All round, Seal test > Drop of the head, Test head held, Seal width, Seal, All round, Seal test"]],
  ])("%s", (_what, now, expected) => {
    expect(parts(now)).toEqual(expected);
  });

  it("is its own change on a type where it is another one, and one change where it is the same", () => {
    const now = changed("17", (line) => ({ ...line, name: "Cure" }));
    now.sets.find(({ type }) => type === "T")!.lines.find(({ line }) => line === "17")!.name = "Slow cure";
    expect(differenceOf(B, now).changes.map(({ types }) => types)).toEqual([["H", "C"], ["T"]]);
  });

  it("may be that it comes or goes", () => {
    const without = changed("26", () => null, "H");
    expect(differenceOf(B, without).changes.map((one) => [one.lead.line, one.lead.now, one.types])).toEqual([["26", null, ["H"]]]);
    expect(differenceOf(without, B).changes.map((one) => [one.lead.line, one.lead.was, one.types])).toEqual([["26", null, ["H"]]]);
  });

  it("stands first where it is the project sheet's", () => {
    const now = structuredClone(C);
    now.projectLines[0]!.name = "Submittals";
    expect(differenceOf(B, now).changes.map(({ lead, number }) => [number, lead.type, lead.line])).toEqual([[1, null, "P1"], [2, "T", "15"], [3, "H", "17"]]);
  });
});

describe("limits that follow", () => {
  it("with a change of their own at the same point are answered with it, and not called followers", () => {
    const now = structuredClone(C);
    now.sets.find(({ type }) => type === "T")!.lines.find(({ line }) => line === "12")!.photos = [];
    expect(differenceOf(B, now).changes.map(shape)[0]).toEqual({ number: 1, lead: "T 15", types: ["T"], lines: ["T 15", "T 12", "T 14"], followers: ["14"] });
  });

  it("stand alone where only the sheet's thickness changed, with the drawing that they follow from", () => {
    const now = structuredClone(B);
    const set = now.sets.find(({ type }) => type === "T")!;
    set.design!.sheet!.thickness.value = "0.100";
    set.lines.find(({ line }) => line === "12")!.quantities.find(({ id }) => id === "length")!.rule = atLeast("128.55", "in");
    const [change] = differenceOf(B, now).changes;
    expect([change?.lead.line, change?.from]).toEqual(["12", [{ type: "T", name: "sheet, thickness", was: "0.085 in", now: "0.100 in" }]]);
  });
});

describe("facts that judge no point", () => {
  it("are listed by their names in the drawing", () => {
    const now = structuredClone(B);
    const set = now.sets[0]!;
    set.jacket.spacerRings = 4;
    set.design!.grout!.bagYield.value = "0.45";
    set.design!.bars = null;
    expect(differenceOf(B, now)).toMatchObject({
      changes: [],
      facts: [
        { type: "H", name: "jacket, spacer rings", was: "3", now: "4" },
        { type: "H", name: "bars, size", was: "#6", now: "not given" },
        { type: "H", name: "bars, length", was: "40.0 in", now: "not given" },
        { type: "H", name: "grout, bag yield", was: "0.43 ft³", now: "0.45 ft³" },
      ],
    });
  });

  it("and types that come or go are named", () => {
    const now = { ...structuredClone(B), sets: B.sets.slice(1) };
    expect(differenceOf(B, now)).toMatchObject({ changes: [], removedTypes: ["H"], addedTypes: [] });
    expect(differenceOf(now, B)).toMatchObject({ changes: [], removedTypes: [], addedTypes: ["H"] });
  });
});

describe("for any two revisions", () => {
  const lineIds = B.sets[0]!.lines.map(({ line }) => line);
  const Edit = fc.record({ type: fc.constantFrom("H", "C", "T"), line: fc.constantFrom(...lineIds), act: fc.constantFrom("remove", "rename", "photo", "quantity", "reverse", "kind") });

  it("names every line that is not the same exactly once, with at least one part, numbered from 1", () => {
    fc.assert(fc.property(fc.array(Edit, { maxLength: 8 }), fc.boolean(), (edits, raised) => {
      const now = structuredClone(raised ? C : B);
      for (const { type, line, act } of edits) {
        const set = now.sets.find((one) => one.type === type)!;
        set.lines = set.lines.flatMap((one): PlanLineSpec[] => {
          if (one.line !== line) return [one];
          if (act === "remove") return [];
          if (act === "rename") return [{ ...one, name: `${one.name}, renamed` }];
          if (act === "photo") return [{ ...one, photos: one.photos.slice(1) }];
          if (act === "quantity") return [{ ...one, quantities: one.quantities.slice(1) }];
          if (act === "reverse") return [{ ...one, quantities: [...one.quantities].reverse() }];
          return [{ ...one, kind: one.kind === "H" ? "W" : "H" }];
        });
      }
      const { changes } = differenceOf(B, now);
      const named = changes.flatMap(({ lines }) => lines.map(({ type, line }) => `${type} ${line}`));
      const expected = B.sets.flatMap(({ type, lines }) => lines.filter((line) => !sameLine(line, now.sets.find((one) => one.type === type)!.lines.find((one) => one.line === line.line))).map(({ line }) => `${type} ${line}`));
      expect([...named].sort()).toEqual([...expected].sort());
      expect(changes.map(({ number }) => number)).toEqual(changes.map((_, index) => index + 1));
      expect(changes.flatMap(({ lines }) => lines).every((line) => line.parts.length > 0)).toBe(true);
    }), { numRuns: 60 });
  });
});
