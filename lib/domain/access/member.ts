import type { Role } from "#lib/domain/requirement/set";

export const PARTS = ["owner", "contractor", "inspection", "engineer"] as const;
/** Which party to the contract an organisation is. */
export type Part = (typeof PARTS)[number];

/** A person as one project knows them. */
export interface Member {
  personId: string;
  name: string;
  projectId: string;
  organisationId: string;
  organisation: string;
  part: Part;
  roles: readonly Role[];
}
