import { Temporal } from "temporal-polyfill";
import type { Instant } from "#lib/domain/instant";

/** Fixed words, so that no locale of a machine changes what is printed. */
const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

/** An instant as the clocks on site show it. */
export interface SiteTime {
  /** 2026-12-03 */
  date: string;
  /** 24-hour time to the minute, 12:00 */
  time: string;
  weekday: (typeof WEEKDAYS)[number];
  /** −04:00 written with a hyphen, as in ISO 8601: "-04:00" */
  offset: string;
  /** ISO 8601 with offset, to the second or finer where the instant is: 2026-11-01T13:30:00-04:00 */
  iso: string;
}

function zoned(instant: Instant, zone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.fromEpochMilliseconds(instant).toZonedDateTimeISO(zone);
}

function weekdayOf({ dayOfWeek }: { dayOfWeek: number }): (typeof WEEKDAYS)[number] {
  return WEEKDAYS[dayOfWeek - 1] ?? WEEKDAYS[0];
}

/**
 * The site's date and time of an instant.
 * @param zone  IANA name of the site's time zone, such as "America/Halifax".
 * @throws RangeError for a zone that does not exist or an instant beyond the calendar.
 */
export function siteTime(instant: Instant, zone: string): SiteTime {
  const at = zoned(instant, zone);
  return {
    date: at.toPlainDate().toString(),
    time: at.toPlainTime().toString({ smallestUnit: "minute" }),
    weekday: weekdayOf(at),
    offset: at.offset,
    iso: at.toString({ timeZoneName: "never" }),
  };
}

/** What a wall-clock time on site can mean: one instant, none where the clocks jump over it, two where they repeat it. */
export interface SiteEntry {
  instants: Instant[];
  /** The offset of each instant, "-04:00". */
  offsets: string[];
  problem: null | "not a time" | "nonexistent" | "ambiguous";
}

const LOCAL_TIME = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d{1,3})?)?$/;

/**
 * Reads a date and time without an offset ("2026-11-01T01:30", as a date field sends it) on the site's clocks. The earlier of
 * two instants comes first. Nothing is guessed: the caller asks which one was meant.
 * @throws RangeError for a zone that does not exist.
 */
export function fromSite(text: string, zone: string): SiteEntry {
  const local = localTime(text);
  if (local === null) return { instants: [], offsets: [], problem: "not a time" };

  const early = local.toZonedDateTime(zone, { disambiguation: "earlier" });
  const late = local.toZonedDateTime(zone, { disambiguation: "later" });
  // In a gap neither side gives back the time that was typed.
  if (!early.toPlainDateTime().equals(local)) return { instants: [], offsets: [], problem: "nonexistent" };
  const found = early.epochMilliseconds === late.epochMilliseconds ? [early] : [early, late];
  return {
    instants: found.map((at) => at.epochMilliseconds),
    offsets: found.map((at) => at.offset),
    problem: found.length > 1 ? "ambiguous" : null,
  };
}

function localTime(text: string): Temporal.PlainDateTime | null {
  if (!LOCAL_TIME.test(text)) return null;
  try {
    return Temporal.PlainDateTime.from(text, { overflow: "reject" });
  } catch {
    return null; // 30 February, or 25 o'clock
  }
}

/** "−04:00" with a true minus sign. */
function shownOffset(offset: string): string {
  return offset.replace("-", "−");
}

/**
 * Shows an instant on the site's clocks: "Thu 3 Dec 2026, 12:00 −04:00", or short "Thu 12:00".
 * The offset stands in the full form and not in the short one, unless `offset` says otherwise (near a change of the clocks
 * the short form needs it); `seconds` adds them.
 * @throws RangeError for a zone that does not exist.
 */
export function formatWhen(
  instant: Instant,
  zone: string,
  { short = false, offset = !short, seconds = false }: { short?: boolean; offset?: boolean; seconds?: boolean } = {},
): string {
  const at = zoned(instant, zone);
  const time = at.toPlainTime().toString({ smallestUnit: seconds ? "second" : "minute" });
  const day = short ? weekdayOf(at) : `${weekdayOf(at)} ${at.day} ${MONTHS[at.month - 1] ?? ""} ${at.year},`;
  return [day, time, ...(offset ? [shownOffset(at.offset)] : [])].join(" ");
}

/** The working hours of a site: begins each day at `startsAt` on its clocks and lasts up to 24 hours, past midnight or not. */
export interface Shift {
  /** 24-hour time, "07:00" */
  startsAt: string;
  hours: number;
}

/**
 * The shift that an instant belongs to: the one most recently begun, also when its hours are over. Work at 02:00 in a shift
 * that began at 19:00 carries the date of the evening.
 *
 * `to` is `hours` later on the site's clocks, so a night shift over a change of the clocks is an hour longer or shorter.
 * @returns the date that the shift carries, and its beginning and end.
 * @throws RangeError for hours outside 0 to 24, a start that is no time, or a zone that does not exist.
 */
export function shiftOf(instant: Instant, zone: string, { startsAt, hours }: Shift): { date: string; from: Instant; to: Instant } {
  if (!(hours > 0 && hours <= 24)) throw new RangeError("A shift lasts more than 0 and at most 24 hours.");
  const start = Temporal.PlainTime.from(startsAt);
  const beginning = (date: Temporal.PlainDate) => date.toZonedDateTime({ timeZone: zone, plainTime: start });

  const today = zoned(instant, zone).toPlainDate();
  const date = beginning(today).epochMilliseconds <= instant ? today : today.subtract({ days: 1 });
  const to = date.toPlainDateTime(start).add({ minutes: Math.round(hours * 60) }).toZonedDateTime(zone);
  return { date: date.toString(), from: beginning(date).epochMilliseconds, to: to.epochMilliseconds };
}
