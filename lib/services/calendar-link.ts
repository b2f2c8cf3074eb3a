import { createHash, randomBytes } from "node:crypto";
import { can } from "#lib/domain/access/can";
import type { Instant } from "#lib/domain/instant";
import { DomainError } from "#lib/domain/refusal";
import { findCalendarLink, listCalendarLinks, revokeCalendarLinks, saveCalendarLink } from "#lib/db/clock";
import { findMember, getProjectById, type Project } from "#lib/db/project";
import { inProject, type Asking } from "#lib/services/ask";
import type { House } from "#lib/services/house";

const digest = (token: string): string => createHash("sha256").update(token).digest("hex");

/** Makes a person's link to the calendar of a project; the one before stops. The token is given once; only its digest is kept. */
export async function makeCalendarLink(asking: Asking): Promise<{ token: string }> {
  return inProject(asking, "see project", async (tx, { personId }) => {
    const { project, house } = asking;
    const now = house.realNow();
    const token = randomBytes(32).toString("base64url");
    await revokeCalendarLinks(tx, project.id, personId, now);
    await saveCalendarLink(tx, { tokenHash: digest(token), projectId: project.id, personId, createdAt: now });
    return { token };
  });
}

/** Stops a person's link. Whoever has it finds nothing from then on. */
export async function revokeCalendarLink(asking: Asking): Promise<void> {
  await inProject(asking, "see project", (tx, { personId }) => revokeCalendarLinks(tx, asking.project.id, personId, asking.house.realNow()));
}

/** When the person's link was made; null where there is none that still works. */
export async function calendarLinkSince({ house, project, personId }: Asking): Promise<Instant | null> {
  return (await listCalendarLinks(house.db.read, project.id, personId)).at(-1)?.createdAt ?? null;
}

/** The project behind a link. A link that was stopped, or whose person has left, says no more than one that never was. */
export async function openCalendarLink({ db }: House, token: string): Promise<Project> {
  const link = await findCalendarLink(db.read, digest(token));
  const member = link && link.revokedAt === null ? await findMember(db.read, link.projectId, link.personId) : null;
  if (!link || !can(member, "see project", link.projectId)) throw new DomainError("not-found", "There is no such calendar.");
  return getProjectById(db.read, link.projectId);
}
