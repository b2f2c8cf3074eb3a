import { listProjectsOf } from "#lib/db/project";
import { json, personRoute } from "#lib/edge/route";

export const GET = personRoute(async ({ house, personId }) => {
  const projects = await listProjectsOf(house.db.read, personId);
  return json({ projects: projects.map(({ code, name, place, zone }) => ({ code, name, place, zone })) });
});
