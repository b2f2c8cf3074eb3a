import { can, type Action } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { DomainError } from "#lib/domain/refusal";
import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import { findMember, type Project } from "#lib/db/project";
import type { House } from "#lib/services/house";

/** Who is asking, in which project: what every service begins with. */
export interface Asking {
  house: House;
  project: Project;
  personId: string;
}

/**
 * The person as a member who may ask for the action. Somebody who is no member learns nothing: for them the project
 * does not exist.
 */
export async function requireMember(tx: Tx, { project, personId }: Asking, action: Action): Promise<Member> {
  const member = await findMember(tx, project.id, personId);
  if (!member) throw new DomainError("not-found", "There is no such project.");
  if (!can(member, action, project.id)) throw new DomainError("not-allowed", `As ${member.roles.join(", ")} you cannot ${action}.`);
  return member;
}

/** Runs a service's work as one transaction at one instant of the project's time. */
export async function inProject<T>(asking: Asking, action: Action, work: (tx: Tx, member: Member, at: Instant) => Promise<T>): Promise<T> {
  return asking.house.db.write(async (tx) => {
    const member = await requireMember(tx, asking, action);
    return work(tx, member, await asking.house.now(asking.project));
  });
}
