import { tagPdf } from "#lib/closeout/tag-pdf";
import { DomainError } from "#lib/domain/refusal";
import { askedTags } from "#lib/edge/asked-tags";
import { projectRoute } from "#lib/edge/route";
import { tagPrint } from "#lib/services/tag-view";

/** Tags to be cut out, as a PDF. */
export const GET = projectRoute("see project", async ({ request, asking, member }) => {
  const { view, query, at } = await askedTags(request, asking);
  if (view.tags.length === 0) throw new DomainError("blocked", "No pile is in scope: there is nothing to print. Add piles first.");
  const pdf = await tagPdf({ ...(await tagPrint(asking, { view, by: member, at })), paper: query.paper });
  return new Response(new Uint8Array(pdf), {
    headers: { "content-type": "application/pdf", "content-disposition": 'inline; filename="pile-tags.pdf"', "x-content-type-options": "nosniff", "cache-control": "no-store" },
  });
});
