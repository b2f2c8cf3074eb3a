import { json, projectRoute, readBody } from "#lib/edge/route";
import { CheckBody } from "#lib/edge/schema/point";
import { checkSubmission } from "#lib/services/check-submission";

export const POST = projectRoute("check submission", async ({ request, params, asking }) => {
  const body = await readBody(request, CheckBody);
  await checkSubmission(asking, { ...body, submissionId: params.submission ?? "" });
  return json({ id: body.id }, 201);
});
