import { estimatePdf } from "#lib/closeout/estimate-pdf";
import { askedEstimate } from "#lib/edge/asked-estimate";
import { projectRoute } from "#lib/edge/route";
import { estimatePrint } from "#lib/services/estimate-print";

/** An estimate as a PDF on A4. */
export const GET = projectRoute("see project", async ({ request, asking, member }) => {
  const { view, query, at } = await askedEstimate(request, asking);
  const pdf = await estimatePdf(await estimatePrint(asking, { view, selection: query.selection, by: member, at }));
  return new Response(new Uint8Array(pdf), {
    headers: { "content-type": "application/pdf", "content-disposition": 'inline; filename="estimate.pdf"', "x-content-type-options": "nosniff", "cache-control": "no-store" },
  });
});
