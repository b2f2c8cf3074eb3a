import { randomUUID } from "node:crypto";
import { atLeast, between, each, quantity, recorded } from "#lib/domain/plan/line-part";
import type { Applies } from "#lib/domain/plan/compose";
import { RevisionSchema, type PlanLineSpec, type Revision } from "#lib/domain/requirement/set";
import { findRevisionDraft } from "#lib/db/revision-draft";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { issueRevision, latestRevision, type IssueInput, type IssueReceipt } from "#lib/services/issue-revision";
import { reviewRevision } from "#lib/services/review-revision";
import { importDraft } from "#lib/services/revision-draft";
import { revisionImpact, type RevisionImpact } from "#lib/services/revision-impact";
import { CODE, PASSWORD, type SmallProject, type Who } from "#tests/services/small-project";

/** The revision that is approved last, under the next letter, with some of its lines changed. */
export async function nextRevision({ house }: SmallProject, change: (line: PlanLineSpec) => PlanLineSpec | null, title = "More of it"): Promise<Revision> {
  const { revision } = (await latestRevision(house.db.read, CODE))!;
  const sets = structuredClone(revision.sets).map((set) => ({ ...set, lines: set.lines.flatMap((line) => change(line) ?? []) }));
  return RevisionSchema.parse({ ...structuredClone(revision), letter: String.fromCharCode(revision.letter.charCodeAt(0) + 1), title, sets });
}

/** Preparation from 2.5 mil on, one more value at the survey, and five minutes of mixing. */
export function stricter(line: PlanLineSpec): PlanLineSpec {
  switch (line.line) {
    case "4":
      return { ...line, quantities: [quantity("profile", "Profile", each("face", 4, between("2.5", "4.0", "mil")), { instrument: "replica tape" })] };
    case "5":
      return { ...line, quantities: [...line.quantities, quantity("spots", "Spots of rust left", recorded(null))] };
    case "13":
      return { ...line, quantities: [quantity("mixed", "Mixing time", atLeast("5", "min"))] };
    default:
      return line;
  }
}

/** Puts a revision in the draft's place, whatever stands there. */
export async function keepDraft({ house, as }: SmallProject, revision: Revision): Promise<void> {
  const before = await findRevisionDraft(house.db.read, CODE);
  await importDraft(as("qc"), revision, before?.digest ?? null);
}

export async function reviewed({ as }: SmallProject, revision: Revision, outcome: "reviewed" | "sent back" = "reviewed"): Promise<void> {
  await reviewRevision(as("qc"), { id: randomUUID(), digest: sha256(canonicalBytes(revision)), outcome, words: outcome === "sent back" ? "Say what it is measured with." : "" });
}

/** What the engineer sees before approving. */
export async function look({ house, project, clock }: SmallProject, now: Revision): Promise<RevisionImpact> {
  const { revision: was } = (await latestRevision(house.db.read, CODE))!;
  return revisionImpact(house.db.read, project, { was, now }, clock.now);
}

/** Approves what was looked at, with one answer for each line by its number; what is not named starts with later piles. */
export async function issue(small: SmallProject, seen: RevisionImpact, answers: Record<string, Applies>, parts: Partial<IssueInput> = {}, who: Who = "engineer"): Promise<IssueReceipt> {
  const all = seen.difference.changes.flatMap(({ lines }) => lines).map(({ type, line }) => ({ type, line, applies: answers[line] ?? ("piles that start" as const) }));
  return issueRevision(small.as(who), { id: randomUUID(), letter: "C", impactDigest: seen.digest, answers: all, appliesFrom: "", words: "Maker's letter.", password: PASSWORD, ...parts });
}
