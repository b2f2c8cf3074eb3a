import { Temporal } from "temporal-polyfill";

import type { Instant } from "#lib/domain/instant";
import { HOUR } from "#lib/domain/instant";
import type { WallTime } from "#lib/domain/photo/capture-time";

export interface SiteReading {
  /** One instant, or two where the clocks of the zone changed: the earlier first. */
  readonly instants: readonly Instant[];
  /** How often the zone's clocks showed this time: once, twice (clocks went back) or never (clocks went forward). */
  readonly clocks: "once" | "twice" | "never";
}

/**
 * The instants at which clocks in the zone showed a wall time. A time that was skipped is read with the offset before and
 * after the change.
 *
 * @param zone IANA name. An unknown name throws RangeError.
 * @source IANA time zone database, as carried by the runtime.
 */
export function siteInstants(wall: WallTime, zone: string): SiteReading {
  const plain = Temporal.PlainDateTime.from(wall);
  const earlier = plain.toZonedDateTime(zone, { disambiguation: "earlier" });
  const later = plain.toZonedDateTime(zone, { disambiguation: "later" });
  if (earlier.epochMilliseconds === later.epochMilliseconds) return { instants: [earlier.epochMilliseconds], clocks: "once" };

  const shown = earlier.toPlainDateTime().equals(plain);
  return { instants: [earlier.epochMilliseconds, later.epochMilliseconds], clocks: shown ? "twice" : "never" };
}

/** Seconds east of UTC in the zone at an instant. */
export function siteOffsetSeconds(instant: Instant, zone: string): number {
  return Temporal.Instant.fromEpochMilliseconds(instant).toZonedDateTimeISO(zone).offsetNanoseconds / 1e9;
}

/** Minutes since midnight, 0–1439, that clocks in the zone show at an instant. */
export function siteMinuteOfDay(instant: Instant, zone: string): number {
  const { hour, minute } = Temporal.Instant.fromEpochMilliseconds(instant).toZonedDateTimeISO(zone);
  return hour * 60 + minute;
}

/** Zones that change their clocks do so twice a year; a change longer ago is a new time, not summer time. Milliseconds. */
const YEAR = 370 * 24 * HOUR;

/** Summer time moves clocks by 20 minutes to 2 hours. Seconds; source: IANA time zone database, from memory. */
const MOST_SUMMER_SHIFT_SECONDS = 7200;

/**
 * Says when a clock was on the zone's other time of the year: left on summer time after the zone went back, or on standard time
 * after it went forward.
 *
 * @param offsetSeconds  What the clock was set to, seconds east of UTC.
 * @param zone           IANA name. An unknown name throws RangeError.
 * @returns "camera still on summer time, 1 h ahead" and the like, or null.
 */
export function summerTimeShift(offsetSeconds: number, at: Instant, zone: string): string | null {
  const now = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
  const ahead = offsetSeconds - now.offsetNanoseconds / 1e9;
  if (ahead === 0 || Math.abs(ahead) > MOST_SUMMER_SHIFT_SECONDS) return null;

  const last = now.getTimeZoneTransition("previous");
  const next = now.getTimeZoneTransition("next");
  const others = [
    last !== null && at - last.epochMilliseconds <= YEAR ? last.subtract({ nanoseconds: 1 }) : null,
    next !== null && next.epochMilliseconds - at <= YEAR ? next : null,
  ];
  if (!others.some((other) => other !== null && other.offsetNanoseconds / 1e9 === offsetSeconds)) return null;

  const minutes = Math.abs(ahead) / 60;
  const size = minutes % 60 === 0 ? `${minutes / 60} h` : `${minutes} min`;
  return ahead > 0 ? `camera still on summer time, ${size} ahead` : `camera still on standard time, ${size} behind`;
}
