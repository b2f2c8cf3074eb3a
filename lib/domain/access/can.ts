import type { Member } from "#lib/domain/access/member";
import type { Role } from "#lib/domain/requirement/set";

/** Everything a person can ask for inside one project. */
export const ACTIONS = [
  "see project",
  "write draft",
  "send photo",
  "confirm camera",
  "answer likeness",
  "check streaks",
  "set photo limits",
  "submit point",
  "withdraw submission",
  "check submission",
  "decide point",
  "read temperature",
  "accept pile",
  "keep instruments",
  "keep lots",
  "keep people",
  "add pile",
  "import piles",
  "change requirement",
  "draft revision",
  "review revision",
  "approve revision",
  "keep tides",
  "see closeout",
  "issue closeout",
] as const;
export type Action = (typeof ACTIONS)[number];

/** Which roles may ask for it at all; the rules of the point then say whether this one may do it here and now. */
const ALLOWED: Record<Action, readonly Role[]> = {
  "see project": ["crew member", "crew lead", "QC manager", "inspector", "delegate", "engineer", "owner", "administrator"],
  "write draft": ["crew member", "crew lead", "QC manager"],
  "send photo": ["crew member", "crew lead", "QC manager"],
  "confirm camera": ["QC manager"],
  "answer likeness": ["QC manager", "inspector", "delegate", "engineer"],
  "check streaks": ["crew lead", "QC manager", "inspector", "delegate", "engineer"],
  "set photo limits": ["QC manager", "administrator"],
  "submit point": ["crew lead", "QC manager"],
  "withdraw submission": ["crew lead", "QC manager"],
  "check submission": ["QC manager"],
  "decide point": ["QC manager", "inspector", "delegate", "engineer"],
  "read temperature": ["crew member", "crew lead", "QC manager", "inspector", "delegate"],
  "accept pile": ["owner"],
  "keep instruments": ["QC manager"],
  "keep lots": ["QC manager"],
  "keep people": ["QC manager", "administrator"],
  "add pile": ["QC manager", "administrator"],
  "import piles": ["QC manager", "administrator"],
  "change requirement": ["engineer"],
  "draft revision": ["administrator", "QC manager", "engineer"],
  "review revision": ["QC manager"],
  "approve revision": ["engineer"],
  "keep tides": ["crew lead", "QC manager", "administrator"],
  "see closeout": ["QC manager", "inspector", "engineer", "owner", "administrator"],
  "issue closeout": ["QC manager", "owner", "administrator"],
};

/**
 * Whether a member may ask for an action in a project. Deny by default: nobody who is not a member, and no action that
 * no role of theirs names.
 */
export function can(member: Member | null, action: Action, projectId: string): boolean {
  if (!member || member.projectId !== projectId) return false;
  return member.roles.some((role) => ALLOWED[action].includes(role));
}
