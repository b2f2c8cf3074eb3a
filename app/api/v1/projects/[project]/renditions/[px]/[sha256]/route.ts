import { fileAnswer, FOREVER } from "#lib/edge/file-answer";
import { projectRoute } from "#lib/edge/route";
import { openShownPicture } from "#lib/services/shown-picture";

/** A reduced copy by the digest of its original: it never changes, and each fetch asks again who may see it. */
export const GET = projectRoute("see project", async ({ params, asking }) => {
  const [px = "", sha256 = ""] = [params.px, params.sha256];
  const file = await openShownPicture(asking, px, sha256);
  return fileAnswer(file, { mediaType: "image/jpeg", name: `${sha256}-${px}.jpg`, attachment: false, cache: FOREVER });
});
