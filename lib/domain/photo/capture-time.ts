import type { Instant } from "#lib/domain/instant";
import { HOUR, MINUTE, SECOND } from "#lib/domain/instant";
import { parseRationals } from "#lib/domain/photo/rational";

/** What a clock on the wall shows: no zone, so not yet an instant. All parts are in range and the day exists. */
export interface WallTime {
  readonly year: number;
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
  /** 0–999; finer digits are dropped. */
  readonly millisecond: number;
}

/** The zone offsets in use on Earth lie in this range. Seconds; source: IANA time zone database, from memory. */
const OFFSET_RANGE_SECONDS = { min: -12 * 3600, max: 14 * 3600 } as const;

const EXIF_DATE_TIME = /^(\d{4}):(\d{2}):(\d{2}) (\d{2}):(\d{2}):(\d{2})$/;
const EXIF_DATE = /^(\d{4}):(\d{2}):(\d{2})$/;
const OFFSET = /^([+-])(\d{2}):(\d{2})$/;

/**
 * True for the way Exif writes "not known": blanks, with or without the colons in place.
 * Source: CIPA DC-008-2019, 4.6.5, DateTimeOriginal (from memory).
 */
export function isBlankTime(text: string): boolean {
  return /^[ :]*$/.test(text);
}

/**
 * Reads "YYYY:MM:DD HH:MM:SS" and nothing else. Year 0001–9999, hour 0–23, second 0–59, days that exist. A wrong value is
 * never rolled over
 * to a neighbouring day, since "2026:02:30" says that the clock is wrong, not that it was 2 March.
 *
 * @param subSeconds The digits after the second ("054" is 0.054 s); null or blank for none.
 * @returns The wall time, or null when either text is not of that form.
 * @source CIPA DC-008-2019 (Exif 2.32), DateTimeOriginal and SubSecTimeOriginal.
 */
export function parseWallTime(text: string, subSeconds: string | null = null): WallTime | null {
  const match = EXIF_DATE_TIME.exec(text);
  const millisecond = parseSubSeconds(subSeconds);
  if (match === null || millisecond === null) return null;

  const [year, month, day, hour, minute, second] = match.slice(1).map(Number) as [number, number, number, number, number, number];
  if (!isDay(year, month, day) || hour > 23 || minute > 59 || second > 59) return null;
  return { year, month, day, hour, minute, second, millisecond };
}

/**
 * The digits after the second as whole milliseconds 0–999: "5" is 500, "054" is 54; none or blank is 0; anything else is
 * null.
 */
export function parseSubSeconds(text: string | null): number | null {
  const digits = (text ?? "").trim();
  if (digits === "") return 0;
  return /^\d{1,9}$/.test(digits) ? Number(digits.padEnd(3, "0").slice(0, 3)) : null;
}

/**
 * Reads an offset tag, "+HH:MM" or "-HH:MM", −12:00…+14:00.
 *
 * @returns Seconds east of UTC, or null.
 * @source CIPA DC-008-2019 (Exif 2.31 and later), OffsetTimeOriginal.
 */
export function parseOffsetSeconds(text: string): number | null {
  const match = OFFSET.exec(text);
  if (match === null || Number(match[3]) > 59) return null;

  const size = Number(match[2]) * 3600 + Number(match[3]) * 60;
  const seconds = size === 0 ? 0 : match[1] === "-" ? -size : size;
  return isOffsetInUse(seconds) ? seconds : null;
}

export function isOffsetInUse(seconds: number): boolean {
  return seconds >= OFFSET_RANGE_SECONDS.min && seconds <= OFFSET_RANGE_SECONDS.max;
}

/** Writes seconds east of UTC as "+HH:MM" (or "−03:30" with a hyphen-minus). Whole minutes only. */
export function offsetText(seconds: number): string {
  const minutes = Math.abs(Math.trunc(seconds / 60));
  const two = (value: number) => String(value).padStart(2, "0");
  return `${seconds < 0 ? "-" : "+"}${two(Math.trunc(minutes / 60))}:${two(minutes % 60)}`;
}

/**
 * The instant at which a clock that is `offsetSeconds` east of UTC shows this wall time. With 0 it reads the wall time as if
 * it were UTC.
 */
export function instantAt(wall: WallTime, offsetSeconds: number): Instant {
  // Date.UTC takes the years 0–99 for 1900–1999, so the year is set by itself.
  const date = new Date(Date.UTC(2000, wall.month - 1, wall.day, wall.hour, wall.minute, wall.second, wall.millisecond));
  date.setUTCFullYear(wall.year, wall.month - 1, wall.day);
  return date.getTime() - offsetSeconds * SECOND;
}

/**
 * Joins the two GPS fields to an instant. They are UTC.
 *
 * @param dateStamp "YYYY:MM:DD". The GPS epoch, 1980:01:06, is what a receiver shows before it knows the date, so that day
 * is refused too.
 * @param timeStamp Three numbers ({@link parseRationals}): whole hours 0–23, whole minutes 0–59, seconds 0 ≤ s < 60 with any
 * fraction (kept to the millisecond).
 * @returns The instant, or null when either is not of that form.
 * @source CIPA DC-008-2019, GPSDateStamp and GPSTimeStamp.
 */
export function parseGpsInstant(dateStamp: string, timeStamp: string): Instant | null {
  const date = EXIF_DATE.exec(dateStamp);
  const time = parseRationals(timeStamp, 3);
  if (date === null || time === null) return null;

  const [year, month, day] = date.slice(1).map(Number) as [number, number, number];
  const [hours, minutes, seconds] = time as [number, number, number];
  if (!isDay(year, month, day) || !Number.isInteger(hours) || hours > 23 || !Number.isInteger(minutes) || minutes > 59 || seconds >= 60) return null;

  const midnight = instantAt({ year, month, day, hour: 0, minute: 0, second: 0, millisecond: 0 }, 0);
  if (midnight <= GPS_EPOCH) return null;
  return midnight + hours * HOUR + minutes * MINUTE + Math.trunc(seconds * SECOND);
}

/** A wall time as ISO 8601 without zone, with milliseconds: "2026-10-20T09:14:32.054". */
export function wallIso(wall: WallTime): string {
  return new Date(instantAt(wall, 0)).toISOString().slice(0, -1);
}

/** 1980-01-06T00:00:00Z. Source: IS-GPS-200 (from memory). */
const GPS_EPOCH: Instant = Date.UTC(1980, 0, 6);

function isDay(year: number, month: number, day: number): boolean {
  if (year < 1 || month < 1 || month > 12 || day < 1) return false;
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  return day <= (days[month - 1] ?? 0);
}
