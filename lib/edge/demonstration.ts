import type { Role } from "#lib/domain/requirement/set";
import { listMembers, listProjects } from "#lib/db/project";
import { findCredential } from "#lib/db/session";
import type { House } from "#lib/services/house";

export interface DemonstrationPerson {
  signIn: string;
  name: string;
  organisation: string;
  roles: readonly Role[];
}

/**
 * Who can be tried out on a demonstration installation, one project after the other. Empty as soon as the installation
 * also holds a project that runs on real time: its sign-in page then gives no name away.
 */
export async function demonstrationPeople({ db }: House): Promise<DemonstrationPerson[]> {
  const projects = await listProjects(db.read);
  if (projects.some(({ clockFrom }) => clockFrom === null)) return [];
  const members = (await Promise.all(projects.map(({ id }) => listMembers(db.read, id)))).flat().filter(({ left }) => !left);
  const people = await Promise.all(
    members.map(async ({ personId, name, organisation, roles }): Promise<DemonstrationPerson[]> => {
      const credential = await findCredential(db.read, { personId });
      return credential ? [{ signIn: credential.signIn, name, organisation, roles }] : [];
    }),
  );
  return [...new Map(people.flat().map((person) => [person.signIn, person])).values()];
}
