import type { Looks } from "#lib/domain/photo/look-alike";
import type { Instant } from "#lib/domain/instant";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { Tx } from "#lib/db/client";

/** A photo from a camera card that nobody has put to a point yet: a draft of one person, and no record. */
export interface CardPhotoOnFile {
  id: string;
  sha256: string;
  receivedAt: Instant;
  bytes: number;
  mediaType: "image/jpeg" | "image/png" | "image/webp" | "image/heic";
  extension: string;
  width: number;
  height: number;
  claims: PhotoClaims;
  flags: readonly PhotoFlag[];
  looks: Looks | null;
  preview: "made" | "none";
  codes: readonly string[];
  fileName: string | null;
}

interface Owner {
  projectId: string;
  personId: string;
}

/** A person's photos from a card, in the order they came. */
export async function listCardPhotos(tx: Tx, owner: Owner): Promise<CardPhotoOnFile[]> {
  const rows = await tx.cardPhoto.findMany({ where: owner, orderBy: [{ receivedAt: "asc" }, { id: "asc" }] });
  return rows.map(({ id, sha256, receivedAt, body }) => ({ ...(JSON.parse(body) as Omit<CardPhotoOnFile, "id" | "sha256" | "receivedAt">), id, sha256, receivedAt: receivedAt.getTime() }));
}

/** Keeps a photo on a person's card; the same bytes twice are one. */
export async function keepCardPhoto(tx: Tx, owner: Owner, { id, sha256, receivedAt, ...body }: CardPhotoOnFile): Promise<string> {
  const there = await tx.cardPhoto.findFirst({ where: { ...owner, sha256 }, select: { id: true } });
  if (there) return there.id;
  await tx.cardPhoto.create({ data: { ...owner, id, sha256, receivedAt: new Date(receivedAt), body: JSON.stringify(body) } });
  return id;
}

export async function dropCardPhotos(tx: Tx, owner: Owner, ids: readonly string[]): Promise<void> {
  await tx.cardPhoto.deleteMany({ where: { ...owner, id: { in: [...ids] } } });
}

/** Which of these files are here already: on the person's card, or on record in the project. */
export async function knownFiles(tx: Tx, owner: Owner, sha256s: readonly string[]): Promise<{ card: string[]; record: string[] }> {
  const named = { sha256: { in: [...new Set(sha256s)] } };
  const [card, record] = await Promise.all([
    tx.cardPhoto.findMany({ where: { ...owner, ...named }, select: { sha256: true } }),
    tx.photo.findMany({ where: { projectId: owner.projectId, ...named }, select: { sha256: true } }),
  ]);
  return { card: card.map(({ sha256 }) => sha256), record: [...new Set(record.map(({ sha256 }) => sha256))] };
}
