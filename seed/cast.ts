import type { Part } from "#lib/domain/access/member";
import type { Role } from "#lib/domain/requirement/set";

/** Everybody signs in with a first name in small letters and this. */
export const PASSWORD = "demonstration";

export const ORGANISATIONS: { id: string; name: string; part: Part }[] = [
  { id: "ellumbrey-harbour", name: "Ellumbrey Harbour Commission", part: "owner" },
  { id: "thornmarl", name: "Thornmarl Marine Works", part: "contractor" },
  { id: "brandlewick", name: "Brandlewick Inspection Office", part: "inspection" },
  { id: "hexley-umbrin", name: "Hexley & Umbrin", part: "engineer" },
];

const person = (name: string, organisationId: string, ...roles: Role[]) => ({ name, organisationId, roles });

/** Invented people. Person ids are their sign-in names. */
export const CAST = {
  mira: person("Mira Quandle", "thornmarl", "crew lead"),
  lotte: person("Lotte Ringmere", "thornmarl", "crew lead"),
  teo: person("Teo Brassick", "thornmarl", "crew member"),
  hanne: person("Hanne Ulverdew", "thornmarl", "QC manager"),
  ilse: person("Ilse Tarrowby", "brandlewick", "inspector"),
  odo: person("Odo Fennimark", "brandlewick", "delegate"),
  pim: person("Pim Ashgarrow", "hexley-umbrin", "engineer"),
  sabine: person("Sabine Corvale", "ellumbrey-harbour", "owner"),
  jonty: person("Jonty Wexcombe", "thornmarl", "administrator"),
} as const;
export type Person = keyof typeof CAST;

/** Teo leaves in the evening of this day; his name stays on what he did. */
export const TEO_LEFT = "2026-11-06 18:00";
/** Days on which Odo decides for Ilse: witness points and points 17 and 22 of bents 02 to 04. */
export const ODO_STANDS_IN = { from: "2026-11-01", to: "2026-11-06", bents: ["02", "03", "04"] } as const;
