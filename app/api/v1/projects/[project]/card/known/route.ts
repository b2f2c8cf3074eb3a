import { knownFiles } from "#lib/db/card-photo";
import { json, projectRoute, readBody } from "#lib/edge/route";
import { KnownFilesBody } from "#lib/edge/schema/photo";

/** Which files need not be sent: on the caller's card already, or on record. */
export const POST = projectRoute("send photo", async ({ request, asking: { house, project, personId } }) => {
  const { sha256s } = await readBody(request, KnownFilesBody);
  return json(await knownFiles(house.db.read, { projectId: project.id, personId }, sha256s));
});
