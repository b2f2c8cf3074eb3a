import type { CameraKnowledge } from "#lib/domain/photo/camera-clock";
import { NO_CAMERA_KNOWLEDGE } from "#lib/domain/photo/camera-clock";
import { PHOTO_LIMIT_DEFAULTS, PhotoLimitsSchema, type PhotoLimits } from "#lib/domain/photo/limits";
import type { Tx } from "#lib/db/client";
import type { Photo } from "#lib/db/evidence";
import type { Project } from "#lib/db/project";

/** What the project knows that photos are judged by. */
export interface EvidenceFacts {
  /** The limits that hold at a place in the log. */
  limitsAt(seq: number): PhotoLimits;
  cameraOf(photo: Photo): CameraKnowledge;
}

/** Loads what the given photos of a project are judged by. */
export async function loadEvidenceFacts(tx: Tx, project: Project, _photos: readonly Photo[]): Promise<EvidenceFacts> {
  return { limitsAt: limitsOver(await limitRecords(tx, project.id)), cameraOf: () => NO_CAMERA_KNOWLEDGE };
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
