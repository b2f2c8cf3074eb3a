import { DomainError } from "#lib/domain/refusal";
import { readTagQuery, type TagQuery } from "#lib/edge/schema/tag";
import type { Asking } from "#lib/services/ask";
import { tagView, type TagView } from "#lib/services/tag-view";

/** The tags that a call asks for. A call is made by a script, so that what cannot be read refuses it whole. */
export async function askedTags(request: Request, { house, project }: Asking): Promise<{ view: TagView; query: TagQuery; at: number }> {
  const query = readTagQuery(new URL(request.url).searchParams);
  const at = await house.now(project);
  const view = await tagView(house.db.read, project, at, query.bents);
  const faults = [...query.faults, ...view.faults];
  if (faults.length > 0) throw new DomainError("invalid", "Something in the selection cannot be read.", faults);
  return { view, query, at };
}
