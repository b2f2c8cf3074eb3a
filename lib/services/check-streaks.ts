import { isMixSubject } from "#lib/domain/photo/mix-subject";
import { streakFinding, unreadMix, type MixArea, type StreakFinding } from "#lib/domain/photo/streak";
import { DomainError } from "#lib/domain/refusal";
import { getPhoto } from "#lib/db/evidence";
import { fileRecord, type Filed } from "#lib/db/journal";
import { readMixPixels } from "#lib/photos/mix";
import { inProject, type Asking } from "#lib/services/ask";
import { limitsNow } from "#lib/services/evidence-facts";

/** Where the mix is taken to be until a person marks it: the middle of the picture. */
export const MIDDLE: MixArea = { x: 0.5, y: 0.5, r: 0.25 };

export interface StreakInput {
  /** Made where it is sent, so that sending twice is one act. */
  id: string;
  photoId: string;
  area: MixArea;
}

/**
 * What is measured inside a circle of a photo of a mix. Nothing is recorded.
 *
 * @throws DomainError not-found for no photo of the project, invalid for one that is not to show a mix.
 */
export async function measureStreaks({ house, project }: Pick<Asking, "house" | "project">, photoId: string, area: MixArea): Promise<StreakFinding> {
  const photo = await getPhoto(house.db.read, photoId);
  if (photo.projectId !== project.id) throw new DomainError("not-found", "There is no such photo.");
  if (!isMixSubject(photo.line, photo.subject)) throw new DomainError("invalid", "This photo is not to show a mix.", [{ field: "photo", message: "Only the photo of the mixed resin is checked for streaks." }]);
  const { sha256, mediaType, claims } = photo;
  const orientation = claims.camera.orientation ?? 1;
  const pixels = await readMixPixels({ dataDir: house.dataDir, sha256, mediaType, orientation, area }).catch(() => null);
  return pixels === null ? unreadMix() : streakFinding(pixels, await limitsNow(house.db.read, project.id));
}

/** Records where a person marked the mix, and what is measured there: an aid, the person who looks decides. */
export async function checkStreaks(asking: Asking, { id, photoId, area }: StreakInput): Promise<Filed & { finding: StreakFinding }> {
  const finding = await measureStreaks(asking, photoId, area);
  const { sha256 } = await getPhoto(asking.house.db.read, photoId);
  const filed = await inProject(asking, "check streaks", (tx, member, at) =>
    fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: { kind: "streak check", id, photoId, sha256, area, ...finding, by: member.personId, checkedAt: new Date(at).toISOString() },
    }),
  );
  return { ...filed, finding };
}
