import type { Instant } from "#lib/domain/instant";
import { isBlankTime, parseGpsInstant } from "#lib/domain/photo/capture-time";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { isVoid } from "#lib/domain/photo/position";

/**
 * The UTC time that the file's GPS fields give. A time without a date, or the other way round, says nothing, and so does one of
 * a receiver that was not measuring.
 *
 * @returns `instant` null when there is none or it cannot be right; the flag says which.
 */
export function readGps(gps: PhotoClaims["gps"]): { readonly instant: Instant | null; readonly flags: readonly PhotoFlag[] } {
  const { dateStamp, timeStamp } = gps;
  if (dateStamp === null || timeStamp === null || isBlankTime(dateStamp) || isVoid(gps)) return { instant: null, flags: [] };

  const instant = parseGpsInstant(dateStamp, timeStamp);
  if (instant !== null) return { instant, flags: [] };
  const measured = `GPS time ${dateStamp} ${timeStamp}`;
  return { instant: null, flags: [{ code: "GPS_INVALID", measured, limit: "a date after 1980-01-06 and a time of day, in fractions" }] };
}
