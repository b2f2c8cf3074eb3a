import { createHash, randomBytes, randomUUID } from "node:crypto";
import { ROLES_OF_PART } from "#lib/domain/access/member";
import { HOUR, type Instant } from "#lib/domain/instant";
import type { Role } from "#lib/domain/requirement/set";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { findInvitation, markInvitationUsed, saveInvitation, type Invitation } from "#lib/db/invitation";
import { fileRecord } from "#lib/db/journal";
import { getProjectById, listOrganisations, type Project } from "#lib/db/project";
import { findCredential, saveCredential } from "#lib/db/session";
import { inProject, type Asking } from "#lib/services/ask";
import type { House } from "#lib/services/house";
import { hashPassword, openSession, type OpenedSession } from "#lib/services/sign-in";

/** An invitation link can be used once, within a week. */
const INVITATION_HOURS = 7 * 24;
const SHORTEST_PASSWORD = 10;

const digest = (token: string): string => createHash("sha256").update(token).digest("hex");

/** Makes a link that lets one person join the project. The token is given once; only its digest is kept. */
export async function invitePerson(asking: Asking, input: { name: string; organisationId: string; roles: Role[] }): Promise<{ token: string; expiresAt: Instant }> {
  return inProject(asking, "keep people", async (tx, member) => {
    const faults: Fault[] = [];
    const organisations = await listOrganisations(tx, asking.project.id);
    if (input.name.trim() === "") faults.push({ field: "name", message: "Give the person's name as it has to stand in the record." });
    const organisation = organisations.find(({ id }) => id === input.organisationId);
    const alien = input.roles.find((role) => organisation && !ROLES_OF_PART[organisation.part].includes(role));
    if (!organisation) faults.push({ field: "organisationId", message: "Choose the person's organisation." });
    // Whoever makes the link can use it: with one for an inspector a contractor could release its own work.
    else if (!member.roles.includes("administrator") && organisation.id !== member.organisationId) {
      faults.push({ field: "organisationId", message: "You invite people of your own organisation. The administrator invites the others." });
    }
    if (input.roles.length === 0) faults.push({ field: "roles", message: "Choose at least one role." });
    if (organisation && alien) faults.push({ field: "roles", message: `Nobody of ${organisation.name} is ${alien} here: the parts of the contract are kept apart.` });
    if (faults.length > 0) throw new DomainError("invalid", "The invitation is not complete.", faults);
    const now = asking.house.realNow();
    const token = randomBytes(24).toString("base64url");
    const expiresAt = now + INVITATION_HOURS * HOUR;
    await saveInvitation(tx, {
      tokenHash: digest(token),
      projectId: asking.project.id,
      name: input.name.trim(),
      organisationId: input.organisationId,
      roles: input.roles,
      invitedBy: member.personId,
      createdAt: now,
      expiresAt,
      usedAt: null,
    });
    return { token, expiresAt };
  });
}

/** The invitation behind a link, as long as it can be used. */
export async function openInvitation(house: House, token: string): Promise<{ invitation: Invitation; project: Project }> {
  const invitation = await findInvitation(house.db.read, digest(token));
  if (!invitation || invitation.usedAt !== null || invitation.expiresAt < house.realNow()) {
    throw new DomainError("not-found", "This invitation has been used or has run out. Ask for a new one.");
  }
  return { invitation, project: await getProjectById(house.db.read, invitation.projectId) };
}

/** Joins a project by an invitation link, with a name and password of one's own. */
export async function acceptInvitation(house: House, token: string, input: { signIn: string; password: string; agent: string }): Promise<OpenedSession> {
  const { invitation, project } = await openInvitation(house, token);
  const signIn = input.signIn.trim().toLowerCase();
  const faults: Fault[] = [];
  if (!/^[\p{L}\p{N}][\p{L}\p{N}._-]{1,39}$/u.test(signIn)) faults.push({ field: "signIn", message: "Choose a name to sign in with: 2 to 40 letters, digits, points or hyphens." });
  if (input.password.length < SHORTEST_PASSWORD) faults.push({ field: "password", message: `Choose a password of at least ${SHORTEST_PASSWORD} characters.` });
  if (faults.length > 0) throw new DomainError("invalid", "Your account is not complete.", faults);
  const passwordHash = await hashPassword(input.password);
  const personId = randomUUID();
  const at = await house.now(project);
  await house.db.write(async (tx) => {
    const current = await findInvitation(tx, invitation.tokenHash);
    if (!current || current.usedAt !== null) throw new DomainError("conflict", "This invitation has just been used.");
    if (await findCredential(tx, { signIn })) throw new DomainError("invalid", "This name is taken. Choose another.", [{ field: "signIn", message: "This name is taken. Choose another." }]);
    await markInvitationUsed(tx, invitation.tokenHash, house.realNow());
    const { name, organisationId, roles } = invitation;
    await fileRecord(tx, house.key, { projectId: project.id, actor: personId, at, body: { kind: "member", personId, name, organisationId, roles } });
    await saveCredential(tx, { personId, signIn, passwordHash });
  });
  return openSession(house, personId, input.agent);
}
