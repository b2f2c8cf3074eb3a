import type Database from "better-sqlite3";
import { bandNeighbours, bandsOf, LOOK_REACH, lookDistances, type Looks } from "#lib/domain/photo/look-alike";
import type { Tx } from "#lib/db/client";
import type { LikenessAnswerBody } from "#lib/records/photo-kind";

/** How two photos are alike: the same pixels, within reach of each other, or one shot of one camera at two piles. */
export type LikenessKind = "pixels" | "near" | "shot";

export interface Likeness {
  /** The later of the two. */
  photoId: string;
  otherId: string;
  kind: LikenessKind;
  distance: number;
  orientation: number;
}

export interface FoundLook {
  photoId: string;
  projectId: string;
  kind: "pixels" | "near";
  distance: number;
  orientation: number;
}

/** Keeps what the pixels of a photo give, and the pairs that it makes with the photos of the project that came before it. */
export async function keepLooks(tx: Tx, { projectId, photoId, looks }: { projectId: string; photoId: string; looks: Looks }): Promise<void> {
  const found = await searchLooks(tx, [projectId], looks);
  const [band0 = null, band1 = null, band2 = null] = looks.hash === null ? [] : bandsOf(looks.hash);
  await tx.photoLook.create({ data: { photoId, projectId, pixels: looks.pixels, hash: looks.hash, band0, band1, band2 } });
  await keepPairs(tx, projectId, found.map((one) => ({ photoId, otherId: one.photoId, kind: one.kind, distance: one.distance, orientation: one.orientation })));
}

/** Keeps the pairs of photos that one camera says it took at the same instant, at two piles. */
export async function keepShot(tx: Tx, { projectId, photoId, sheet, sha256, shot }: { projectId: string; photoId: string; sheet: string; sha256: string; shot: string }): Promise<void> {
  const others = await tx.photo.findMany({ where: { projectId, shot, NOT: [{ id: photoId }, { sheet }, { sha256 }] }, select: { id: true } });
  await keepPairs(tx, projectId, others.map(({ id }) => ({ photoId, otherId: id, kind: "shot", distance: 0, orientation: 0 })));
}

async function keepPairs(tx: Tx, projectId: string, pairs: readonly Likeness[]): Promise<void> {
  for (const pair of pairs) {
    const key = { photoId_otherId: { photoId: pair.photoId, otherId: pair.otherId } };
    const there = await tx.likeness.findUnique({ where: key });
    // One row for two photos; what the pixels say goes before what the camera wrote.
    if (!there) await tx.likeness.create({ data: { ...pair, projectId } });
    else if (there.kind === "shot") await tx.likeness.update({ where: key, data: { kind: pair.kind, distance: pair.distance, orientation: pair.orientation } });
  }
}

const LOOK_BITS = "look_bits";

/** Lets a connection tell in a query how far a stored hash is from another one: what is too far never leaves the database. */
export function addLookBits(client: Database.Database): void {
  let searched: { hash: string; distance: ReturnType<typeof lookDistances> } | null = null;
  client.function(LOOK_BITS, { deterministic: true }, (hash: string, other: string) => {
    if (searched?.hash !== hash) searched = { hash, distance: lookDistances(hash) };
    return searched.distance(other).bits;
  });
}

/**
 * Photos of the given projects with the same pixels, or within reach of the hash in any of eight orientations. Candidates
 * come from the index of the three pieces of each hash; each is then held against the whole hash.
 */
export async function searchLooks(tx: Tx, projectIds: readonly string[], { pixels, hash }: Looks): Promise<FoundLook[]> {
  if (projectIds.length === 0) return [];
  const same = await tx.photoLook.findMany({ where: { projectId: { in: [...projectIds] }, pixels }, select: { photoId: true, projectId: true } });
  const found = new Map(same.map((one): [string, FoundLook] => [one.photoId, { ...one, kind: "pixels", distance: 0, orientation: 0 }]));
  if (hash === null) return [...found.values()];

  // The values go as one list, so that the text of the query is always the same and is read once.
  const inList = `IN (SELECT "value" FROM json_each(?))`;
  const pieces = bandNeighbours(hash).map((values, piece) => ({
    sql: `SELECT "photoId", "projectId", "hash" FROM "PhotoLook" WHERE "projectId" ${inList} AND "band${piece}" ${inList} AND ${LOOK_BITS}(?, "hash") <= ?`,
    values: [JSON.stringify(projectIds), JSON.stringify(values), hash, LOOK_REACH],
  }));
  const near = await tx.$queryRawUnsafe<{ photoId: string; projectId: string; hash: string }[]>(pieces.map(({ sql }) => sql).join(" UNION "), ...pieces.flatMap(({ values }) => values));
  const distance = lookDistances(hash);
  for (const { photoId, projectId, hash: other } of near) {
    const { bits, orientation } = distance(other);
    if (!found.has(photoId)) found.set(photoId, { photoId, projectId, kind: "near", distance: bits, orientation });
  }
  return [...found.values()].sort((a, b) => a.distance - b.distance || (a.photoId < b.photoId ? -1 : 1));
}

/** Every pair that one of the photos is part of. */
export async function listLikenessOf(tx: Tx, photoIds: readonly string[]): Promise<Likeness[]> {
  const ids = [...photoIds];
  const rows = await tx.likeness.findMany({ where: { OR: [{ photoId: { in: ids } }, { otherId: { in: ids } }] } });
  return rows.map(({ photoId, otherId, kind, distance, orientation }) => ({ photoId, otherId, kind: kind as LikenessKind, distance, orientation }));
}

/** Every pair of a project. */
export async function listLikenessIn(tx: Tx, projectId: string): Promise<Likeness[]> {
  const rows = await tx.likeness.findMany({ where: { projectId } });
  return rows.map(({ photoId, otherId, kind, distance, orientation }) => ({ photoId, otherId, kind: kind as LikenessKind, distance, orientation }));
}

/** Every two photos of a project that are the same file; the later first. */
export async function listSameFilePairs(tx: Tx, projectId: string): Promise<(Pick<Likeness, "photoId" | "otherId" | "distance"> & { kind: "file" })[]> {
  const rows = await tx.$queryRaw<{ photoId: string; otherId: string }[]>`
    SELECT later."id" AS "photoId", earlier."id" AS "otherId" FROM "Photo" AS later
    JOIN "Photo" AS earlier ON earlier."projectId" = later."projectId" AND earlier."sha256" = later."sha256" AND earlier."seq" < later."seq"
    WHERE later."projectId" = ${projectId}`;
  return rows.map((row) => ({ ...row, kind: "file" as const, distance: 0 }));
}

export type LikenessAnswer = Omit<LikenessAnswerBody, "kind"> & { seq: number };

/** What was answered about pairs that one of the photos is part of, in the order it was said. */
export async function listLikenessAnswers(tx: Tx, photoIds: readonly string[]): Promise<LikenessAnswer[]> {
  const ids = [...photoIds];
  const rows = await tx.likenessAnswer.findMany({ where: { OR: [{ photoId: { in: ids } }, { otherId: { in: ids } }] }, orderBy: { seq: "asc" }, select: { seq: true, body: true } });
  return rows.map(({ seq, body }) => {
    const { kind: _kind, ...answer } = JSON.parse(body) as LikenessAnswerBody;
    return { ...answer, seq };
  });
}
