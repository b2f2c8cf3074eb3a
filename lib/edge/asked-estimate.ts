import { DomainError } from "#lib/domain/refusal";
import { readEstimateQuery, type EstimateQuery } from "#lib/edge/schema/estimate";
import type { Asking } from "#lib/services/ask";
import { estimateView, type EstimateView } from "#lib/services/estimate-view";

/** The estimate that a call asks for. A call is made by a script, so that what cannot be read refuses it whole. */
export async function askedEstimate(request: Request, { house, project }: Asking): Promise<{ view: EstimateView; query: EstimateQuery; url: URL; at: number }> {
  const url = new URL(request.url);
  const query = readEstimateQuery(url.searchParams);
  const at = await house.now(project);
  const view = await estimateView(house.db.read, project, at, query.selection);
  const faults = [...query.faults, ...view.faults];
  if (faults.length > 0) throw new DomainError("invalid", "Something in the selection cannot be read.", faults);
  return { view, query, url, at };
}
