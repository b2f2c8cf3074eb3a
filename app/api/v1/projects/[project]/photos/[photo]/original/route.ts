import { openOriginal } from "#lib/photos/store";
import { getPhoto } from "#lib/db/evidence";
import { DomainError } from "#lib/domain/refusal";
import { fileAnswer, FOREVER } from "#lib/edge/file-answer";
import { projectRoute } from "#lib/edge/route";

/** A photo exactly as it was received. */
export const GET = projectRoute("see project", async ({ params, asking: { house, project } }) => {
  const photo = await getPhoto(house.db.read, params.photo ?? "");
  const file = photo.projectId === project.id ? await openOriginal(house.dataDir, photo.sha256) : null;
  if (!file) throw new DomainError("not-found", "There is no such photo.");
  return fileAnswer(file, { mediaType: photo.mediaType, name: `${photo.sha256}.${photo.extension}`, attachment: true, cache: FOREVER });
});
