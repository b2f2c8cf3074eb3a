import type { Instant } from "#lib/domain/instant";
import { RevisionSchema, type Revision } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";

/** A revision as it is being written, where it can be read as one. */
export interface DraftOnFile {
  letter: string;
  revision: Revision;
}

/** The draft of a letter; without one, the newest draft of the project. Null where there is none, or it is not whole yet. */
export async function findDraft(tx: Tx, projectId: string, letter?: string): Promise<DraftOnFile | null> {
  const row = await tx.revisionDraft.findFirst({ where: { projectId, ...(letter ? { letter } : {}) }, orderBy: { changedAt: "desc" }, select: { letter: true, body: true } });
  const read = row && RevisionSchema.safeParse(JSON.parse(row.body));
  return row && read?.success ? { letter: row.letter, revision: read.data } : null;
}

export async function deleteDraftOf(tx: Tx, projectId: string, letter: string): Promise<void> {
  await tx.revisionDraft.deleteMany({ where: { projectId, letter } });
}

export interface ReviewOnFile {
  digest: string;
  outcome: "reviewed" | "sent back";
  by: string;
  at: Instant;
}

/** The last review of a revision under that letter. */
export async function lastReview(tx: Tx, projectId: string, letter: string): Promise<ReviewOnFile | null> {
  const row = await tx.review.findFirst({ where: { projectId, letter }, orderBy: { seq: "desc" } });
  return row && { digest: row.digest, outcome: row.outcome === "reviewed" ? "reviewed" : "sent back", by: row.byId, at: row.at.getTime() };
}

/** The receipt of a revision that was issued under an id. */
export async function findIssued(tx: Tx, id: string): Promise<{ letter: string; digest: string; seq: number; approvedBy: string } | null> {
  return tx.revision.findUnique({ where: { id }, select: { letter: true, digest: true, seq: true, approvedBy: true } });
}
