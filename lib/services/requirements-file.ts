import type { Member } from "#lib/domain/access/member";
import { revisionInForce } from "#lib/domain/plan/plan";
import { DomainError } from "#lib/domain/refusal";
import { draftFaults, type DraftFault } from "#lib/domain/requirement/draft";
import type { Revision } from "#lib/domain/requirement/set";
import { findRevisionBytes, findRevisionDraft } from "#lib/db/revision-draft";
import { listRevisions } from "#lib/db/project";
import { canonicalBytes } from "#lib/records/canonical";
import type { Asking } from "#lib/services/ask";
import { draftLetter, importDraft } from "#lib/services/revision-draft";
import { maySeeDraft } from "#lib/services/requirements-view";

/** A revision's bytes with their digest: approved ones for every member, the draft for who works on it. */
export async function requirementsFile({ house, project }: Asking, member: Member, letter: string): Promise<{ bytes: Uint8Array; digest: string }> {
  const approved = await findRevisionBytes(house.db.read, project.id, letter);
  if (approved) return { bytes: Buffer.from(approved.body, "utf8"), digest: approved.digest };
  const found = maySeeDraft(member, project.id) ? await findRevisionDraft(house.db.read, project.id) : null;
  if (found?.letter !== letter) throw new DomainError("not-found", `There is no revision ${/^[A-Z]$/.test(letter) ? letter : "of that letter"}.`);
  return { bytes: canonicalBytes(found.draft), digest: found.digest };
}

interface ListedRevision {
  letter: string;
  state: "draft" | "in force" | "approved";
  digest: string;
  appliesFrom: string | null;
}

/** The revisions of a project with their digests, newest first. */
export async function requirementsList({ house, project }: Asking, member: Member): Promise<{ revisions: ListedRevision[] }> {
  const [approved, draft, at] = await Promise.all([listRevisions(house.db.read, project.id), maySeeDraft(member, project.id) ? findRevisionDraft(house.db.read, project.id) : null, house.now(project)]);
  const inForce = revisionInForce(approved, at);
  const listed = [...approved].sort((a, b) => b.seq - a.seq).map((one): ListedRevision => ({ letter: one.letter, state: one === inForce ? "in force" : "approved", digest: one.digest, appliesFrom: new Date(one.appliesFrom).toISOString() }));
  return { revisions: [...(draft ? [{ letter: draft.letter, state: "draft" as const, digest: draft.digest, appliesFrom: null }] : []), ...listed] };
}

/** Puts a revision in the draft's place under the letter that comes next, and says what still stops its review. */
export async function putDraft(asking: Asking, { letter, revision, seen }: { letter: string; revision: Revision; seen: string | null }): Promise<{ letter: string; digest: string; stopsReview: DraftFault[] }> {
  const next = await draftLetter(asking.house.db.read, asking.project.id);
  if (letter !== next) throw new DomainError("conflict", `The next revision is ${next}. Approved revisions are not changed.`);
  if (revision.letter !== letter) throw new DomainError("invalid", "The letter of the revision is not the one that it is sent to.", [{ field: "letter", message: `Write letter ${letter}.` }]);
  const receipt = await importDraft(asking, revision, seen);
  const found = await findRevisionDraft(asking.house.db.read, asking.project.id);
  return { letter: receipt.letter, digest: receipt.digest, stopsReview: found ? draftFaults(found.draft) : [] };
}
