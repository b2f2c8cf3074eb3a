import { json, projectRoute } from "#lib/edge/route";

/** The project's own time, against which a phone measures its clock. */
export const GET = projectRoute("see project", async ({ asking: { house, project } }) => json({ now: new Date(await house.now(project)).toISOString() }));
