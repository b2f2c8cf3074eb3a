import { json, projectRoute, readBody } from "#lib/edge/route";
import { TemperatureBody } from "#lib/edge/schema/point";
import { recordTemperature } from "#lib/services/record-temperature";

export const POST = projectRoute("read temperature", async ({ request, params, asking }) => {
  const body = await readBody(request, TemperatureBody);
  await recordTemperature(asking, { ...body, sheet: params.sheet ?? "", line: params.line ?? "" });
  return json({ id: body.id }, 201);
});
