import { verify } from "@node-rs/argon2";
import type { Role } from "#lib/domain/requirement/set";
import { listMembers, listProjects } from "#lib/db/project";
import { findCredential } from "#lib/db/session";
import type { House } from "#lib/services/house";

/** The password that a demonstration's invented people are made with. It guards nothing. */
export const DEMONSTRATION_PASSWORD = "demonstration";

export interface DemonstrationPerson {
  signIn: string;
  name: string;
  roles: readonly Role[];
}

/**
 * Who can be tried out: members of a project that has a clock of its own, with the demonstration's password. Whoever
 * joined such a project with a password of their own is not among them, and no member of any other project is.
 */
export async function demonstrationPeople({ db }: House): Promise<DemonstrationPerson[]> {
  const projects = (await listProjects(db.read)).filter(({ clockFrom }) => clockFrom !== null);
  const members = (await Promise.all(projects.map(({ id }) => listMembers(db.read, id)))).flat().filter(({ left }) => !left);
  const people = await Promise.all(
    members.map(async ({ personId, name, roles }): Promise<DemonstrationPerson[]> => {
      const credential = await findCredential(db.read, { personId });
      if (!credential || !(await isDemonstrations(credential.passwordHash))) return [];
      return [{ signIn: credential.signIn, name, roles }];
    }),
  );
  return [...new Map(people.flat().map((person) => [person.signIn, person])).values()];
}

// Hashing takes long on purpose, so each answer is kept for as long as the process runs.
const answers = new Map<string, Promise<boolean>>();

function isDemonstrations(passwordHash: string): Promise<boolean> {
  const answer = answers.get(passwordHash) ?? verify(passwordHash, DEMONSTRATION_PASSWORD);
  answers.set(passwordHash, answer);
  return answer;
}
