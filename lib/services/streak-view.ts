import { formatWhen } from "#lib/domain/clock/site-time";
import { isMixSubject } from "#lib/domain/photo/mix-subject";
import type { StreakFinding, MixArea } from "#lib/domain/photo/streak";
import type { StreakVerdict } from "#lib/domain/photo/verdict";
import { DomainError } from "#lib/domain/refusal";
import { getPhoto } from "#lib/db/evidence";
import { listStreakChecks } from "#lib/db/photo-record";
import { findPile } from "#lib/db/pile";
import { listMembers } from "#lib/db/project";
import type { Asking } from "#lib/services/ask";
import { measureStreaks, MIDDLE } from "#lib/services/check-streaks";
import { limitsNow } from "#lib/services/evidence-facts";

export interface StreakView {
  photo: { id: string; sha256: string; shown: boolean; width: number; height: number };
  mark: string | null;
  line: string;
  area: MixArea;
  /** Whether the circle is the middle that nobody marked. */
  assumed: boolean;
  finding: StreakFinding;
  limits: { deltaE: number; sharePct: number };
  /** The recorded checks, the last one first. */
  earlier: { id: string; verdict: StreakVerdict; words: string; who: string; area: MixArea }[];
}

/** A photo of a mix with what is measured in a circle: the one asked for, else the last one marked, else the middle. */
export async function streakView(asking: Asking, photoId: string, asked: MixArea | null): Promise<StreakView> {
  const { house, project } = asking;
  const tx = house.db.read;
  const photo = await getPhoto(tx, photoId);
  if (photo.projectId !== project.id || !isMixSubject(photo.line, photo.subject)) throw new DomainError("not-found", "There is no such photo of a mix.");
  const [checks, members, limits, pile] = await Promise.all([
    listStreakChecks(tx, photoId), listMembers(tx, project.id), limitsNow(tx, project.id), photo.sheet === project.id ? null : findPile(tx, project.id, { id: photo.sheet }),
  ]);
  const area = asked ?? checks.at(-1)?.area ?? MIDDLE;
  const turned = (photo.claims.camera.orientation ?? 1) >= 5 && photo.mediaType !== "image/heic";
  const [width, height] = [photo.width ?? 4, photo.height ?? 3];
  return {
    photo: { id: photo.id, sha256: photo.sha256, shown: photo.preview === "made", width: turned ? height : width, height: turned ? width : height },
    mark: pile?.mark ?? null,
    line: photo.line,
    area,
    assumed: asked === null && checks.length === 0,
    finding: await measureStreaks(asking, photoId, area),
    limits: { deltaE: limits.streakDeltaE, sharePct: limits.streakSharePct },
    earlier: checks.toReversed().map((one) => ({
      id: one.id,
      verdict: one.verdict,
      words: one.reason || `${one.sharePct} % differs${one.contrastDeltaE > 0 ? ` by ΔE ${one.contrastDeltaE}` : ""}`,
      who: `${members.find(({ personId }) => personId === one.by)?.name ?? one.by}, ${formatWhen(Date.parse(one.checkedAt), project.zone)}`,
      area: one.area,
    })),
  };
}
