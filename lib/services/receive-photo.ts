import { randomUUID } from "node:crypto";
import type { Member } from "#lib/domain/access/member";
import type { Instant } from "#lib/domain/instant";
import type { DeviceClaims } from "#lib/domain/photo/claims";
import { mergeFlags, type PhotoFlag } from "#lib/domain/photo/flag";
import { currentAttempt } from "#lib/domain/point/attempt";
import { DomainError } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import { listSameFiles, type Photo } from "#lib/db/evidence";
import { fileRecord } from "#lib/db/journal";
import { receiveImage, type KeptImage } from "#lib/photos/intake";
import type { RecordOf } from "#lib/records/kind";
import { inProject, requireMember, type Asking } from "#lib/services/ask";
import { limitsNow } from "#lib/services/evidence-facts";
import { forgetFile } from "#lib/services/forget-file";
import { acrossProjects } from "#lib/services/repeat";
import { getLine, type Sheet } from "#lib/services/sheet";
import { wakeStudy } from "#lib/services/study-photo";

export interface IncomingPhoto {
  /** Made where the photo is taken, so that sending twice is one receipt. Made here when absent. */
  id?: string;
  sheet: string;
  line: string;
  subject: string;
  stream: AsyncIterable<Uint8Array>;
  declaredLength?: number;
  declaredSha256?: string;
  fileName?: string;
  device?: DeviceClaims;
}

/** What is known of a photo once its original is on disk. */
export type KeptPhoto = Pick<KeptImage, "sha256" | "bytes" | "mediaType" | "extension" | "width" | "height" | "claims" | "flags" | "looks" | "preview">;

export interface PhotoReceipt {
  id: string;
  sha256: string;
  bytes: number;
  receivedAt: string;
  seq: number;
}

/**
 * Receives a photo for a subject of a point. The original is on disk before the record is made, and the record before
 * this returns. Whether the photo is in order is judged where it is shown; nothing is thrown away for being late.
 */
export async function receivePhoto(asking: Asking, incoming: IncomingPhoto): Promise<PhotoReceipt> {
  await refuseBeforeReading(asking, incoming);
  const { id, sheet, line, subject, ...arriving } = incoming;
  const { house, project } = asking;
  const kept = await receiveImage({ ...arriving, dataDir: house.dataDir, limits: await limitsNow(house.db.read, project.id) });
  if (!kept.ok) throw new DomainError("invalid", kept.refusal.sentence, [{ field: kept.refusal.code, message: kept.refusal.sentence }]);

  const receipt = await inProject(asking, "send photo", (tx, member, at) =>
    fileReceivedPhoto(tx, asking, member, kept, { at, receivedAt: at, sheet, line, subject, ...(id === undefined ? {} : { id }) }),
  ).catch(async (refusal: unknown) => {
    if (!kept.alreadyHeld) await forgetFile(house, kept);
    throw refusal;
  });
  wakeStudy();
  return receipt;
}

/** Where a photo goes, and when the server had it. */
export interface PhotoPlace {
  id?: string;
  sheet: string;
  line: string;
  subject: string;
  receivedAt: Instant;
  /** Now. */
  at: Instant;
}

/**
 * Files the record of a photo whose original is on disk, in the caller's transaction. The same file for the same subject
 * of the same point, or the same id again, is one receipt.
 */
export async function fileReceivedPhoto(tx: Tx, asking: Asking, member: Member, kept: KeptPhoto, place: PhotoPlace): Promise<PhotoReceipt> {
  const { house, project } = asking;
  const sheet = await house.sheets.sheet(tx, project, place.sheet, place.at);
  const { status } = getLine(sheet, place.line);
  const same = await listSameFiles(tx, project.id, [kept.sha256]);
  const again = same.find((one) => one.id === place.id || (one.sheet === sheet.id && one.line === place.line && one.subject === place.subject));
  if (again) return receiptOf(again);
  const body: RecordOf<"photo"> = {
    kind: "photo",
    id: place.id ?? randomUUID(),
    sheet: sheet.id,
    line: place.line,
    attempt: status.maySend ? currentAttempt(status.standing) : status.attempt,
    subject: place.subject,
    sha256: kept.sha256,
    bytes: kept.bytes,
    mediaType: kept.mediaType,
    extension: kept.extension,
    width: kept.width,
    height: kept.height,
    claims: kept.claims,
    flags: mergeFlags([...kept.flags, ...repeatFlag(kept, same, sheet), ...(await acrossProjects(tx, project, member, kept))]).map(({ code, measured, limit }) => ({ code, measured, limit })),
    looks: kept.looks,
    preview: kept.preview,
    by: member.personId,
    receivedAt: new Date(place.receivedAt).toISOString(),
  };
  const { seq } = await fileRecord(tx, house.key, { projectId: project.id, actor: member.personId, at: place.at, body });
  return { id: body.id, sha256: body.sha256, bytes: body.bytes, receivedAt: body.receivedAt, seq };
}

/** Looks at what can be refused before a byte is read: the person, the point, the subject. */
async function refuseBeforeReading(asking: Asking, { sheet: id, line: lineId, subject }: IncomingPhoto): Promise<void> {
  const { house, project } = asking;
  const tx = house.db.read;
  await requireMember(tx, asking, "send photo");
  const sheet = await house.sheets.sheet(tx, project, id, await house.now(project));
  const { line } = getLine(sheet, lineId);
  if (line.notApplicable) throw new DomainError("blocked", `Point ${lineId} does not apply to this pile: ${line.notApplicable}`);
  if (!line.photos.some((one) => one.id === subject)) {
    const subjects = line.photos.map((one) => one.id).join(", ");
    const message = subjects ? `Point ${lineId} asks for photos of: ${subjects}.` : `Point ${lineId} asks for no photos.`;
    throw new DomainError("invalid", message, [{ field: "subject", message }]);
  }
}

function repeatFlag(kept: KeptPhoto, same: readonly Photo[], sheet: Sheet): PhotoFlag[] {
  const [first] = same;
  if (!first) return [];
  const where = first.sheet === sheet.id ? `point ${first.line}` : `another pile, point ${first.line}`;
  return [{ code: "DUP_EXACT", measured: `same file as ${where}, received ${new Date(first.receivedAt).toISOString()}`, limit: `SHA-256 ${kept.sha256.slice(0, 12)}… once` }];
}

function receiptOf({ id, sha256, bytes, receivedAt, seq }: Photo): PhotoReceipt {
  return { id, sha256, bytes, receivedAt: new Date(receivedAt).toISOString(), seq };
}
