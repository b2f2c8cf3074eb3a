import { json, projectRoute } from "#lib/edge/route";
import { arriving, queryText, sentId } from "#lib/edge/upload";
import { receiveDocument } from "#lib/services/receive-document";

/** Takes one PDF as the raw body of the request. */
export const PUT = projectRoute("send photo", async ({ request, params, asking }) => {
  const receipt = await receiveDocument(asking, {
    ...arriving(request),
    ...sentId(request),
    sheet: params.sheet ?? "",
    line: params.line ?? "",
    use: queryText(request, "use", "Give what the document is for: ?use=…"),
    title: new URL(request.url).searchParams.get("title") ?? "",
  });
  return json(receipt, 201);
});
