import type { Tx } from "#lib/db/client";

/**
 * Copies a stretch of a project's log as it is, byte for byte: its entries, the records they put into force that are not
 * there yet (one that two projects filed in the same words is one row), and the signatures over those records.
 */
export async function copyLog(from: Tx, into: Tx, projectId: string, { after, most }: { after: number; most: number }): Promise<void> {
  const entries = await from.logEntry.findMany({ where: { projectId, seq: { gt: after } }, orderBy: { seq: "asc" }, take: most });
  const named = { digest: { in: [...new Set(entries.map(({ refDigest }) => refDigest))] } };
  const there = new Set((await into.record.findMany({ where: named, select: { digest: true } })).map(({ digest }) => digest));
  const missing = <T extends { digest: string }>(rows: T[]): T[] => rows.filter(({ digest }) => !there.has(digest));
  await into.record.createMany({ data: missing(await from.record.findMany({ where: named })) });
  await into.signature.createMany({ data: missing(await from.signature.findMany({ where: named })) });
  await into.logEntry.createMany({ data: entries });
}

/** Copies the signed heads of a project's log as they are. */
export async function copyHeads(from: Tx, into: Tx, projectId: string): Promise<void> {
  await into.head.createMany({ data: await from.head.findMany({ where: { projectId }, orderBy: { size: "asc" } }) });
}
