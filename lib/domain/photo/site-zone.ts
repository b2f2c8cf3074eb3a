import { Temporal } from "temporal-polyfill";

import type { Instant } from "#lib/domain/instant";
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
