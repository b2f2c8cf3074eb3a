import { cameraClock } from "#lib/domain/photo/camera-clock";
import type { CameraClock, CameraReference } from "#lib/domain/photo/camera-clock";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { reference } from "#tests/domain/photo/camera-factory";
import { claimsWith, gpsTime } from "#tests/domain/photo/claims-factory";
import type { TimeCase } from "#tests/domain/photo/time-cases";

/** Photos of cameras that other photos tell about, in November on −04:00. Every label is worked out by hand from the rules. */
function clockOf(references: readonly CameraReference[], minimum?: number): CameraClock {
  const clock = cameraClock(references, minimum === undefined ? {} : { minimum });
  if (clock === null) throw new Error("these references give no clock");
  return clock;
}
const days = (aheadSeconds: number, ...times: string[]) => times.map((time) => reference(time, aheadSeconds));

/** Left on summer time and 50 s fast: −10 750 s. Add 2:59:10 to what it shows. */
const SUMMER = days(-10_750, "2026-11-02T13:00:00Z", "2026-11-03T13:19:10Z", "2026-11-04T15:00:00Z");
const summer = clockOf(SUMMER);
/** On summer time to the second, in October. */
const OCTOBER = days(-10_800, "2026-10-28T12:00:00Z", "2026-10-29T12:00:00Z", "2026-10-30T12:00:00Z");
/** On the site's standard time, to the second. */
const WINTER = days(-14_400, "2026-11-02T12:00:00Z", "2026-11-03T12:00:00Z", "2026-11-04T12:00:00Z");
const winter = clockOf(WINTER);
/** On standard time and 300 s fast: −14 100 s. */
const fiveMinutesFast = clockOf(days(-14_100, "2026-11-02T12:00:00Z", "2026-11-03T12:00:00Z", "2026-11-04T12:00:00Z"));
/** On +05:45. */
const faraway = clockOf(days(20_700, "2026-11-02T12:00:00Z", "2026-11-03T12:00:00Z", "2026-11-04T12:00:00Z"));
/** From one photo of the clock page at 01:30Z. */
const onePage = clockOf([reference("2026-11-03T01:30:00Z", -10_750, "clock page")], 1);

const cam = (time: string, offsetTimeOriginal: string | null = null, more: Partial<PhotoClaims["camera"]> = {}) => ({ dateTimeOriginal: `2026:11:03 ${time}`, offsetTimeOriginal, ...more });
const gps = (time: string) => gpsTime(`2026:11:03 ${time}`);
const z = (time: string) => `2026-11-03T${time}Z`;
const HOUR = [z("13:00:00"), z("14:00:00")] as const;
const common = { receivedAt: "2026-11-04T20:00:00Z", window: HOUR } as const;
const INFERRED = ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"] as const;

const CONFIRMED: readonly TimeCase[] = [
  { ...common, name: "confirmed clock still on summer time", claims: claimsWith({ camera: cam("10:20:00") }), known: { confirmed: summer }, truth: z("13:19:10"), basis: "CAMERA_REFERENCE", instant: z("13:19:10.000"), u: 2, flags: INFERRED, verdict: "in order" },
  ...([
    ["00:47 past ten, 2 s and more before opening", "10:00:47", "12:59:57", "too early"],
    ["00:48, 2 s before opening", "10:00:48", "12:59:58", "cannot tell"],
    ["00:51, 1 s after opening", "10:00:51", "13:00:01", "cannot tell"],
    ["00:52, 2 s after opening", "10:00:52", "13:00:02", "in order"],
    ["11:00:48, 2 s before closing", "11:00:48", "13:59:58", "in order"],
    ["11:00:49, 1 s before closing", "11:00:49", "13:59:59", "cannot tell"],
    ["11:00:52, 2 s after closing", "11:00:52", "14:00:02", "cannot tell"],
    ["11:00:53, 3 s after closing", "11:00:53", "14:00:03", "too late"],
  ] as const).map(([name, wall, instant, verdict]): TimeCase => ({ ...common, name: `confirmed clock, ${name}`, claims: claimsWith({ camera: cam(wall) }), known: { confirmed: summer }, basis: "CAMERA_REFERENCE", instant: z(`${instant}.000`), u: 2, flags: INFERRED, verdict })),
  { ...common, name: "confirmed clock, digits after the second kept", claims: claimsWith({ camera: cam("10:20:00", null, { subSecTimeOriginal: "25" }) }), known: { confirmed: summer }, basis: "CAMERA_REFERENCE", instant: z("13:19:10.250"), u: 2, flags: INFERRED, verdict: "in order" },
  { name: "confirmed clock, four days after its last reference", claims: claimsWith({ camera: { dateTimeOriginal: "2026:11:08 12:00:50" } }), known: { confirmed: summer }, receivedAt: "2026-11-09T00:00:00Z", window: ["2026-11-08T14:59:38Z", "2026-11-08T15:00:22Z"], truth: "2026-11-08T15:00:20Z", basis: "CAMERA_REFERENCE", instant: "2026-11-08T15:00:00.000Z", u: 22, flags: INFERRED, verdict: "in order" },
  { name: "confirmed clock, four days after its last reference, a second too near", claims: claimsWith({ camera: { dateTimeOriginal: "2026:11:08 12:00:50" } }), known: { confirmed: summer }, receivedAt: "2026-11-09T00:00:00Z", window: ["2026-11-08T14:59:38Z", "2026-11-08T15:00:21Z"], basis: "CAMERA_REFERENCE", instant: "2026-11-08T15:00:00.000Z", u: 22, flags: INFERRED, verdict: "cannot tell" },
  { ...common, name: "confirmed from one photo of the clock page, half a day before: 10 s more and 2.5 s of drift", claims: claimsWith({ camera: cam("10:30:50") }), known: { confirmed: onePage }, truth: z("13:30:00"), basis: "CAMERA_REFERENCE", instant: z("13:30:00.000"), u: 14.5, flags: INFERRED, verdict: "in order" },
  { ...common, name: "confirmed clock later than receipt", claims: claimsWith({ camera: cam("10:20:00") }), known: { confirmed: summer }, receivedAt: z("12:00:00"), basis: "CAMERA_REFERENCE", instant: z("13:19:10.000"), u: 2, flags: INFERRED, verdict: "clock in doubt" },
  { name: "confirmed clock in the hour that came twice: there is nothing to choose", claims: claimsWith({ camera: { dateTimeOriginal: "2026:11:01 01:30:00" } }), known: { confirmed: clockOf(days(-14_400, "2026-10-31T12:00:00Z", "2026-11-01T12:00:00Z", "2026-11-02T12:00:00Z")) }, receivedAt: "2026-11-02T00:00:00Z", window: ["2026-11-01T05:00:00Z", "2026-11-01T06:00:00Z"], truth: "2026-11-01T05:30:00Z", basis: "CAMERA_REFERENCE", instant: "2026-11-01T05:30:00.000Z", u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { ...common, name: "confirmed clock on +05:45", claims: claimsWith({ camera: cam("19:15:00") }), known: { confirmed: faraway }, truth: z("13:30:00"), basis: "CAMERA_REFERENCE", instant: z("13:30:00.000"), u: 2, flags: INFERRED, verdict: "in order" },
  { ...common, name: "confirmed clock, two times in the file", claims: claimsWith({ camera: cam("10:20:00", null, { dateTimeDigitized: "2026:11:03 12:20:00" }) }), known: { confirmed: summer }, basis: "CAMERA_REFERENCE", instant: null, u: 2, hypotheses: [z("13:19:10"), z("15:19:10")], flags: ["TIME_TAGS_CONFLICT", ...INFERRED], verdict: "cannot tell" },
  { name: "confirmed clock that was set in between, both readings, one inside", claims: claimsWith({ camera: { dateTimeOriginal: "2026:11:01 10:00:00" } }), known: { confirmed: clockOf([...OCTOBER, ...WINTER]) }, receivedAt: "2026-11-04T20:00:00Z", window: ["2026-11-01T12:30:00Z", "2026-11-01T13:30:00Z"], basis: "CAMERA_REFERENCE", instant: null, u: 12.3, hypotheses: ["2026-11-01T13:00:00Z", "2026-11-01T14:00:00Z"], flags: INFERRED, verdict: "cannot tell" },
  { name: "confirmed clock that was set in between, both readings inside", claims: claimsWith({ camera: { dateTimeOriginal: "2026:11:01 10:00:00" } }), known: { confirmed: clockOf([...OCTOBER, ...WINTER]) }, receivedAt: "2026-11-04T20:00:00Z", window: ["2026-11-01T12:30:00Z", "2026-11-01T14:30:00Z"], basis: "CAMERA_REFERENCE", instant: null, u: 12.3, flags: INFERRED, verdict: "in order" },
  { ...common, name: "confirmed clock that was set, after it", claims: claimsWith({ camera: cam("09:30:00") }), known: { confirmed: clockOf([...OCTOBER, ...WINTER]) }, truth: z("13:30:00"), basis: "CAMERA_REFERENCE", instant: z("13:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { name: "confirmed clock, and photos since show that it was set: the clock is in doubt", claims: claimsWith({ camera: { dateTimeOriginal: "2026:11:07 12:00:50" } }), known: { confirmed: summer, series: clockOf([...SUMMER, ...days(-14_400, "2026-11-06T12:00:00Z", "2026-11-07T12:00:00Z", "2026-11-08T12:00:00Z")]) }, receivedAt: "2026-11-09T00:00:00Z", window: ["2026-11-07T14:30:00Z", "2026-11-07T15:30:00Z"], truth: "2026-11-07T16:00:50Z", basis: "CAMERA_REFERENCE", instant: null, u: 17, hypotheses: ["2026-11-07T15:00:00Z", "2026-11-07T16:00:50Z"], flags: ["TIME_ZONE_INFERRED", "METADATA_CONFLICT", "TIME_OFFSET_NOT_SITE"], verdict: "clock in doubt" },
];

const WITH_TAG: readonly TimeCase[] = [
  { ...common, name: "offset tag, and the confirmed clock tells the drift", claims: claimsWith({ camera: cam("10:20:00", "-03:00") }), known: { confirmed: summer }, truth: z("13:19:10"), basis: "CAMERA_REFERENCE", instant: z("13:19:10.000"), u: 2, flags: ["TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { ...common, name: "offset tag, confirmed clock puts the photo past closing", claims: claimsWith({ camera: cam("11:00:55", "-03:00") }), known: { confirmed: summer }, truth: z("14:00:05"), basis: "CAMERA_REFERENCE", instant: z("14:00:05.000"), u: 2, flags: ["TIME_OFFSET_NOT_SITE"], verdict: "too late" },
  { ...common, name: "offset tag, confirmed clock 300 s fast", claims: claimsWith({ camera: cam("09:35:00", "-04:00") }), known: { confirmed: fiveMinutesFast }, truth: z("13:30:00"), basis: "CAMERA_REFERENCE", instant: z("13:30:00.000"), u: 2, flags: [], verdict: "in order" },
  { ...common, name: "offset tag against the confirmed clock: both stand", claims: claimsWith({ camera: cam("10:20:00", "-04:00") }), known: { confirmed: summer }, basis: "EXIF_OFFSET", instant: null, u: 120, hypotheses: [z("14:20:00"), z("13:19:10")], flags: ["METADATA_CONFLICT"], verdict: "clock in doubt" },
  { ...common, name: "offset tag against the confirmed clock, the same answer", claims: claimsWith({ camera: cam("12:20:00", "-04:00") }), known: { confirmed: summer }, basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["METADATA_CONFLICT"], verdict: "too late" },
  { ...common, name: "offset tag against a clock confirmed in October, its photos since side with the tag", claims: claimsWith({ camera: cam("09:30:00", "-04:00") }), known: { confirmed: clockOf(OCTOBER), series: clockOf([...OCTOBER, ...WINTER]) }, truth: z("13:30:00"), basis: "EXIF_OFFSET", instant: z("13:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "offset tag, and a clock confirmed so long ago that it tells less", claims: claimsWith({ camera: { dateTimeOriginal: "2026:12:04 10:00:50", offsetTimeOriginal: "-03:00" } }), known: { confirmed: summer }, receivedAt: "2026-12-05T00:00:00Z", window: ["2026-12-04T12:30:00Z", "2026-12-04T13:30:00Z"], basis: "EXIF_OFFSET", instant: "2026-12-04T13:00:50.000Z", u: 120, flags: ["TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { ...common, name: "offset tag and an unconfirmed series that knows another zone: the tag stands", claims: claimsWith({ camera: cam("09:30:00", "-04:00") }), known: { series: summer }, truth: z("13:30:00"), basis: "EXIF_OFFSET", instant: z("13:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { ...common, name: "offset tag and GPS agree, whatever was confirmed", claims: claimsWith({ camera: cam("09:30:00", "-04:00"), gps: gps("13:29:40") }), known: { confirmed: summer }, truth: z("13:29:40"), basis: "GPS_DELTA", instant: z("13:29:40.000"), u: 2, flags: [], verdict: "in order" },
  { ...common, name: "offset tag and an old fix: the tag alone", claims: claimsWith({ camera: cam("09:30:00", "-04:00"), gps: gps("13:29:00") }), known: { gpsIsStale: true }, truth: z("13:30:00"), basis: "EXIF_OFFSET", instant: z("13:30:00.000"), u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "in order" },
];

const WITH_GPS: readonly TimeCase[] = [
  { ...common, name: "GPS as the confirmed clock says", claims: claimsWith({ camera: cam("10:20:00"), gps: gps("13:19:10") }), known: { confirmed: summer }, truth: z("13:19:10"), basis: "GPS_DELTA", instant: z("13:19:10.000"), u: 2, flags: INFERRED, verdict: "in order" },
  { ...common, name: "GPS a minute behind the confirmed clock: the uncertainty takes both in", claims: claimsWith({ camera: cam("10:20:00"), gps: gps("13:18:10") }), known: { confirmed: summer }, truth: z("13:19:10"), basis: "GPS_DELTA", instant: z("13:18:10.000"), u: 62, flags: INFERRED, verdict: "in order" },
  { ...common, name: "GPS a minute behind the confirmed clock, near closing", claims: claimsWith({ camera: cam("11:01:00"), gps: gps("13:59:10") }), known: { confirmed: summer }, truth: z("14:00:10"), basis: "GPS_DELTA", instant: z("13:59:10.000"), u: 62, flags: INFERRED, verdict: "cannot tell" },
  { ...common, name: "GPS an hour behind the confirmed clock: both stand", claims: claimsWith({ camera: cam("11:20:00"), gps: gps("13:19:10") }), known: { confirmed: summer }, truth: z("14:19:10"), basis: "GPS_DELTA", instant: null, u: 2, hypotheses: [z("13:19:10"), z("14:19:10")], flags: ["TIME_ZONE_INFERRED", "TIME_GPS_MISMATCH", "TIME_OFFSET_NOT_SITE"], verdict: "cannot tell" },
  { ...common, name: "GPS 37 minutes behind the confirmed clock: both stand", claims: claimsWith({ camera: cam("10:20:00"), gps: gps("12:42:10") }), known: { confirmed: summer }, truth: z("13:19:10"), basis: "CAMERA_REFERENCE", instant: null, u: 120, hypotheses: [z("13:19:10"), z("12:42:10")], flags: ["TIME_ZONE_INFERRED", "TIME_GPS_MISMATCH", "TIME_OFFSET_NOT_SITE"], verdict: "cannot tell" },
  { ...common, name: "the same fix known to be old: the confirmed clock alone", claims: claimsWith({ camera: cam("10:20:00"), gps: gps("12:42:10") }), known: { confirmed: summer, gpsIsStale: true }, truth: z("13:19:10"), basis: "CAMERA_REFERENCE", instant: z("13:19:10.000"), u: 2, flags: ["TIME_GPS_MISMATCH", ...INFERRED], verdict: "in order" },
  { ...common, name: "an old fix inside the window, the photo past it", claims: claimsWith({ camera: cam("11:20:00"), gps: gps("13:30:00") }), known: { confirmed: summer, gpsIsStale: true }, truth: z("14:19:10"), basis: "CAMERA_REFERENCE", instant: z("14:19:10.000"), u: 2, flags: ["TIME_GPS_MISMATCH", ...INFERRED], verdict: "too late" },
  { ...common, name: "GPS of a camera confirmed to be 300 s fast", claims: claimsWith({ camera: cam("09:35:00"), gps: gps("13:30:00") }), known: { confirmed: fiveMinutesFast }, truth: z("13:30:00"), basis: "GPS_DELTA", instant: z("13:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { ...common, name: "GPS of a camera 300 s fast that nobody knows: both stand", claims: claimsWith({ camera: cam("09:35:00"), gps: gps("13:30:00") }), truth: z("13:30:00"), basis: "GPS_ONLY", instant: null, u: 120, hypotheses: [z("13:30:00"), z("13:35:00"), z("12:35:00"), z("14:35:00"), z("09:35:00")], flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { ...common, name: "GPS of a camera 300 s fast, as its other photos show it", claims: claimsWith({ camera: cam("09:35:00"), gps: gps("13:30:00") }), known: { series: fiveMinutesFast }, truth: z("13:30:00"), basis: "GPS_ONLY", instant: z("13:30:00.000"), u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "in order" },
  { ...common, name: "GPS an hour behind what the other photos show may be an old fix: both stand", claims: claimsWith({ camera: cam("11:20:00"), gps: gps("13:19:10") }), known: { series: summer }, truth: z("14:19:10"), basis: "GPS_DELTA", instant: null, u: 2, hypotheses: [z("13:19:10"), z("14:19:10")], flags: ["TIME_ZONE_INFERRED", "TIME_GPS_MISMATCH", "TIME_OFFSET_NOT_SITE"], verdict: "cannot tell" },
  { ...common, name: "GPS an hour ahead of what the other photos show is no old fix: the clock was set back", claims: claimsWith({ camera: cam("09:30:00"), gps: gps("13:30:00") }), known: { series: summer }, truth: z("13:30:00"), basis: "GPS_DELTA", instant: z("13:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { ...common, name: "GPS against a clock confirmed in October, as its photos since show it", claims: claimsWith({ camera: cam("09:30:00"), gps: gps("13:30:00") }), known: { confirmed: clockOf(OCTOBER), series: clockOf([...OCTOBER, ...WINTER]) }, truth: z("13:30:00"), basis: "GPS_DELTA", instant: z("13:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { ...common, name: "an old fix, no zone, nothing else: the site's readings", claims: claimsWith({ camera: cam("09:30:00"), gps: gps("12:42:10") }), known: { gpsIsStale: true }, basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, hypotheses: [z("13:30:00"), z("12:30:00"), z("14:30:00"), z("09:30:00")], flags: ["TIME_GPS_MISMATCH", "TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { ...common, name: "an old fix, no zone, and the other photos tell", claims: claimsWith({ camera: cam("09:30:00"), gps: gps("12:42:10") }), known: { gpsIsStale: true, series: winter }, truth: z("13:30:00"), basis: "SITE_ZONE_ASSUMED", instant: z("13:30:00.000"), u: 120, flags: ["TIME_GPS_MISMATCH", "TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { ...common, name: "an old fix alone dates nothing", claims: claimsWith({ gps: gps("13:30:00") }), known: { gpsIsStale: true }, basis: "NONE", instant: null, u: null, flags: ["TIME_GPS_MISMATCH", "TIME_MISSING"], verdict: "no time" },
];

const SERIES: readonly TimeCase[] = [
  { ...common, name: "other photos leave one reading, an hour off the site's", claims: claimsWith({ camera: cam("10:20:00") }), known: { series: summer }, truth: z("13:19:10"), basis: "SITE_ZONE_ASSUMED", instant: z("13:20:00.000"), u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { ...common, name: "other photos leave the site's reading", claims: claimsWith({ camera: cam("09:30:00") }), known: { series: winter }, truth: z("13:30:00"), basis: "SITE_ZONE_ASSUMED", instant: z("13:30:00.000"), u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { ...common, name: "other photos leave UTC", claims: claimsWith({ camera: cam("13:30:00") }), known: { series: clockOf(days(0, "2026-11-02T12:00:00Z", "2026-11-03T12:00:00Z", "2026-11-04T12:00:00Z")) }, truth: z("13:30:00"), basis: "SITE_ZONE_ASSUMED", instant: z("13:30:00.000"), u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { ...common, name: "other photos put the camera in a zone nobody thought of: it joins the readings", claims: claimsWith({ camera: cam("19:15:00") }), known: { series: faraway }, window: [z("18:00:00"), "2026-11-04T01:00:00Z"], truth: z("13:30:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, hypotheses: [z("23:15:00"), z("22:15:00"), "2026-11-04T00:15:00Z", z("19:15:00"), z("13:30:00")], flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { ...common, name: "receipt rules out what the other photos show: the clock was set since", claims: claimsWith({ camera: cam("13:30:00") }), known: { series: winter }, receivedAt: z("13:35:00"), window: HOUR, truth: z("13:30:00"), basis: "SITE_ZONE_ASSUMED", instant: z("13:30:00.000"), u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { name: "other photos show that the clock was set in between: two readings are left", claims: claimsWith({ camera: { dateTimeOriginal: "2026:11:01 10:00:00" } }), known: { series: clockOf([...OCTOBER, ...WINTER]) }, receivedAt: "2026-11-04T20:00:00Z", window: ["2026-11-01T12:30:00Z", "2026-11-01T14:30:00Z"], basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, hypotheses: ["2026-11-01T14:00:00Z", "2026-11-01T13:00:00Z"], flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { ...common, name: "one reference at the end an hour off only adds a reading", claims: claimsWith({ camera: cam("10:20:00") }), known: { series: clockOf([...OCTOBER, reference("2026-11-02T12:00:00Z", -14_400)]) }, basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, hypotheses: [z("14:20:00"), z("13:20:00")], flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
];

const PHONE: readonly TimeCase[] = [
  { ...common, name: "a phone an hour slow whose clock was confirmed so", claims: claimsWith({ camera: cam("08:30:00"), device: { capturedAt: z("12:30:05"), offsetToServerMs: 3_600_000, roundTripMs: 200 } }), known: { confirmed: clockOf(days(-18_000, "2026-11-02T12:00:00Z", "2026-11-03T12:00:00Z", "2026-11-04T12:00:00Z")) }, truth: z("13:30:00"), basis: "CAMERA_REFERENCE", instant: z("13:30:00.000"), u: 2, flags: INFERRED, verdict: "in order" },
  { ...common, name: "a phone set back an hour after its clock was confirmed", claims: claimsWith({ camera: cam("09:30:00"), device: { capturedAt: z("13:30:05"), offsetToServerMs: 3_600_000, roundTripMs: 200 } }), known: { confirmed: winter }, truth: z("14:30:00"), basis: "CAMERA_REFERENCE", instant: null, u: 2, hypotheses: [z("13:30:00"), z("14:30:00")], flags: ["TIME_ZONE_INFERRED", "METADATA_CONFLICT"], verdict: "clock in doubt" },
  { ...common, name: "a phone set back an hour, which its other photos do not know", claims: claimsWith({ camera: cam("09:30:00"), device: { capturedAt: z("13:30:05"), offsetToServerMs: 3_600_000, roundTripMs: 200 } }), known: { series: winter }, truth: z("14:30:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, hypotheses: [z("13:30:00"), z("14:30:00")], flags: ["TIME_ZONE_ASSUMED_SITE", "METADATA_CONFLICT"], verdict: "clock in doubt" },
];

/** A real camera whose date was a day behind and which was 92 s fast of +02:00, in four photos; in the last the fix is 54 s old. No clock comes of them. */
const DAY_BEHIND: readonly TimeCase[] = (
  [
    ["16:28:39", "14/1 27/1 724/100", "14:27:07.240"],
    ["16:38:20", "14/1 36/1 4723/100", "14:36:47.230"],
    ["16:46:53", "14/1 45/1 2091/100", "14:45:20.910"],
    ["17:00:07", "14/1 57/1 4137/100", "14:57:41.370"],
  ] as const
).map(([wall, timeStamp, instant]) => ({
  name: `a camera a day behind its GPS at ${wall}: both are kept, and said`,
  claims: claimsWith({ camera: { dateTimeOriginal: `2008:10:22 ${wall}` }, gps: { dateStamp: "2008:10:23", timeStamp } }),
  zone: "Europe/Rome",
  receivedAt: "2008-10-24T00:00:00Z",
  window: ["2008-10-23T14:00:00Z", "2008-10-23T15:30:00Z"] as const,
  truth: `2008-10-23T${instant}Z`,
  basis: "GPS_ONLY" as const,
  instant: null,
  u: 120,
  hypotheses: [`2008-10-23T${instant}Z`, ...[14, 13, 15, 16].map((hour) => `2008-10-22T${hour + Number(wall.slice(0, 2)) - 16}${wall.slice(2)}Z`)],
  flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"] as const,
  verdict: "cannot tell" as const,
}));

export const CLOCK_TIME_CASES: readonly TimeCase[] = [...CONFIRMED, ...WITH_TAG, ...WITH_GPS, ...SERIES, ...PHONE, ...DAY_BEHIND];
