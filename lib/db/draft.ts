import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";

export interface DraftKey {
  sheet: string;
  line: string;
  personId: string;
}

export interface Draft {
  body: string;
  updatedAt: Instant;
}

export async function findDraft(tx: Tx, key: DraftKey): Promise<Draft | null> {
  const row = await tx.draft.findUnique({ where: { sheet_line_personId: key } });
  return row && { body: row.body, updatedAt: row.updatedAt.getTime() };
}

/** Which points of a sheet have a draft, by anybody. */
export async function draftedLines(tx: Tx, sheet: string): Promise<Set<string>> {
  const rows = await tx.draft.findMany({ where: { sheet }, select: { line: true } });
  return new Set(rows.map(({ line }) => line));
}

export async function saveDraft(tx: Tx, key: DraftKey, body: string, at: Instant): Promise<void> {
  const data = { body, updatedAt: new Date(at) };
  await tx.draft.upsert({ where: { sheet_line_personId: key }, create: { ...key, ...data }, update: data });
}

export async function deleteDraft(tx: Tx, key: DraftKey): Promise<void> {
  await tx.draft.deleteMany({ where: key });
}
