import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import type { PhotoLimitsBody } from "#lib/records/photo-kind";

/** Every setting of the photo limits, oldest first, as it was recorded. */
export async function listPhotoLimits(tx: Tx, projectId: string): Promise<{ at: Instant; by: string; words: string; limits: unknown }[]> {
  const rows = await tx.photoLimits.findMany({ where: { projectId }, orderBy: { seq: "asc" }, select: { at: true, body: true } });
  return rows.map(({ at, body }) => {
    const { by, words, limits } = JSON.parse(body) as PhotoLimitsBody;
    return { at: at.getTime(), by, words, limits };
  });
}
