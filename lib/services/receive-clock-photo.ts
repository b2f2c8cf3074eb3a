import { randomUUID } from "node:crypto";
import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import { cameraKey, clockPageReference } from "#lib/domain/photo/camera-clock";
import { readClockCode } from "#lib/domain/photo/clock-code";
import { DomainError } from "#lib/domain/refusal";
import { findClockPhoto, type ClockPhoto } from "#lib/db/camera";
import { fileRecord } from "#lib/db/journal";
import { receiveImage, type Incoming, type KeptImage } from "#lib/photos/intake";
import { studyOriginal } from "#lib/photos/study";
import type { RecordOf } from "#lib/records/kind";
import { inProject, requireMember, type Asking } from "#lib/services/ask";
import { limitsNow } from "#lib/services/evidence-facts";
import { forgetFile } from "#lib/services/forget-file";

export interface IncomingClockPhoto extends Pick<Incoming, "stream" | "declaredLength" | "declaredSha256" | "fileName"> {
  /** Made where it is sent, so that sending twice is one receipt. Made here when absent. */
  id?: string;
}

export interface ClockPhotoReceipt {
  id: string;
  sha256: string;
  /** Key of the camera that took it. */
  camera: string;
  /** The time that the page showed, ISO 8601 in UTC. */
  shown: string;
  /** What the camera wrote, as written. */
  cameraSays: string | null;
  receivedAt: string;
  seq: number;
}

/** A page states how well it knows the time; it is never further ahead than this, seconds. Common practice, no source. */
const AHEAD_SECONDS = 60;

/**
 * Receives a photo of the clock page: the time that the page showed is read from its code, and stands beside what the camera
 * wrote. A picture without a clock code that can be read, without camera or without a time of its own tells nothing of a clock and is
 * not kept.
 */
export async function receiveClockPhoto(asking: Asking, { id, ...arriving }: IncomingClockPhoto): Promise<ClockPhotoReceipt> {
  const { house, project } = asking;
  const sender = await requireMember(house.db.read, asking, "send photo");
  const kept = await receiveImage({ ...arriving, dataDir: house.dataDir, limits: await limitsNow(house.db.read, project.id) });
  if (!kept.ok) throw new DomainError("invalid", kept.refusal.sentence, [{ field: kept.refusal.code, message: kept.refusal.sentence }]);

  try {
    const camera = nameable(cameraKey(kept.claims.camera, sender.personId));
    const shown = await shownTime(house.dataDir, kept);
    return await inProject(asking, "send photo", async (tx, member, at) => {
      const again = await findClockPhoto(tx, project.id, kept.sha256);
      if (again) return receiptOf(again);
      if (shown > at + AHEAD_SECONDS * SECOND) throw new DomainError("invalid", "The page in this picture shows a time that has not come yet. Open the clock page of this project, and photograph it as it stands.");

      const body: RecordOf<"clock photo"> = { kind: "clock photo", id: id ?? randomUUID(), camera, ...factsOf(kept), shown: iso(shown), by: member.personId, receivedAt: iso(at) };
      if (clockPageReference(body.claims, shown, body.id) === null) throw new DomainError("invalid", "The camera wrote no time into this picture, or two that disagree. Set its date, and send the file as the camera wrote it.");
      const { seq } = await fileRecord(tx, house.key, { projectId: project.id, actor: member.personId, at, body });
      return { id: body.id, sha256: body.sha256, camera, shown: body.shown, cameraSays: body.claims.camera.dateTimeOriginal, receivedAt: body.receivedAt, seq };
    });
  } catch (refusal) {
    if (!kept.alreadyHeld) await forgetFile(house, kept);
    throw refusal;
  }
}

function nameable(camera: string | null): string {
  if (camera === null) throw new DomainError("invalid", "The picture names no camera, so its clock cannot be told from others. Send the file as the camera wrote it, not a copy from a message or a screen.");
  return camera;
}

/** The time on the page: every code of the page in the picture has to say the same. */
async function shownTime(dataDir: string, { sha256, mediaType, claims }: KeptImage): Promise<Instant> {
  const { codes } = await studyOriginal({ dataDir, sha256, mediaType, orientation: claims.camera.orientation ?? 1, wantLooks: false }).catch(() => ({ codes: [] }));
  const [shown, other] = [...new Set(codes.map(readClockCode).filter((at): at is Instant => at !== null))];
  if (shown === undefined) throw new DomainError("invalid", "No clock code can be read in this picture. Hold the camera so that the whole code is in the picture and sharp, without glare, and take it again.");
  if (other !== undefined) throw new DomainError("invalid", "Two clock pages are in this picture. Photograph one alone.");
  return shown;
}

function factsOf({ sha256, bytes, mediaType, extension, width, height, claims, flags }: KeptImage) {
  return { sha256, bytes, mediaType, extension, width, height, claims, flags: flags.map(({ code, measured, limit }) => ({ code, measured, limit })) };
}

function receiptOf({ id, sha256, camera, shown, cameraSays, receivedAt, seq }: ClockPhoto): ClockPhotoReceipt {
  return { id, sha256, camera, shown: iso(shown), cameraSays, receivedAt: iso(receivedAt), seq };
}

function iso(at: Instant): string {
  return new Date(at).toISOString();
}
