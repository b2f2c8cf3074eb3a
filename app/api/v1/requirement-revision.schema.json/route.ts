import { revisionJsonSchema } from "#lib/edge/schema/requirement";
import { openRoute } from "#lib/edge/route";

export const GET = openRoute(() => Promise.resolve(new Response(JSON.stringify(revisionJsonSchema()), { headers: { "content-type": "application/schema+json", "cache-control": "no-store" } })));
