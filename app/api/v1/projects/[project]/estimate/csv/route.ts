import { csvBytes } from "#lib/closeout/table";
import { DomainError } from "#lib/domain/refusal";
import { askedEstimate } from "#lib/edge/asked-estimate";
import { projectRoute } from "#lib/edge/route";
import { ESTIMATE_TABLES, estimateTable } from "#lib/services/estimate-table";

/** An estimate as CSV: `table` is piles, cuts or order; without it, piles. */
export const GET = projectRoute("see project", async ({ request, asking }) => {
  const { view, query, url } = await askedEstimate(request, asking);
  const asked = url.searchParams.get("table") ?? "piles";
  const name = ESTIMATE_TABLES.find((one) => one === asked);
  if (!name) throw new DomainError("invalid", `There is no table ${asked.slice(0, 40)}.`, [{ field: "table", message: `Ask for ${ESTIMATE_TABLES.join(", ")}.` }]);
  const table = estimateTable(view, name, query.selection.celsius);
  const chunks: Buffer[] = [];
  for await (const chunk of csvBytes(table)) chunks.push(chunk);
  return new Response(new Uint8Array(Buffer.concat(chunks)), {
    headers: { "content-type": "text/csv; charset=utf-8", "content-disposition": `attachment; filename="${table.name}.csv"`, "x-content-type-options": "nosniff", "cache-control": "no-store" },
  });
});
