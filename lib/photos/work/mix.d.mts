import type { MixPixels } from "#lib/domain/photo/mix-cell";
import type { MixArea } from "#lib/domain/photo/streak";

export function readMix(job: { path: string; heic: boolean; orientation: number; area: MixArea }): Promise<MixPixels>;
