import { readEntryTime } from "#lib/domain/clock/entry-time";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { Applies } from "#lib/domain/plan/compose";
import { DomainError, type Fault } from "#lib/domain/refusal";
import type { Change } from "#lib/domain/requirement/difference";
import { RevisionSchema, type Revision } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { deleteDraftOf, findIssued, lastReview } from "#lib/db/issue-revision";
import { fileRecord } from "#lib/db/journal";
import { listRevisions, type ApprovedRevision, type Project } from "#lib/db/project";
import { findRevisionDraft } from "#lib/db/revision-draft";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { inProject, type Asking } from "#lib/services/ask";
import { refreshProject } from "#lib/services/refresh";
import { revisionImpact } from "#lib/services/revision-impact";
import { confirmPassword } from "#lib/services/sign-in";

export interface Draft {
  letter: string;
  revision: Revision;
}

/** How the change of one line of a type reaches piles in work; type null is the project sheet. */
export interface ChangeAnswer {
  type: string | null;
  line: string;
  applies: Applies;
}

export interface IssueInput {
  id: string;
  letter: string;
  /** Of the impact that the engineer was shown. */
  impactDigest: string;
  answers: ChangeAnswer[];
  /** On the site's clock or with an offset; empty: from now. */
  appliesFrom: string;
  words: string;
  password: string;
}

export interface IssueReceipt {
  id: string;
  letter: string;
  /** Of the revision, as every submission under it will name it. */
  digest: string;
  seq: number;
}

/**
 * Puts a reviewed draft into force as the next revision: the engineer signs it with an answer for every changed line, over
 * the impact that was shown. What was signed stays as it was signed, unless the answer for its line says retroactive.
 */
export async function issueRevision(asking: Asking, input: IssueInput): Promise<IssueReceipt> {
  await confirmPassword(asking, input.password);
  return inProject(asking, "approve revision", async (tx, member, at) => {
    const { project, house } = asking;
    const before = await findIssued(tx, input.id);
    if (before && before.approvedBy === member.personId) return { id: input.id, letter: before.letter, digest: before.digest, seq: before.seq };
    const [draft, latest] = await Promise.all([draftOf(tx, project.id, input.letter), latestRevision(tx, project.id)]);
    if (!draft) throw new DomainError("not-found", `There is no draft of revision ${input.letter}. It may have been approved or set aside.`);
    if (!latest) throw new DomainError("blocked", "The project was opened without a revision. Its engineer approves the first one where it is opened.");
    const { digest, reviewedBy } = await requireReviewed(tx, project, draft, member.personId);
    const impact = await revisionImpact(tx, project, { was: latest.revision, now: draft.revision }, at);
    if (impact.digest !== input.impactDigest) throw new DomainError("conflict", "The impact has changed since you looked: look again, then approve what you see.");
    const terms = readTerms(input, impact.difference.changes, { latest, zone: project.zone, at });
    const appliesTo = (type: string | null, line: string): Applies => input.answers.find((one) => one.type === type && one.line === line)?.applies ?? "open points";
    const { seq } = await fileRecord(tx, house.key, {
      projectId: project.id,
      actor: member.personId,
      at,
      body: {
        kind: "revision", id: input.id, digest, revision: draft.revision, approvedBy: member.personId, reviewedBy, words: terms.words,
        appliesFrom: new Date(terms.appliesFrom).toISOString(),
        answers: terms.answers,
        impact: impact.signed.map(({ sheet, type, line, impact: { finding } }) => ({ sheet, line, finding, applies: appliesTo(type, line) })),
      },
    });
    await deleteDraftOf(tx, project.id, draft.letter);
    await refreshProject(tx, project, at);
    return { id: input.id, letter: draft.letter, digest, seq };
  });
}

/** The draft of a letter as a whole revision. What is not whole yet is no revision. */
async function draftOf(tx: Tx, projectId: string, letter: string): Promise<Draft | null> {
  const found = await findRevisionDraft(tx, projectId);
  if (found?.letter !== letter) return null;
  const whole = RevisionSchema.safeParse(found.draft);
  if (!whole.success) throw new DomainError("blocked", `The draft of revision ${letter} is not whole yet: ${whole.error.issues[0]?.message ?? "something is missing."}`);
  return { letter, revision: whole.data };
}

/** The revision that was approved last, whether it is in force yet or not. */
export async function latestRevision(tx: Tx, projectId: string): Promise<ApprovedRevision | null> {
  return (await listRevisions(tx, projectId)).sort((a, b) => a.seq - b.seq).at(-1) ?? null;
}

/** Why a draft cannot be approved as it stands, or who reviewed it as it stands. */
export async function reviewOfDraft(tx: Tx, project: Pick<Project, "id" | "zone">, { letter, revision }: Draft): Promise<{ digest: string; reviewedBy: string; at: Instant } | { digest: string; because: string }> {
  const digest = sha256(canonicalBytes(revision));
  const review = await lastReview(tx, project.id, letter);
  if (!review) return { digest, because: `Revision ${letter} is not reviewed yet. The QC manager reviews it first.` };
  const when = formatWhen(review.at, project.zone);
  if (review.outcome === "sent back") return { digest, because: `Revision ${letter} was sent back ${when}. It has to be mended and reviewed again.` };
  if (review.digest !== digest) return { digest, because: `The draft of revision ${letter} changed after it was reviewed ${when}. It has to be reviewed again.` };
  return { digest, reviewedBy: review.by, at: review.at };
}

async function requireReviewed(tx: Tx, project: Project, draft: Draft, engineer: string): Promise<{ digest: string; reviewedBy: string }> {
  const review = await reviewOfDraft(tx, project, draft);
  if ("because" in review) throw new DomainError("blocked", review.because);
  if (review.reviewedBy === engineer) throw new DomainError("not-allowed", "You reviewed this revision, so somebody else has to approve it.");
  return review;
}

interface Terms {
  appliesFrom: Instant;
  words: string;
  answers: ChangeAnswer[];
}

function readTerms(input: IssueInput, changes: readonly Change[], { latest, zone, at }: { latest: ApprovedRevision; zone: string; at: Instant }): Terms {
  const faults: Fault[] = changes.flatMap(({ number, lines }) => {
    const given = lines.map(({ type, line }) => input.answers.filter((one) => one.type === type && one.line === line));
    return given.every((own) => own.length === 1) ? [] : [{ field: `answer-${number}`, message: `Answer change ${number}: from when does it apply?` }];
  });
  const known = changes.flatMap(({ lines }) => lines);
  const stray = input.answers.find(({ type, line }) => !known.some((one) => one.type === type && one.line === line));
  if (stray) faults.push({ field: "answers", message: `Point ${stray.line}${stray.type ? ` of type ${stray.type}` : ""} does not change, so it takes no answer.` });
  const words = input.words.trim();
  if (words === "") faults.push({ field: "words", message: "Say why, in words: the letter, the drawing, the test." });
  const from = readFrom(input.appliesFrom, latest, zone, at);
  if ("message" in from) faults.push({ field: "appliesFrom", message: from.message });
  if (faults.length > 0 || "message" in from) throw new DomainError("invalid", faults.length === 1 ? "1 thing stops the approval." : `${faults.length} things stop the approval.`, faults);
  return { appliesFrom: from.instant, words: words.slice(0, 2_000), answers: input.answers };
}

/** A revision reaches nothing that was signed by lying back in time: that takes the answer "retroactive". */
function readFrom(text: string, latest: ApprovedRevision, zone: string, at: Instant): { instant: Instant } | { message: string } {
  const read = readEntryTime(text, zone);
  if (!read.ok) return { message: read.message };
  const instant = read.instant ?? at;
  if (instant < at) return { message: "This time has passed. Leave it empty for now; what is signed is reached by the answer retroactive." };
  if (instant <= latest.appliesFrom) return { message: `Revision ${latest.letter} applies from ${formatWhen(latest.appliesFrom, zone)}. This one applies later.` };
  return { instant };
}
