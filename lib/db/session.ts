import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";

export interface Credential {
  personId: string;
  signIn: string;
  passwordHash: string;
}

export async function findCredential(tx: Tx, by: { signIn: string } | { personId: string }): Promise<Credential | null> {
  return tx.credential.findFirst({ where: by });
}

export async function saveCredential(tx: Tx, credential: Credential): Promise<void> {
  await tx.credential.create({ data: credential });
}

export interface SessionRow {
  personId: string;
  expiresAt: Instant;
}

export async function saveSession(tx: Tx, row: { tokenHash: string; personId: string; createdAt: Instant; expiresAt: Instant; agent: string }): Promise<void> {
  await tx.session.create({ data: { ...row, createdAt: new Date(row.createdAt), expiresAt: new Date(row.expiresAt) } });
}

export async function findSession(tx: Tx, tokenHash: string): Promise<SessionRow | null> {
  const row = await tx.session.findUnique({ where: { tokenHash } });
  return row && { personId: row.personId, expiresAt: row.expiresAt.getTime() };
}

export async function deleteSession(tx: Tx, tokenHash: string): Promise<void> {
  await tx.session.deleteMany({ where: { tokenHash } });
}

export async function deleteSessionsBefore(tx: Tx, instant: Instant): Promise<void> {
  await tx.session.deleteMany({ where: { expiresAt: { lt: new Date(instant) } } });
}

