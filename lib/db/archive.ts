import type { Tx } from "#lib/db/client";

export interface ArchivedRecord {
  digest: string;
  kind: string;
  bytes: Uint8Array;
  signature: { key: string; base64: string } | null;
}

export interface Archive {
  records: ArchivedRecord[];
  logLines: Uint8Array[];
  heads: { bytes: Uint8Array; signature: string }[];
}

/** Everything of a project that a package keeps byte for byte. */
export async function readArchive(tx: Tx, projectId: string): Promise<Archive> {
  const [own, signatures, entries, heads] = await Promise.all([
    tx.record.findMany({ where: { projectId } }),
    tx.signature.findMany(),
    tx.logEntry.findMany({ where: { projectId }, orderBy: { seq: "asc" }, select: { bytes: true, refDigest: true } }),
    tx.head.findMany({ where: { projectId }, orderBy: { size: "asc" } }),
  ]);
  // What another project said first in the same words is on file under its name.
  const known = new Set(own.map(({ digest }) => digest));
  const shared = await tx.record.findMany({ where: { digest: { in: entries.map(({ refDigest }) => refDigest).filter((digest) => !known.has(digest)) } } });
  const records = [...own, ...shared];
  const signed = new Map(signatures.map(({ digest, keyId, signature }) => [digest, { key: keyId, base64: signature }]));
  return {
    records: records.map(({ digest, kind, bytes }) => ({ digest, kind, bytes, signature: signed.get(digest) ?? null })),
    logLines: entries.map(({ bytes }) => bytes),
    heads: heads.map(({ bytes, signature }) => ({ bytes, signature })),
  };
}
