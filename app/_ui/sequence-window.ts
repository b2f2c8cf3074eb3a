import type { Instant } from "#lib/domain/instant";
import { timeScale, type TimeScale } from "./sequence-layout";
import { detailSpans } from "./sequence-span";

interface PlacedPhoto {
  at: Instant | null;
  readings?: readonly Instant[];
  uncertaintyMs: number;
  cameraAt?: Instant;
}

/** The axis of a detail: the edges of the window, every photo with its whisker, and what cameras said. At least one of them has to be known. */
export function windowScale(photos: readonly PlacedPhoto[], from: Instant | null, to: Instant | null): TimeScale {
  const taken = photos.flatMap(({ at, readings = [], uncertaintyMs, cameraAt }) => {
    const all = readings.length > 0 ? readings : at === null ? [] : [at];
    return [...all.flatMap((one) => [one - uncertaintyMs, one + uncertaintyMs]), ...(cameraAt === undefined ? [] : [cameraAt])];
  });
  return timeScale(detailSpans([...taken, ...[from, to].filter((edge) => edge !== null)]));
}
