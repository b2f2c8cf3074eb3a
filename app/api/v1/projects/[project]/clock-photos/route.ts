import { json, projectRoute } from "#lib/edge/route";
import { arriving, sentId } from "#lib/edge/upload";
import { receiveClockPhoto } from "#lib/services/receive-clock-photo";

/** Takes one photo of the clock page as the raw body of the request; nothing of it is held in memory. */
export const PUT = projectRoute("send photo", async ({ request, asking }) => json(await receiveClockPhoto(asking, { ...arriving(request), ...sentId(request) }), 201));
