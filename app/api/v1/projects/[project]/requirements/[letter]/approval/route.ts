import { json, projectRoute, readBody } from "#lib/edge/route";
import { ApprovalBody } from "#lib/edge/schema/change";
import { issueRevision } from "#lib/services/issue-revision";

export const POST = projectRoute("approve revision", async ({ request, params, asking }) => {
  const body = await readBody(request, ApprovalBody);
  return json(await issueRevision(asking, { ...body, letter: params.letter ?? "" }), 201);
});
