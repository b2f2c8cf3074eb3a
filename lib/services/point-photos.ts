import type { PlanLine } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { listPhotos, type Photo } from "#lib/db/evidence";
import type { Submission } from "#lib/db/point-record";
import { loadEvidenceFacts } from "#lib/services/evidence-facts";
import { viewPhotos, type PhotoView } from "#lib/services/evidence";
import { markRepeats } from "#lib/services/repeat";
import type { Sheet } from "#lib/services/sheet";

/** The given photos of a point as they stand in one attempt, with what else on record they repeat. */
export async function photosOfPoint(tx: Tx, sheet: Sheet, line: PlanLine, photos: readonly Photo[], sent: { attempt: number; beforeSeq: number }): Promise<PhotoView[]> {
  const known = await loadEvidenceFacts(tx, sheet.project, photos);
  return markRepeats(tx, sheet, viewPhotos(sheet, line, photos, sent, known));
}

/** A photo of a sheet, judged in the attempt it was sent with; in the current one where it was not sent yet. */
export interface SheetPhoto {
  view: PhotoView;
  line: PlanLine;
  submission: Submission | null;
}

/** Every photo received for a sheet, in the order they came. */
export async function photosOfSheet(tx: Tx, sheet: Sheet): Promise<SheetPhoto[]> {
  const photos = await listPhotos(tx, sheet.id);
  const known = await loadEvidenceFacts(tx, sheet.project, photos);
  const submissions = [...sheet.history.submissions.values()];
  const judged = photos.map((photo): SheetPhoto => {
    const line = sheet.lines.find((one) => one.line === photo.line);
    const submission = submissions.findLast((one) => one.photos.some(({ id }) => id === photo.id)) ?? null;
    const sent = { attempt: submission?.attempt ?? photo.attempt, beforeSeq: submission?.seq ?? Number.POSITIVE_INFINITY };
    const [view] = line ? viewPhotos(sheet, line, [photo], sent, known) : [];
    if (!line || !view) throw new Error(`Photo ${photo.id} was received for point ${photo.line}, which the plan does not have.`);
    return { view, line, submission };
  });
  const marked = await markRepeats(tx, sheet, judged.map(({ view }) => view));
  return judged.map((one, position) => ({ ...one, view: marked[position] ?? one.view }));
}
