import type { Instant } from "#lib/domain/instant";
import { cameraKey, cameraName, clockPageReference, referencesOf, type CameraReference, type CameraSource } from "#lib/domain/photo/camera-clock";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { Tx } from "#lib/db/client";
import type { CameraClockBody, ClockPhotoBody, PhotoBody } from "#lib/records/photo-kind";

/** Keeps what a photo says about its camera's clock: what the clock showed, beside the true time by GPS, phone or clock page. */
export async function keepSamples(tx: Tx, { projectId, seq }: { projectId: string; seq: number }, body: PhotoBody | ClockPhotoBody): Promise<void> {
  const camera = body.kind === "photo" ? cameraKey(body.claims.camera, body.by) : body.camera;
  const page = body.kind === "photo" ? null : clockPageReference(body.claims, Date.parse(body.shown), body.id);
  const references = [...referencesOf(body.claims, body.id), ...(page === null ? [] : [page])];
  if (camera === null || references.length === 0) return;
  const rows = references.map(({ source, photo, wall, at }) => ({ id: `${photo}:${source}`, projectId, camera, photoId: photo, seq, source, wall, trueAt: new Date(at) }));
  await tx.cameraSample.createMany({ data: rows });
}

/** A reference with its place in the log. */
export interface FiledReference extends CameraReference {
  seq: number;
}

/** What is known of the clocks of the given cameras, or of all in the project, in the order it came. */
export async function listReferences(tx: Tx, projectId: string, cameras?: readonly string[]): Promise<Map<string, FiledReference[]>> {
  const rows = await tx.cameraSample.findMany({
    where: { projectId, ...(cameras ? { camera: { in: [...cameras] } } : {}) },
    orderBy: [{ seq: "asc" }, { id: "asc" }],
    select: { camera: true, source: true, photoId: true, wall: true, trueAt: true, seq: true },
  });
  const found = new Map<string, FiledReference[]>();
  for (const { camera, source, photoId, wall, trueAt, seq } of rows) {
    const reference: FiledReference = { source: source as CameraSource, photo: photoId, wall, at: trueAt.getTime(), seq };
    const own = found.get(camera);
    if (own) own.push(reference);
    else found.set(camera, [reference]);
  }
  return found;
}

/** A clock as it was confirmed. */
export interface ConfirmedClock {
  id: string;
  camera: string;
  seq: number;
  at: Instant;
  by: string;
  words: string;
  references: CameraReference[];
}

/** Every confirmation of the given cameras, or of all in the project, oldest first: the last of each camera holds. */
export async function listConfirmations(tx: Tx, projectId: string, cameras?: readonly string[]): Promise<ConfirmedClock[]> {
  const rows = await tx.cameraClock.findMany({
    where: { projectId, ...(cameras ? { camera: { in: [...cameras] } } : {}) },
    orderBy: { seq: "asc" },
    select: { seq: true, at: true, body: true },
  });
  return rows.map(({ seq, at, body }) => {
    const { id, camera, by, words, references } = JSON.parse(body) as CameraClockBody;
    return { id, camera, seq, at: at.getTime(), by, words, references: references.map((one) => ({ ...one, at: Date.parse(one.at) })) };
  });
}

/** A photo of the clock page as it was received. */
export interface ClockPhoto {
  id: string;
  camera: string;
  name: string;
  sha256: string;
  seq: number;
  receivedAt: Instant;
  by: string;
  shown: Instant;
  cameraSays: string | null;
}

function toClockPhoto({ seq, body }: { seq: number; body: string }): ClockPhoto {
  const { id, camera, sha256, receivedAt, by, shown, claims } = JSON.parse(body) as ClockPhotoBody;
  return { id, camera, name: cameraName(claims.camera), sha256, seq, receivedAt: Date.parse(receivedAt), by, shown: Date.parse(shown), cameraSays: claims.camera.dateTimeOriginal };
}

export async function listClockPhotos(tx: Tx, projectId: string): Promise<ClockPhoto[]> {
  return (await tx.clockPhoto.findMany({ where: { projectId }, orderBy: { seq: "asc" }, select: { seq: true, body: true } })).map(toClockPhoto);
}

/** The photo of the clock page with these bytes; null where none was received. */
export async function findClockPhoto(tx: Tx, projectId: string, sha256: string): Promise<ClockPhoto | null> {
  const row = await tx.clockPhoto.findFirst({ where: { projectId, sha256 }, select: { seq: true, body: true } });
  return row && toClockPhoto(row);
}

/** Which camera took a photo. */
export interface PhotoCamera {
  photo: string;
  sheet: string;
  camera: string;
  name: string;
  by: string;
  receivedAt: Instant;
}

/** The camera of every photo of a project, in the order they came. Those that name neither make nor model are left out. */
export async function listPhotoCameras(tx: Tx, projectId: string): Promise<PhotoCamera[]> {
  // Only what the key is made of is read: a project has thousands of photos.
  const rows = await tx.$queryRaw<{ id: string; sheet: string; by: string; receivedAt: string; make: string | null; model: string | null; serial: string | null }[]>`
    SELECT "id", "sheet", "byId" AS "by", json_extract("body", '$.receivedAt') AS "receivedAt", json_extract("body", '$.claims.camera.make') AS "make",
           json_extract("body", '$.claims.camera.model') AS "model", json_extract("body", '$.claims.camera.serial') AS "serial"
    FROM "Photo" WHERE "projectId" = ${projectId} ORDER BY "seq"`;
  return rows.flatMap(({ id, sheet, by, receivedAt, ...named }) => {
    const claims = named as PhotoClaims["camera"];
    const camera = cameraKey(claims, by);
    return camera === null ? [] : [{ photo: id, sheet, camera, name: cameraName(claims), by, receivedAt: Date.parse(receivedAt) }];
  });
}
