import { open } from "node:fs/promises";
import path from "node:path";
import { DomainError } from "#lib/domain/refusal";
import { listCloseouts } from "#lib/db/closeout";
import { fileAnswer } from "#lib/edge/file-answer";
import { projectRoute } from "#lib/edge/route";

/** An issued package: `3.zip` is issue 3. */
export const GET = projectRoute("see closeout", async ({ params, asking: { house, project } }) => {
  const number = Number(/^(\d{1,6})\.zip$/.exec(params.file ?? "")?.[1]);
  const issue = (await listCloseouts(house.db.read, project.id)).find((one) => one.number === number);
  const file = issue?.file && (await open(path.join(house.dataDir, issue.file.path)).catch(() => null));
  if (!issue?.file || !file) throw new DomainError("not-found", "There is no such issue on this server.");
  return fileAnswer(file, { mediaType: "application/zip", name: path.basename(issue.file.path), attachment: true, cache: "no-store" });
});
