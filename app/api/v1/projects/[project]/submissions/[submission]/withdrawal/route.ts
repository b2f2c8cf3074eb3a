import { json, projectRoute, readBody } from "#lib/edge/route";
import { WithdrawalBody } from "#lib/edge/schema/point";
import { withdrawSubmission } from "#lib/services/withdraw-submission";

export const POST = projectRoute("withdraw submission", async ({ request, params, asking }) => {
  const body = await readBody(request, WithdrawalBody);
  await withdrawSubmission(asking, { ...body, submissionId: params.submission ?? "" });
  return json({ id: body.id }, 201);
});
