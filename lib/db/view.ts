import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import type { LogPlace } from "#lib/db/apply-record";

/** The tables that pages read. Every row of them follows from the log. */
export const VIEW_TABLES = [
  "Project", "Organisation", "Person", "Membership", "Qualification", "Revision", "Review", "Bent", "Pile", "Point", "PointRecord", "Photo", "Document", "Reading",
  "Instrument", "Calibration", "Lot", "Acceptance", "CloseoutIssue", "TideTable", "Weather", "Logger", "Schedule", "PhotoLook", "Likeness", "LikenessAnswer",
  "PhotoReading", "CameraSample", "ClockPhoto", "CameraClock", "StreakCheck", "PhotoLimits",
] as const;
export type ViewTable = (typeof VIEW_TABLES)[number];

/** Every row of a table as one line of text, in an order that says nothing about when it was written. */
export async function viewRows(tx: Tx, table: ViewTable): Promise<string[]> {
  const rows = await tx.$queryRawUnsafe<Record<string, unknown>[]>(`SELECT * FROM "${table}"`);
  const text = (_name: string, value: unknown): unknown => (typeof value === "bigint" ? value.toString() : value);
  return rows.map((row) => JSON.stringify(row, text)).sort();
}

export async function loggedProjects(tx: Tx): Promise<string[]> {
  const rows = await tx.logEntry.findMany({ where: { seq: 1 }, select: { projectId: true }, orderBy: { projectId: "asc" } });
  return rows.map(({ projectId }) => projectId);
}

export interface LoggedRecord {
  place: LogPlace;
  at: Instant;
  bytes: Uint8Array;
}

/** What the log of a project put into force after a place, in order, with the bytes of each record. */
export async function loggedRecords(tx: Tx, projectId: string, { after, most }: { after: number; most: number }): Promise<LoggedRecord[]> {
  const entries = await tx.logEntry.findMany({
    where: { projectId, seq: { gt: after } }, orderBy: { seq: "asc" }, take: most, select: { seq: true, at: true, refDigest: true },
  });
  const records = await tx.record.findMany({ where: { digest: { in: entries.map(({ refDigest }) => refDigest) } }, select: { digest: true, bytes: true } });
  const bytesOf = new Map(records.map(({ digest, bytes }) => [digest, bytes]));
  return entries.map(({ seq, at, refDigest: digest }) => {
    const bytes = bytesOf.get(digest);
    if (!bytes) throw new Error(`Entry ${seq} of ${projectId} names record ${digest}, which is not there.`);
    return { place: { projectId, seq, at, digest }, at: at.getTime(), bytes };
  });
}
