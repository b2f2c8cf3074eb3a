import { z } from "zod";
import { RevisionSchema } from "#lib/domain/requirement/set";

/** A whole revision, as it is put into the place of the draft. */
export const RevisionBody = RevisionSchema.describe("A requirement revision: the project sheet's points and one set for each pile type. Numbers are decimal texts, in the unit that the specification writes.");

/** The published schema of a revision file. What points may say of each other is checked when it is read. */
export function revisionJsonSchema(): Record<string, unknown> {
  return { $id: "urn:lastlook:requirement-revision:1", title: "Requirement revision of Lastlook, format 1", ...z.toJSONSchema(RevisionBody, { io: "input", target: "draft-2020-12" }) };
}
