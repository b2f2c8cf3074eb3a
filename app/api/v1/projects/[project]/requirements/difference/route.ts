import { DomainError } from "#lib/domain/refusal";
import { json, projectRoute } from "#lib/edge/route";
import { differenceView } from "#lib/services/difference-view";

export const GET = projectRoute("see project", async ({ request, asking: { house, project }, member }) => {
  const query = new URL(request.url).searchParams;
  const [from, to] = [query.get("from"), query.get("to")];
  const view = await differenceView(house.db.read, project, member, { ...(from ? { from } : {}), ...(to ? { to } : {}) }, await house.now(project));
  if (!view) throw new DomainError("not-found", "There are not two revisions to compare yet.");
  return json(view);
});
