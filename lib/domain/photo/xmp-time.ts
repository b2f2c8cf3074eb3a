import { SECOND } from "#lib/domain/instant";
import { instantAt, isBlankTime, isOffsetInUse, parseOffsetSeconds, parseWallTime } from "#lib/domain/photo/capture-time";
import type { WallTime } from "#lib/domain/photo/capture-time";

/** A date as XMP writes it: as much of it as is known. */
export interface XmpTime {
  /** Null where only the day, the month or the year is given. */
  readonly wall: WallTime | null;
  /** The part that is given, in the form YYYY-MM-DD. */
  readonly day: string;
  /** Seconds east of UTC; null without a zone. */
  readonly offsetSeconds: number | null;
  /** Written as UTC, whatever the zone of the place was. */
  readonly utc: boolean;
}

const XMP_TIME = /^(\d{4}(?:-\d{2}(?:-\d{2})?)?)(?:T(\d{2}:\d{2})(?::(\d{2})(?:\.(\d{1,9}))?)?(Z|[+-]\d{2}:\d{2})?)?$/;

/**
 * Reads a date of XMP: YYYY, YYYY-MM, YYYY-MM-DD, or that with THH:MM, seconds, fraction and zone. Days and times that do not
 * exist are refused, never rolled over.
 *
 * @returns Null when the text is not of that form.
 * @source ISO 16684-1 (XMP), Date, a profile of ISO 8601 (from memory).
 */
export function parseXmpTime(text: string): XmpTime | null {
  const [, day = "", minute, second = "00", fraction = null, zone] = XMP_TIME.exec(text) ?? [];
  if (day === "") return null;
  // A day that is not given is read as the first: only to see that the given part exists.
  const wall = parseWallTime(`${`${day}-01-01`.slice(0, 10).replaceAll("-", ":")} ${minute ?? "00:00"}:${second}`, fraction);
  const offsetSeconds = zone === undefined ? null : zone === "Z" ? 0 : parseOffsetSeconds(zone);
  const wrongZone = zone !== undefined && offsetSeconds === null;
  const wrongTime = minute !== undefined && day.length < 10;
  if (wall === null || wrongZone || wrongTime) return null;
  return { wall: minute === undefined ? null : wall, day, offsetSeconds, utc: zone === "Z" };
}

const QUARTER_HOUR_SECONDS = 900;

/**
 * Whether a date of XMP can be the same moment as the camera's own time. Instants are compared where both carry a zone, else
 * what the clock showed; where XMP gives UTC and the camera no zone, the two may lie a zone apart.
 *
 * @param camera       The camera's time; its offset in seconds east of UTC, or null.
 * @param limitSeconds Further apart they are two moments.
 */
export function sameMoment(xmp: XmpTime, camera: { readonly wall: WallTime; readonly offsetSeconds: number | null }, limitSeconds: number): boolean {
  if (xmp.wall === null) {
    const { year, month, day } = camera.wall;
    const two = (value: number) => String(value).padStart(2, "0");
    return `${String(year).padStart(4, "0")}-${two(month)}-${two(day)}`.startsWith(xmp.day);
  }
  const bothKnown = xmp.offsetSeconds !== null && camera.offsetSeconds !== null;
  const apart = (instantAt(camera.wall, bothKnown ? (camera.offsetSeconds ?? 0) : 0) - instantAt(xmp.wall, bothKnown ? (xmp.offsetSeconds ?? 0) : 0)) / SECOND;
  if (Math.abs(apart) <= limitSeconds) return true;
  if (bothKnown || !xmp.utc) return false;
  const zone = Math.round(apart / QUARTER_HOUR_SECONDS) * QUARTER_HOUR_SECONDS;
  return isOffsetInUse(zone) && Math.abs(apart - zone) <= Math.min(limitSeconds, QUARTER_HOUR_SECONDS / 2 - 1);
}

/** True for a text that says nothing: blank, or zeros in the place of a date. */
export function isBlankXmpTime(text: string): boolean {
  return isBlankTime(text) || /^0{4}(?:-00(?:-00)?)?(?:T00:00|$)/.test(text);
}
