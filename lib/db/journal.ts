import type { Instant } from "#lib/domain/instant";
import { DomainError } from "#lib/domain/refusal";
import { applyRecord } from "#lib/db/apply-record";
import type { Tx } from "#lib/db/client";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { signHead } from "#lib/records/head";
import { signBytes, type SigningKey } from "#lib/records/key";
import { RecordSchema, type RecordBody, type RecordKind } from "#lib/records/kind";
import { nextEntry } from "#lib/records/log";

/** Kinds after which the head of the log is signed, because somebody will rely on the log as it stands there. */
const SIGNED_KINDS: ReadonlySet<RecordBody["kind"]> = new Set(["decision", "acceptance", "closeout", "revision", "schedule"]);

/** What happened, as the log says it. */
const ACTS: Record<RecordKind, string> = {
  project: "project opened",
  member: "member joined",
  departure: "member left",
  qualification: "qualification recorded",
  revision: "revision approved",
  review: "revision reviewed",
  pile: "pile added",
  schedule: "schedule imported",
  "schedule undone": "schedule undone",
  override: "requirement changed on a pile",
  logger: "logger read",
  weather: "weather read",
  "tide table": "tide table kept",
  instrument: "instrument registered",
  calibration: "instrument calibrated",
  lot: "lot received",
  photo: "photo received",
  "photo reading": "photo read",
  "clock photo": "clock photo received",
  "camera clock": "camera clock confirmed",
  "likeness answer": "look-alike answered",
  "streak check": "mix checked for streaks",
  "photo limits": "photo limits set",
  document: "document received",
  temperature: "temperature read",
  submission: "point submitted",
  withdrawal: "submission withdrawn",
  check: "submission checked",
  decision: "point decided",
  acceptance: "pile accepted",
  closeout: "closeout issued",
};

export interface Filed {
  seq: number;
  digest: string;
  at: Instant;
}

/**
 * Files one record: its canonical bytes, the log entry that puts it into force, and the rows that pages read, all in
 * the caller's transaction. Decisions and acceptances carry the server's signature over their bytes.
 *
 * @param actor person id, or "system".
 */
export async function fileRecord(
  tx: Tx,
  key: SigningKey,
  { projectId, actor, at, body }: { projectId: string; actor: string; at: Instant; body: RecordBody },
): Promise<Filed> {
  const record = RecordSchema.parse(body);
  const bytes = canonicalBytes(record);
  const digest = sha256(bytes);
  const iso = new Date(at).toISOString();
  const previous = await tx.logEntry.findFirst({ where: { projectId }, orderBy: { seq: "desc" }, select: { bytes: true } });
  const { entry, bytes: entryBytes, digest: entryDigest } = nextEntry(previous?.bytes ?? null, {
    project: projectId,
    at: iso,
    actor,
    type: ACTS[record.kind],
    ref: { kind: record.kind, digest },
  });
  // The same thing said twice, as when somebody leaves and joins again, is one record that two entries put into force.
  if (!(await tx.record.findUnique({ where: { digest }, select: { digest: true } }))) {
    await tx.record.create({ data: { digest, projectId, kind: record.kind, bytes: new Uint8Array(bytes) } });
  }
  await tx.logEntry.create({
    data: { projectId, seq: entry.seq, digest: entryDigest, bytes: new Uint8Array(entryBytes), at: new Date(at), actor, type: entry.type, refDigest: digest },
  });
  await applyRecord(tx, { projectId, seq: entry.seq, at: new Date(at), digest }, record).catch(refuseTakenId);
  if ("attestation" in record) {
    await tx.signature.create({ data: { digest, keyId: key.id, signature: signBytes(key, bytes), attestation: record.attestation } });
  }
  if (SIGNED_KINDS.has(record.kind)) await saveHead(tx, key, projectId, { size: entry.seq, last: entryDigest, at: iso });
  return { seq: entry.seq, digest, at };
}

/** An id is made where a record is written. One that exists was sent before, by somebody else or for something else. */
function refuseTakenId(error: unknown): never {
  const { code, meta } = error as { code?: string; meta?: { driverAdapterError?: { cause?: { originalMessage?: string } } } };
  // The trigger that keeps rows from being replaced speaks first; Prisma takes its words for a broken foreign key.
  const taken = code === "P2002" || /append-only: this row exists/.test(meta?.driverAdapterError?.cause?.originalMessage ?? "");
  if (taken) throw new DomainError("conflict", "This was sent before, or its id or name is taken. Load the page again.");
  throw error;
}

async function saveHead(tx: Tx, key: SigningKey, projectId: string, { size, last, at }: { size: number; last: string; at: string }): Promise<void> {
  const head = signHead(key, { project: projectId, size, last, at });
  await tx.head.create({ data: { projectId, size, bytes: new Uint8Array(head.bytes), signature: head.signature, keyId: key.id } });
}

/** Signs the head of the log as it stands, unless it is signed already; gives its size. */
export async function signCurrentHead(tx: Tx, key: SigningKey, projectId: string, at: Instant): Promise<number> {
  const last = await tx.logEntry.findFirstOrThrow({ where: { projectId }, orderBy: { seq: "desc" }, select: { seq: true, digest: true } });
  const signed = await tx.head.findUnique({ where: { projectId_size: { projectId, size: last.seq } } });
  if (!signed) await saveHead(tx, key, projectId, { size: last.seq, last: last.digest, at: new Date(at).toISOString() });
  return last.seq;
}

export interface LogHead {
  seq: number;
  digest: string;
  at: Instant;
}

/** The last entry of a project's log, for the title block; null before the first. */
export async function logHead(tx: Tx, projectId: string): Promise<LogHead | null> {
  const last = await tx.logEntry.findFirst({ where: { projectId }, orderBy: { seq: "desc" }, select: { seq: true, digest: true, at: true } });
  return last && { seq: last.seq, digest: last.digest, at: last.at.getTime() };
}

/** The last thing that happened in a project other than that photos came or were read: the digest of its entry, or null. */
export async function lastActBesidePhotos(tx: Tx, projectId: string): Promise<string | null> {
  const photos = [ACTS.photo, ACTS["photo reading"]];
  const last = await tx.logEntry.findFirst({ where: { projectId, type: { notIn: photos } }, orderBy: { seq: "desc" }, select: { digest: true } });
  return last && last.digest;
}
