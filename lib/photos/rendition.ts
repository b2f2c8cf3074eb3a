import type { FileHandle } from "node:fs/promises";

import { decodeImage, readHeader } from "#lib/photos/picture-pool";
import { openRendition, originalPath, renditionPath, RENDITION_PX } from "#lib/photos/store";
import type { RenditionPx } from "#lib/photos/store";

// A server bundle may hold this module more than once; what is being made is known to the whole process.
const BEING_MADE = Symbol.for("lastlook.renditions-being-made");
const shared = globalThis as typeof globalThis & { [BEING_MADE]?: Map<string, Promise<void>> };
const beingMade = (shared[BEING_MADE] ??= new Map());

/** Says that the renditions of an original are on their way, so that whoever asks for one waits for them. */
export function noteBeingMade(sha256: string, over: Promise<void>): void {
  beingMade.set(sha256, over);
  void over.finally(() => beingMade.get(sha256) === over && beingMade.delete(sha256));
}

/**
 * Opens a rendition for reading: the one that is there, the one that is being made, or one made anew from the original, since
 * nothing that can be made again is worth losing a picture over. Null when none can be made. The caller closes it.
 *
 * @param orientation The orientation tag of the original, 1–8.
 */
export async function openOrMakeRendition(dataDir: string, px: RenditionPx, sha256: string, orientation: number): Promise<FileHandle | null> {
  await beingMade.get(sha256);
  const there = await openRendition(dataDir, px, sha256);
  if (there !== null) return there;
  if (!beingMade.has(sha256)) noteBeingMade(sha256, makeRenditions(dataDir, sha256, orientation));
  await beingMade.get(sha256);
  return openRendition(dataDir, px, sha256);
}

async function makeRenditions(dataDir: string, sha256: string, orientation: number): Promise<void> {
  const path = originalPath(dataDir, sha256);
  const header = await readHeader(path, 0).catch(() => null);
  if (header === null || header.format === "heif") return;
  const renditions = RENDITION_PX.map((side) => ({ px: side, path: renditionPath(dataDir, side, sha256) }));
  const { width, height } = header;
  const made = await decodeImage({ path, width, height, orientation, px: Math.max(...RENDITION_PX), renditions }, { waitedFor: false }).catch(() => null);
  await made?.over;
}
