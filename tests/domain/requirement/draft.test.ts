import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RevisionSchema, type Revision } from "#lib/domain/requirement/set";
import { addPoint, draftFaults, DraftSchema, nextLetter, removePoint } from "#lib/domain/requirement/draft";
import { readSet, valuesOfSet } from "#lib/domain/requirement/draft-design";
import { differingFacts, readLine, valuesOfLine } from "#lib/domain/requirement/draft-line";
import { quantityRows, readQuantity, valuesOfRow } from "#lib/domain/requirement/draft-quantity";
import { bareProjectLines, bareSet } from "#lib/domain/requirement/draft-set";
import { writeRevision } from "#seed/specification";

const revision = RevisionSchema.parse(writeRevision("C"));
const lineIds = revision.sets[0]!.lines.map(({ line }) => line);
const linesAt = (id: string, from: Revision = revision) => from.sets.flatMap(({ type, lines }) => lines.filter(({ line }) => line === id).map((line) => ({ type, line })));

describe("a form of the draft", () => {
  it.each(lineIds)("of every quantity of point %s gives back what it was drawn from", (id) => {
    const rows = quantityRows(linesAt(id));
    for (const row of rows) expect(readQuantity(valuesOfRow(row), row.of)).toEqual({ quantities: row.of });
    const asked = linesAt(id).reduce((sum, { line }) => sum + line.quantities.length, 0);
    expect(rows.reduce((sum, { types }) => sum + types.length, 0)).toBe(asked);
  });

  it.each(lineIds)("of point %s itself gives back what it was drawn from", (id) => {
    const lines = linesAt(id);
    expect(readLine(valuesOfLine(lines), lines)).toEqual({ lines: Object.fromEntries(lines.map(({ type, line }) => [type, line])) });
  });

  it.each(["H", "C", "T"])("of the design of type %s gives back what it was drawn from", (type) => {
    const set = revision.sets.find((one) => one.type === type)!;
    expect(readSet(valuesOfSet(set), set)).toEqual({ set });
  });

  it("puts types that ask in the same form into one row, each with its own numbers, and others into rows of their own", () => {
    expect(quantityRows(linesAt("15")).map(({ id, types }) => `${id} ${types.join("")}`)).toEqual(["layers HCT", "overlap HCT", "diameter HCT", "gap HCT", "pot-life HCT"]);
    expect(quantityRows(linesAt("4")).map(({ id, types }) => `${id} ${types.join("")}`)).toEqual(["grade H", "salt H", "profile H", "amplitude C", "sound C", "bright T", "probe T"]);
  });

  it("writes a fact of the point to all types only when it was changed", () => {
    const lines = linesAt("8");
    const own = lines.map(({ type, line }) => (type === "T" ? { type, line: { ...line, submits: ["QC manager" as const] } } : { type, line }));
    expect(differingFacts(own)).toEqual(["Submitted by"]);
    const kept = readLine(valuesOfLine(own), own);
    expect("lines" in kept && kept.lines.T?.submits).toEqual(["QC manager"]);
    const changed = readLine({ ...valuesOfLine(own), submits: "crew lead" }, own);
    expect("lines" in changed && Object.values(changed.lines).map(({ submits }) => submits)).toEqual([["crew lead"], ["crew lead"], ["crew lead"]]);
  });

  it("empties a point where it does not apply, and fills it from another type where it applies again", () => {
    const off = readLine({ ...valuesOfLine(linesAt("15")), "notApplicable-C": "No wrap on this type." }, linesAt("15"));
    expect("lines" in off && off.lines.C).toMatchObject({ notApplicable: "No wrap on this type.", quantities: [], photos: [], waits: [] });
    const on = readLine({ ...valuesOfLine(linesAt("9")), "notApplicable-T": "" }, linesAt("9"));
    expect("lines" in on && on.lines.T?.quantities.map(({ id }) => id)).toEqual(["torque", "retorque", "paint"]);
  });

  it("never takes a text for a rule that it is not: whatever is typed is read as a sound rule or refused at a field", () => {
    const row = quantityRows(linesAt("15")).find(({ id }) => id === "overlap")!;
    fc.assert(fc.property(fc.string(), fc.constantFrom("min", "max", "range", "nominal", "count", "grade", "ratio", "elapsed", "cure", "pot life", "recorded", "none"), (text, form) => {
      const values = { ...valuesOfRow(row), form, "limit-T": text, "min-T": text, "max-T": text, "number-T": text, "hours-T": text, life: text, chains: text, from: text };
      const read = readQuantity(values, row.of);
      if ("faults" in read) return read.faults.every(({ field, message }) => field !== null && message !== "");
      return Object.values(read.quantities).every((one) => RevisionSchema.shape.projectLines.element.shape.quantities.element.safeParse(one).success);
    }));
  });
});

describe("a draft", () => {
  it("of a whole revision has nothing that stops its review", () => {
    expect(draftFaults(revision)).toEqual([]);
  });

  it("may hold what a revision may not: the fault is named at its point", () => {
    const lines = revision.sets[1]!.lines.map((line) => (line.line === "5" ? { ...line, after: ["6"] } : line));
    const draft = { ...revision, sets: revision.sets.map((set, index) => (index === 1 ? { ...set, lines } : set)) };
    expect(RevisionSchema.safeParse(draft).success).toBe(false);
    expect(DraftSchema.safeParse(draft).success).toBe(true);
    expect(draftFaults(draft)).toEqual([{ type: "C", line: "5", message: "Point 5 stands on 6, which is not a point before it." }]);
  });

  it("says which photo a statement wants that nobody is asked for", () => {
    const lines = revision.sets[0]!.lines.map((line) => (line.line === "12" ? { ...line, photos: [] } : line));
    expect(draftFaults({ ...revision, sets: [{ ...revision.sets[0]!, lines }] })).toEqual([{ type: "H", line: "12", message: "Edges straight is shown by a photo that point 12 does not ask for." }]);
  });

  it("takes a point of the project's own behind any point, and out again without a trace", () => {
    fc.assert(fc.property(fc.constantFrom(...lineIds), fc.subarray(["H", "C", "T"], { minLength: 1 }), fc.constantFrom("H" as const, "W" as const, "R" as const), fc.boolean(), (after, types, kind, waitedFor) => {
      const added = addPoint(revision, { after, types, name: "Tap test", kind, waitedFor })!;
      expect(added.line).toBe(`${after}a`);
      expect(draftFaults(added.draft)).toEqual([]);
      expect(removePoint(added.draft, added.line)).toEqual(revision);
    }), { numRuns: 30 });
  });

  it("from the catalogue alone is right line by line, and asks for numbers before it is reviewed", () => {
    const facts = { type: "Q", name: "Square", core: "square" as const, coreWidthIn: "16", jacket: { insideDiameterIn: "28", heightIn: "48", layers: 2, spacerRings: 3, tieSets: 5, clamps: 0, bars: 8 } };
    const draft: Revision = { format: 1, letter: "A", title: "First", projectLines: bareProjectLines(), sets: [bareSet(facts)] };
    expect(DraftSchema.safeParse(draft).success).toBe(true);
    expect(new Set(draftFaults(draft).map(({ line }) => line))).toEqual(new Set(["11", "12", "13", "14", "15", "16", "17", "22"]));
  });

  it("has the letter after the last, and none after Z", () => {
    expect([null, "A", "Y", "Z"].map(nextLetter)).toEqual(["A", "B", "Z", null]);
  });
});
