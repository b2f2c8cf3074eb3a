import { json, projectRoute, readBody } from "#lib/edge/route";
import { CloseoutBody } from "#lib/edge/schema/point";
import { closeoutView } from "#lib/services/closeout-view";
import { issueCloseout } from "#lib/services/issue-closeout";

export const GET = projectRoute("see closeout", async ({ asking: { house, project } }) => {
  return json(await closeoutView(house.db.read, project, await house.now(project)));
});

export const POST = projectRoute("issue closeout", async ({ request, asking }) => {
  const { number, sha256, bytes } = await issueCloseout(asking, await readBody(request, CloseoutBody));
  return json({ number, sha256, bytes, href: `/api/v1/projects/${asking.project.code}/closeout/${number}.zip` }, 201);
});
