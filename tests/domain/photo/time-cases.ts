import type { CameraKnowledge } from "#lib/domain/photo/camera-clock";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { TimeBasis } from "#lib/domain/photo/derived-instant";
import type { PhotoFlagCode } from "#lib/domain/photo/flag";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import { claimsWith, gpsTime } from "#tests/domain/photo/claims-factory";

export interface TimeCase {
  readonly name: string;
  readonly claims: PhotoClaims;
  readonly receivedAt?: string;
  readonly zone?: string;
  /** What other photos of the camera tell; nothing by default. */
  readonly known?: Partial<CameraKnowledge>;
  readonly otherZones?: readonly string[];
  /** The photo's window. The default is 09:05 to 10:40 on 20 October 2026 in the site's zone, −03:00. */
  readonly window?: readonly [string | null, string];
  /** When it was really taken. */
  readonly truth?: string;
  readonly basis: TimeBasis;
  /** The decided instant, or null. */
  readonly instant: string | null;
  readonly u: number | null;
  /** All readings, where it matters which. */
  readonly hypotheses?: readonly string[];
  readonly flags: readonly PhotoFlagCode[];
  readonly verdict: OrderVerdict;
}

const cam = (dateTimeOriginal: string | null, offsetTimeOriginal: string | null = null, more: Partial<PhotoClaims["camera"]> = {}) =>
  ({ camera: { dateTimeOriginal, offsetTimeOriginal, ...more } }) as const;
const phone = (capturedAt: string, offsetToServerMs: number, roundTripMs: number) => ({ capturedAt, offsetToServerMs, roundTripMs });
const z = (time: string, day = "2026-10-20") => `${day}T${time}Z`;

const OFFSET_TAG: readonly TimeCase[] = [
  { name: "offset tag, well inside", claims: claimsWith(cam("2026:10:20 09:30:00", "-03:00")), truth: z("12:29:30"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "offset tag, well before", claims: claimsWith(cam("2026:10:20 08:00:00", "-03:00")), truth: z("11:00:00"), basis: "EXIF_OFFSET", instant: z("11:00:00.000"), u: 120, flags: [], verdict: "too early" },
  { name: "offset tag, well after", claims: claimsWith(cam("2026:10:20 11:12:00", "-03:00")), truth: z("14:12:00"), basis: "EXIF_OFFSET", instant: z("14:12:00.000"), u: 120, flags: [], verdict: "too late" },
  { name: "offset tag, 30 s after closing", claims: claimsWith(cam("2026:10:20 10:40:30", "-03:00")), truth: z("13:40:30"), basis: "EXIF_OFFSET", instant: z("13:40:30.000"), u: 120, flags: [], verdict: "cannot tell" },
  { name: "offset tag, exactly the uncertainty before closing", claims: claimsWith(cam("2026:10:20 10:38:00", "-03:00")), truth: z("13:38:00"), basis: "EXIF_OFFSET", instant: z("13:38:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "offset tag, a second less than the uncertainty before closing", claims: claimsWith(cam("2026:10:20 10:38:01", "-03:00")), truth: z("13:38:01"), basis: "EXIF_OFFSET", instant: z("13:38:01.000"), u: 120, flags: [], verdict: "cannot tell" },
  { name: "offset tag, exactly the uncertainty after opening", claims: claimsWith(cam("2026:10:20 09:07:00", "-03:00")), truth: z("12:07:00"), basis: "EXIF_OFFSET", instant: z("12:07:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "offset tag, exactly the uncertainty before opening", claims: claimsWith(cam("2026:10:20 09:03:00", "-03:00")), truth: z("12:03:00"), basis: "EXIF_OFFSET", instant: z("12:03:00.000"), u: 120, flags: [], verdict: "cannot tell" },
  { name: "offset tag with digits after the second", claims: claimsWith(cam("2026:10:20 09:30:00", "-03:00", { subSecTimeOriginal: "054" })), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.054"), u: 120, flags: [], verdict: "in order" },
  { name: "offset tag with unreadable digits after the second", claims: claimsWith(cam("2026:10:20 09:30:00", "-03:00", { subSecTimeOriginal: "5?" })), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: ["METADATA_INVALID"], verdict: "in order" },
  { name: "camera on summer time after the change, and saying so", claims: claimsWith(cam("2026:11:03 10:20:00", "-03:00")), receivedAt: z("20:00:00", "2026-11-03"), window: [z("13:00:00", "2026-11-03"), z("14:00:00", "2026-11-03")], truth: z("13:20:00", "2026-11-03"), basis: "EXIF_OFFSET", instant: z("13:20:00.000", "2026-11-03"), u: 120, flags: ["TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "a phone from another zone, saying so", claims: claimsWith(cam("2026:10:20 18:00:00", "+05:45")), truth: z("12:15:00"), basis: "EXIF_OFFSET", instant: z("12:15:00.000"), u: 120, flags: ["TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "offset of +14:00", claims: claimsWith(cam("2026:10:21 02:30:00", "+14:00")), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: ["TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "no lower bound", claims: claimsWith(cam("2026:10:20 01:00:00", "-03:00")), window: [null, z("13:40:00")], truth: z("04:00:00"), basis: "EXIF_OFFSET", instant: z("04:00:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "offset tag, later than receipt", claims: claimsWith(cam("2026:10:20 12:30:00", "-03:00")), receivedAt: z("13:00:00"), basis: "EXIF_OFFSET", instant: z("15:30:00.000"), u: 120, flags: [], verdict: "clock in doubt" },
  { name: "offset tag, later than receipt by less than the uncertainty", claims: claimsWith(cam("2026:10:20 10:01:30", "-03:00")), receivedAt: z("13:00:00"), truth: z("13:00:00"), basis: "EXIF_OFFSET", instant: z("13:01:30.000"), u: 120, flags: [], verdict: "in order" },
];

const GPS: readonly TimeCase[] = [
  { name: "no offset, camera 87 s fast of −03:00", claims: claimsWith({ ...cam("2026:10:20 09:14:32"), gps: gpsTime("2026:10:20 12:13:05") }), truth: z("12:13:05"), basis: "GPS_DELTA", instant: z("12:13:05.000"), u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { name: "no offset, camera 50 s fast and still on summer time", claims: claimsWith({ ...cam("2026:11:03 10:20:00"), gps: gpsTime("2026:11:03 13:19:10") }), receivedAt: z("20:00:00", "2026-11-03"), window: [z("13:00:00", "2026-11-03"), z("14:00:00", "2026-11-03")], truth: z("13:19:10", "2026-11-03"), basis: "GPS_DELTA", instant: z("13:19:10.000", "2026-11-03"), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "an hour off by summer time: 11:12 shown, 10:12 meant", claims: claimsWith({ ...cam("2026:10:20 11:12:00"), gps: gpsTime("2026:10:20 13:12:00") }), truth: z("13:12:00"), basis: "GPS_DELTA", instant: z("13:12:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "no offset, camera exactly 120 s slow", claims: claimsWith({ ...cam("2026:10:20 09:28:00"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_DELTA", instant: z("12:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { name: "no offset, camera 121 s slow", claims: claimsWith({ ...cam("2026:10:20 09:27:59"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_ONLY", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { name: "camera on UTC", claims: claimsWith({ ...cam("2026:10:20 12:30:10"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_DELTA", instant: z("12:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "camera on +05:45", claims: claimsWith({ ...cam("2026:10:20 18:15:30"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_DELTA", instant: z("12:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "camera a day wrong: the difference is no zone", claims: claimsWith({ ...cam("2026:10:19 09:30:00"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_ONLY", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { name: "a real camera, a day and 1.5 minutes from its GPS", claims: claimsWith({ ...cam("2008:10:22 16:28:39"), gps: { dateStamp: "2008:10:23", timeStamp: "14/1 27/1 724/100" } }), zone: "Europe/Rome", window: [z("14:00:00", "2008-10-23"), z("15:00:00", "2008-10-23")], basis: "GPS_ONLY", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { name: "difference of +14:15 is no zone", claims: claimsWith({ ...cam("2026:10:21 02:45:00"), gps: gpsTime("2026:10:20 12:30:00") }), basis: "GPS_ONLY", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_GPS_MISMATCH"], verdict: "cannot tell", receivedAt: z("20:00:00", "2026-10-22") },
  { name: "difference of +14:00 is one", claims: claimsWith({ ...cam("2026:10:21 02:30:00"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_DELTA", instant: z("12:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "difference of −12:00 is one", claims: claimsWith({ ...cam("2026:10:20 00:30:00"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_DELTA", instant: z("12:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
  { name: "offset tag and GPS a second apart", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), gps: gpsTime("2026:10:20 12:30:01") }), truth: z("12:30:01"), basis: "GPS_DELTA", instant: z("12:30:01.000"), u: 2, flags: [], verdict: "in order" },
  { name: "offset tag and GPS exactly 120 s apart", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), gps: gpsTime("2026:10:20 12:28:00") }), truth: z("12:28:00"), basis: "GPS_DELTA", instant: z("12:28:00.000"), u: 2, flags: [], verdict: "in order" },
  { name: "GPS corrects an offset-tagged camera over the closing", claims: claimsWith({ ...cam("2026:10:20 10:39:30", "-03:00"), gps: gpsTime("2026:10:20 13:40:30") }), truth: z("13:40:30"), basis: "GPS_DELTA", instant: z("13:40:30.000"), u: 2, flags: [], verdict: "too late" },
  { name: "offset tag and GPS 121 s apart, both inside", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), gps: gpsTime("2026:10:20 12:27:59") }), truth: z("12:29:00"), basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "in order" },
  { name: "offset tag and GPS an hour apart, one inside", claims: claimsWith({ ...cam("2026:10:20 10:12:00", "-03:00"), gps: gpsTime("2026:10:20 14:12:00") }), truth: z("14:12:00"), basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "cannot tell" },
  { name: "offset tag and GPS an hour apart, both too late", claims: claimsWith({ ...cam("2026:10:20 14:12:00", "-03:00"), gps: gpsTime("2026:10:20 16:12:00") }), truth: z("16:12:00"), basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "too late" },
  { name: "GPS later than receipt drops out", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), gps: gpsTime("2026:10:20 18:00:00") }), receivedAt: z("13:00:00"), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "in order" },
  { name: "the camera's time later than receipt drops out", claims: claimsWith({ ...cam("2026:10:20 15:00:00", "-03:00"), gps: gpsTime("2026:10:20 12:30:00") }), receivedAt: z("13:00:00"), truth: z("12:30:00"), basis: "GPS_ONLY", instant: z("12:30:00.000"), u: 120, flags: ["TIME_GPS_MISMATCH"], verdict: "in order" },
  { name: "GPS alone", claims: claimsWith({ gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:30"), basis: "GPS_ONLY", instant: z("12:30:00.000"), u: 120, flags: ["TIME_FROM_GPS_ONLY"], verdict: "in order" },
  { name: "GPS alone near the closing", claims: claimsWith({ gps: gpsTime("2026:10:20 13:39:00") }), truth: z("13:39:00"), basis: "GPS_ONLY", instant: z("13:39:00.000"), u: 120, flags: ["TIME_FROM_GPS_ONLY"], verdict: "cannot tell" },
  { name: "GPS beside an impossible camera time", claims: claimsWith({ ...cam("2026:02:30 09:30:00"), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_ONLY", instant: z("12:30:00.000"), u: 120, flags: ["METADATA_INVALID", "TIME_FROM_GPS_ONLY"], verdict: "in order" },
  { name: "GPS time with a zero denominator", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), gps: { dateStamp: "2026:10:20", timeStamp: "12/1 30/1 0/0" } }), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: ["GPS_INVALID"], verdict: "in order" },
  { name: "GPS date without a time", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), gps: { dateStamp: "2026:10:20" } }), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "GPS of a receiver whose measurement was interrupted", claims: claimsWith({ gps: { ...gpsTime("2026:10:20 12:30:00"), status: "V" } }), basis: "NONE", instant: null, u: null, flags: ["TIME_MISSING"], verdict: "no time" },
  { name: "GPS of a receiver that knows no date yet", claims: claimsWith({ gps: gpsTime("1980:01:06 00:00:12") }), basis: "NONE", instant: null, u: null, flags: ["GPS_INVALID", "TIME_MISSING"], verdict: "no time" },
];

const NO_ZONE: readonly TimeCase[] = [
  { name: "no zone, one reading inside", claims: claimsWith(cam("2026:10:20 10:12:00")), truth: z("13:12:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { name: "no zone, every reading inside a long window", claims: claimsWith(cam("2026:10:20 10:12:00")), window: [z("08:00:00"), z("18:00:00")], truth: z("13:12:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { name: "no zone, every reading too late", claims: claimsWith(cam("2026:10:20 15:00:00")), truth: z("18:00:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "too late" },
  { name: "no zone, every reading too early", claims: claimsWith(cam("2026:10:19 15:00:00")), truth: z("18:00:00", "2026-10-19"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "too early" },
  { name: "no zone, only UTC outside", claims: claimsWith(cam("2026:10:20 10:12:00")), window: [z("11:00:00"), z("15:00:00")], truth: z("13:12:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { name: "no zone, receipt cuts all readings but one", claims: claimsWith(cam("2026:10:20 10:12:00")), receivedAt: z("10:13:00"), window: [z("10:00:00"), z("10:30:00")], truth: z("10:12:00"), basis: "SITE_ZONE_ASSUMED", instant: z("10:12:00.000"), u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "in order" },
  { name: "no zone, all readings after receipt", claims: claimsWith(cam("2027:01:01 00:00:00")), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "clock in doubt" },
  { name: "a blank offset is no offset", claims: claimsWith(cam("2026:10:20 10:12:00", "   :  ")), truth: z("13:12:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { name: "an impossible offset is no offset, and is named", claims: claimsWith(cam("2026:10:20 10:12:00", "+15:00")), truth: z("13:12:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["METADATA_INVALID", "TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { name: "the hour that came twice", claims: claimsWith(cam("2026:11:01 01:30:00")), receivedAt: z("20:00:00", "2026-11-01"), window: [z("04:00:00", "2026-11-01"), z("05:00:00", "2026-11-01")], truth: z("04:30:00", "2026-11-01"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_DST_AMBIGUOUS"], verdict: "cannot tell" },
  { name: "the hour that came twice, whichever it was", claims: claimsWith(cam("2026:11:01 01:30:00")), receivedAt: z("20:00:00", "2026-11-01"), window: [z("01:00:00", "2026-11-01"), z("07:00:00", "2026-11-01")], truth: z("05:30:00", "2026-11-01"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_DST_AMBIGUOUS"], verdict: "in order" },
  { name: "the hour that was skipped", claims: claimsWith(cam("2027:03:14 02:30:00")), receivedAt: z("20:00:00", "2027-03-14"), window: [z("06:00:00", "2027-03-14"), z("07:00:00", "2027-03-14")], basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_ZONE_ASSUMED_SITE", "TIME_DST_NONEXISTENT"], verdict: "cannot tell" },
  { name: "the hour that came twice, told by GPS", claims: claimsWith({ ...cam("2026:11:01 01:30:00"), gps: gpsTime("2026:11:01 05:30:00") }), receivedAt: z("20:00:00", "2026-11-01"), window: [z("05:00:00", "2026-11-01"), z("06:00:00", "2026-11-01")], truth: z("05:30:00", "2026-11-01"), basis: "GPS_DELTA", instant: z("05:30:00.000", "2026-11-01"), u: 2, flags: ["TIME_ZONE_INFERRED"], verdict: "in order" },
  { name: "the hour that came twice, told by the tag", claims: claimsWith(cam("2026:11:01 01:30:00", "-04:00")), receivedAt: z("20:00:00", "2026-11-01"), window: [z("05:00:00", "2026-11-01"), z("06:00:00", "2026-11-01")], truth: z("05:30:00", "2026-11-01"), basis: "EXIF_OFFSET", instant: z("05:30:00.000", "2026-11-01"), u: 120, flags: [], verdict: "in order" },
];

const FIELDS: readonly TimeCase[] = [
  { name: "digitized a minute later is the same exposure", claims: claimsWith(cam("2026:10:20 09:30:00", "-03:00", { dateTimeDigitized: "2026:10:20 09:31:00" })), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "original moved into the window, digitized left behind", claims: claimsWith(cam("2026:10:20 09:30:00", "-03:00", { dateTimeDigitized: "2026:10:20 12:30:00" })), truth: z("15:30:00"), basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["TIME_TAGS_CONFLICT"], verdict: "cannot tell" },
  { name: "original moved by two days, digitized left behind, no zone", claims: claimsWith(cam("2026:10:18 09:30:00", null, { dateTimeDigitized: "2026:10:20 09:30:00" })), window: [z("00:00:00", "2026-10-18"), z("23:00:00", "2026-10-18")], truth: z("12:30:00"), basis: "SITE_ZONE_ASSUMED", instant: null, u: 120, flags: ["TIME_TAGS_CONFLICT", "TIME_ZONE_ASSUMED_SITE"], verdict: "cannot tell" },
  { name: "the same moment written in two zones is no conflict", claims: claimsWith(cam("2026:10:20 09:30:00", "-03:00", { dateTimeDigitized: "2026:10:20 12:30:00", offsetTimeDigitized: "+00:00" })), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "the same clock time in two zones is one", claims: claimsWith(cam("2026:10:20 09:30:00", "-03:00", { dateTimeDigitized: "2026:10:20 09:30:00", offsetTimeDigitized: "-04:00" })), truth: z("13:30:00"), basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["TIME_TAGS_CONFLICT"], verdict: "in order" },
  { name: "two times in the file, GPS tells", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00", { dateTimeDigitized: "2026:10:20 12:30:00" }), gps: gpsTime("2026:10:20 12:30:00") }), truth: z("12:30:00"), basis: "GPS_DELTA", instant: z("12:30:00.000"), u: 2, flags: ["TIME_TAGS_CONFLICT"], verdict: "in order" },
  { name: "a time of change does not date a photo", claims: claimsWith({ camera: { modifyDate: "2026:10:20 09:30:00", offsetTime: "-03:00" } }), basis: "NONE", instant: null, u: null, flags: ["TIME_MISSING"], verdict: "no time" },
  { name: "an editor's own time does not date a photo", claims: claimsWith({ xmp: { createDate: "2026-10-20T09:30:00-03:00" } }), basis: "NONE", instant: null, u: null, flags: ["TIME_MISSING"], verdict: "no time" },
  { name: "nothing at all: a messenger took it out", claims: claimsWith({}), basis: "NONE", instant: null, u: null, flags: ["TIME_MISSING"], verdict: "no time" },
  { name: "zeros for a date", claims: claimsWith(cam("0000:00:00 00:00:00")), basis: "NONE", instant: null, u: null, flags: ["METADATA_INVALID", "TIME_MISSING"], verdict: "no time" },
  { name: "blanks for a date", claims: claimsWith(cam("    :  :     :  :  ")), basis: "NONE", instant: null, u: null, flags: ["TIME_MISSING"], verdict: "no time" },
  { name: "30 February", claims: claimsWith(cam("2026:02:30 09:30:00", "-03:00")), basis: "NONE", instant: null, u: null, flags: ["METADATA_INVALID", "TIME_MISSING"], verdict: "no time" },
  { name: "hour 24", claims: claimsWith(cam("2026:10:20 24:00:00", "-03:00")), basis: "NONE", instant: null, u: null, flags: ["METADATA_INVALID", "TIME_MISSING"], verdict: "no time" },
];

const DEVICE: readonly TimeCase[] = [
  { name: "the phone's page, clock right", claims: claimsWith({ device: phone("2026-10-20T09:30:00-03:00", 0, 300) }), truth: z("12:30:00"), basis: "DEVICE_CAPTURE", instant: z("12:30:00.000"), u: 2.15, flags: [], verdict: "in order" },
  { name: "the phone's page, clock set back an hour", claims: claimsWith({ device: phone("2026-10-20T10:12:00-03:00", 3_600_000, 400) }), truth: z("14:12:00"), basis: "DEVICE_CAPTURE", instant: z("14:12:00.000"), u: 2.2, flags: [], verdict: "too late" },
  { name: "the phone's page, clock never compared", claims: claimsWith({ device: { capturedAt: "2026-10-20T09:30:00-03:00" } }), basis: "NONE", instant: null, u: null, flags: ["TIME_MISSING"], verdict: "no time" },
  { name: "the phone's page, a slow line widens the uncertainty", claims: claimsWith({ device: phone("2026-10-20T13:39:50Z", 0, 20_000) }), truth: z("13:39:50"), basis: "DEVICE_CAPTURE", instant: z("13:39:50.000"), u: 12, flags: [], verdict: "cannot tell" },
  { name: "the phone's page later than receipt", claims: claimsWith({ device: phone("2026-10-20T15:00:00Z", 0, 200) }), receivedAt: z("13:00:00"), basis: "DEVICE_CAPTURE", instant: z("15:00:00.000"), u: 2.1, flags: [], verdict: "clock in doubt" },
  { name: "a file with a zone goes before the phone's page", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), device: phone("2026-10-20T16:00:00Z", 0, 200) }), truth: z("12:30:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "a phone an hour slow wrote the file too", claims: claimsWith({ ...cam("2026:10:20 10:12:00", "-03:00"), device: phone("2026-10-20T10:12:05-03:00", 3_600_000, 200) }), truth: z("14:12:00"), basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["METADATA_CONFLICT"], verdict: "clock in doubt" },
  { name: "a phone an hour slow, too late either way", claims: claimsWith({ ...cam("2026:10:20 11:12:00", "-03:00"), device: phone("2026-10-20T11:12:05-03:00", 3_600_000, 200) }), truth: z("15:12:00"), basis: "EXIF_OFFSET", instant: null, u: 120, flags: ["METADATA_CONFLICT"], verdict: "too late" },
  { name: "a phone two minutes slow is inside what a camera may be off", claims: claimsWith({ ...cam("2026:10:20 09:30:00", "-03:00"), device: phone("2026-10-20T09:30:05-03:00", 120_000, 200) }), truth: z("12:32:00"), basis: "EXIF_OFFSET", instant: z("12:30:00.000"), u: 120, flags: [], verdict: "in order" },
  { name: "a phone an hour slow, but GPS tells", claims: claimsWith({ ...cam("2026:10:20 09:30:00"), gps: gpsTime("2026:10:20 13:30:00"), device: phone("2026-10-20T09:30:05-03:00", 3_600_000, 200) }), truth: z("13:30:00"), basis: "GPS_DELTA", instant: z("13:30:00.000"), u: 2, flags: ["TIME_ZONE_INFERRED", "TIME_OFFSET_NOT_SITE"], verdict: "in order" },
];

/** Every label is set by hand from the rules. */
export const TIME_CASES: readonly TimeCase[] = [...OFFSET_TAG, ...GPS, ...NO_ZONE, ...FIELDS, ...DEVICE];
