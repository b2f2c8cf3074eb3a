import { open } from "node:fs/promises";
import { DomainError } from "#lib/domain/refusal";
import { fileAnswer } from "#lib/edge/file-answer";
import { projectRoute } from "#lib/edge/route";
import { readyPhotoFile } from "#lib/services/ready-photo";

/** One of the photos that lie ready for a point of a demonstration. */
export const GET = projectRoute("see project", async ({ params, asking: { house, project } }) => {
  const { mark = "", line = "", file = "" } = params;
  const where = project.clockFrom === null ? null : await readyPhotoFile(house.dataDir, project.code, mark, line, file);
  if (!where) throw new DomainError("not-found", "There is no such ready photo.");
  return fileAnswer(await open(where), { mediaType: "image/jpeg", name: `${mark}-${line}-${file}`, attachment: true, cache: "no-store" });
});
