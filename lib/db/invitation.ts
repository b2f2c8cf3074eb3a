import type { Instant } from "#lib/domain/instant";
import type { Role } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";

export interface Invitation {
  tokenHash: string;
  projectId: string;
  name: string;
  organisationId: string;
  roles: Role[];
  invitedBy: string;
  createdAt: Instant;
  expiresAt: Instant;
  usedAt: Instant | null;
}

export async function saveInvitation(tx: Tx, { roles, createdAt, expiresAt, usedAt, ...row }: Invitation): Promise<void> {
  await tx.invitation.create({
    data: { ...row, roles: JSON.stringify(roles), createdAt: new Date(createdAt), expiresAt: new Date(expiresAt), usedAt: usedAt === null ? null : new Date(usedAt) },
  });
}

export async function findInvitation(tx: Tx, tokenHash: string): Promise<Invitation | null> {
  const row = await tx.invitation.findUnique({ where: { tokenHash } });
  return row && toInvitation(row);
}

export async function markInvitationUsed(tx: Tx, tokenHash: string, at: Instant): Promise<void> {
  await tx.invitation.update({ where: { tokenHash }, data: { usedAt: new Date(at) } });
}

function toInvitation(row: NonNullable<Awaited<ReturnType<Tx["invitation"]["findUnique"]>>>): Invitation {
  return {
    ...row,
    roles: JSON.parse(row.roles) as Role[],
    createdAt: row.createdAt.getTime(),
    expiresAt: row.expiresAt.getTime(),
    usedAt: row.usedAt?.getTime() ?? null,
  };
}
