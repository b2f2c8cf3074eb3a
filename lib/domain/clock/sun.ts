import { Body, Horizon, Equator, MakeTime, Observer, SearchRiseSet } from "astronomy-engine";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";

/** Degrees on WGS 84, north and east positive. */
export interface SunPlace {
  latitude: number;
  longitude: number;
}

export interface NightSpan {
  from: Instant;
  to: Instant;
}

const DAY = 24 * HOUR;

/** How far from a pole, in degrees, the sun has still a compass direction to rise in. A place nearer is taken this far off. */
const POLE_MARGIN = 1e-6;

/**
 * The nights that overlap a span, ascending, each cut to the span. Night is from sunset to sunrise: the sun's upper edge below a
 * level horizon, with the usual refraction of 34′ there. This limit is taken rather than the end of civil twilight because it is
 * the one printed in tables that anybody on site can read, and because it is dark under a deck before the twilight ends.
 * Where the sun does not rise within the span, the whole span is night; where it does not set, there is none.
 *
 * @param from  Instants, ms; `to` not before `from`.
 * @param place Latitude −90 to 90, longitude −180 to 180.
 * @returns The spans, to about half a minute below 65° of latitude; near a pole the sun grazes the horizon and the refraction
 *          of the day decides, which nobody knows beforehand.
 * @throws RangeError for a place off the globe, or an instant that is not finite.
 * @source Rise and set by astronomy-engine, which follows the definition of the US Naval Observatory: the centre of the sun
 *         at −50′.
 */
export function nightSpans(from: Instant, to: Instant, { latitude, longitude }: SunPlace): NightSpan[] {
  if (!(Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180)) throw new RangeError("A place has a latitude from −90 to 90 and a longitude from −180 to 180.");
  if (!Number.isFinite(from) || !Number.isFinite(to) || to < from) throw new RangeError("A span of time has a beginning and an end after it.");
  const north = Math.min(Math.max(latitude, POLE_MARGIN - 90), 90 - POLE_MARGIN);
  const observer = new Observer(north, longitude, 0);
  const changes = [...events(observer, "sunset", from, to), ...events(observer, "sunrise", from, to)].sort((a, b) => a.at - b.at);

  // What comes first says how the span begins.
  const [first] = changes;
  const nights: NightSpan[] = [];
  let dark: Instant | null = (first ? first.event === "sunrise" : isDown(observer, (from + to) / 2)) ? from : null;
  for (const { at, event } of changes) {
    if (event === "sunset") dark ??= at;
    else if (dark !== null) {
      nights.push({ from: dark, to: at });
      dark = null;
    }
  }
  return [...nights, ...(dark === null ? [] : [{ from: dark, to }])].filter((night) => night.from < night.to);
}

function events(observer: Observer, event: "sunset" | "sunrise", from: Instant, to: Instant): { at: Instant; event: "sunset" | "sunrise" }[] {
  const found: Instant[] = [];
  for (let after = from; after < to; ) {
    const at = SearchRiseSet(Body.Sun, observer, event === "sunrise" ? +1 : -1, new Date(after), (to - after) / DAY)?.date.getTime();
    if (at === undefined || at > to) break;
    found.push(at);
    // The search finds an event again from a moment just after it.
    after = at + MINUTE;
  }
  return found.map((at) => ({ at, event }));
}

/** The centre of the sun at −50′: refraction of 34′ and half its width of 16′. US Naval Observatory, "Rise, Set, and Twilight Definitions" (from memory). */
const HORIZON_DEGREES = -50 / 60;

function isDown(observer: Observer, at: Instant): boolean {
  const time = MakeTime(new Date(at));
  const { ra, dec } = Equator(Body.Sun, time, observer, true, true);
  return Horizon(time, observer, ra, dec).altitude < HORIZON_DEGREES;
}
