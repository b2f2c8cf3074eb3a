import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import { itemName } from "#lib/domain/plan/plan";
import { requirementWords } from "#lib/domain/requirement/words";
import type { Tx } from "#lib/db/client";
import { listDocuments, listPhotos } from "#lib/db/evidence";
import { listMembers } from "#lib/db/project";
import type { Judged } from "#lib/records/kind";
import { photoWords, type PhotoWords } from "#lib/services/photo-words";
import { photosOfPoint } from "#lib/services/point-photos";
import { pointHead, type PointHeadView } from "#lib/services/point-view";
import { getLine, type Sheet } from "#lib/services/sheet";

export interface ReceivedView {
  head: PointHeadView;
  by: string;
  when: string;
  work: string;
  digest: string;
  seq: number;
  words: string;
  values: { name: string; judged: Judged; reason: string | null; override: { drawing: string; was: string } | null }[];
  photos: (PhotoWords & { name: string })[];
  documents: string[];
  lots: string[];
  /** The submission to withdraw; null once it is decided, or for somebody else's. */
  withdraw: string | null;
}

/** What stands received at a point, or was received last, for who sent it. */
export async function receivedView(tx: Tx, sheet: Sheet, lineId: string, member: Member): Promise<ReceivedView | null> {
  const { line, status } = getLine(sheet, lineId);
  const { standing } = status;
  const trail = standing.trail ?? standing.attempts.flatMap(({ submissions }) => submissions).at(-1);
  const submission = trail && sheet.history.submissions.get(trail.submission.submissionId);
  if (!trail || !submission) return null;
  const [head, members, photos, documents] = await Promise.all([
    pointHead(tx, sheet, lineId), listMembers(tx, sheet.project.id), listPhotos(tx, sheet.id, lineId), listDocuments(tx, sheet.id, lineId),
  ]);
  const { zone } = sheet.project;
  const sent = photos.filter(({ id }) => submission.photos.some((photo) => photo.id === id));
  const views = await photosOfPoint(tx, sheet, line, sent, { attempt: submission.attempt, beforeSeq: submission.seq });
  const undecided = standing.trail === trail && trail.decisions.length === 0;
  const own = submission.by === member.personId || member.roles.includes("QC manager");
  return {
    head,
    by: members.find(({ personId }) => personId === submission.by)?.name ?? submission.by,
    when: formatWhen(Date.parse(submission.receivedAt), zone),
    work: `${formatWhen(Date.parse(submission.workBegan), zone)} to ${formatWhen(Date.parse(submission.workEnded), zone)}`,
    digest: submission.digest,
    seq: submission.seq,
    words: submission.words,
    values: submission.judged.map((judged) => {
      const quantity = line.quantities.find(({ id }) => id === judged.quantity);
      const reason = submission.reasons.find((one) => one.quantity === judged.quantity && (one.item === judged.item || one.item === null));
      return { name: quantity ? itemName(quantity, judged.item) : judged.quantity, judged, reason: reason?.words ?? null, override: quantity?.override ? { drawing: quantity.override.drawing, was: requirementWords(quantity.override.was) } : null };
    }),
    photos: views.map((view) => ({ ...photoWords(view, zone), name: line.photos.find(({ id }) => id === view.photo.subject)?.name ?? view.photo.subject })),
    documents: documents.filter(({ id }) => submission.documents.some((one) => one.id === id)).map(({ title }) => title),
    lots: submission.lots.map(({ use, lotId }) => `${line.lots.find(({ id }) => id === use)?.name ?? use}: ${sheet.lots.find(({ id }) => id === lotId)?.number ?? lotId}`),
    withdraw: undecided && own && can(member, "withdraw submission", sheet.project.id) ? submission.id : null,
  };
}
