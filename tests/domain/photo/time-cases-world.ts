import { at, claimsWith, gpsTime } from "#tests/domain/photo/claims-factory";
import type { TimeCase } from "#tests/domain/photo/time-cases";

/**
 * Sites all over the world. Offsets and changes of clocks are written down by hand in hours (IANA
 * time zone database, from memory), so nothing here asks the runtime for them.
 */
interface Place {
  readonly zone: string;
  readonly when: string;
  /** What the camera shows, without zone. */
  readonly wall: string;
  /** Hours east of UTC at that time: one, or the two where the clocks changed, the earlier instant first. */
  readonly hours: readonly number[];
  readonly clocks: "once" | "twice" | "never";
}

const PLACES: readonly Place[] = [
  { zone: "America/Halifax", when: "in summer", wall: "2026-07-01T10:00:00", hours: [-3], clocks: "once" },
  { zone: "America/Halifax", when: "in winter", wall: "2026-12-01T10:00:00", hours: [-4], clocks: "once" },
  { zone: "America/Halifax", when: "in the hour that came twice", wall: "2026-11-01T01:15:00", hours: [-3, -4], clocks: "twice" },
  { zone: "America/Halifax", when: "just before the hour that came twice", wall: "2026-11-01T00:59:59", hours: [-3], clocks: "once" },
  { zone: "America/Halifax", when: "just after the hour that came twice", wall: "2026-11-01T02:00:00", hours: [-4], clocks: "once" },
  { zone: "America/Halifax", when: "in the hour that was skipped", wall: "2026-03-08T02:15:00", hours: [-3, -4], clocks: "never" },
  { zone: "America/Halifax", when: "just after the hour that was skipped", wall: "2026-03-08T03:00:00", hours: [-3], clocks: "once" },
  { zone: "America/St_Johns", when: "in summer", wall: "2026-07-01T10:00:00", hours: [-2.5], clocks: "once" },
  { zone: "America/St_Johns", when: "in winter", wall: "2026-12-01T10:00:00", hours: [-3.5], clocks: "once" },
  { zone: "America/St_Johns", when: "in the hour that came twice", wall: "2026-11-01T01:40:00", hours: [-2.5, -3.5], clocks: "twice" },
  { zone: "Australia/Lord_Howe", when: "in summer", wall: "2026-12-01T10:00:00", hours: [11], clocks: "once" },
  { zone: "Australia/Lord_Howe", when: "in winter", wall: "2026-07-01T10:00:00", hours: [10.5], clocks: "once" },
  { zone: "Australia/Lord_Howe", when: "in the half hour that came twice", wall: "2026-04-05T01:45:00", hours: [11, 10.5], clocks: "twice" },
  { zone: "Australia/Lord_Howe", when: "in the half hour that was skipped", wall: "2026-10-04T02:10:00", hours: [11, 10.5], clocks: "never" },
  { zone: "Asia/Kathmandu", when: "any day", wall: "2026-07-01T10:00:00", hours: [5.75], clocks: "once" },
  { zone: "Pacific/Chatham", when: "in summer", wall: "2026-12-01T10:00:00", hours: [13.75], clocks: "once" },
  { zone: "Pacific/Chatham", when: "in winter", wall: "2026-07-01T10:00:00", hours: [12.75], clocks: "once" },
  { zone: "Pacific/Chatham", when: "in the hour that came twice", wall: "2026-04-05T03:00:00", hours: [13.75, 12.75], clocks: "twice" },
  { zone: "Pacific/Chatham", when: "in the hour that was skipped", wall: "2026-09-27T03:00:00", hours: [13.75, 12.75], clocks: "never" },
  { zone: "Pacific/Apia", when: "the day before the skipped one", wall: "2011-12-29T10:00:00", hours: [-10], clocks: "once" },
  { zone: "Pacific/Apia", when: "the day after the skipped one", wall: "2011-12-31T10:00:00", hours: [14], clocks: "once" },
  { zone: "Pacific/Apia", when: "on the skipped day", wall: "2011-12-30T10:00:00", hours: [14, -10], clocks: "never" },
  { zone: "UTC", when: "any day", wall: "2026-07-01T10:00:00", hours: [0], clocks: "once" },
];

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const exif = (wall: string) => wall.slice(0, 19).replace("T", " ").replaceAll("-", ":");
const iso = (instant: number) => new Date(instant).toISOString();
const zoneText = (hours: number) => {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${hours < 0 ? "-" : "+"}${two(Math.floor(Math.abs(hours)))}:${two((Math.abs(hours) % 1) * 60)}`;
};

/** A camera without zone: every reading counts, the site's first, then those an hour off, then UTC. */
function withoutZone({ zone, when, wall, hours, clocks }: Place): TimeCase[] {
  const shown = at(`${wall}Z`);
  const inZone = hours.map((one) => shown - one * HOUR_MS);
  const readings = [...new Set([...inZone, ...inZone.flatMap((one) => [one - HOUR_MS, one + HOUR_MS]), shown])];
  const [earliest, latest, site = 0] = [Math.min(...readings), Math.max(...readings), ...inZone];
  const common: Omit<TimeCase, "name" | "window" | "verdict"> = {
    claims: claimsWith({ camera: { dateTimeOriginal: exif(wall) } }),
    zone,
    receivedAt: iso(latest + 24 * HOUR_MS),
    basis: "SITE_ZONE_ASSUMED",
    instant: null,
    u: 120,
    hypotheses: readings.map(iso),
    flags: ["TIME_ZONE_ASSUMED_SITE", ...(clocks === "twice" ? (["TIME_DST_AMBIGUOUS"] as const) : clocks === "never" ? (["TIME_DST_NONEXISTENT"] as const) : [])],
  };
  const name = `no zone in ${zone} ${when}`;
  return [
    { ...common, name: `${name}, all readings inside to the second`, window: [iso(earliest - 2 * MINUTE_MS), iso(latest + 2 * MINUTE_MS)], truth: iso(site), verdict: "in order" },
    { ...common, name: `${name}, only the site's reading inside`, window: [iso(site - 10 * MINUTE_MS), iso(site + 10 * MINUTE_MS)], verdict: "cannot tell" },
    { ...common, name: `${name}, all readings before`, window: [iso(latest + 2 * MINUTE_MS + 1000), iso(latest + HOUR_MS)], verdict: "too early" },
    { ...common, name: `${name}, all readings after`, window: [iso(earliest - 3 * HOUR_MS), iso(earliest - 2 * MINUTE_MS - 1000)], verdict: "too late" },
  ];
}

/** The same camera with an offset tag, and with GPS instead. */
function withZone({ zone, when, wall, hours, clocks }: Place): TimeCase[] {
  const [own = 0] = hours;
  if (clocks === "never") return [];
  const taken = at(`${wall}Z`) - own * HOUR_MS;
  const around = [iso(taken - 10 * MINUTE_MS), iso(taken + 10 * MINUTE_MS)] as const;
  const common = { zone, receivedAt: iso(taken + HOUR_MS), window: around, truth: iso(taken), instant: iso(taken), verdict: "in order" } as const;
  return [
    { ...common, name: `offset tag in ${zone} ${when}`, claims: claimsWith({ camera: { dateTimeOriginal: exif(wall), offsetTimeOriginal: zoneText(own) } }), basis: "EXIF_OFFSET", u: 120, flags: [] },
    { ...common, name: `GPS in ${zone} ${when}`, claims: claimsWith({ camera: { dateTimeOriginal: exif(wall) }, gps: gpsTime(exif(iso(taken))) }), basis: "GPS_DELTA", u: 2, flags: ["TIME_ZONE_INFERRED"] },
  ];
}

/** A camera on another zone than the site, told by GPS: the difference is zone and drift to 120 s, and no further. */
const DIFFERENCES: readonly TimeCase[] = [-12, -9.5, -3.5, -2.5, -0.75, 0, 5.5, 5.75, 8.75, 10.5, 12.75, 13.75, 14].flatMap((hours, i): TimeCase[] => {
  const taken = at("2026-10-20T12:30:00Z");
  const drift = [-120, -59, 0, 37, 120][i % 5] ?? 0;
  const shows = (seconds: number) => claimsWith({ camera: { dateTimeOriginal: exif(iso(taken + hours * HOUR_MS + seconds * 1000)) }, gps: gpsTime("2026:10:20 12:30:00") });
  const past = i % 2 === 0 ? 121 : -121;
  return [
    { name: `GPS and a camera on ${zoneText(hours)}, ${drift} s`, claims: shows(drift), truth: iso(taken), basis: "GPS_DELTA", instant: iso(taken), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
    // Whatever the readings of the camera's time, one lies outside the window or its end is near: never "in order".
    { name: `GPS and a camera on ${zoneText(hours)}, ${past} s`, claims: shows(past), receivedAt: "2026-10-22T00:00:00Z", truth: iso(taken), basis: "GPS_ONLY", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  ];
});

export const WORLD_TIME_CASES: readonly TimeCase[] = [...PLACES.flatMap(withoutZone), ...PLACES.flatMap(withZone), ...DIFFERENCES];
