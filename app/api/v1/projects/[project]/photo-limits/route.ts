import { json, projectRoute, readBody } from "#lib/edge/route";
import { PhotoLimitsBody } from "#lib/edge/schema/photo-limits";
import { photoLimitsView } from "#lib/services/photo-limits-view";
import { setPhotoLimits } from "#lib/services/set-photo-limits";

/** The limits that photos are held against, with their ranges and who changed what. */
export const GET = projectRoute("see project", async ({ asking: { house, project } }) => {
  const { groups, history } = await photoLimitsView(house.db.read, project);
  return json({ limits: groups.flatMap(({ limits }) => limits), history });
});

/** Sets limits for what is received from here on. */
export const POST = projectRoute("set photo limits", async ({ request, asking }) => {
  const { limits, ...input } = await readBody(request, PhotoLimitsBody);
  const given = Object.fromEntries(Object.entries(limits).filter(([, value]) => value !== undefined));
  const { seq, digest } = await setPhotoLimits(asking, { ...input, limits: given });
  return json({ id: input.id, digest, seq }, 201);
});
