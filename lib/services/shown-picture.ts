import type { FileHandle } from "node:fs/promises";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { DomainError } from "#lib/domain/refusal";
import { findShownFile } from "#lib/db/evidence";
import { openOrMakeRendition } from "#lib/photos/rendition";
import { RENDITION_PX } from "#lib/photos/store";
import type { Asking } from "#lib/services/ask";

/**
 * Opens a reduced copy of a picture for whoever may see it: a photo or a photo of the clock page of the project, or a
 * person's own from a camera card. The caller closes it.
 *
 * @param px Longest side as in the address.
 * @throws DomainError not-found for anything else, whether it exists or not.
 */
export async function openShownPicture(asking: Asking, px: string, sha256: string): Promise<FileHandle> {
  const side = RENDITION_PX.find((one) => String(one) === px);
  const tx = asking.house.db.read;
  const claims = side && /^[0-9a-f]{64}$/.test(sha256) ? await findShownFile(tx, { projectId: asking.project.id, personId: asking.personId, sha256 }) : null;
  const file = side && claims ? await openOrMakeRendition(asking.house.dataDir, side, sha256, orientationOf(claims)) : null;
  if (!file) throw new DomainError("not-found", "There is no such picture.");
  return file;
}

function orientationOf({ camera }: PhotoClaims): number {
  return camera.orientation ?? 1;
}
