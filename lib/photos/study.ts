import { access } from "node:fs/promises";

import { lookFlags } from "#lib/domain/photo/file-flags";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { PHOTO_LIMIT_DEFAULTS, type PhotoLimits } from "#lib/domain/photo/limits";
import { lookHash } from "#lib/domain/photo/look-alike";
import { readHeader, studyImage } from "#lib/photos/picture-pool";
import { originalPath, renditionPath, RENDITION_PX } from "#lib/photos/store";

/** What the worker answers. */
export interface Studied {
  readonly codes: readonly string[];
  readonly looks: { readonly pixels: string; readonly grid: Uint8Array } | null;
}

export interface StudyRequest {
  readonly dataDir: string;
  readonly sha256: string;
  readonly mediaType: string;
  /** The orientation tag, 1–8. */
  readonly orientation: number;
  /** False where the looks are known already: then only codes are read. */
  readonly wantLooks: boolean;
  /** That what its pixels show is held against; without them, the defaults. */
  readonly limits?: PhotoLimits;
}

export interface PhotoStudy {
  readonly codes: readonly string[];
  /** Null where they were not wanted, or the pixels cannot be read. */
  readonly looks: { readonly pixels: string; readonly hash: string | null } | null;
  /** Of a HEIC, what its pixels show; of any other file the receipt has looked. */
  readonly flags: readonly PhotoFlag[];
}

/** The record is there and the file is not: nothing can be said of the photo. */
export class OriginalMissing extends Error {}

/** A HEIC of many pixels takes its decoder seconds; common practice, no source. Milliseconds. */
const STUDY_TIME_MS = 60_000;

/**
 * Reads an original that is held: the codes on tags in the picture and, where wanted, its looks and renditions. It gives
 * way to receipts. Rejects with WorkerStopped or an Error when the picture cannot be read.
 */
export async function studyOriginal({ dataDir, sha256, mediaType, orientation, wantLooks, limits = PHOTO_LIMIT_DEFAULTS }: StudyRequest): Promise<PhotoStudy> {
  const path = originalPath(dataDir, sha256);
  await access(path).catch(() => {
    throw new OriginalMissing(sha256);
  });
  // Codes are looked for in whatever can be decoded; only its looks need the size that it names.
  const header = wantLooks ? await readHeader(path, 0) : null;
  if (wantLooks && header === null) throw new Error("the picture has no header that can be read");
  const renditions = wantLooks ? RENDITION_PX.map((px) => ({ px, path: renditionPath(dataDir, px, sha256) })) : [];
  const { width, height } = header ?? { width: 0, height: 0 };
  const heic = mediaType === "image/heic";
  const job = { kind: "study" as const, path, heic, width, height, orientation, px: Math.max(...RENDITION_PX), renditions, wantLooks };
  const { codes, looks } = (await studyImage(job, STUDY_TIME_MS)) as Studied;
  return {
    codes,
    looks: looks && { pixels: looks.pixels, hash: lookHash(looks.grid) },
    flags: heic && looks ? lookFlags({ width, height, grid: looks.grid }, null, limits) : [],
  };
}
