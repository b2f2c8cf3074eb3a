import { json, projectRoute, readBody } from "#lib/edge/route";
import { TideTableBody } from "#lib/edge/schema/clock";
import { keepTideTable } from "#lib/services/keep-tide-table";

export const PUT = projectRoute("keep tides", async ({ request, asking }) => {
  const body = await readBody(request, TideTableBody);
  const { waters } = await keepTideTable(asking, body);
  return json({ id: body.id, waters: waters.length }, 201);
});
