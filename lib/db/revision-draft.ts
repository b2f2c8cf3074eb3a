import { randomUUID } from "node:crypto";
import type { Instant } from "#lib/domain/instant";
import { DraftSchema } from "#lib/domain/requirement/draft";
import type { Revision } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { canonicalText } from "#lib/db/json-text";
import { canonicalBytes, sha256 } from "#lib/records/canonical";

/** The revision that is being written, as far as it is. */
export interface RevisionDraft {
  letter: string;
  draft: Revision;
  /** Of the canonical draft: a review names it, and stands for no other. */
  digest: string;
  changedAt: Instant;
  /** Who changed it last. */
  by: string;
}

/** The draft of a project: there is at most one, under the next letter. */
export async function findRevisionDraft(tx: Tx, projectId: string): Promise<RevisionDraft | null> {
  const row = await tx.revisionDraft.findFirst({ where: { projectId }, orderBy: { changedAt: "desc" } });
  if (!row) return null;
  const draft = DraftSchema.parse(JSON.parse(row.body));
  return { letter: row.letter, draft, digest: sha256(canonicalBytes(draft)), changedAt: row.changedAt.getTime(), by: row.byId };
}

export async function saveRevisionDraft(tx: Tx, projectId: string, draft: Revision, { at, by }: { at: Instant; by: string }): Promise<void> {
  const { letter } = draft;
  const data = { body: canonicalText(draft), changedAt: new Date(at), byId: by };
  await tx.revisionDraft.upsert({ where: { projectId_letter: { projectId, letter } }, create: { id: randomUUID(), projectId, letter, ...data }, update: data });
}

/** An approved revision exactly as it was approved: the bytes that its digest is of. */
export async function findRevisionBytes(tx: Tx, projectId: string, letter: string): Promise<{ body: string; digest: string } | null> {
  return tx.revision.findFirst({ where: { projectId, letter }, select: { body: true, digest: true } });
}

/** What the last reviewer of a letter said. */
export async function findReviewWords(tx: Tx, projectId: string, letter: string): Promise<string> {
  return (await tx.review.findFirst({ where: { projectId, letter }, orderBy: { seq: "desc" }, select: { words: true } }))?.words ?? "";
}

/** Whether a review was filed under this id before. */
export async function hasReview(tx: Tx, id: string): Promise<boolean> {
  return (await tx.review.count({ where: { id } })) > 0;
}
