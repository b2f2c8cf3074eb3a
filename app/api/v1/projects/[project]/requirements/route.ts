import { requirementsList } from "#lib/services/requirements-file";
import { json, projectRoute } from "#lib/edge/route";

export const GET = projectRoute("see project", async ({ asking, member }) => json(await requirementsList(asking, member)));
