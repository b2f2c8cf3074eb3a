import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ACTIONS, can, type Action } from "#lib/domain/access/can";
import { PARTS, ROLES_OF_PART } from "#lib/domain/access/member";
import { ROLES, type Role } from "#lib/domain/requirement/set";
import { member } from "#tests/domain/point/factory";

/** Written out by hand from who does what on site: a letter for each role that may. */
const LETTER: Record<Role, string> = {
  "crew member": "m", "crew lead": "l", "QC manager": "q", inspector: "i", delegate: "d", engineer: "e", owner: "o", administrator: "a",
};
const MAY: Record<Action, string> = {
  "see project": "mlqideoa",
  "write draft": "mlq",
  "send photo": "mlq",
  "confirm camera": "q",
  "answer likeness": "qide",
  "check streaks": "lqide",
  "set photo limits": "qa",
  "submit point": "lq",
  "withdraw submission": "lq",
  "check submission": "q",
  "decide point": "qide",
  "read temperature": "mlqid",
  "accept pile": "o",
  "keep instruments": "q",
  "keep lots": "q",
  "keep people": "qa",
  "add pile": "qa",
  "import piles": "qa",
  "change requirement": "e",
  "draft revision": "qea",
  "review revision": "q",
  "approve revision": "e",
  "keep tides": "lqa",
  "see closeout": "qieoa",
  "issue closeout": "qoa",
};

describe("what a member may ask for", () => {
  it.each(ACTIONS.flatMap((action) => ROLES.map((role) => [role, action, MAY[action].includes(LETTER[role])] as const)))("as %s: %s is %s", (role, action, may) => {
    expect(can(member("one", [role]), action, "p")).toBe(may);
  });

  it("is nothing for nobody, for a member without a role, and in a project that is not theirs", () => {
    for (const action of ACTIONS) {
      expect(can(null, action, "p")).toBe(false);
      expect(can(member("one", []), action, "p")).toBe(false);
      expect(can(member("one", [...ROLES]), action, "another")).toBe(false);
    }
  });

  it("with several roles is what any one of them may, and no more", () => {
    fc.assert(fc.property(fc.subarray([...ROLES]), fc.constantFrom(...ACTIONS), (roles, action) => {
      expect(can(member("one", roles), action, "p")).toBe(roles.some((role) => can(member("one", [role]), action, "p")));
    }));
  });

  it("is no decision for a crew member: theirs are drafts, photos and readings", () => {
    expect(ACTIONS.filter((action) => can(member("one", ["crew member"]), action, "p"))).toEqual(["see project", "write draft", "send photo", "read temperature"]);
  });

  it("is neither values nor a decision for who administers the project", () => {
    const administrator = member("one", ["administrator"]);
    for (const action of ["write draft", "submit point", "check submission", "decide point", "accept pile"] as const) expect(can(administrator, action, "p")).toBe(false);
  });
});

describe("the roles of a party", () => {
  it("keep who releases a hold point apart from the contractor", () => {
    expect(PARTS.filter((part) => ROLES_OF_PART[part].some((role) => role === "inspector" || role === "delegate"))).toEqual(["inspection"]);
    expect(PARTS.filter((part) => ROLES_OF_PART[part].includes("engineer"))).toEqual(["engineer"]);
    expect(PARTS.filter((part) => ROLES_OF_PART[part].includes("owner"))).toEqual(["owner"]);
    expect(PARTS.filter((part) => can(member("one", [...ROLES_OF_PART[part]], part), "submit point", "p"))).toEqual(["contractor"]);
  });

  it("name each role of the job at least once", () => {
    expect(new Set(PARTS.flatMap((part) => ROLES_OF_PART[part]))).toEqual(new Set(ROLES));
  });
});
