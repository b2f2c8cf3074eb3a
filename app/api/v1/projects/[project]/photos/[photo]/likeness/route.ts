import { json, projectRoute, readBody } from "#lib/edge/route";
import { LikenessBody } from "#lib/edge/schema/photo";
import { answerLikeness } from "#lib/services/answer-likeness";

/** What a decision maker says of this photo and another one that it is alike. */
export const POST = projectRoute("answer likeness", async ({ request, params, asking }) => {
  const { other, ...input } = await readBody(request, LikenessBody);
  const { seq, digest } = await answerLikeness(asking, { ...input, photoId: params.photo ?? "", otherId: other });
  return json({ id: input.id, digest, seq }, 201);
});
