import { SECOND, type Instant } from "#lib/domain/instant";
import { parseWallTime } from "#lib/domain/photo/capture-time";
import type { DerivedInstant } from "#lib/domain/photo/derived-instant";
import { siteInstants } from "#lib/domain/photo/site-zone";

/**
 * What the camera's clock showed, read as if it had been on the site's time: drawn beside the instant, it shows the correction.
 *
 * @param zone IANA name of the site's zone. Throws RangeError for an unknown one.
 * @param leastMs A correction of less is none, milliseconds.
 * @returns Null where the camera was on the site's time to within the uncertainty, and where either cannot be told.
 */
export function cameraInstant({ instant, cameraSays, uncertaintySeconds }: Pick<DerivedInstant, "instant" | "cameraSays" | "uncertaintySeconds">, zone: string, leastMs: number = SECOND): Instant | null {
  const wall = instant === null || cameraSays === null ? null : parseWallTime(cameraSays);
  if (wall === null || instant === null) return null;
  const shown = siteInstants(wall, zone).instants;
  // Where the clocks show a time twice, the nearer of the two is no correction.
  const nearest = shown.reduce((best, one) => (Math.abs(one - instant) < Math.abs(best - instant) ? one : best));
  return Math.abs(nearest - instant) > Math.max((uncertaintySeconds ?? 0) * SECOND, leastMs) ? nearest : null;
}
