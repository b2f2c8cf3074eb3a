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

/** Which roles the people of a party may hold: whoever releases a hold point is independent of the contractor. */
export const ROLES_OF_PART: Readonly<Record<Part, readonly Role[]>> = {
  contractor: ["crew member", "crew lead", "QC manager", "administrator"],
  inspection: ["inspector", "delegate", "administrator"],
  engineer: ["engineer", "administrator"],
  owner: ["owner", "administrator"],
};
