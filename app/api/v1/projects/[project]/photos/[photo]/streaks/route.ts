import { DomainError } from "#lib/domain/refusal";
import { json, projectRoute, readBody } from "#lib/edge/route";
import { readArea, StreakBody } from "#lib/edge/schema/photo";
import { checkStreaks, measureStreaks, MIDDLE } from "#lib/services/check-streaks";

/** What is measured inside a circle of a photo of a mix; nothing is recorded. */
export const GET = projectRoute("see project", async ({ request, params, asking }) => {
  const { area, error } = readArea(Object.fromEntries(new URL(request.url).searchParams));
  if (error !== null) throw new DomainError("invalid", error, [{ field: "area", message: error }]);
  return json(await measureStreaks(asking, params.photo ?? "", area ?? MIDDLE));
});

/** The same, recorded. */
export const POST = projectRoute("check streaks", async ({ request, params, asking }) => {
  const { id, area } = await readBody(request, StreakBody);
  const { seq, digest, finding } = await checkStreaks(asking, { id, area, photoId: params.photo ?? "" });
  return json({ id, digest, seq, ...finding }, 201);
});
