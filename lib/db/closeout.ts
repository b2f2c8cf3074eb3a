import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";

export interface CloseoutOnFile {
  id: string;
  number: number;
  kind: "interim" | "final";
  at: Instant;
  byId: string;
  tagManifestSha256: string;
  /** Null while the package is not on this server any more. */
  file: { path: string; sha256: string; bytes: number } | null;
}

/** Issues of a project's closeout package, newest first. An issue is never overwritten. */
export async function listCloseouts(tx: Tx, projectId: string): Promise<CloseoutOnFile[]> {
  const rows = await tx.closeoutIssue.findMany({ where: { projectId }, orderBy: { number: "desc" } });
  const files = await tx.closeoutFile.findMany({ where: { issueId: { in: rows.map(({ id }) => id) } } });
  return rows.map(({ id, number, kind, at, byId, tagManifestSha256 }) => {
    const file = files.find(({ issueId }) => issueId === id);
    return {
      id, number, kind: kind as "interim" | "final", at: at.getTime(), byId, tagManifestSha256,
      file: file ? { path: file.path, sha256: file.sha256, bytes: file.bytes } : null,
    };
  });
}

export async function saveCloseoutFile(tx: Tx, row: { issueId: string; path: string; sha256: string; bytes: number }): Promise<void> {
  await tx.closeoutFile.create({ data: row });
}
