import { openApiDocument } from "#lib/edge/openapi";
import { json, openRoute } from "#lib/edge/route";

export const GET = openRoute(async () => json(openApiDocument()));
