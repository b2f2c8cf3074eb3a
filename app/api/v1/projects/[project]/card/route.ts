import { json, projectRoute, readBody } from "#lib/edge/route";
import { CardChoiceBody } from "#lib/edge/schema/photo";
import { arriving } from "#lib/edge/upload";
import { cardView } from "#lib/services/card-view";
import { receiveCardPhoto } from "#lib/services/receive-card-photo";
import { takeCardPhotos } from "#lib/services/take-card-photos";

/** The caller's card: its photos in groups, with where each is proposed to go and why. */
export const GET = projectRoute("send photo", async ({ asking }) => {
  const { open: _open, ...view } = await cardView(asking.house.db.read, asking, await asking.house.now(asking.project));
  return json(view);
});

/** Takes one photo of a card as the raw body; nothing of it is assigned. */
export const PUT = projectRoute("send photo", async ({ request, asking }) => json(await receiveCardPhoto(asking, arriving(request)), 201));

/** Puts photos of the card to points, and leaves others out, in one act. */
export const POST = projectRoute("send photo", async ({ request, asking }) => json(await takeCardPhotos(asking, await readBody(request, CardChoiceBody)), 201));
