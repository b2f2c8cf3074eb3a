import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { draftFaults } from "#lib/domain/requirement/draft";
import { valuesOfSet } from "#lib/domain/requirement/draft-design";
import { valuesOfLine } from "#lib/domain/requirement/draft-line";
import { quantityRows, valuesOfRow, type Values } from "#lib/domain/requirement/draft-quantity";
import type { PlanLineSpec, Quantity, Revision } from "#lib/domain/requirement/set";
import { requirementWords } from "#lib/domain/requirement/words";
import { findRevisionDraft, type RevisionDraft } from "#lib/db/revision-draft";
import { findMember } from "#lib/db/project";
import { sha256 } from "#lib/records/canonical";
import { issueRevision, latestRevision } from "#lib/services/issue-revision";
import { putDraft, requirementsFile, requirementsList } from "#lib/services/requirements-file";
import { pointRequirements, requirementsView } from "#lib/services/requirements-view";
import { reviewRevision } from "#lib/services/review-revision";
import {
  addCustomPoint, addType, discardDraft, importDraft, linesOfPoint, removeCustomPoint, removeQuantity, saveLine, saveQuantity, saveTitle, saveType, startDraft,
} from "#lib/services/revision-draft";
import { look } from "#tests/services/revised-project";
import { refusedWith as refused } from "#tests/services/refused";
import { CODE, PASSWORD, smallProject, type SmallProject, type Who } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

const draft = async (): Promise<RevisionDraft> => (await findRevisionDraft(small.house.db.read, CODE))!;
const lineOf = ({ draft: revision }: RevisionDraft, id: string): PlanLineSpec => linesOfPoint(revision, id)[0]!.line;
const quantityOf = (found: RevisionDraft, line: string, id: string): Quantity => lineOf(found, line).quantities.find((one) => one.id === id)!;
const view = async (who: Who, asked: string | null = null) => requirementsView(small.house.db.read, small.project, (await findMember(small.house.db.read, CODE, who))!, small.clock.now, asked);

/** Keeps a quantity with some of its fields typed anew. */
async function keep(line: string, id: string, typed: Values, who: Who = "qc") {
  const found = await draft();
  const row = quantityRows(linesOfPoint(found.draft, line)).find((one) => one.id === id)!;
  return saveQuantity(small.as(who), { digest: found.digest, line, id, types: row.types, values: { ...valuesOfRow(row), ...typed } });
}

async function keepPoint(line: string, typed: Values) {
  const found = await draft();
  return saveLine(small.as("qc"), { digest: found.digest, line, values: { ...valuesOfLine(linesOfPoint(found.draft, line)), ...typed } });
}

const begin = () => startDraft(small.as("qc"), { kind: "approved" });

describe("a draft", () => {
  it("begins as the revision approved last stands, under the next letter, once", async () => {
    await begin();
    const { letter, draft: revision } = await draft();
    const latest = (await latestRevision(small.house.db.read, CODE))!;
    expect(letter).toBe("C");
    expect({ ...revision, letter: "B" }).toEqual(latest.revision);
    expect((await refused(begin())).code).toBe("conflict");
  });

  it("is nobody's who has no part in it", async () => {
    expect((await refused(startDraft(small.as("crew"), { kind: "approved" }))).code).toBe("not-allowed");
    await begin();
    expect((await refused(keep("5", "left", { "limit-H": "90" }, "inspector"))).code).toBe("not-allowed");
  });

  it("keeps a limit, and nothing else changes", async () => {
    await begin();
    const before = await draft();
    const { digest } = await keep("5", "left", { "limit-H": "90.0" });
    const after = await draft();
    expect(after.digest).toBe(digest);
    expect(digest).not.toBe(before.digest);
    expect(requirementWords(quantityOf(after, "5", "left").rule)).toBe("≥ 90.0 %");
    const back = await keep("5", "left", { "limit-H": "85" });
    expect(back.digest).toBe(before.digest);
  });

  it("takes every form of rule from its fields", async () => {
    await begin();
    const forms: [Values, string][] = [
      [{ form: "max", inclusive: "false" }, "< 85 %"],
      [{ form: "range", "min-H": "80", "max-H": "95", inclusiveMin: "true", inclusiveMax: "false" }, "80 … under 95 %"],
      [{ form: "nominal", "nominal-H": "90", "plus-H": "2", "minus-H": "1" }, "90 % + 2 − 1"],
      [{ form: "exact", "value-H": "whole" }, "whole"],
      [{ form: "count", "number-H": "4", counted: "at least" }, "≥ 4"],
      [{ form: "grade", "atLeast-H": "St 2", chains: "St 1, St 2\nSa 1, Sa 2" }, "St 2 or better"],
      [{ form: "elapsed", "atLeastHours-H": "12", fromLine: "4", fromEvent: "ended", to: "began" }, "≥ 12 h from the end of point 4 to the beginning of this"],
      [{ form: "cure", from: "4", "hours-H": "18", "referenceC-H": "20", "minimumC-H": "8", underMinimum: "void" }, "18 h at 20 °C, void under 8 °C"],
      [{ form: "maturity", from: "4", "degreeHours-H": "400", "datumC-H": "−10" }, "400 °C·h above -10 °C"],
      [{ form: "equivalent age", from: "4", "hours-H": "24", "referenceC-H": "20", "activationK-H": "5000", underMinimum: "pause" }, "24 h of equivalent age at 20 °C"],
      [{ form: "pot life", from: "4", temperatures: "air", life: "15: 80\n25: 40" }, "inside the pot life from point 4, 80 min at 15 °C to 40 min at 25 °C"],
      [{ form: "pot life", from: "4", temperatures: "air", life: "40 min at 25, factor 2" }, "inside the pot life from point 4, 40 min at 25 °C, divided by 2 for each 10 °C more"],
      [{ form: "statement" }, "stated"],
      [{ form: "recorded", unit: "" }, "recorded"],
      [{ form: "min", unit: "%", "limit-H": "85", inclusive: "true", many: "each", of: "bar", "count-H": "20", "sampleN-H": "5", "sampleAccept-H": "1" }, "≥ 85 %, 5 checked, at most 1 failing"],
    ];
    for (const [typed, words] of forms) {
      await keep("5", "left", typed);
      expect(requirementWords(quantityOf(await draft(), "5", "left").rule)).toBe(words);
      expect(draftFaults((await draft()).draft)).toEqual([]);
    }
  });

  it.each([
    ["a limit that is no number", { "limit-H": "8 inches" }, "limit-H", /plain decimal number/],
    ["a limit left empty", { "limit-H": " " }, "limit-H", /Type H: give/],
    ["a range that ends before it begins", { form: "range", "min-H": "9", "max-H": "8", inclusiveMin: "true", inclusiveMax: "true" }, "min-H", /ends before it begins/],
    ["no unit", { unit: "" }, "unit", /give the unit/],
    ["a sample larger than what there is", { many: "each", of: "bolt", "count-H": "4", "sampleN-H": "5" }, "sampleN-H", /sample/],
    ["no form", { form: "" }, "form", /Choose the form/],
    ["an accuracy of no instrument", { accuracyValue: "4", accuracyKind: "per cent", instrument: "" }, "instrument", /name its class/],
    ["no name", { name: "" }, "name", /name/],
  ] as const)("refuses %s at its field, and stays whole", async (_what, typed, field, message) => {
    await begin();
    const before = await draft();
    const { code, faults } = await refused(keep("5", "left", typed));
    expect(code).toBe("invalid");
    expect(faults[0]?.field).toBe(field);
    expect(faults[0]?.message).toMatch(message);
    expect(await draft()).toEqual(before);
  });

  it("is not written over by somebody who saw an older one", async () => {
    await begin();
    const { digest } = await draft();
    await keep("5", "left", { "limit-H": "90" });
    expect((await refused(saveTitle(small.as("engineer"), { digest, title: "Other" }))).code).toBe("conflict");
    expect((await refused(discardDraft(small.as("engineer"), { digest }))).code).toBe("conflict");
  });

  it("takes a quantity in and out again", async () => {
    await begin();
    await saveQuantity(small.as("qc"), { digest: (await draft()).digest, line: "10", id: null, types: ["H"], values: { name: "Spacer size", form: "min", "limit-H": "3.5", unit: "in", inclusive: "true", many: "one", instrument: "tape", accuracyValue: "0.05", accuracyKind: "absolute" } });
    expect(quantityOf(await draft(), "10", "spacer-size")).toMatchObject({ name: "Spacer size", instrument: "tape", accuracy: { kind: "absolute", value: "0.05" } });
    await removeQuantity(small.as("qc"), { digest: (await draft()).digest, line: "10", types: ["H"], quantity: "spacer-size" });
    expect(lineOf(await draft(), "10").quantities).toHaveLength(1);
  });

  it("is discarded whole", async () => {
    await begin();
    await discardDraft(small.as("engineer"), await draft());
    expect(await findRevisionDraft(small.house.db.read, CODE)).toBeNull();
  });

  it("may begin with the catalogue's points, and no number of any specification stands in them", async () => {
    const facts = { type: "T", name: "Timber 13 in", core: "round" as const, coreWidthIn: "13", jacket: { insideDiameterIn: "19", heightIn: "36", layers: 2, spacerRings: 2, tieSets: 4, clamps: 0, bars: 0 } };
    await startDraft(small.as("qc"), { kind: "bare", title: "Timber", facts });
    const found = await draft();
    expect(found.draft.sets[0]!.lines.map(({ line }) => line)).toEqual(Array.from({ length: 26 }, (_, index) => `${index + 1}`));
    const forms = new Set(found.draft.sets[0]!.lines.flatMap(({ quantities, waits }) => [...quantities.map(({ rule }) => (rule.form === "each" ? rule.rule.form : rule.form)), ...waits.map(() => "wait")]));
    expect([...forms].sort()).toEqual(["count", "exact", "recorded", "statement"]);
    expect(draftFaults(found.draft).map(({ line }) => line)).toContain("17");
    await addType(small.as("qc"), { digest: found.digest, facts: { ...facts, type: "C", core: "square" } });
    expect((await draft()).draft.sets.map(({ type }) => type)).toEqual(["T", "C"]);
    expect((await refused(addType(small.as("qc"), { digest: (await draft()).digest, facts }))).faults[0]?.field).toBe("type");
  });
});

describe("limits that follow from the design", () => {
  const DESIGN: Values = { "section-shape": "HP12X53", "sheet-thickness": "0.085 in", "sheet-overlap": "8 in", "sheet-rollLength": "720 in", "sheet-rollWidth": "48 in" };

  async function withFollowers(): Promise<void> {
    await begin();
    const found = await draft();
    await saveType(small.as("qc"), { digest: found.digest, type: "H", values: { ...valuesOfSet(found.draft.sets[0]!), ...DESIGN } });
    for (const [line, name, follows, unit] of [["13", "Length", "jacket length", "in"], ["15", "Overlap", "overlap", "in"], ["13", "Share", "contact share", "%"]] as const) {
      await saveQuantity(small.as("qc"), { digest: (await draft()).digest, line, id: null, types: ["H"], values: { name, form: "min", "limit-H": "8", unit, inclusive: "true", many: "one", follows } });
    }
  }

  it("are written when the draft is kept, and move with the overlap that a point asks for", async () => {
    await withFollowers();
    // 2π(24 + 2 × 0.085) + 8 = 159.86 in; the diameter of the small project's jacket is 24 in.
    expect(requirementWords(quantityOf(await draft(), "13", "length").rule)).toBe("≥ 159.86 in");
    const { moved } = await keep("15", "overlap", { "limit-H": "9.0" });
    expect(moved.map(({ line, quantity }) => `${line} ${quantity}`)).toEqual(["13 length", "13 share"]);
    const after = await draft();
    expect(requirementWords(quantityOf(after, "13", "length").rule)).toBe("≥ 160.86 in");
    expect(after.draft.sets[0]!.design?.sheet?.overlap).toEqual({ value: "9.0", unit: "in" });
  });

  it("move with the data of the type, which names its faults by their fields", async () => {
    await withFollowers();
    const found = await draft();
    const values = valuesOfSet(found.draft.sets[0]!);
    await saveType(small.as("qc"), { digest: found.digest, type: "H", values: { ...values, "jacket-layers": "3" } });
    expect(requirementWords(quantityOf(await draft(), "13", "length").rule)).toBe("≥ 236.60 in");
    const { faults } = await refused(saveType(small.as("qc"), { digest: (await draft()).digest, type: "H", values: { ...values, "sheet-thickness": "thin", "jacket-layers": "9", "resin-a": "100" } }));
    expect(faults.map(({ field }) => field)).toEqual(expect.arrayContaining(["sheet-thickness", "jacket-layers", "resin-b", "resin-film", "resin-potLife"]));
  });

  it("stop the review where there is nothing that they could follow from", async () => {
    await withFollowers();
    const found = await draft();
    const bare = Object.fromEntries(Object.entries(valuesOfSet(found.draft.sets[0]!)).filter(([name]) => !/^(sheet|section)-/.test(name)));
    await saveType(small.as("qc"), { digest: found.digest, type: "H", values: bare });
    expect(draftFaults((await draft()).draft).map(({ line, message }) => [line, /no sheet on file/.test(message)])).toEqual([["13", true], ["13", true], ["15", true]]);
  });
});

describe("a point", () => {
  it("of the project's own is put behind another, and what stood on that waits for it", async () => {
    await begin();
    const add = async (name: string, waitedFor: boolean) => addCustomPoint(small.as("qc"), { digest: (await draft()).digest, after: "15", types: ["H"], name, kind: "H", waitedFor });
    expect((await add("Tap test", true)).line).toBe("15a");
    expect((await add("Second look", false)).line).toBe("15b");
    const found = await draft();
    expect(found.draft.sets[0]!.lines.map(({ line }) => line)).toEqual(["4", "5", "10", "11", "13", "15", "15b", "15a", "26"]);
    expect(lineOf(found, "26").after).toEqual(["15", "15a"]);
    expect(lineOf(found, "15a")).toMatchObject({ kind: "H", after: ["15"], release: { roles: ["inspector"] } });
    expect(draftFaults(found.draft)).toEqual([]);
    await removeCustomPoint(small.as("qc"), { digest: found.digest, line: "15a" });
    expect(lineOf(await draft(), "26").after).toEqual(["15"]);
    expect((await refused(removeCustomPoint(small.as("qc"), { digest: (await draft()).digest, line: "15" }))).code).toBe("blocked");
  });

  it("is kept with its kind, order, waits, photos, lots and roles", async () => {
    await begin();
    await keepPoint("15", {
      kind: "H", releaseRoles: "inspector, engineer", all: "all", evidence: "allowed", evidencePhotos: "2", hiddenBy: "26",
      "wait-0-name": "mix to wrap", "wait-0-kind": "at most", "wait-0-from": "13", "wait-0-until": "began", "wait-0-hours-H": "1.5",
      "photo-0-name": "Start edge", "photo-0-window": "point", "photo-0-count-H": "2", "lot-0-name": "Jacket roll", "lot-0-kind": "jacket", "lot-0-types": "H",
    });
    expect(lineOf(await draft(), "15")).toMatchObject({
      kind: "H", hiddenBy: ["26"], release: { roles: ["inspector", "engineer"], all: true }, evidenceOnly: { photos: 2 },
      waits: [{ kind: "at most", from: "13", hours: "1.5", until: "began", name: "mix to wrap" }],
      photos: [{ id: "start-edge", name: "Start edge", count: 2, hint: null, window: "point" }], lots: [{ id: "jacket-roll", name: "Jacket roll", kind: "jacket" }],
    });
    await keepPoint("15", { "photo-0-name": "", "notApplicable-H": "" });
    expect(lineOf(await draft(), "15").photos).toEqual([]);
  });

  it("refuses what it cannot be, field by field", async () => {
    await begin();
    const before = await draft();
    const { faults } = await refused(keepPoint("11", { after: "four", "wait-0-hours-H": "a day", "photo-0-count-H": "many", releaseRoles: "", evidence: "allowed", evidencePhotos: "x", "name-H": "" }));
    expect(faults.map(({ field }) => field)).toEqual(expect.arrayContaining(["after", "wait-0-hours-H", "photo-0-count-H", "releaseRoles", "evidencePhotos", "name-H"]));
    expect(await draft()).toEqual(before);
  });

  it("that cannot stand among the others is kept, and stops the review at the point that has it", async () => {
    await begin();
    await keepPoint("5", { after: "15" });
    await keepPoint("11", { releaseRoles: "QC manager" });
    const found = await draft();
    expect(draftFaults(found.draft)).toEqual([
      { type: "H", line: "5", message: "Point 5 stands on 15, which is not a point before it." },
      { type: "H", line: "11", message: "Point 11 is a hold point, and nobody independent of the contractor releases it." },
    ]);
    expect(pointRequirements(await view("qc"), "5")!.faults).toHaveLength(1);
    const { code, faults } = await refused(reviewRevision(small.as("qc"), { id: randomUUID(), digest: found.digest, outcome: "reviewed", words: "" }));
    expect([code, faults.length]).toEqual(["blocked", 2]);
  });
});

describe("a review", () => {
  const reviewAs = async (who: Who, outcome: "reviewed" | "sent back", words = "", digest?: string) => reviewRevision(small.as(who), { id: randomUUID(), digest: digest ?? (await draft()).digest, outcome, words });

  it("names the draft that was read; a later change is not reviewed", async () => {
    await begin();
    await keep("5", "left", { "limit-H": "90" });
    await reviewAs("qc", "reviewed", "Read against drawing S-14.");
    expect((await view("engineer")).state).toMatchObject({ state: "reviewed", review: { outcome: "reviewed", by: "Hedda Lorne", words: "Read against drawing S-14.", stands: true } });
    await keep("5", "left", { "limit-H": "91" }, "engineer");
    expect((await view("engineer")).state).toMatchObject({ state: "draft", review: { stands: false, because: expect.stringMatching(/changed after it was reviewed/) as string } });
    await keep("5", "left", { "limit-H": "90" });
    expect((await view("engineer")).state?.state).toBe("reviewed");
  });

  it("is the QC manager's, of what is on file, with words where it is sent back", async () => {
    await begin();
    await keep("5", "left", { "limit-H": "90" });
    const { digest } = await draft();
    expect((await refused(reviewAs("engineer", "reviewed"))).code).toBe("not-allowed");
    expect((await refused(reviewAs("qc", "sent back"))).faults[0]?.field).toBe("words");
    expect((await refused(reviewAs("qc", "reviewed", "", "0".repeat(64)))).code).toBe("conflict");
    await reviewAs("qc", "sent back", "The drawing says 88.", digest);
    expect((await view("qc")).state).toMatchObject({ state: "draft", review: { outcome: "sent back", words: "The drawing says 88.", stands: false } });
  });

  it("sent twice is one, and there is none of a draft that changes nothing", async () => {
    await begin();
    expect((await refused(reviewAs("qc", "reviewed"))).code).toBe("blocked");
    await keep("5", "left", { "limit-H": "90" });
    const input = { id: randomUUID(), digest: (await draft()).digest, outcome: "reviewed" as const, words: "" };
    await reviewRevision(small.as("qc"), input);
    await reviewRevision(small.as("qc"), input);
    expect(await small.house.db.read.review.count()).toBe(1);
  });

  it("lets the engineer approve: the draft becomes the revision that everybody sees", async () => {
    await begin();
    await keep("5", "left", { "limit-H": "90" });
    await reviewAs("qc", "reviewed");
    const found = await draft();
    const seen = await look(small, found.draft);
    const answers = seen.difference.changes.flatMap(({ lines }) => lines).map(({ type, line }) => ({ type, line, applies: "piles that start" as const }));
    const { digest } = await issueRevision(small.as("engineer"), { id: randomUUID(), letter: "C", impactDigest: seen.digest, answers, appliesFrom: "", words: "Drawing S-14 C.", password: PASSWORD });
    expect(digest).toBe(found.digest);
    expect(await findRevisionDraft(small.house.db.read, CODE)).toBeNull();
    expect((await view("crew")).state).toMatchObject({ letter: "C", state: "in force" });
  });
});

describe("a file", () => {
  const revision = async (): Promise<Revision> => structuredClone((await latestRevision(small.house.db.read, CODE))!.revision);

  it("of an approved revision or a draft has the SHA-256 that is its digest", async () => {
    await begin();
    await keep("5", "left", { "limit-H": "90" });
    const member = (await findMember(small.house.db.read, CODE, "qc"))!;
    for (const letter of ["B", "C"]) {
      const { bytes, digest } = await requirementsFile(small.as("qc"), member, letter);
      expect(sha256(bytes)).toBe(digest);
      expect((JSON.parse(Buffer.from(bytes).toString("utf8")) as Revision).letter).toBe(letter);
    }
    expect((await requirementsList(small.as("qc"), member)).revisions.map(({ letter, state }) => [letter, state])).toEqual([["C", "draft"], ["B", "in force"]]);
  });

  it("of a draft is not there for who has no part in drafts", async () => {
    await begin();
    const member = (await findMember(small.house.db.read, CODE, "crew"))!;
    expect((await refused(requirementsFile(small.as("crew"), member, "C"))).code).toBe("not-found");
    expect((await requirementsList(small.as("crew"), member)).revisions.map(({ letter }) => letter)).toEqual(["B"]);
    expect((await view("crew")).state?.letter).toBe("B");
  });

  it("takes the draft's place under the draft's letter", async () => {
    const read = await revision();
    read.title = "From a file";
    await importDraft(small.as("qc"), read, null);
    expect(await draft()).toMatchObject({ letter: "C", draft: { title: "From a file", letter: "C" } });
    expect((await refused(importDraft(small.as("qc"), read, null))).code).toBe("conflict");
    await importDraft(small.as("qc"), { ...read, title: "Again" }, (await draft()).digest);
    expect((await draft()).draft.title).toBe("Again");
  });

  it("with a fault anywhere is refused whole, with the path and the place of each", async () => {
    const read = await revision() as unknown as { sets: { lines: { after: string[]; name: unknown; quantities: { rule: Record<string, unknown> }[] }[] }[] };
    read.sets[0]!.lines[1]!.quantities[0]!.rule.limit = "eighty";
    read.sets[0]!.lines[3]!.name = 7;
    const { code, faults } = await refused(importDraft(small.as("qc"), read, null));
    expect(code).toBe("invalid");
    expect(faults).toEqual([
      { field: "sets[0].lines[1].quantities[0].rule.limit", message: "Type H, point 5, left: Write a plain decimal number, such as 7.0." },
      { field: "sets[0].lines[3].name", message: "Type H, point 11: this has to be text." },
    ]);
    expect(await findRevisionDraft(small.house.db.read, CODE)).toBeNull();
  });

  it("sent to another letter than the next is refused; approved revisions are not changed", async () => {
    const read = await revision();
    expect((await refused(putDraft(small.as("qc"), { letter: "B", revision: read, seen: null }))).code).toBe("conflict");
    expect((await refused(putDraft(small.as("qc"), { letter: "C", revision: read, seen: null }))).faults[0]?.field).toBe("letter");
    expect(await putDraft(small.as("qc"), { letter: "C", revision: { ...read, letter: "C" }, seen: null })).toMatchObject({ letter: "C", stopsReview: [] });
  });
});

describe("the sheet", () => {
  it("shows each type's limit with the one that it replaces", async () => {
    await begin();
    await keep("5", "left", { "limit-H": "90" });
    const shown = await view("qc");
    const point = pointRequirements(shown, "5")!;
    expect(point.rows).toMatchObject([{ key: "left.H", form: "min", unit: "%", cells: { H: { words: "≥ 90", was: "≥ 85" } }, drawn: { unit: "%", limits: [{ type: "H", min: 90, max: null }] }, changed: true }]);
    expect(pointRequirements(shown, "4")!.rows[0]).toMatchObject({ form: "each face: range", cells: { H: { words: "4 × 1.5 … 4.0", was: null } }, measuredWith: "replica tape", changed: false });
    expect(shown).toMatchObject({ editable: true, hasDraft: true, base: { letter: "B" }, may: { draft: true, review: true, approve: false } });
  });

  it("shows an approved revision to read only, to who asks for it by its letter", async () => {
    await begin();
    expect(await view("qc", "B")).toMatchObject({ asked: "B", editable: false, state: { letter: "B", state: "in force" } });
    expect(await view("owner")).toMatchObject({ editable: false, hasDraft: false, state: { letter: "B" } });
  });
});
