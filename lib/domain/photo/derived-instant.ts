import type { Instant } from "#lib/domain/instant";
import { HOUR, MINUTE, SECOND } from "#lib/domain/instant";
import { readCamera } from "#lib/domain/photo/camera-time";
import type { CameraReading } from "#lib/domain/photo/camera-time";
import { instantAt, isOffsetInUse, offsetText, parseGpsInstant, isBlankTime } from "#lib/domain/photo/capture-time";
import type { WallTime } from "#lib/domain/photo/capture-time";
import type { DeviceClaims, PhotoClaims } from "#lib/domain/photo/claims";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { isVoid } from "#lib/domain/photo/position";
import { siteInstants, siteOffsetSeconds } from "#lib/domain/photo/site-zone";

/** What the instant of a photo rests on, best first. CAMERA_REFERENCE comes from other photos of the same camera. */
export const TIME_BASES = ["EXIF_OFFSET", "GPS_DELTA", "CAMERA_REFERENCE", "GPS_ONLY", "SITE_ZONE_ASSUMED", "DEVICE_CAPTURE", "NONE"] as const;
export type TimeBasis = (typeof TIME_BASES)[number];

export interface DerivedInstant {
  /** When the photo was taken, or null when that cannot be known: nothing to go by, or more than one reading left. */
  readonly instant: Instant | null;
  /** Every reading that is still possible; one when decided. The first is the one to show. */
  readonly hypotheses: readonly Instant[];
  readonly basis: TimeBasis;
  /** Each hypothesis is good to ± this many seconds; null without one. */
  readonly uncertaintySeconds: number | null;
  /** The camera's own text, as written. */
  readonly cameraSays: string | null;
  /** Zone part of the camera's clock, seconds east of UTC, where a tag or GPS tells. */
  readonly cameraOffsetSeconds: number | null;
  /** Rest of the camera's clock against GPS, seconds, positive when fast. */
  readonly cameraDriftSeconds: number | null;
  readonly flags: readonly PhotoFlag[];
}

/** How far each basis may be off, seconds. Common practice, no source; a device adds half its round trip. */
export const UNCERTAINTY_SECONDS = { EXIF_OFFSET: 120, GPS_DELTA: 2, GPS_ONLY: 120, SITE_ZONE_ASSUMED: 120, DEVICE_CAPTURE: 2 } as const;

/** Camera clocks run in zones of whole quarter hours; what is left over is drift, of at most 2 minutes. */
const QUARTER_HOUR = 15 * MINUTE;
const DRIFT_LIMIT = 2 * MINUTE;

interface Hypothesis {
  readonly at: Instant;
  readonly basis: TimeBasis;
}

type Undecided = Omit<DerivedInstant, "instant" | "hypotheses" | "basis" | "cameraSays"> & { readonly candidates: readonly Hypothesis[] };

/**
 * Derives when a photo was taken from what the file and the phone claim. It never uses the zone of the machine it runs on,
 * and it decides nothing that the claims leave
 * open: every reading that is still possible is returned.
 *
 * In this order: the camera's time with its offset tag; the camera's time against its GPS time, whose difference must be a
 * quarter hour within 2 minutes and a zone in
 * −12:00…+14:00; GPS alone; the camera's time in the site's zone, that ± 1 h, and UTC; the phone's clock at capture,
 * corrected by its measured difference to ours.
 * Two claims that disagree are both kept. Readings later than receipt (plus the uncertainty) drop out unless that leaves none.
 *
 * @param siteZone    IANA name of the site's zone. An unknown name throws RangeError.
 * @param receivedAt  When the file reached the server.
 */
export function deriveInstant(
  claims: PhotoClaims,
  { siteZone, receivedAt }: { readonly siteZone: string; readonly receivedAt: Instant },
): DerivedInstant {
  const camera = readCamera(claims.camera);
  const gps = readGps(claims.gps);
  const undecided = withPhoneClock(candidatesOf(camera.reading, gps.instant, claims.device, siteZone), claims.device);

  const latest = receivedAt + (undecided.uncertaintySeconds ?? 0) * SECOND;
  const possible = undecided.candidates.filter(({ at }) => at <= latest);
  const kept = possible.length > 0 ? possible : undecided.candidates;
  const hypotheses = [...new Set(kept.map(({ at }) => at))];
  const [first = null] = kept;

  return {
    instant: hypotheses.length === 1 ? (hypotheses[0] ?? null) : null,
    hypotheses,
    basis: first?.basis ?? "NONE",
    uncertaintySeconds: undecided.uncertaintySeconds,
    cameraSays: claims.camera.dateTimeOriginal,
    cameraOffsetSeconds: undecided.cameraOffsetSeconds,
    cameraDriftSeconds: undecided.cameraDriftSeconds,
    flags: [...camera.flags, ...gps.flags, ...undecided.flags, ...offsetFlags(undecided.cameraOffsetSeconds, hypotheses, siteZone)],
  };
}

function candidatesOf(camera: CameraReading | null, gps: Instant | null, device: DeviceClaims, siteZone: string): Undecided {
  if (camera !== null && camera.offsetSeconds !== null) return byOffsetTag(camera, camera.offsetSeconds, gps);
  if (camera !== null && gps !== null) return byGpsDelta(camera, gps, siteZone);
  if (gps !== null) return byGpsAlone(gps);
  if (camera !== null) return bySiteZone(camera, siteZone);
  return byDevice(device);
}

/** The camera gives its zone. GPS within 2 minutes corrects the rest; further apart, both stand. */
function byOffsetTag(camera: CameraReading, offsetSeconds: number, gps: Instant | null): Undecided {
  const bySelf = instantAt(camera.wall, offsetSeconds);
  const drift = gps === null ? null : bySelf - gps;
  if (gps !== null && drift !== null && Math.abs(drift) <= DRIFT_LIMIT) {
    return {
      candidates: [{ at: gps, basis: "GPS_DELTA" }],
      uncertaintySeconds: UNCERTAINTY_SECONDS.GPS_DELTA,
      cameraOffsetSeconds: offsetSeconds,
      cameraDriftSeconds: drift / SECOND,
      flags: [],
    };
  }

  const own = camera.otherWalls.map(({ wall, offsetSeconds: other }) => instantAt(wall, other ?? offsetSeconds));
  const candidates = [bySelf, ...own].map((at): Hypothesis => ({ at, basis: "EXIF_OFFSET" }));
  return {
    candidates: gps === null ? candidates : [...candidates, { at: gps, basis: "GPS_ONLY" }],
    uncertaintySeconds: UNCERTAINTY_SECONDS.EXIF_OFFSET,
    cameraOffsetSeconds: offsetSeconds,
    cameraDriftSeconds: null,
    flags: gps === null ? [] : [gpsMismatch(`camera ${camera.text} ${offsetText(offsetSeconds)}, GPS ${isoText(gps)}`, "120 s apart")],
  };
}

/** The camera gives no zone, GPS gives UTC: the difference is zone and drift, if it can be one. */
function byGpsDelta(camera: CameraReading, gps: Instant, siteZone: string): Undecided {
  const delta = instantAt(camera.wall, 0) - gps;
  const zone = Math.round(delta / QUARTER_HOUR) * QUARTER_HOUR;
  const drift = delta - zone;
  if (Math.abs(drift) <= DRIFT_LIMIT && isOffsetInUse(zone / SECOND)) {
    const measured = `camera ${camera.text}, GPS ${isoText(gps)}: ${offsetText(zone / SECOND)} and ${drift / SECOND} s`;
    return {
      candidates: [{ at: gps, basis: "GPS_DELTA" }],
      uncertaintySeconds: UNCERTAINTY_SECONDS.GPS_DELTA,
      cameraOffsetSeconds: zone === 0 ? 0 : zone / SECOND,
      cameraDriftSeconds: drift / SECOND,
      flags: [{ code: "TIME_ZONE_INFERRED", measured, limit: "no offset in the file" }],
    };
  }

  // Either clock may be the wrong one, so the readings of both stay.
  const assumed = bySiteZone(camera, siteZone);
  return {
    ...assumed,
    candidates: [{ at: gps, basis: "GPS_ONLY" }, ...assumed.candidates],
    flags: [...assumed.flags, gpsMismatch(`camera ${camera.text}, GPS ${isoText(gps)}`, "a quarter hour within 120 s, from -12:00 to +14:00")],
  };
}

function byGpsAlone(gps: Instant): Undecided {
  return {
    ...NOTHING,
    candidates: [{ at: gps, basis: "GPS_ONLY" }],
    uncertaintySeconds: UNCERTAINTY_SECONDS.GPS_ONLY,
    flags: [{ code: "TIME_FROM_GPS_ONLY", measured: `GPS ${isoText(gps)}`, limit: "no usable camera time" }],
  };
}

/** No zone at all: the site's own, the same forgotten at a change of clocks (± 1 h), and a camera left on UTC. */
function bySiteZone(camera: CameraReading, siteZone: string): Undecided {
  const site = [camera.wall, ...camera.otherWalls.map(({ wall }) => wall)].map((wall) => ({ wall, ...siteInstants(wall, siteZone) }));
  const inZone = site.flatMap(({ instants }) => instants);
  const all = [...inZone, ...inZone.flatMap((at) => [at - HOUR, at + HOUR]), ...site.map(({ wall }) => instantAt(wall, 0))];

  return {
    ...NOTHING,
    candidates: all.map((at) => ({ at, basis: "SITE_ZONE_ASSUMED" })),
    uncertaintySeconds: UNCERTAINTY_SECONDS.SITE_ZONE_ASSUMED,
    flags: [
      { code: "TIME_ZONE_ASSUMED_SITE", measured: `${camera.text}, no offset`, limit: `${siteZone}, that ± 1 h, and UTC` },
      ...site.flatMap(({ wall, clocks }): PhotoFlag[] => {
        if (clocks === "once") return [];
        return [{ code: clocks === "twice" ? "TIME_DST_AMBIGUOUS" : "TIME_DST_NONEXISTENT", measured: wallText(wall), limit: siteZone }];
      }),
    ],
  };
}

/** The phone's clock counts only with its difference to ours measured: an unchecked clock can be set to anything. */
function byDevice(device: DeviceClaims): Undecided {
  const { capturedAt, offsetToServerMs, roundTripMs } = device;
  if (capturedAt === undefined || offsetToServerMs === undefined || roundTripMs === undefined) {
    const measured = capturedAt === undefined ? "no usable time in the file" : `phone says ${capturedAt}, never compared with our clock`;
    return { ...NOTHING, flags: [{ code: "TIME_MISSING", measured, limit: "a time with a known zone" }] };
  }
  return {
    ...NOTHING,
    candidates: [{ at: Math.round(Date.parse(capturedAt) + offsetToServerMs), basis: "DEVICE_CAPTURE" }],
    uncertaintySeconds: UNCERTAINTY_SECONDS.DEVICE_CAPTURE + roundTripMs / 2 / SECOND,
  };
}

const NOTHING: Undecided = { candidates: [], uncertaintySeconds: null, cameraOffsetSeconds: null, cameraDriftSeconds: null, flags: [] };

/**
 * A phone whose clock was found wrong by more than the camera's uncertainty takes photos with that wrong clock. Whether
 * this photo is one of them cannot be known
 * (it may come from another camera), so both readings stay.
 */
function withPhoneClock(undecided: Undecided, device: DeviceClaims): Undecided {
  const offsetMs = Math.round(device.offsetToServerMs ?? 0);
  const byCameraClock = undecided.candidates.filter(({ basis }) => basis === "EXIF_OFFSET" || basis === "SITE_ZONE_ASSUMED");
  if (byCameraClock.length === 0 || Math.abs(offsetMs) <= UNCERTAINTY_SECONDS.EXIF_OFFSET * SECOND) return undecided;

  const measured = `phone clock ${Math.abs(offsetMs) / SECOND} s ${offsetMs > 0 ? "behind" : "ahead of"} the server`;
  return {
    ...undecided,
    candidates: [...undecided.candidates, ...byCameraClock.map(({ at, basis }) => ({ at: at + offsetMs, basis }))],
    flags: [...undecided.flags, { code: "METADATA_CONFLICT", measured, limit: `${UNCERTAINTY_SECONDS.EXIF_OFFSET} s` }],
  };
}

function readGps(gps: PhotoClaims["gps"]): { readonly instant: Instant | null; readonly flags: readonly PhotoFlag[] } {
  const { dateStamp, timeStamp } = gps;
  // A time without a date, or the other way round, says nothing.
  if (dateStamp === null || timeStamp === null || isBlankTime(dateStamp) || isVoid(gps)) return { instant: null, flags: [] };

  const instant = parseGpsInstant(dateStamp, timeStamp);
  if (instant !== null) return { instant, flags: [] };
  const measured = `GPS time ${dateStamp} ${timeStamp}`;
  return { instant: null, flags: [{ code: "GPS_INVALID", measured, limit: "a date after 1980-01-06 and a time of day, in fractions" }] };
}

function offsetFlags(cameraOffsetSeconds: number | null, hypotheses: readonly Instant[], siteZone: string): PhotoFlag[] {
  const [shown] = hypotheses;
  if (cameraOffsetSeconds === null || shown === undefined) return [];
  const site = siteOffsetSeconds(shown, siteZone);
  if (site === cameraOffsetSeconds) return [];
  return [{ code: "TIME_OFFSET_NOT_SITE", measured: `camera ${offsetText(cameraOffsetSeconds)}`, limit: `site ${offsetText(site)} on that date` }];
}

function gpsMismatch(measured: string, limit: string): PhotoFlag {
  return { code: "TIME_GPS_MISMATCH", measured, limit };
}

function isoText(instant: Instant): string {
  return new Date(instant).toISOString();
}

function wallText({ year, month, day, hour, minute, second }: WallTime): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${String(year).padStart(4, "0")}:${two(month)}:${two(day)} ${two(hour)}:${two(minute)}:${two(second)}`;
}
