import type { PointKind } from "#lib/domain/point/state";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { addPoint, DraftSchema, followedDraft, isCustom, nextLetter, removePoint } from "#lib/domain/requirement/draft";
import { readSet } from "#lib/domain/requirement/draft-design";
import { readLine } from "#lib/domain/requirement/draft-line";
import { idFromName, readQuantity, type Values } from "#lib/domain/requirement/draft-quantity";
import { bareProjectLines, bareSet, type TypeFacts } from "#lib/domain/requirement/draft-set";
import type { Moved } from "#lib/domain/requirement/follow";
import { readRevisionValue } from "#lib/domain/requirement/revision-file";
import { itemRule } from "#lib/domain/requirement/rule";
import type { PlanLineSpec, Quantity, RequirementSet, Revision } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { deleteDraftOf } from "#lib/db/issue-revision";
import { findRevisionDraft, saveRevisionDraft, type RevisionDraft } from "#lib/db/revision-draft";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { inProject, type Asking } from "#lib/services/ask";
import { latestRevision } from "#lib/services/issue-revision";

/** The project sheet among the pile types: its points are edited the same way. */
export const PROJECT_SHEET = "project";

export interface DraftReceipt {
  letter: string;
  digest: string;
  /** Limits that followed. */
  moved: Moved[];
}

/** Where a change is made: the draft as the person saw it. */
export interface AtDraft {
  digest: string;
}

/** Begins the next revision as the one approved last stands, or from the catalogue's points without a number. */
export async function startDraft(asking: Asking, from: { kind: "approved" } | { kind: "bare"; title: string; facts: TypeFacts }): Promise<DraftReceipt> {
  return inProject(asking, "draft revision", async (tx, { personId }, at) => {
    const { id } = asking.project;
    if (await findRevisionDraft(tx, id)) throw new DomainError("conflict", "There is a draft already. Go on with it, or discard it first.");
    const latest = await latestRevision(tx, id);
    const letter = letterAfter(latest?.letter ?? null);
    if (from.kind === "approved" && !latest) throw new DomainError("blocked", "No revision is approved yet. Begin with the catalogue's points.");
    const draft: Revision = from.kind === "approved" && latest
      ? { ...latest.revision, letter }
      : { format: 1, letter, title: from.kind === "bare" ? from.title : "", projectLines: latest?.revision.projectLines ?? bareProjectLines(), sets: from.kind === "bare" ? [bareSet(from.facts)] : [] };
    return keep(tx, id, draft, { at, by: personId });
  });
}

function letterAfter(letter: string | null): string {
  const next = nextLetter(letter);
  if (next === null) throw new DomainError("blocked", "Revision Z is approved, and no letter is left.");
  return next;
}

/** Lets the limits follow, checks that every line is right by itself, and keeps it. */
async function keep(tx: Tx, projectId: string, changed: Revision, { at, by }: { at: number; by: string }): Promise<DraftReceipt> {
  const { draft, moved } = followedDraft(changed);
  const read = DraftSchema.safeParse(draft);
  if (!read.success) throw new DomainError("invalid", "The draft cannot be kept like this.", read.error.issues.map(({ path, message }) => ({ field: path.join("."), message })));
  await saveRevisionDraft(tx, projectId, read.data, { at, by });
  return { letter: read.data.letter, digest: sha256(canonicalBytes(read.data)), moved };
}

/** Changes the draft that the person saw; another one that came meanwhile is not written over. */
async function changeDraft(asking: Asking, { digest }: AtDraft, change: (draft: Revision) => Revision): Promise<DraftReceipt> {
  return inProject(asking, "draft revision", async (tx, { personId }, at) => {
    const found = await requireDraft(tx, asking.project.id, digest);
    return keep(tx, asking.project.id, change(found.draft), { at, by: personId });
  });
}

async function requireDraft(tx: Tx, projectId: string, digest: string): Promise<RevisionDraft> {
  const found = await findRevisionDraft(tx, projectId);
  if (!found) throw new DomainError("not-found", "There is no draft. It may have been approved or discarded.");
  if (found.digest !== digest) throw new DomainError("conflict", "The draft changed while you were writing. Nothing was written over: load the page again and compare.");
  return found;
}

function refuse(faults: readonly Fault[]): never {
  throw new DomainError("invalid", faults.length === 1 ? "1 thing stops this from being kept." : `${faults.length} things stop this from being kept.`, faults);
}

/** The lines of a point, with the type that each belongs to. */
export function linesOfPoint(revision: Revision, line: string): { type: string; line: PlanLineSpec }[] {
  const own = line.startsWith("P") ? [{ type: PROJECT_SHEET, lines: revision.projectLines }] : revision.sets;
  return own.flatMap(({ type, lines }) => lines.filter((one) => one.line === line).map((one) => ({ type, line: one })));
}

function withLines(draft: Revision, change: (type: string, line: PlanLineSpec) => PlanLineSpec): Revision {
  return {
    ...draft,
    projectLines: draft.projectLines.map((line) => change(PROJECT_SHEET, line)),
    sets: draft.sets.map((set) => ({ ...set, lines: set.lines.map((line) => change(set.type, line)) })),
  };
}

export interface QuantityInput extends AtDraft {
  line: string;
  /** Types whose row it is; for a new one, those that shall have it. */
  types: readonly string[];
  /** Null: a new quantity. */
  id: string | null;
  values: Values;
}

/** Keeps one quantity of a point for its types, with everything that follows from it. */
export async function saveQuantity(asking: Asking, { line: id, types, id: quantityId, values, ...at }: QuantityInput): Promise<DraftReceipt> {
  return changeDraft(asking, at, (draft) => {
    const lines = linesOfPoint(draft, id).filter(({ type }) => types.includes(type));
    if (lines.length === 0) refuse([{ field: "types", message: "Choose the types that are asked for it." }]);
    const own = quantityId ?? idFromName(values.name ?? "", lines.flatMap(({ line }) => line.quantities.map((one) => one.id)));
    const before = Object.fromEntries(lines.map(({ type, line }) => [type, line.quantities.find((one) => one.id === own) ?? null]));
    if (quantityId !== null && Object.values(before).includes(null)) throw new DomainError("not-found", `Point ${id} has no such quantity. It may have been taken out.`);
    const read = readQuantity({ ...values, id: own }, before);
    if ("faults" in read) refuse(read.faults);
    const changed = withLines(draft, (type, line) => {
      const now = line.line === id ? read.quantities[type] : undefined;
      if (!now) return line;
      return { ...line, quantities: quantityId === null ? [...line.quantities, now] : line.quantities.map((one) => (one.id === own ? now : one)) };
    });
    return { ...changed, sets: changed.sets.map((set) => withOverlap(set, read.quantities[set.type])) };
  });
}

/** The overlap that a point asks for is the sheet's: other limits follow from it. */
function withOverlap(set: RequirementSet, quantity: Quantity | undefined): RequirementSet {
  const item = quantity && itemRule(quantity.rule);
  if (quantity?.follows !== "overlap" || item?.form !== "min" || !set.design?.sheet) return set;
  return { ...set, design: { ...set.design, sheet: { ...set.design.sheet, overlap: { value: item.limit, unit: item.unit } } } };
}

export async function removeQuantity(asking: Asking, { line: id, types, quantity, ...at }: AtDraft & { line: string; types: readonly string[]; quantity: string }): Promise<DraftReceipt> {
  return changeDraft(asking, at, (draft) => withLines(draft, (type, line) => (line.line === id && types.includes(type) ? { ...line, quantities: line.quantities.filter((one) => one.id !== quantity) } : line)));
}

/** Keeps what a point is: kind, order, waits, photos, lots and roles. */
export async function saveLine(asking: Asking, { line: id, values, ...at }: AtDraft & { line: string; values: Values }): Promise<DraftReceipt> {
  return changeDraft(asking, at, (draft) => {
    const lines = linesOfPoint(draft, id);
    if (lines.length === 0) throw new DomainError("not-found", `There is no point ${id} in the draft.`);
    const read = readLine(values, lines);
    if ("faults" in read) refuse(read.faults);
    return withLines(draft, (type, line) => (line.line === id ? (read.lines[type] ?? line) : line));
  });
}

export interface NewPointInput extends AtDraft {
  after: string;
  types: readonly string[];
  name: string;
  kind: PointKind;
  waitedFor: boolean;
}

/** Adds a point of the project's own, such as 15a. */
export async function addCustomPoint(asking: Asking, { digest, ...input }: NewPointInput): Promise<DraftReceipt & { line: string }> {
  let line = "";
  const receipt = await changeDraft(asking, { digest }, (draft) => {
    const added = addPoint(draft, input);
    if (!added) return refuse([{ field: "types", message: `Choose a type that has point ${input.after}.` }]);
    line = added.line;
    return added.draft;
  });
  return { ...receipt, line };
}

/** Takes a point of the project's own out. The catalogue's stay: one that does not apply says why. */
export async function removeCustomPoint(asking: Asking, { line, ...at }: AtDraft & { line: string }): Promise<DraftReceipt> {
  if (!isCustom(line)) throw new DomainError("blocked", `Point ${line} is of the catalogue. Where it does not apply, say why at the point.`);
  return changeDraft(asking, at, (draft) => removePoint(draft, line));
}

/** Keeps the facts of one type: jacket, design and data sheets. */
export async function saveType(asking: Asking, { type, values, ...at }: AtDraft & { type: string; values: Values }): Promise<DraftReceipt> {
  return changeDraft(asking, at, (draft) => {
    const set = draft.sets.find((one) => one.type === type);
    if (!set) throw new DomainError("not-found", `The draft has no type ${type}.`);
    const read = readSet(values, set);
    if ("faults" in read) refuse(read.faults);
    return { ...draft, sets: draft.sets.map((one) => (one === set ? read.set : one)) };
  });
}

/** Adds a pile type with the catalogue's points and no number. */
export async function addType(asking: Asking, { facts, ...at }: AtDraft & { facts: TypeFacts }): Promise<DraftReceipt> {
  return changeDraft(asking, at, (draft) => {
    if (draft.sets.some(({ type }) => type === facts.type)) refuse([{ field: "type", message: `There is a type ${facts.type} already.` }]);
    return { ...draft, sets: [...draft.sets, bareSet(facts)] };
  });
}

export async function saveTitle(asking: Asking, { title, ...at }: AtDraft & { title: string }): Promise<DraftReceipt> {
  if (title.trim() === "") refuse([{ field: "title", message: "Say what the revision is for." }]);
  return changeDraft(asking, at, (draft) => ({ ...draft, title: title.trim().slice(0, 400) }));
}

/** Throws the draft away. Reviews of it stay on the record. */
export async function discardDraft(asking: Asking, { digest }: AtDraft): Promise<void> {
  await inProject(asking, "draft revision", async (tx) => {
    const { letter } = await requireDraft(tx, asking.project.id, digest);
    await deleteDraftOf(tx, asking.project.id, letter);
  });
}

/** The letter that a draft has, or would have. */
export async function draftLetter(tx: Tx, projectId: string): Promise<string> {
  return (await findRevisionDraft(tx, projectId))?.letter ?? letterAfter((await latestRevision(tx, projectId))?.letter ?? null);
}

/**
 * Puts a whole revision in the draft's place, or begins the draft with it. One that is not right in itself is refused, each fault
 * with its path, and nothing is kept.
 *
 * @param seen digest of the draft that it takes the place of; null: there is none yet.
 */
export async function importDraft(asking: Asking, value: unknown, seen: string | null): Promise<DraftReceipt> {
  return inProject(asking, "draft revision", async (tx, { personId }, at) => {
    const found = await findRevisionDraft(tx, asking.project.id);
    if ((found?.digest ?? null) !== seen) throw new DomainError("conflict", "The draft changed since it was read. Nothing was written over: read it again and compare.");
    const read = readRevisionValue(value, await draftLetter(tx, asking.project.id));
    if ("faults" in read) refuse(read.faults);
    return keep(tx, asking.project.id, read.revision, { at, by: personId });
  });
}
