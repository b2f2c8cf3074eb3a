import { z } from "zod";
import { line as lineOf, releasedBy } from "#lib/domain/plan/line-part";
import type { PointKind } from "#lib/domain/point/state";
import { followDesign, type Moved } from "#lib/domain/requirement/follow";
import { itemRule } from "#lib/domain/requirement/rule";
import { RequirementSetSchema, RevisionSchema, type PlanLineSpec, type Revision } from "#lib/domain/requirement/set";

/**
 * A revision as it is being written: every line is right by itself, and what lines say of each other may still be wrong. Those
 * faults are listed by `draftFaults` and stop the review.
 */
export const DraftSchema = z.strictObject({ ...RevisionSchema.shape, sets: z.array(z.strictObject(RequirementSetSchema.shape)).min(1) });

/** What stops a draft from being reviewed, at the point that has it. */
export interface DraftFault {
  /** Null where it is no pile type's: the project sheet, or the revision. */
  type: string | null;
  line: string | null;
  message: string;
}

/** Everything that stops the review of a draft. An empty list means that it may be reviewed. */
export function draftFaults(draft: Revision): DraftFault[] {
  const read = RevisionSchema.safeParse(draft);
  const ofLines = (read.error?.issues ?? []).map(({ path, message }): DraftFault => {
    const [part, first, , second] = path;
    if (part === "projectLines") return { type: null, line: lineAt(draft.projectLines, first), message };
    const set = part === "sets" ? draft.sets[Number(first)] : undefined;
    return { type: set?.type ?? null, line: set ? lineAt(set.lines, second) : null, message };
  });
  const ofSets = draft.sets.flatMap((set): DraftFault[] => [
    ...followDesign(set).notFollowing.map(({ type, line, because }) => ({ type, line, message: because })),
    ...set.lines.flatMap((line) => photoFaults(line).map((message) => ({ type: set.type, line: line.line, message }))),
    ...(["insideDiameterIn", "heightIn"] as const).filter((name) => Number(set.jacket[name]) <= 0).map(() => ({ type: set.type, line: null, message: `The jacket of type ${set.type} has no size.` })),
  ]);
  return [...ofLines, ...ofSets];
}

function lineAt(lines: readonly PlanLineSpec[], index: PropertyKey | undefined): string | null {
  return lines[Number(index)]?.line ?? null;
}

function photoFaults({ line, quantities, photos }: PlanLineSpec): string[] {
  return quantities.flatMap(({ name, rule }) => {
    const item = itemRule(rule);
    const stray = item.form === "statement" && item.photo !== null && !photos.some(({ id }) => id === item.photo);
    return stray ? [`${name} is shown by a photo that point ${line} does not ask for.`] : [];
  });
}

/** Writes the limits that follow from the design of each type. */
export function followedDraft(draft: Revision): { draft: Revision; moved: Moved[] } {
  const followed = draft.sets.map((set) => followDesign(set));
  return { draft: { ...draft, sets: followed.map(({ set }) => set) }, moved: followed.flatMap(({ moved }) => moved) };
}

/** The letter after another; null after Z. */
export function nextLetter(letter: string | null): string | null {
  if (letter === null) return "A";
  return letter === "Z" ? null : String.fromCharCode(letter.charCodeAt(0) + 1);
}

/** A point that the project added itself carries a letter after its number. */
export function isCustom(line: string): boolean {
  return /[a-z]$/.test(line);
}

export interface NewPoint {
  after: string;
  types: readonly string[];
  name: string;
  kind: PointKind;
  /** Whether the points that stood on the one before wait for the new one too. */
  waitedFor: boolean;
}

/**
 * Puts a point of the project's own behind another, on some of the types: it stands on the one before it, is hidden by what hides
 * that, and asks nothing yet.
 *
 * @returns the draft and the id of the new point; null where no letter is left behind that number, or no type has the point.
 */
export function addPoint(draft: Revision, { after, types, name, kind, waitedFor }: NewPoint): { draft: Revision; line: string } | null {
  const sets = draft.sets.filter((set) => types.includes(set.type) && set.lines.some(({ line }) => line === after));
  const id = freeLine(draft, after);
  if (id === null || sets.length === 0) return null;
  return {
    line: id,
    draft: {
      ...draft,
      sets: draft.sets.map((set) => {
        const at = set.lines.findIndex(({ line }) => line === after);
        const before = set.lines[at];
        if (!before || !types.includes(set.type)) return set;
        const { batch, gate, hiddenBy } = before;
        const release = releasedBy(kind === "R" ? ["QC manager"] : ["inspector"]);
        const fresh = lineOf({ line: id, name, kind, after: [after], batch, gate, hiddenBy, release });
        const lines = set.lines.map((line) => (waitedFor && line.after.includes(after) ? { ...line, after: [...line.after, id] } : line));
        return { ...set, lines: lines.toSpliced(at + 1, 0, fresh) };
      }),
    },
  };
}

function freeLine(draft: Revision, after: string): string | null {
  const number = after.replace(/[a-z]$/, "");
  const taken = new Set(draft.sets.flatMap(({ lines }) => lines.map(({ line }) => line)));
  const letters = "abcdefghijklmnopqrstuvwxyz";
  const free = [...letters.slice(isCustom(after) ? letters.indexOf(after.slice(-1)) + 1 : 0)].find((letter) => !taken.has(number + letter));
  return free === undefined ? null : number + free;
}

/** Takes a point of the project's own out of every type; what stood on it stands on what it stood on. */
export function removePoint(draft: Revision, id: string): Revision {
  return {
    ...draft,
    sets: draft.sets.map((set) => {
      const gone = set.lines.find(({ line }) => line === id);
      if (!gone) return set;
      const lines = set.lines.filter((line) => line !== gone).map((line) => ({
        ...line,
        after: [...new Set(line.after.flatMap((before) => (before === id ? gone.after : [before])))],
        hiddenBy: line.hiddenBy.filter((hider) => hider !== id),
        waits: line.waits.filter(({ from }) => from !== id),
      }));
      return { ...set, lines };
    }),
  };
}
