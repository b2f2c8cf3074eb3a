import { getPile } from "#lib/db/pile";
import { json, projectRoute, readBody } from "#lib/edge/route";
import { AcceptanceBody } from "#lib/edge/schema/point";
import { acceptPile } from "#lib/services/accept-pile";

export const POST = projectRoute("accept pile", async ({ request, params, asking }) => {
  const body = await readBody(request, AcceptanceBody);
  const pile = await getPile(asking.house.db.read, asking.project.id, { mark: decodeURIComponent(params.mark ?? "") });
  await acceptPile(asking, { ...body, pileId: pile.id });
  return json({ id: body.id }, 201);
});
