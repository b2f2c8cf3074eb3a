import { openRendition, RENDITION_PX } from "#lib/photos/store";
import { getPhoto } from "#lib/db/evidence";
import { DomainError } from "#lib/domain/refusal";
import { fileAnswer, FOREVER } from "#lib/edge/file-answer";
import { projectRoute } from "#lib/edge/route";

/** A reduced copy of a photo. It never changes for an id, and each fetch asks again who may see it. */
export const GET = projectRoute("see project", async ({ params, asking: { house, project } }) => {
  const px = RENDITION_PX.find((one) => String(one) === params.px);
  const photo = await getPhoto(house.db.read, params.photo ?? "");
  const file = px && photo.projectId === project.id ? await openRendition(house.dataDir, px, photo.sha256) : null;
  if (!file) throw new DomainError("not-found", "There is no such picture.");
  return fileAnswer(file, { mediaType: "image/jpeg", name: `${photo.sha256}-${px}.jpg`, attachment: false, cache: FOREVER });
});
