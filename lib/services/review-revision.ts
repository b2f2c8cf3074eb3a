import { DomainError } from "#lib/domain/refusal";
import { draftFaults } from "#lib/domain/requirement/draft";
import { isSame, differenceOf } from "#lib/domain/requirement/difference";
import { fileRecord } from "#lib/db/journal";
import { findRevisionDraft, hasReview } from "#lib/db/revision-draft";
import { inProject, type Asking } from "#lib/services/ask";
import { latestRevision } from "#lib/services/issue-revision";

export interface ReviewInput {
  id: string;
  /** Of the draft that was read. */
  digest: string;
  outcome: "reviewed" | "sent back";
  words: string;
}

/**
 * The QC manager has read a draft and says that it may go to the engineer, or sends it back with words. The record names the digest
 * of what was read: a later change is another draft, and nobody has reviewed that.
 */
export async function reviewRevision(asking: Asking, input: ReviewInput): Promise<{ letter: string; digest: string }> {
  return inProject(asking, "review revision", async (tx, member, at) => {
    const { project, house } = asking;
    const found = await findRevisionDraft(tx, project.id);
    if (!found) throw new DomainError("not-found", "There is no draft. It may have been approved or discarded.");
    const { letter, digest, draft } = found;
    if (await hasReview(tx, input.id)) return { letter, digest };
    if (digest !== input.digest) throw new DomainError("conflict", "The draft changed since you read it. Load the page again, and review what you see.");
    const words = input.words.trim().slice(0, 2_000);
    if (input.outcome === "sent back" && words === "") throw new DomainError("invalid", "The draft is not sent back yet.", [{ field: "words", message: "Say what has to be mended." }]);
    if (input.outcome === "reviewed") {
      const faults = draftFaults(draft);
      if (faults.length > 0) throw new DomainError("blocked", "The draft is not whole yet.", faults.map(({ message, type }) => ({ field: null, message: type ? `Type ${type}: ${message}` : message })));
      const latest = await latestRevision(tx, project.id);
      if (latest && isSame(differenceOf(latest.revision, draft))) throw new DomainError("blocked", `The draft asks for the same as revision ${latest.letter}. There is nothing to review.`);
    }
    const body = { kind: "review" as const, id: input.id, letter, digest, outcome: input.outcome, words, by: member.personId, reviewedAt: new Date(at).toISOString() };
    await fileRecord(tx, house.key, { projectId: project.id, actor: member.personId, at, body });
    return { letter, digest };
  });
}
