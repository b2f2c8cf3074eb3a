import { z } from "zod";
import { canonicalBytes } from "#lib/records/canonical";
import { keyId, signBytes, verifyBytes, type SigningKey } from "#lib/records/key";
import { UtcInstant } from "#lib/records/log";

/**
 * A signed statement of how far a project's log goes: `size` entries, `last` the digest of the last one.
 * Once a head has left the server, nothing up to `size` can be rewritten without it showing.
 */
export const HeadSchema = z.strictObject({
  v: z.literal(1),
  project: z.string().min(1),
  size: z.int().min(1),
  last: z.string().regex(/^[0-9a-f]{64}$/),
  at: UtcInstant,
  key: z.string().regex(/^[0-9a-f]{16}$/),
});
export type Head = z.infer<typeof HeadSchema>;

export interface SignedHead {
  bytes: Buffer;
  /** Base64 of the Ed25519 signature over `bytes`. */
  signature: string;
}

/** Signs the head of a log; `at` is ISO 8601 in UTC with milliseconds. */
export function signHead(key: SigningKey, fields: Pick<Head, "project" | "size" | "last" | "at">): SignedHead & { head: Head } {
  const { project, size, last, at } = fields;
  const head = HeadSchema.parse({ v: 1, project, size, last, at, key: key.id });
  const bytes = canonicalBytes(head);
  return { head, bytes, signature: signBytes(key, bytes) };
}

/** Reads a head's bytes. Throws when they are not canonical JSON of the schema. */
export function parseHead(bytes: Uint8Array): Head {
  const value: unknown = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  const head = HeadSchema.parse(value);
  if (!canonicalBytes(head).equals(bytes)) throw new Error("The head is not in canonical form.");
  return head;
}

export type HeadResult = { ok: true; head: Head } | { ok: false; problem: string };

/** Checks form, key and signature of a head. Whether it fits a log is for the reader of that log: `size` and `last`. */
export function verifyHead({ bytes, signature }: SignedHead, publicPem: string): HeadResult {
  let head: Head;
  try {
    head = parseHead(bytes);
  } catch (error) {
    return { ok: false, problem: `is not a head: ${String(error)}` };
  }
  if (head.key !== keyId(publicPem)) return { ok: false, problem: `names key ${head.key}, not the one given` };
  if (!verifyBytes(publicPem, bytes, signature)) return { ok: false, problem: "the signature does not hold" };
  return { ok: true, head };
}
