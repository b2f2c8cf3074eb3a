import { json, projectRoute, readBody } from "#lib/edge/route";
import { arriving, sentId } from "#lib/edge/upload";
import { loggerQuery, WeatherBody } from "#lib/edge/schema/clock";
import { recordWeather, recordWeatherFile } from "#lib/services/record-weather";

export const POST = projectRoute("read temperature", async ({ request, asking }) => {
  const body = await readBody(request, WeatherBody);
  await recordWeather(asking, body);
  return json({ id: body.id }, 201);
});

/** Takes a logger's CSV file as the raw body of the request. */
export const PUT = projectRoute("read temperature", async ({ request, asking }) => {
  return json(await recordWeatherFile(asking, { ...arriving(request), ...sentId(request), ...loggerQuery(request) }), 201);
});
