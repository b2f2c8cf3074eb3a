import type { Instant } from "#lib/domain/instant";
import type { Reading } from "#lib/domain/clock/temperature-clock";
import { DomainError } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import type { LoggerBody, PhotoBody } from "#lib/records/kind";

export type Photo = Omit<PhotoBody, "kind" | "receivedAt"> & { projectId: string; seq: number; receivedAt: Instant };

function toPhoto({ projectId, seq, body }: { projectId: string; seq: number; body: string }): Photo {
  const { kind: _kind, receivedAt, ...photo } = JSON.parse(body) as PhotoBody;
  return { ...photo, projectId, seq, receivedAt: Date.parse(receivedAt) };
}

const photoFields = { projectId: true, seq: true, body: true } as const;

/** Photos received for a sheet, or for one of its points, in the order they came. */
export async function listPhotos(tx: Tx, sheet: string, line?: string): Promise<Photo[]> {
  const rows = await tx.photo.findMany({ where: { sheet, ...(line ? { line } : {}) }, orderBy: { seq: "asc" }, select: photoFields });
  return rows.map(toPhoto);
}

export async function getPhoto(tx: Tx, id: string): Promise<Photo> {
  const row = await tx.photo.findUnique({ where: { id }, select: photoFields });
  if (!row) throw new DomainError("not-found", "There is no such photo.");
  return toPhoto(row);
}

/** Other receipts of the same file in a project: the same bytes may show one thing only. */
export async function findSameFile(tx: Tx, projectId: string, sha256: string): Promise<Photo[]> {
  const rows = await tx.photo.findMany({ where: { projectId, sha256 }, orderBy: { seq: "asc" }, select: photoFields });
  return rows.map(toPhoto);
}

/** Every receipt in a project of any of these files. */
export async function listSameFiles(tx: Tx, projectId: string, sha256s: readonly string[]): Promise<Photo[]> {
  if (sha256s.length === 0) return [];
  const rows = await tx.photo.findMany({ where: { projectId, sha256: { in: [...new Set(sha256s)] } }, orderBy: { seq: "asc" }, select: photoFields });
  return rows.map(toPhoto);
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
