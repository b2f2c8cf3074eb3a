import type { PhotoClaims } from "#lib/domain/photo/claims";
import { claimsWith, gpsTime } from "#tests/domain/photo/claims-factory";
import type { TimeCase } from "#tests/domain/photo/time-cases";

/** Photos at the edges of the window from 12:05 to 13:40 UTC, held against it with each basis' own uncertainty. */
interface Source {
  readonly basis: TimeCase["basis"];
  readonly u: number;
  readonly flags: TimeCase["flags"];
  /** A photo that this source puts at a time of 20 October 2026, UTC. */
  readonly claims: (instant: number) => PhotoClaims;
}

const OPENS = Date.UTC(2026, 9, 20, 12, 5, 0);
const CLOSES = Date.UTC(2026, 9, 20, 13, 40, 0);
const iso = (instant: number) => new Date(instant).toISOString();
const exif = (instant: number) => iso(instant).slice(0, 19).replace("T", " ").replaceAll("-", ":");
const site = (instant: number) => exif(instant - 3 * 3_600_000);

const SOURCES: readonly Source[] = [
  { basis: "EXIF_OFFSET", u: 120, flags: [], claims: (instant) => claimsWith({ camera: { dateTimeOriginal: site(instant), offsetTimeOriginal: "-03:00" } }) },
  { basis: "GPS_DELTA", u: 2, flags: ["TIME_ZONE_INFERRED"], claims: (instant) => claimsWith({ camera: { dateTimeOriginal: site(instant + 87_000) }, gps: gpsTime(exif(instant)) }) },
  { basis: "GPS_ONLY", u: 120, flags: ["TIME_FROM_GPS_ONLY"], claims: (instant) => claimsWith({ gps: gpsTime(exif(instant)) }) },
  { basis: "DEVICE_CAPTURE", u: 3, flags: [], claims: (instant) => claimsWith({ device: { capturedAt: iso(instant + 600_000), offsetToServerMs: -600_000, roundTripMs: 2000 } }) },
];

const EDGES = SOURCES.flatMap(({ basis, u, flags, claims }): TimeCase[] =>
  (
    [
      ["u + 1 s before opening", OPENS - (u + 1) * 1000, "too early"],
      ["u before opening", OPENS - u * 1000, "cannot tell"],
      ["at opening", OPENS, "cannot tell"],
      ["u − 1 s after opening", OPENS + (u - 1) * 1000, "cannot tell"],
      ["u after opening", OPENS + u * 1000, "in order"],
      ["u before closing", CLOSES - u * 1000, "in order"],
      ["u − 1 s before closing", CLOSES - (u - 1) * 1000, "cannot tell"],
      ["at closing", CLOSES, "cannot tell"],
      ["u after closing", CLOSES + u * 1000, "cannot tell"],
      ["u + 1 s after closing", CLOSES + (u + 1) * 1000, "too late"],
    ] as const
  ).map(([where, instant, verdict]) => ({ name: `${basis} ${where}`, claims: claims(instant), basis, instant: iso(instant), u, flags, verdict })),
);

/** Receipt is the last moment at which a photo can have been taken; u of grace, not a second more. */
const RECEIPTS = SOURCES.flatMap(({ basis, u, flags, claims }): TimeCase[] =>
  ([["u after receipt", u, "in order"], ["u + 1 s after receipt", u + 1, "clock in doubt"]] as const).map(([where, seconds, verdict]) => {
    const received = Date.UTC(2026, 9, 20, 12, 30, 0);
    const instant = received + seconds * 1000;
    return { name: `${basis} ${where}`, claims: claims(instant), receivedAt: iso(received), basis, instant: iso(instant), u, flags, verdict };
  }),
);

const cam = (dateTimeOriginal: string, offsetTimeOriginal: string | null = null, more: Partial<PhotoClaims["camera"]> = {}) => ({ dateTimeOriginal, offsetTimeOriginal, ...more });

/** Written by hand. */
const ODD: readonly TimeCase[] = [
  { name: "past midnight on site is the same UTC day, told by GPS", claims: claimsWith({ camera: cam("2026:10:20 00:30:05"), gps: gpsTime("2026:10:20 03:30:00") }), window: ["2026-10-20T03:00:00Z", "2026-10-20T04:00:00Z"], truth: "2026-10-20T03:30:00Z", basis: "GPS_DELTA", instant: "2026-10-20T03:30:00.000Z", u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { name: "evening on site is the next UTC day, told by GPS", claims: claimsWith({ camera: cam("2026:10:19 21:30:05"), gps: gpsTime("2026:10:20 00:30:00") }), window: ["2026-10-20T00:00:00Z", "2026-10-20T01:00:00Z"], truth: "2026-10-20T00:30:00Z", basis: "GPS_DELTA", instant: "2026-10-20T00:30:00.000Z", u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { name: "GPS a second before midnight, camera a second after", claims: claimsWith({ camera: cam("2026:10:20 21:00:01"), gps: gpsTime("2026:10:20 23:59:59") }), receivedAt: "2026-10-21T20:00:00Z", window: ["2026-10-20T23:00:00Z", "2026-10-21T01:00:00Z"], truth: "2026-10-20T23:59:59Z", basis: "GPS_DELTA", instant: "2026-10-20T23:59:59.000Z", u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { name: "a receiver that forgot to turn the date at midnight is a day off", claims: claimsWith({ camera: cam("2026:10:19 21:30:05", "-03:00"), gps: gpsTime("2026:10:19 00:30:00") }), window: ["2026-10-20T00:00:00Z", "2026-10-20T01:00:00Z"], truth: "2026-10-20T00:30:00Z", basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { name: "a new year between site and UTC", claims: claimsWith({ camera: cam("2026:12:31 21:30:00", "-04:00") }), receivedAt: "2027-01-02T00:00:00Z", window: ["2027-01-01T01:00:00Z", "2027-01-01T02:00:00Z"], truth: "2027-01-01T01:30:00Z", basis: "EXIF_OFFSET", instant: "2027-01-01T01:30:00.000Z", u: 120, flags: [], verdict: "in order" },
  { name: "a leap day", claims: claimsWith({ camera: cam("2028:02:29 09:30:00", "-04:00") }), receivedAt: "2028-03-01T00:00:00Z", window: ["2028-02-29T13:00:00Z", "2028-02-29T14:00:00Z"], truth: "2028-02-29T13:30:00Z", basis: "EXIF_OFFSET", instant: "2028-02-29T13:30:00.000Z", u: 120, flags: [], verdict: "in order" },
  { name: "a leap day in a year without", claims: claimsWith({ camera: cam("2026:02:29 09:30:00", "-04:00") }), basis: "NONE", instant: null, u: null, flags: ["METADATA_INVALID", "TIME_MISSING"], verdict: "no time" },
  { name: "second 60 in the camera's time", claims: claimsWith({ camera: cam("2026:10:20 09:29:60", "-03:00") }), basis: "NONE", instant: null, u: null, flags: ["METADATA_INVALID", "TIME_MISSING"], verdict: "no time" },
  { name: "second 60 in GPS time", claims: claimsWith({ camera: cam("2026:10:20 09:30:00", "-03:00"), gps: gpsTime("2026:10:20 12:29:60") }), truth: "2026-10-20T12:30:00Z", basis: "EXIF_OFFSET", instant: "2026-10-20T12:30:00.000Z", u: 120, flags: ["GPS_INVALID"], verdict: "in order" },
  { name: "second 59 and 999 thousandths", claims: claimsWith({ camera: cam("2026:10:20 09:29:59", "-03:00", { subSecTimeOriginal: "999" }) }), truth: "2026-10-20T12:29:59.999Z", basis: "EXIF_OFFSET", instant: "2026-10-20T12:29:59.999Z", u: 120, flags: [], verdict: "in order" },
  { name: "digits after the second decide at the edge: inside", claims: claimsWith({ camera: cam("2026:10:20 09:07:00", "-03:00", { subSecTimeOriginal: "000" }) }), basis: "EXIF_OFFSET", instant: "2026-10-20T12:07:00.000Z", u: 120, flags: [], verdict: "in order" },
  { name: "digits after the second decide at the edge: past it", claims: claimsWith({ camera: cam("2026:10:20 10:38:00", "-03:00", { subSecTimeOriginal: "001" }) }), basis: "EXIF_OFFSET", instant: "2026-10-20T13:38:00.001Z", u: 120, flags: [], verdict: "cannot tell" },
  { name: "GPS seconds with a fraction", claims: claimsWith({ gps: { dateStamp: "2026:10:20", timeStamp: "12/1 30/1 724/100" } }), basis: "GPS_ONLY", instant: "2026-10-20T12:30:07.240Z", u: 120, flags: ["TIME_FROM_GPS_ONLY"], verdict: "in order" },
  { name: "GPS that was not measuring", claims: claimsWith({ camera: cam("2026:10:20 09:30:00", "-03:00"), gps: { ...gpsTime("2026:10:20 09:00:00"), status: "V" } }), truth: "2026-10-20T12:30:00Z", basis: "EXIF_OFFSET", instant: "2026-10-20T12:30:00.000Z", u: 120, flags: [], verdict: "in order" },
  { name: "a receiver that knows no date yet", claims: claimsWith({ camera: cam("2026:10:20 09:30:00", "-03:00"), gps: gpsTime("1980:01:06 00:00:12") }), truth: "2026-10-20T12:30:00Z", basis: "EXIF_OFFSET", instant: "2026-10-20T12:30:00.000Z", u: 120, flags: ["GPS_INVALID"], verdict: "in order" },
  { name: "a receiver whose weeks have rolled over, 1024 back", claims: claimsWith({ camera: cam("2026:10:20 09:30:00", "-03:00"), gps: gpsTime("2007:03:06 12:30:00") }), truth: "2026-10-20T12:30:00Z", basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { name: "a camera that lost its clock and began at 2008 again", claims: claimsWith({ camera: cam("2008:01:01 00:03:00") }), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "too early" },
  { name: "the same with GPS: which is right cannot be told", claims: claimsWith({ camera: cam("2008:01:01 00:03:00"), gps: gpsTime("2026:10:20 12:30:00") }), truth: "2026-10-20T12:30:00Z", basis: "GPS_ONLY", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { name: "a named zone joins the readings", claims: claimsWith({ camera: cam("2026:10:20 10:12:00") }), otherZones: ["Asia/Kathmandu"], window: ["2026-10-20T10:00:00Z", "2026-10-20T15:00:00Z"], basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, hypotheses: ["2026-10-20T13:12:00Z", "2026-10-20T12:12:00Z", "2026-10-20T14:12:00Z", "2026-10-20T10:12:00Z", "2026-10-20T04:27:00Z"], flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { name: "without the named zone the same photo is in order", claims: claimsWith({ camera: cam("2026:10:20 10:12:00") }), window: ["2026-10-20T10:00:00Z", "2026-10-20T15:00:00Z"], basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
];

export const EDGE_TIME_CASES: readonly TimeCase[] = [...EDGES, ...RECEIPTS, ...ODD];
