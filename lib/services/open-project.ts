import { DomainError } from "#lib/domain/refusal";
import type { Instant } from "#lib/domain/instant";
import type { Revision, Role } from "#lib/domain/requirement/set";
import { fileRecord } from "#lib/db/journal";
import { getProjectById, listMembers, listRevisions } from "#lib/db/project";
import { saveCredential } from "#lib/db/session";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import type { RecordOf } from "#lib/records/kind";
import type { Asking } from "#lib/services/ask";
import type { House } from "#lib/services/house";
import { hashPassword } from "#lib/services/sign-in";
import { refreshProject } from "#lib/services/refresh";

/** Who sets an installation up: these acts come before anybody can ask for anything, and are logged as the system's. */
const SYSTEM = "system";

/** Opens a project with its organisations. */
export async function openProject(house: House, input: Omit<RecordOf<"project">, "kind">, at: Instant): Promise<void> {
  await house.db.write((tx) => fileRecord(tx, house.key, { projectId: input.id, actor: SYSTEM, at, body: { kind: "project", ...input } }));
}

export interface NewMember {
  personId: string;
  name: string;
  organisationId: string;
  roles: Role[];
}

/** Adds a member to a project by the one who sets it up; later members come by invitation. */
export async function addMember(house: House, projectId: string, member: NewMember, at: Instant): Promise<void> {
  await house.db.write((tx) => fileRecord(tx, house.key, { projectId, actor: SYSTEM, at, body: { kind: "member", ...member } }));
}

/** Gives a person a name and a password to sign in with. They are no part of the record. */
export async function giveCredential(house: House, personId: string, signIn: string, password: string): Promise<void> {
  const passwordHash = await hashPassword(password);
  await house.db.write((tx) => saveCredential(tx, { personId, signIn: signIn.toLowerCase(), passwordHash }));
}

/** Records that somebody left a project: their name stays on what they did. */
export async function closeMembership(house: House, projectId: string, personId: string, words: string, at: Instant): Promise<void> {
  await house.db.write((tx) => fileRecord(tx, house.key, { projectId, actor: SYSTEM, at, body: { kind: "departure", personId, words } }));
}

/** Puts the requirement revision into force that a project is opened with. Only the project's engineer approves it; a later one is issued from a reviewed draft. */
export async function approveRevision(asking: Asking, input: { id: string; revision: Revision; appliesFrom: Instant }): Promise<void> {
  const { house, project, personId } = asking;
  await house.db.write(async (tx) => {
    const member = (await listMembers(tx, project.id)).find((one) => one.personId === personId && !one.left);
    if (!member?.roles.includes("engineer")) throw new DomainError("not-allowed", "Only the project's engineer approves a requirement revision.");
    const [first] = await listRevisions(tx, project.id);
    if (first) throw new DomainError("conflict", `Revision ${first.letter} is approved already. Issue the next one from a reviewed draft.`);
    const at = await house.now(project);
    const digest = sha256(canonicalBytes(input.revision));
    await fileRecord(tx, house.key, {
      projectId: project.id,
      actor: personId,
      at,
      body: { kind: "revision", id: input.id, digest, revision: input.revision, approvedBy: personId, appliesFrom: new Date(input.appliesFrom).toISOString(), reviewedBy: null, words: "", answers: [], impact: [] },
    });
    await refreshProject(tx, await getProjectById(tx, project.id), at);
  });
}
