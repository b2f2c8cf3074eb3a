import type { Instant } from "#lib/domain/instant";
import type { Reading } from "#lib/domain/clock/temperature-clock";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { DomainError } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import type { LoggerBody } from "#lib/records/kind";
import { PhotoReceived, type PhotoBody, type PhotoReadingBody } from "#lib/records/photo-kind";

/** A photo as received, with what was read from its pixels then or since. */
export interface Photo extends Omit<PhotoBody, "kind" | "receivedAt"> {
  projectId: string;
  seq: number;
  receivedAt: Instant;
  /** Codes read from tags; null while nobody has looked. */
  codes: readonly string[] | null;
}

function toPhoto({ projectId, seq, body }: { projectId: string; seq: number; body: string }, reading: PhotoReadingBody | undefined): Photo {
  const { kind: _kind, receivedAt, ...photo } = PhotoReceived.parse(JSON.parse(body));
  return {
    ...photo,
    projectId,
    seq,
    receivedAt: Date.parse(receivedAt),
    looks: photo.looks ?? reading?.looks ?? null,
    preview: photo.preview === "made" ? "made" : (reading?.preview ?? "none"),
    flags: [...photo.flags, ...(reading?.flags ?? [])],
    codes: reading?.codes ?? null,
  };
}

const photoFields = { id: true, projectId: true, seq: true, body: true } as const;

type PhotoRow = { id: string; projectId: string; seq: number; body: string };

async function toPhotos(tx: Tx, rows: readonly PhotoRow[]): Promise<Photo[]> {
  if (rows.length === 0) return [];
  const readings = await tx.photoReading.findMany({ where: { photoId: { in: rows.map(({ id }) => id) } }, orderBy: { seq: "asc" }, select: { photoId: true, body: true } });
  const read = new Map(readings.map(({ photoId, body }) => [photoId, JSON.parse(body) as PhotoReadingBody]));
  return rows.map((row) => toPhoto(row, read.get(row.id)));
}

/** Photos received for a sheet, or for one of its points, in the order they came. */
export async function listPhotos(tx: Tx, sheet: string, line?: string): Promise<Photo[]> {
  return toPhotos(tx, await tx.photo.findMany({ where: { sheet, ...(line ? { line } : {}) }, orderBy: { seq: "asc" }, select: photoFields }));
}

export async function getPhoto(tx: Tx, id: string): Promise<Photo> {
  const row = await tx.photo.findUnique({ where: { id }, select: photoFields });
  const [photo] = row ? await toPhotos(tx, [row]) : [];
  if (!photo) throw new DomainError("not-found", "There is no such photo.");
  return photo;
}

/** Photos by their ids, in the order they came. */
export async function listPhotosById(tx: Tx, ids: readonly string[]): Promise<Photo[]> {
  return toPhotos(tx, await tx.photo.findMany({ where: { id: { in: [...ids] } }, orderBy: { seq: "asc" }, select: photoFields }));
}

/** Every receipt in a project of any of these files: the same bytes may show one thing only. */
export async function listSameFiles(tx: Tx, projectId: string, sha256s: readonly string[]): Promise<Photo[]> {
  if (sha256s.length === 0) return [];
  return toPhotos(tx, await tx.photo.findMany({ where: { projectId, sha256: { in: [...new Set(sha256s)] } }, orderBy: { seq: "asc" }, select: photoFields }));
}

/**
 * What a file claims that a person may be shown in a project: a photo or a photo of the clock page, or one from a camera
 * card of their own. Null where there is none.
 */
export async function findShownFile(tx: Tx, { projectId, personId, sha256 }: { projectId: string; personId: string; sha256: string }): Promise<PhotoClaims | null> {
  const own = { where: { projectId, sha256 }, select: { body: true } } as const;
  const row = (await tx.photo.findFirst(own)) ?? (await tx.clockPhoto.findFirst(own)) ?? (await tx.cardPhoto.findFirst({ where: { projectId, personId, sha256 }, select: { body: true } }));
  return row && (JSON.parse(row.body) as { claims: PhotoClaims }).claims;
}

/** Whether anything in any project holds the bytes of a file: a photo, a document, a photo of the clock page, a card. */
export async function findHolder(tx: Tx, sha256: string): Promise<boolean> {
  const own = { where: { sha256 }, select: { id: true } } as const;
  return (await Promise.all([tx.photo.findFirst(own), tx.document.findFirst(own), tx.clockPhoto.findFirst(own), tx.cardPhoto.findFirst(own)])).some((row) => row !== null);
}

/** A photo whose pixels nobody has read since it came, and its place among all that ever came into the house. */
export interface UnreadPhoto {
  place: number;
  photo: Photo;
}

/** Unread photos of every project behind a place, in the order they came: whoever goes through all of them looks at each once. */
export async function listUnreadPhotos(tx: Tx, { after, most }: { after: number; most: number }): Promise<UnreadPhoto[]> {
  const rows = await tx.$queryRaw<(PhotoRow & { place: number | bigint })[]>`
    SELECT rowid AS "place", "id", "projectId", "seq", "body" FROM "Photo"
    WHERE rowid > ${after} AND NOT EXISTS (SELECT 1 FROM "PhotoReading" WHERE "photoId" = "Photo"."id") ORDER BY rowid LIMIT ${most}`;
  return rows.map(({ place, ...row }) => ({ place: Number(place), photo: toPhoto({ ...row, seq: Number(row.seq) }, undefined) }));
}

export interface DocumentOnFile {
  id: string;
  projectId: string;
  sheet: string;
  line: string;
  use: string;
  title: string;
  sha256: string;
  bytes: number;
  seq: number;
  receivedAt: Instant;
  byId: string;
}

export async function listDocuments(tx: Tx, sheet: string, line?: string): Promise<DocumentOnFile[]> {
  const rows = await tx.document.findMany({ where: { sheet, ...(line ? { line } : {}) }, orderBy: { seq: "asc" } });
  return rows.map((row) => ({ ...row, receivedAt: row.receivedAt.getTime() }));
}

export async function getDocument(tx: Tx, id: string): Promise<DocumentOnFile> {
  const row = await tx.document.findUnique({ where: { id } });
  if (!row) throw new DomainError("not-found", "There is no such document.");
  return { ...row, receivedAt: row.receivedAt.getTime() };
}

export interface ReadingOnFile extends Reading {
  id: string;
  line: string;
  asTyped: string;
  /** Read by a logger and not by a person. */
  logged: boolean;
  byId: string;
  enteredAt: Instant;
}

/** Temperatures of the clocks of a sheet, typed or from loggers, by the time they were read. */
export async function listReadings(tx: Tx, sheet: string): Promise<ReadingOnFile[]> {
  const [rows, files] = await Promise.all([
    tx.reading.findMany({ where: { sheet }, orderBy: { seq: "asc" } }),
    tx.logger.findMany({ where: { sheet }, orderBy: { seq: "asc" } }),
  ]);
  const typed = rows.map(({ id, line, at, celsius, asTyped, byId, enteredAt }): ReadingOnFile => ({
    id, line, at: at.getTime(), celsius: Number(celsius), asTyped, logged: false, byId, enteredAt: enteredAt.getTime(),
  }));
  const logged = files.flatMap(({ id, line, byId, enteredAt, body }) => {
    const { title, readings } = JSON.parse(body) as LoggerBody;
    return readings.map(({ at, celsius }): ReadingOnFile => ({
      id, line, at: Date.parse(at), celsius: Number(celsius), asTyped: `${celsius} °C, ${title}`, logged: true, byId, enteredAt: enteredAt.getTime(),
    }));
  });
  return [...typed, ...logged].sort((a, b) => a.at - b.at);
}
