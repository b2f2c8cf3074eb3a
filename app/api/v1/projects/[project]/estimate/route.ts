import { json, projectRoute } from "#lib/edge/route";
import { askedEstimate } from "#lib/edge/asked-estimate";

/** The estimate of a selection of piles: figures unrounded in SI, each with the unit that the requirement set writes it in. */
export const GET = projectRoute("see project", async ({ request, asking }) => {
  const { view, query } = await askedEstimate(request, asking);
  const { piles, order, leftOut, notWorkedOut } = view;
  return json({ selection: query.selection, piles, order, leftOut, notWorkedOut });
});
