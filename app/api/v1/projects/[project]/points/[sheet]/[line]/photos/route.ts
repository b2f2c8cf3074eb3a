import { DomainError } from "#lib/domain/refusal";
import { shapeFaults } from "#lib/edge/problem";
import { json, projectRoute } from "#lib/edge/route";
import { DeviceHeader } from "#lib/edge/schema/point";
import { arriving, headerJson, queryText, sentId } from "#lib/edge/upload";
import { receivePhoto } from "#lib/services/receive-photo";

/** Takes one photo as the raw body of the request; nothing of it is held in memory. */
export const PUT = projectRoute("send photo", async ({ request, params, asking }) => {
  const given = headerJson(request, "x-device");
  const device = DeviceHeader.safeParse(given ?? {});
  if (!device.success) throw new DomainError("invalid", "The header x-device has not the shape that is asked for.", shapeFaults(device.error));
  const receipt = await receivePhoto(asking, {
    ...arriving(request),
    ...sentId(request),
    sheet: params.sheet ?? "",
    line: params.line ?? "",
    subject: queryText(request, "subject", "Give the subject of the photo: ?subject=…"),
    ...(given === null ? {} : { device: device.data }),
  });
  return json(receipt, 201);
});
