import { json, projectRoute } from "#lib/edge/route";
import { arriving, sentId } from "#lib/edge/upload";
import { loggerQuery } from "#lib/edge/schema/clock";
import { recordLoggerFile } from "#lib/services/record-logger-file";

/** Takes a logger's CSV file as the raw body of the request. */
export const PUT = projectRoute("read temperature", async ({ request, params, asking }) => {
  const receipt = await recordLoggerFile(asking, { ...arriving(request), ...sentId(request), ...loggerQuery(request), sheet: params.sheet ?? "", line: params.line ?? "" });
  return json(receipt, 201);
});
