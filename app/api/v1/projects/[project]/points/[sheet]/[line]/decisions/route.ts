import { json, projectRoute, readBody } from "#lib/edge/route";
import { DecisionBody } from "#lib/edge/schema/point";
import { decidePoint } from "#lib/services/decide-point";

export const POST = projectRoute("decide point", async ({ request, params, asking }) => {
  const body = await readBody(request, DecisionBody);
  return json(await decidePoint(asking, { ...body, sheet: params.sheet ?? "", line: params.line ?? "" }), 201);
});
