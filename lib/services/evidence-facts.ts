import type { CameraKnowledge } from "#lib/domain/photo/camera-clock";
import { NO_CAMERA_KNOWLEDGE } from "#lib/domain/photo/camera-clock";
import { PHOTO_LIMIT_DEFAULTS, PhotoLimitsSchema, type PhotoLimits } from "#lib/domain/photo/limits";
import type { Tx } from "#lib/db/client";
import type { Photo } from "#lib/db/evidence";
import type { Project } from "#lib/db/project";
import type { StreakCheckBody } from "#lib/records/photo-kind";

/** What the project knows that photos are judged by. */
export interface EvidenceFacts {
  /** The limits that hold at a place in the log. */
  limitsAt(seq: number): PhotoLimits;
  cameraOf(photo: Photo): CameraKnowledge;
  /** Mark of a pile of the project by its id; null for no pile of it. */
  markOf(pileId: string): string | null;
  /** The last check of the mix in a photo. */
  streaksOf(photo: Photo): StreakCheckBody | null;
}

/** Loads what the given photos of a project are judged by. */
export async function loadEvidenceFacts(tx: Tx, project: Project, photos: readonly Photo[]): Promise<EvidenceFacts> {
  const [limits, piles, checks] = await Promise.all([
    limitRecords(tx, project.id),
    tx.pile.findMany({ where: { projectId: project.id }, select: { id: true, mark: true } }),
    tx.streakCheck.findMany({ where: { photoId: { in: photos.map(({ id }) => id) } }, orderBy: { seq: "asc" }, select: { photoId: true, body: true } }),
  ]);
  const marks = new Map(piles.map(({ id, mark }) => [id, mark]));
  const streaks = new Map(checks.map(({ photoId, body }) => [photoId, JSON.parse(body) as StreakCheckBody]));
  return {
    limitsAt: limitsOver(limits),
    cameraOf: () => NO_CAMERA_KNOWLEDGE,
    markOf: (pileId) => marks.get(pileId) ?? null,
    streaksOf: ({ id }) => streaks.get(id) ?? null,
  };
}

/** The limits that hold for what is received now. */
export async function limitsNow(tx: Tx, projectId: string): Promise<PhotoLimits> {
  return limitsOver(await limitRecords(tx, projectId))(Number.POSITIVE_INFINITY);
}

async function limitRecords(tx: Tx, projectId: string): Promise<{ seq: number; limits: PhotoLimits }[]> {
  const rows = await tx.photoLimits.findMany({ where: { projectId }, orderBy: { seq: "asc" }, select: { seq: true, body: true } });
  return rows.map(({ seq, body }) => ({ seq, limits: PhotoLimitsSchema.parse((JSON.parse(body) as { limits: unknown }).limits) }));
}

function limitsOver(records: readonly { seq: number; limits: PhotoLimits }[]): EvidenceFacts["limitsAt"] {
  return (seq) => records.findLast((one) => one.seq < seq)?.limits ?? PHOTO_LIMIT_DEFAULTS;
}
