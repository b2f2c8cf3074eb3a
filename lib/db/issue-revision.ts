import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";

/** Takes the draft of a letter away: it was approved, or set aside. */
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
