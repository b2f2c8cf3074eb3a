import { fromSite, siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { randFrom } from "#seed/photo/random";

/** Only for the rule of its clocks: the port lies nowhere. */
export const ZONE = "America/Halifax";
/** Where the demonstration's clock starts. */
export const STANDS_AT: Instant = Date.parse("2026-12-03T12:00:00-04:00");
export const SHIFT = { startsAt: "07:00", hours: 12 } as const;

/** An instant from the site's clocks: "2026-10-05 09:40", or with seconds. */
export function onSite(text: string): Instant {
  const [instant] = fromSite(text.replace(" ", "T"), ZONE).instants;
  if (instant === undefined) throw new RangeError(`${text} is no time on site.`);
  return instant;
}

/** High and low water that everything else is reckoned from, and the mean time between two high waters. */
const HIGH_WATER = Date.parse("2026-12-03T06:10:00-04:00");
const PERIOD = 12 * HOUR + 25.2 * MINUTE;
const MEAN_M = 1.1;
const AMPLITUDE_M = 0.8;

/** Water level above chart datum, m. A plain cosine: for a story, not for navigation. */
export function waterM(at: Instant): number {
  return MEAN_M + AMPLITUDE_M * Math.cos((2 * Math.PI * (at - HIGH_WATER)) / PERIOD);
}

/** When work of a day starts: two and a half hours before the low water of the day's shift, between 07:40 and 12:40. */
export function tideStart(day: string): Instant {
  const earliest = onSite(`${day} 07:40`);
  const firstLow = HIGH_WATER + PERIOD / 2;
  const low = firstLow + Math.ceil((earliest + 2.5 * HOUR - firstLow) / PERIOD) * PERIOD;
  const start = Math.min(low - 2.5 * HOUR, onSite(`${day} 12:40`));
  return Math.round(start / (5 * MINUTE)) * 5 * MINUTE;
}

/** Air under the deck, °C: from autumn to winter, warmer after noon, with the weather's own mind. */
export function airC(at: Instant): number {
  const { date, time } = siteTime(at, ZONE);
  const days = (at - Date.parse("2026-10-05T12:00:00Z")) / (24 * HOUR);
  const hour = Number(time.slice(0, 2)) + Number(time.slice(3)) / 60;
  return 16 - days * 0.085 + 2.2 * Math.cos((2 * Math.PI * (hour - 15)) / 24) + randFrom(`weather ${date}`).between(-1.2, 1.2);
}
