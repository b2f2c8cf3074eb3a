import type { Tx } from "#lib/db/client";

/** Where a record with this digest stands in the log of a project; null where it was never filed. */
export async function findFiled(tx: Tx, projectId: string, digest: string): Promise<{ seq: number } | null> {
  return tx.logEntry.findFirst({ where: { projectId, refDigest: digest }, orderBy: { seq: "asc" }, select: { seq: true } });
}
