import { z } from "zod";
import { canonicalBytes, sha256 } from "#lib/records/canonical";

const Digest = z.string().regex(/^[0-9a-f]{64}$/, "must be 64 lower-case hexadecimal digits");

/** ISO 8601 in UTC with milliseconds, the only form of time inside the log and its heads. */
export const UtcInstant = z.iso.datetime({ precision: 3, offset: false, error: "must be UTC with milliseconds" });

/** One line of a project's log. `ref` names the record that the entry puts into force; `prev` binds the entry to the one before it. */
export const LogEntrySchema = z.strictObject({
  v: z.literal(1),
  project: z.string().min(1),
  seq: z.int().min(1),
  at: UtcInstant,
  actor: z.string().min(1),
  type: z.string().min(1),
  ref: z.strictObject({ kind: z.string().min(1), digest: Digest }),
  prev: Digest,
});
export type LogEntry = z.infer<typeof LogEntrySchema>;
export type LogFields = Pick<LogEntry, "project" | "at" | "actor" | "type" | "ref">;

/** `prev` of a project's first entry. */
export const GENESIS = "0".repeat(64);

/** The bytes of an entry as they are stored, chained and packed. Throws when the entry breaks the schema. */
export function entryBytes(entry: LogEntry): Buffer {
  return canonicalBytes(LogEntrySchema.parse(entry));
}

/**
 * The entry that follows, numbered and chained.
 * @param previousBytes  The stored bytes of the project's last entry, null when there is none yet.
 * Throws when the previous entry is of another project or cannot be read.
 */
export function nextEntry(previousBytes: Uint8Array | null, fields: LogFields): { entry: LogEntry; bytes: Buffer; digest: string } {
  const previous = previousBytes === null ? null : parseEntry(previousBytes);
  if (previous && previous.project !== fields.project) {
    throw new Error(`The log of ${previous.project} cannot go on with an entry of ${fields.project}.`);
  }
  const prev = previousBytes === null ? GENESIS : sha256(previousBytes);
  const { project, at, actor, type, ref } = fields;
  const entry: LogEntry = { v: 1, project, seq: (previous?.seq ?? 0) + 1, at, actor, type, ref, prev };
  const bytes = entryBytes(entry);
  return { entry, bytes, digest: sha256(bytes) };
}

/** Reads the stored bytes of one entry. Throws when they are not canonical JSON of the schema. */
export function parseEntry(bytes: Uint8Array): LogEntry {
  const value: unknown = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  const entry = LogEntrySchema.parse(value);
  if (!canonicalBytes(entry).equals(bytes)) throw new Error("not in canonical form");
  return entry;
}

export type ChainResult = { ok: true; size: number; last: string } | { ok: false; seq: number; problem: string };

/**
 * Walks a whole log from its first entry.
 * @param entries  Stored bytes, in order.
 * @returns How many entries and the digest of the last (GENESIS for an empty log), or the place counted from 1 of the first
 *          entry that does not follow, and why. A log cut at its end is still a sound chain: only a signed head shows the cut.
 */
export function verifyChain(entries: Iterable<Uint8Array>): ChainResult {
  let seq = 0;
  let last = GENESIS;
  let project: string | undefined;
  for (const bytes of entries) {
    seq += 1;
    const problem = problemOf(bytes, { seq, prev: last, project });
    if (typeof problem === "string") return { ok: false, seq, problem };
    project = problem.project;
    last = sha256(bytes);
  }
  return { ok: true, size: seq, last };
}

function problemOf(bytes: Uint8Array, wanted: { seq: number; prev: string; project: string | undefined }): string | LogEntry {
  let entry: LogEntry;
  try {
    entry = parseEntry(bytes);
  } catch (error) {
    const why = error instanceof z.ZodError ? error.issues.map((issue) => `${issue.path.join(".")} ${issue.message}`).join("; ") : String(error);
    return `is not a log entry: ${why}`;
  }
  if (entry.seq !== wanted.seq) return `is numbered ${entry.seq}, ${wanted.seq} follows`;
  if (entry.prev !== wanted.prev) return "does not follow from the entry before it";
  if (wanted.project !== undefined && entry.project !== wanted.project) return `is of project ${entry.project}, not ${wanted.project}`;
  return entry;
}
