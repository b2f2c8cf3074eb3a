import type { Tx } from "#lib/db/client";
import type { Looks } from "#lib/records/photo-kind";

/** Keeps what the pixels of a photo give, and the pairs that it makes with the photos of the project that came before it. */
export async function keepLooks(tx: Tx, { projectId, photoId, looks }: { projectId: string; photoId: string; looks: Looks }): Promise<void> {
  const bands = looks.hash === null ? [] : [0, 4, 8, 12].map((at) => Number.parseInt(looks.hash!.slice(at, at + 4), 16));
  const [band0 = null, band1 = null, band2 = null, band3 = null] = bands;
  await tx.photoLook.create({ data: { photoId, projectId, pixels: looks.pixels, hash: looks.hash, band0, band1, band2, band3 } });
}
