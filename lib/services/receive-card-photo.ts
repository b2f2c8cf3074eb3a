import { randomUUID } from "node:crypto";
import { DomainError } from "#lib/domain/refusal";
import { keepCardPhoto, knownFiles } from "#lib/db/card-photo";
import { receiveImage, type Incoming } from "#lib/photos/intake";
import { studyOriginal } from "#lib/photos/study";
import { inProject, requireMember, type Asking } from "#lib/services/ask";
import { limitsNow } from "#lib/services/evidence-facts";
import { forgetFile } from "#lib/services/forget-file";

export interface CardReceipt {
  /** Null for a file that is on record in the project: there is nothing to do with it. */
  id: string | null;
  sha256: string;
}

/**
 * Receives one photo of a camera card. It is held as any photo is, read for tags, and kept as a draft of the person who sent it:
 * it counts for nothing until somebody puts it to a point.
 */
export async function receiveCardPhoto(asking: Asking, arriving: Pick<Incoming, "stream" | "declaredLength" | "declaredSha256" | "fileName">): Promise<CardReceipt> {
  const { house, project, personId } = asking;
  await requireMember(house.db.read, asking, "send photo");
  const limits = await limitsNow(house.db.read, project.id);
  const kept = await receiveImage({ ...arriving, dataDir: house.dataDir, limits });
  if (!kept.ok) throw new DomainError("invalid", kept.refusal.sentence, [{ field: kept.refusal.code, message: kept.refusal.sentence }]);

  const owner = { projectId: project.id, personId };
  const { ok: _ok, alreadyHeld, shown, ...facts } = kept;
  try {
    const known = await knownFiles(house.db.read, owner, [kept.sha256]);
    if (known.record.length > 0) return { id: null, sha256: kept.sha256 };
    const orientation = kept.claims.camera.orientation ?? 1;
    const { codes, looks } = await studyOriginal({ dataDir: house.dataDir, sha256: kept.sha256, mediaType: kept.mediaType, orientation, wantLooks: kept.looks === null, limits }).catch(() => ({ codes: [], looks: null }));
    return await inProject(asking, "send photo", async (tx, _member, at) => {
      const own = { ...facts, looks: kept.looks ?? looks, preview: kept.preview === "made" || looks !== null ? ("made" as const) : ("none" as const), codes };
      return { id: await keepCardPhoto(tx, owner, { id: randomUUID(), receivedAt: at, ...own }), sha256: kept.sha256 };
    });
  } catch (refusal) {
    if (!alreadyHeld) await forgetFile(house, { sha256: kept.sha256, shown });
    throw refusal;
  }
}
