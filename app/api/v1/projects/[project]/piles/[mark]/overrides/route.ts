import { getPile } from "#lib/db/pile";
import { json, projectRoute, readBody } from "#lib/edge/route";
import { OverrideBody } from "#lib/edge/schema/change";
import { addOverride, endOverride } from "#lib/services/override-pile";

export const POST = projectRoute("change requirement", async ({ request, params, asking }) => {
  const { ends, ...body } = await readBody(request, OverrideBody);
  const pile = await getPile(asking.house.db.read, asking.project.id, { mark: decodeURIComponent(params.mark ?? "") });
  return json(await (ends ? endOverride : addOverride)(asking, { ...body, pileId: pile.id }), 201);
});
