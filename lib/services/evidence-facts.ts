import type { CameraKnowledge } from "#lib/domain/photo/camera-clock";
import { cameraKey } from "#lib/domain/photo/camera-clock";
import { PHOTO_LIMIT_DEFAULTS, PhotoLimitsSchema, type PhotoLimits } from "#lib/domain/photo/limits";
import { listConfirmations, listReferences } from "#lib/db/camera";
import type { Tx } from "#lib/db/client";
import type { Photo } from "#lib/db/evidence";
import type { Project } from "#lib/db/project";
import type { StreakCheckBody } from "#lib/records/photo-kind";
import { cameraKnowledge } from "#lib/services/camera-knowledge";

/** As much of a photo as tells what is known of it: also one that is no record yet, whose place in the log is the end. */
export type KnownPhoto = Pick<Photo, "id" | "claims" | "by" | "seq">;

/** What the project knows that photos are judged by. */
export interface EvidenceFacts {
  /** The limits that hold at a place in the log. */
  limitsAt(seq: number): PhotoLimits;
  cameraOf(photo: KnownPhoto): CameraKnowledge;
  /** Mark of a pile of the project by its id; null for no pile of it. */
  markOf(pileId: string): string | null;
  /** The last check of the mix in a photo. */
  streaksOf(photo: KnownPhoto): StreakCheckBody | null;
}

/** Loads what the given photos of a project are judged by. */
export async function loadEvidenceFacts(tx: Tx, project: Project, photos: readonly KnownPhoto[]): Promise<EvidenceFacts> {
  const cameras = [...new Set(photos.flatMap(({ claims, by }) => cameraKey(claims.camera, by) ?? []))];
  const [limits, piles, checks, references, confirmations] = await Promise.all([
    limitRecords(tx, project.id),
    tx.pile.findMany({ where: { projectId: project.id }, select: { id: true, mark: true } }),
    tx.streakCheck.findMany({ where: { photoId: { in: photos.map(({ id }) => id) } }, orderBy: { seq: "asc" }, select: { photoId: true, body: true } }),
    listReferences(tx, project.id, cameras),
    listConfirmations(tx, project.id, cameras),
  ]);
  const marks = new Map(piles.map(({ id, mark }) => [id, mark]));
  const streaks = new Map(checks.map(({ photoId, body }) => [photoId, JSON.parse(body) as StreakCheckBody]));
  const limitsAt = limitsOver(limits);
  return {
    limitsAt,
    cameraOf: cameraKnowledge(references, confirmations, limitsAt),
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
