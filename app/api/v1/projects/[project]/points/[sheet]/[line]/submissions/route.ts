import { json, projectRoute, readBody } from "#lib/edge/route";
import { SubmissionBody } from "#lib/edge/schema/point";
import { submitPoint } from "#lib/services/submit-point";

export const POST = projectRoute("submit point", async ({ request, params, asking }) => {
  const { lots = [], setAside = [], words = "", ...body } = await readBody(request, SubmissionBody);
  return json(await submitPoint(asking, { ...body, lots, setAside, words, sheet: params.sheet ?? "", line: params.line ?? "" }), 201);
});
