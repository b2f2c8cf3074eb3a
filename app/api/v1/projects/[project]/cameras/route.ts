import { json, projectRoute } from "#lib/edge/route";
import { camerasView } from "#lib/services/camera-view";

/** Every camera of a project and how its clock ran; with ?camera=… also its references and what a confirmation changes. */
export const GET = projectRoute("see project", async ({ request, asking: { house, project } }) => {
  const asked = new URL(request.url).searchParams.get("camera");
  const { cameras, open, nameless } = await camerasView(house.db.read, project, asked, await house.now(project));
  return json({ cameras, nameless, ...(asked !== null && open?.key === asked ? { camera: open } : {}) });
});
