import { openOriginal } from "#lib/photos/store";
import { getDocument } from "#lib/db/evidence";
import { DomainError } from "#lib/domain/refusal";
import { fileAnswer, FOREVER } from "#lib/edge/file-answer";
import { projectRoute } from "#lib/edge/route";

export const GET = projectRoute("see project", async ({ params, asking: { house, project } }) => {
  const document = await getDocument(house.db.read, params.document ?? "");
  const file = document.projectId === project.id ? await openOriginal(house.dataDir, document.sha256) : null;
  if (!file) throw new DomainError("not-found", "There is no such document.");
  return fileAnswer(file, { mediaType: "application/pdf", name: `${document.sha256}.pdf`, attachment: true, cache: FOREVER });
});
