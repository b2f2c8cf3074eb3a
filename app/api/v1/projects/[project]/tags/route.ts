import { askedTags } from "#lib/edge/asked-tags";
import { json, projectRoute } from "#lib/edge/route";

/** The tags of the piles in scope: mark, place and what the code of each says. */
export const GET = projectRoute("see project", async ({ request, asking }) => {
  const { view } = await askedTags(request, asking);
  return json({ bents: view.bents, tags: view.tags });
});
