import type { Tx } from "#lib/db/client";
import type { CameraClockBody, ClockPhotoBody, LikenessAnswerBody, PhotoLimitsBody, StreakCheckBody } from "#lib/records/photo-kind";

/** Everything that was recorded about photos beside their receipt, each in the order it was recorded. */
export interface PhotoRecords {
  clockPhotos: ClockPhotoBody[];
  cameraClocks: CameraClockBody[];
  likenessAnswers: LikenessAnswerBody[];
  streakChecks: StreakCheckBody[];
  limits: (PhotoLimitsBody & { at: number })[];
}

export async function listPhotoRecords(tx: Tx, projectId: string): Promise<PhotoRecords> {
  const own = { where: { projectId }, orderBy: { seq: "asc" } } as const;
  const bodies = <Body>(rows: readonly { body: string }[]): Body[] => rows.map(({ body }) => JSON.parse(body) as Body);
  const [clockPhotos, cameraClocks, answers, checks, limits] = await Promise.all([
    tx.clockPhoto.findMany(own), tx.cameraClock.findMany(own), tx.likenessAnswer.findMany(own), tx.streakCheck.findMany(own), tx.photoLimits.findMany(own),
  ]);
  return {
    clockPhotos: bodies(clockPhotos),
    cameraClocks: bodies(cameraClocks),
    likenessAnswers: bodies(answers),
    streakChecks: bodies(checks),
    limits: limits.map(({ body, at }) => ({ ...(JSON.parse(body) as PhotoLimitsBody), at: at.getTime() })),
  };
}

/** The checks of the mix in one photo, in the order they were made. */
export async function listStreakChecks(tx: Tx, photoId: string): Promise<StreakCheckBody[]> {
  const rows = await tx.streakCheck.findMany({ where: { photoId }, orderBy: { seq: "asc" }, select: { body: true } });
  return rows.map(({ body }) => JSON.parse(body) as StreakCheckBody);
}
