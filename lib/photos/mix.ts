import type { MixPixels } from "#lib/domain/photo/mix-cell";
import type { MixArea } from "#lib/domain/photo/streak";
import { studyImage } from "#lib/photos/picture-pool";
import { originalPath } from "#lib/photos/store";

export interface MixRequest {
  readonly dataDir: string;
  readonly sha256: string;
  readonly mediaType: string;
  /** The orientation tag, 1–8. */
  readonly orientation: number;
  readonly area: MixArea;
}

/** Reads the colours inside a marked circle from the original itself. Rejects when the picture cannot be read. */
export async function readMixPixels({ dataDir, sha256, mediaType, orientation, area }: MixRequest): Promise<MixPixels> {
  return (await studyImage({ kind: "mix", path: originalPath(dataDir, sha256), heic: mediaType === "image/heic", orientation, area })) as MixPixels;
}
