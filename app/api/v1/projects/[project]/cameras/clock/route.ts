import { json, projectRoute, readBody } from "#lib/edge/route";
import { CameraClockBody } from "#lib/edge/schema/camera";
import { confirmCameraClock } from "#lib/services/confirm-camera-clock";

/** The QC manager confirms how a camera's clock ran. */
export const POST = projectRoute("confirm camera", async ({ request, asking }) => {
  const input = await readBody(request, CameraClockBody);
  const { seq, digest } = await confirmCameraClock(asking, input);
  return json({ id: input.id, digest, seq }, 201);
});
