import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { Member } from "#lib/domain/access/member";
import { can } from "#lib/domain/access/can";
import { many } from "#lib/domain/many";
import { DomainError } from "#lib/domain/refusal";
import type { FactChange, RevisionDifference } from "#lib/domain/requirement/difference";
import type { Revision } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { findRevisionDraft } from "#lib/db/revision-draft";
import { listMembers, listRevisions, type ApprovedRevision, type Project } from "#lib/db/project";
import { changeView, recordedView, type ChangeView, type Counts } from "#lib/services/change-view";
import { reviewOfDraft } from "#lib/services/issue-revision";
import { revisionImpact } from "#lib/services/revision-impact";

export interface DifferenceView {
  from: string;
  to: string;
  title: string;
  /** What was found, with its numbers. */
  finding: string;
  changes: ChangeView[];
  /** Facts that judge no point, and types that come or go, each in words. */
  also: { where: string; name: string; was: string; now: string }[];
  counts: Counts;
  standing: Standing;
}

export type Standing =
  /** May be approved by this person, over the impact that the digest names. */
  | { is: "reviewed"; impactDigest: string; reviewedBy: string; when: string; ownAnswer: boolean }
  | { is: "not reviewed"; because: string }
  | { is: "approved"; by: string; when: string; reviewedBy: string | null; appliesFrom: string; words: string }
  /** Two revisions that do not follow each other: only what they ask for is compared. */
  | { is: "apart" };

/**
 * Two revisions side by side. A draft against the revision approved last shows what approving it would do, and writes
 * nothing; an approved one against the one before it shows what the engineer was shown.
 *
 * @param letters without them the draft, or the newest, against the one before it.
 * @returns null where there are not two revisions to compare.
 */
export async function differenceView(tx: Tx, project: Project, member: Member, letters: { from?: string; to?: string }, at: Instant): Promise<DifferenceView | null> {
  const approved = (await listRevisions(tx, project.id)).sort((a, b) => a.seq - b.seq);
  const issued = approved.find(({ letter }) => letter === letters.to);
  const found = issued ? null : await findRevisionDraft(tx, project.id);
  const draft = found && (letters.to ?? found.letter) === found.letter ? { letter: found.letter, revision: found.draft } : null;
  if (letters.to && !issued && !draft) throw new DomainError("not-found", `There is no revision ${letters.to}, and no draft of one.`);
  const to = issued ?? (draft ? null : (approved.at(-1) ?? null));
  const before = approved[to ? approved.indexOf(to) - 1 : approved.length - 1];
  const from = letters.from ? approved.find(({ letter }) => letter === letters.from) : before;
  if (letters.from && !from) throw new DomainError("not-found", `There is no approved revision ${letters.from}.`);
  const now = to?.revision ?? draft?.revision;
  if (!from || !now || from === to) return null;

  const impact = await revisionImpact(tx, project, { was: from.revision, now }, at);
  const { difference } = impact;
  const recorded = to && from === before ? to : null;
  const held = !to && from === before;
  const context = { impact, from: from.letter, to: now.letter, names: typeNames(from.revision, now) };
  const changes = difference.changes.map((change) => (held ? changeView(change, context) : recordedView(change, context, recorded)));
  const counts = total(changes);
  return {
    from: from.letter, to: now.letter, title: `Revision ${from.letter} against ${now.letter}`, finding: findingOf(difference, counts, Boolean(held || recorded)), changes,
    also: alsoOf(difference, context.names), counts,
    standing: recorded ? await approvedStanding(tx, project, recorded) : held && draft ? await draftStanding(tx, project, member, draft, impact.digest) : { is: "apart" },
  };
}

/** The names of the pile types, those of the later revision first. */
function typeNames(from: Revision, now: Revision): ReadonlyMap<string, string> {
  return new Map([...from.sets, ...now.sets].map(({ type, name }) => [type, name]));
}

function total(changes: readonly ChangeView[]): Counts {
  const sum = (of: (change: ChangeView) => number): number => changes.reduce((before, change) => before + of(change), 0);
  return { wouldFail: sum((one) => one.counts.wouldFail), needsValue: sum((one) => one.counts.needsValue), stillMeets: sum((one) => one.counts.stillMeets), noValue: changes.some(({ counts }) => counts.noValue === null) ? null : sum((one) => one.counts.noValue ?? 0) };
}

function findingOf({ changes, facts }: RevisionDifference, { wouldFail, needsValue, stillMeets }: Counts, judged: boolean): string {
  const following = changes.reduce((sum, { followers }) => sum + followers.length, 0);
  const said = [changes.length === 0 ? "No point changes" : many(changes.length, "change"), following > 0 ? `${following} follow${following === 1 ? "s" : ""}` : "", facts.length > 0 ? many(facts.length, "other fact") : ""].filter(Boolean).join(", ");
  const signed = wouldFail + needsValue + stillMeets;
  if (!judged || signed === 0) return said;
  const bad = [wouldFail > 0 ? `${wouldFail} would fail` : "", needsValue > 0 ? `${needsValue} need${needsValue === 1 ? "s" : ""} a value` : ""].filter(Boolean);
  return `${said}: of ${many(signed, "signed point")} ${bad.length > 0 ? bad.join(", ") : "all still meet"}`;
}

function alsoOf({ facts, addedTypes, removedTypes }: RevisionDifference, names: ReadonlyMap<string, string>): DifferenceView["also"] {
  const where = (type: string): string => names.get(type) ?? type;
  return [
    ...facts.map(({ type, name, was, now }: FactChange) => ({ where: where(type), name, was, now })),
    ...addedTypes.map((type) => ({ where: where(type), name: "Pile type", was: "", now: "added" })),
    ...removedTypes.map((type) => ({ where: where(type), name: "Pile type", was: "in the revision", now: "removed; its piles stay under the one before" })),
  ];
}

async function draftStanding(tx: Tx, project: Project, member: Member, draft: { letter: string; revision: Revision }, impactDigest: string): Promise<Standing> {
  const review = await reviewOfDraft(tx, project, draft);
  if ("because" in review) return { is: "not reviewed", because: review.because };
  const reviewedBy = await nameOf(tx, project, review.reviewedBy);
  return { is: "reviewed", impactDigest, reviewedBy, when: formatWhen(review.at, project.zone), ownAnswer: can(member, "approve revision", project.id) && member.personId !== review.reviewedBy };
}

async function approvedStanding(tx: Tx, project: Project, { approvedBy, approvedAt, appliesFrom, terms }: ApprovedRevision): Promise<Standing> {
  return {
    is: "approved", by: await nameOf(tx, project, approvedBy), when: formatWhen(approvedAt, project.zone), appliesFrom: formatWhen(appliesFrom, project.zone), words: terms.words,
    reviewedBy: terms.reviewedBy && (await nameOf(tx, project, terms.reviewedBy)),
  };
}

async function nameOf(tx: Tx, project: Project, personId: string): Promise<string> {
  return (await listMembers(tx, project.id)).find((one) => one.personId === personId)?.name ?? personId;
}

