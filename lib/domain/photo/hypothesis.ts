import type { Instant } from "#lib/domain/instant";
import { HOUR, SECOND } from "#lib/domain/instant";
import { clockReadings, clockWords } from "#lib/domain/photo/camera-clock";
import type { CameraClock, CameraKnowledge, ClockReading } from "#lib/domain/photo/camera-clock";
import type { CameraReading } from "#lib/domain/photo/camera-time";
import { instantAt, isOffsetInUse, offsetText, wallIso } from "#lib/domain/photo/capture-time";
import type { WallTime } from "#lib/domain/photo/capture-time";
import type { DeviceClaims } from "#lib/domain/photo/claims";
import { zoneAndRest } from "#lib/domain/photo/clock-run";
import type { TimeBasis } from "#lib/domain/photo/derived-instant";
import { deviceCapture } from "#lib/domain/photo/device-time";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { siteInstants } from "#lib/domain/photo/site-zone";

/** One reading of when a photo was taken. */
export interface Hypothesis {
  readonly at: Instant;
  readonly basis: TimeBasis;
  /** The reading by the camera's clock that this one shifts by the phone's measured error; null for any other. */
  readonly unshifted: Instant | null;
}

export interface Undecided {
  /** The first is the one to show. */
  readonly candidates: readonly Hypothesis[];
  /** Each is good to ± this many seconds; null without one. */
  readonly uncertaintySeconds: number | null;
  readonly cameraOffsetSeconds: number | null;
  readonly cameraDriftSeconds: number | null;
  readonly flags: readonly PhotoFlag[];
}

export interface Clues {
  readonly camera: CameraReading | null;
  /** Null where there is none, or only that of an older fix. */
  readonly gps: Instant | null;
  readonly device: DeviceClaims;
  readonly known: CameraKnowledge;
  readonly siteZone: string;
  /** Zones that the QC manager named beside the site's, IANA names. */
  readonly otherZones: readonly string[];
  readonly limits: PhotoLimits;
}

const NOTHING: Undecided = { candidates: [], uncertaintySeconds: null, cameraOffsetSeconds: null, cameraDriftSeconds: null, flags: [] };

/** A reading as it stands. */
export const by = (basis: TimeBasis, at: Instant): Hypothesis => ({ at, basis, unshifted: null });

/** Every reading that the clues leave open, before what other knowledge rules out. */
export function candidatesOf(clues: Clues): Undecided {
  const { camera, gps, known } = clues;
  if (camera === null) return gps === null ? byDevice(clues) : byGpsAlone(gps, clues);
  if (camera.offsetSeconds !== null) return byOffsetTag(camera, camera.offsetSeconds, clues);
  if (gps !== null) return byGpsDelta(camera, gps, clues);
  return known.confirmed === null ? bySiteZone(camera, clues) : byConfirmedClock(camera, clues);
}

/** The camera gives its zone. GPS, or else a confirmed clock, corrects what is left; too far apart, both stand. */
function byOffsetTag(camera: CameraReading, offsetSeconds: number, clues: Clues): Undecided {
  const { gps, limits } = clues;
  const bySelf = instantAt(camera.wall, offsetSeconds);
  const drift = gps === null ? null : bySelf - gps;
  if (gps !== null && drift !== null && Math.abs(drift) <= limits.driftSeconds * SECOND) {
    return byGps(gps, { cameraOffsetSeconds: offsetSeconds, cameraDriftSeconds: drift / SECOND, flags: [] }, camera, clues);
  }

  const own = camera.otherWalls.map(({ wall, offsetSeconds: other }) => instantAt(wall, other ?? offsetSeconds));
  const tagged: Undecided = {
    candidates: [bySelf, ...own].map((at) => by("EXIF_OFFSET", at)),
    uncertaintySeconds: limits.exifOffsetSeconds,
    cameraOffsetSeconds: offsetSeconds,
    cameraDriftSeconds: null,
    flags: [],
  };
  if (gps === null) return taggedByConfirmedClock(camera, bySelf, tagged, clues);
  const measured = `camera ${camera.text} ${offsetText(offsetSeconds)}, GPS ${isoText(gps)}`;
  return {
    ...tagged,
    candidates: [...tagged.candidates, by("GPS_ONLY", gps)],
    uncertaintySeconds: Math.max(limits.exifOffsetSeconds, limits.gpsOnlySeconds),
    flags: [gpsMismatch(measured, `${limits.driftSeconds} s apart`)],
  };
}

/**
 * A confirmed clock tells the drift that the tag leaves open. Where it contradicts the tag, somebody set the clock or the zone since: both
 * stand, unless the camera's other photos side with the tag (a phone that changed zones).
 */
function taggedByConfirmedClock(camera: CameraReading, bySelf: Instant, tagged: Undecided, clues: Clues): Undecided {
  const clock = byClock(camera.wall, clues);
  if (clock === null || camera.otherWalls.length > 0) return tagged;

  const { limits } = clues;
  const agrees = ({ at, uncertaintySeconds, zoneSeconds }: ClockReading) =>
    zoneSeconds === tagged.cameraOffsetSeconds || Math.abs(at - bySelf) <= (limits.exifOffsetSeconds + uncertaintySeconds) * SECOND;
  const same = clock.readings.filter(agrees);
  const [first] = same;
  if (first === undefined && clock.since.some((one) => one.firm && agrees(one))) return tagged;
  if (first === undefined) {
    const measured = `camera ${camera.text} ${offsetText(tagged.cameraOffsetSeconds ?? 0)}, its confirmed clock ${clockWords(clock.first)}`;
    return {
      ...tagged,
      candidates: [...tagged.candidates, ...clock.candidates],
      uncertaintySeconds: Math.max(limits.exifOffsetSeconds, clock.uncertaintySeconds),
      flags: [conflict(measured, `${limits.exifOffsetSeconds} s apart`)],
    };
  }

  const uncertaintySeconds = widest([...same, ...clock.since]);
  // A clock that was last checked long ago tells less than the tag, unless it was already known to be further off.
  const isBetter = widest(same) < limits.exifOffsetSeconds || same.every(({ at }) => Math.abs(at - bySelf) > limits.exifOffsetSeconds * SECOND);
  const told = isBetter ? same.map(({ at }) => by("CAMERA_REFERENCE", at)) : tagged.candidates;
  return {
    ...tagged,
    candidates: [...told, ...clock.since.map(({ at }) => by("CAMERA_REFERENCE", at))],
    uncertaintySeconds: isBetter ? uncertaintySeconds : Math.max(limits.exifOffsetSeconds, ...clock.since.map((one) => one.uncertaintySeconds)),
    cameraDriftSeconds: isBetter ? (bySelf - first.at) / SECOND : null,
    flags: clock.flags,
  };
}

/** The camera gives no zone, GPS gives UTC: the difference is zone and drift, if it can be one. */
function byGpsDelta(camera: CameraReading, gps: Instant, clues: Clues): Undecided {
  const { known, limits } = clues;
  const { zoneMs, restMs } = zoneAndRest(instantAt(camera.wall, 0) - gps);
  const isZone = Math.abs(restMs) <= limits.driftSeconds * SECOND && isOffsetInUse(zoneMs / SECOND);
  const clock = byClock(camera.wall, clues);
  // A confirmed clock may be off by more than drift: then its photos' difference is as it was confirmed.
  const isAsConfirmed =
    clock?.readings.some(({ at, uncertaintySeconds, firm }) => firm && Math.abs(at - gps) <= (limits.gpsDeltaSeconds + uncertaintySeconds) * SECOND) ?? false;

  if (isZone || isAsConfirmed) {
    const [cameraOffsetSeconds, cameraDriftSeconds] = [zoneMs / SECOND, restMs / SECOND];
    const measured = `camera ${camera.text}, GPS ${isoText(gps)}: ${offsetText(cameraOffsetSeconds)} and ${cameraDriftSeconds} s`;
    const inferred: PhotoFlag = { code: "TIME_ZONE_INFERRED", measured, limit: "no offset in the file" };
    return byGps(gps, { cameraOffsetSeconds, cameraDriftSeconds, flags: [inferred] }, camera, clues);
  }

  // Either clock may be the wrong one, so the readings of both stay.
  const assumed = known.confirmed === null ? bySiteZone(camera, clues) : byConfirmedClock(camera, clues);
  const gpsAlone = by("GPS_ONLY", gps);
  return {
    ...assumed,
    candidates: known.confirmed === null ? [gpsAlone, ...assumed.candidates] : [...assumed.candidates, gpsAlone],
    uncertaintySeconds: Math.max(assumed.uncertaintySeconds ?? 0, limits.gpsOnlySeconds),
    flags: [
      ...assumed.flags,
      gpsMismatch(`camera ${camera.text}, GPS ${isoText(gps)}`, `a quarter hour within ${limits.driftSeconds} s, from -12:00 to +14:00`),
    ],
  };
}

/**
 * GPS time that the camera's own time bears out. A clock that says otherwise by more than drift keeps its own reading beside it; by
 * less, the uncertainty takes both in. A clock that nobody confirmed counts only where it puts the photo later: a fix may be old, never new.
 */
function byGps(gps: Instant, told: Pick<Undecided, "cameraOffsetSeconds" | "cameraDriftSeconds" | "flags">, camera: CameraReading, clues: Clues): Undecided {
  const { known, limits } = clues;
  const settled: Undecided = { ...told, candidates: [by("GPS_DELTA", gps)], uncertaintySeconds: limits.gpsDeltaSeconds };
  const wall = wallIso(camera.wall);
  const far = ({ at, uncertaintySeconds }: ClockReading) => Math.abs(at - gps) > (limits.driftSeconds + uncertaintySeconds) * SECOND;

  // A reading that is not firm may rest on this very fix.
  const firmOf = (clock: CameraClock | null) => (clock === null ? [] : clockReadings(clock, wall).filter(({ firm }) => firm));
  const [confirmed, series] = [firmOf(known.confirmed), firmOf(known.series)];
  const others = [...confirmed, ...series.filter(({ at }) => at > gps)];
  // The tag and GPS bear each other out; only where GPS alone gives the zone can an old fix pass for another zone.
  const isBorneOut = camera.offsetSeconds !== null || [...confirmed, ...series].some((reading) => !far(reading));
  if (isBorneOut || others.length === 0) return widened(settled, gps, confirmed, limits);

  const [first] = others;
  const measured = `camera ${camera.text}, GPS ${isoText(gps)}, its other photos ${first === undefined ? "" : clockWords(first)}`;
  return {
    ...settled,
    candidates: [...settled.candidates, ...others.map(({ at }) => by("CAMERA_REFERENCE", at))],
    uncertaintySeconds: Math.max(limits.gpsDeltaSeconds, widest(others)),
    flags: [...settled.flags, gpsMismatch(measured, `${limits.driftSeconds} s apart`)],
  };
}

/** Takes in what a confirmed clock says within the drift limit: the fix may be up to that much older than the exposure. */
function widened(settled: Undecided, gps: Instant, confirmed: readonly ClockReading[], limits: PhotoLimits): Undecided {
  const near = confirmed
    .map(({ at, uncertaintySeconds }) => ({ apart: Math.abs(at - gps) / SECOND, uncertaintySeconds }))
    .filter(({ apart, uncertaintySeconds }) => apart <= limits.driftSeconds + uncertaintySeconds);
  if (near.length === 0 || near.some(({ apart, uncertaintySeconds }) => apart <= limits.gpsDeltaSeconds + uncertaintySeconds)) return settled;
  return { ...settled, uncertaintySeconds: Math.min(...near.map(({ apart, uncertaintySeconds }) => apart + uncertaintySeconds)) };
}

function byGpsAlone(gps: Instant, { limits }: Clues): Undecided {
  return {
    ...NOTHING,
    candidates: [by("GPS_ONLY", gps)],
    uncertaintySeconds: limits.gpsOnlySeconds,
    flags: [{ code: "TIME_FROM_GPS_ONLY", measured: `GPS ${isoText(gps)}`, limit: "no usable camera time" }],
  };
}

/** No zone in the file, but the QC manager has confirmed how the camera's clock ran. */
function byConfirmedClock(camera: CameraReading, clues: Clues): Undecided {
  const clocks = [camera.wall, ...camera.otherWalls.map(({ wall }) => wall)].flatMap((wall) => byClock(wall, clues) ?? []);
  const [clock] = clocks;
  if (clock === undefined) return NOTHING;

  return {
    candidates: clocks.flatMap(({ candidates }) => candidates),
    uncertaintySeconds: Math.max(...clocks.map(({ uncertaintySeconds }) => uncertaintySeconds)),
    cameraOffsetSeconds: clock.first.zoneSeconds,
    cameraDriftSeconds: clock.first.restSeconds,
    flags: [
      { code: "TIME_ZONE_INFERRED", measured: `camera ${camera.text}, its confirmed clock ${clockWords(clock.first)}`, limit: "no offset in the file" },
      ...clocks.flatMap(({ flags }) => flags),
    ],
  };
}

/** A wall time by the confirmed clock, and `since`: what the camera's photos say where that is something else. */
function byClock(wall: WallTime, { known, limits }: Clues) {
  if (known.confirmed === null) return null;
  const readings = clockReadings(known.confirmed, wallIso(wall));
  const [first] = readings;
  if (first === undefined) return null;

  const shown = known.series === null ? [] : clockReadings(known.series, wallIso(wall));
  const isElsewhere = (one: ClockReading, other: ClockReading) =>
    Math.abs(other.at - one.at) > (limits.driftSeconds + other.uncertaintySeconds + one.uncertaintySeconds) * SECOND;
  const since = shown.filter((one) => readings.every((other) => isElsewhere(one, other)));
  const all = [...readings, ...since];
  return {
    first,
    readings,
    since,
    candidates: all.map(({ at }) => by("CAMERA_REFERENCE", at)),
    uncertaintySeconds: widest(all),
    flags: since.map((one) => conflict(`confirmed clock ${clockWords(first)}, photos since ${clockWords(one)}`, `${limits.driftSeconds} s apart`)),
  };
}

/** No zone at all: the site's own, the same forgotten at a change of clocks (± 1 h), a camera left on UTC, and zones that were named. */
function bySiteZone(camera: CameraReading, { siteZone, otherZones, limits }: Clues): Undecided {
  const site = [camera.wall, ...camera.otherWalls.map(({ wall }) => wall)].map((wall) => ({ wall, ...siteInstants(wall, siteZone) }));
  const inZone = site.flatMap(({ instants }) => instants);
  const named = otherZones.flatMap((zone) => site.flatMap(({ wall }) => siteInstants(wall, zone).instants));
  const all = [...inZone, ...inZone.flatMap((at) => [at - HOUR, at + HOUR]), ...site.map(({ wall }) => instantAt(wall, 0)), ...named];

  return {
    ...NOTHING,
    candidates: all.map((at) => by("SITE_ZONE_ASSUMED", at)),
    uncertaintySeconds: limits.siteZoneSeconds,
    flags: [
      { code: "TIME_ZONE_ASSUMED_SITE", measured: `${camera.text}, no offset`, limit: [`${siteZone}, that ± 1 h, and UTC`, ...otherZones].join(", and ") },
      ...site.flatMap(({ wall, clocks }): PhotoFlag[] => {
        if (clocks === "once") return [];
        return [{ code: clocks === "twice" ? "TIME_DST_AMBIGUOUS" : "TIME_DST_NONEXISTENT", measured: wallText(wall), limit: siteZone }];
      }),
    ],
  };
}

/** The phone's clock counts only with its difference to ours measured: an unchecked clock can be set to anything. */
function byDevice({ device, limits }: Clues): Undecided {
  const capture = deviceCapture(device);
  if (capture === null) {
    const measured = device.capturedAt === undefined ? "no usable time in the file" : `phone says ${device.capturedAt}, never compared with our clock`;
    return { ...NOTHING, flags: [{ code: "TIME_MISSING", measured, limit: "a time with a known zone" }] };
  }
  return { ...NOTHING, candidates: [by("DEVICE_CAPTURE", capture.at)], uncertaintySeconds: limits.deviceSeconds + capture.halfExchangeSeconds };
}

function widest(readings: readonly { readonly uncertaintySeconds: number }[]): number {
  return Math.max(...readings.map(({ uncertaintySeconds }) => uncertaintySeconds));
}

export function gpsMismatch(measured: string, limit: string): PhotoFlag {
  return { code: "TIME_GPS_MISMATCH", measured, limit };
}

export function conflict(measured: string, limit: string): PhotoFlag {
  return { code: "METADATA_CONFLICT", measured, limit };
}

export function isoText(instant: Instant): string {
  return new Date(instant).toISOString();
}

function wallText({ year, month, day, hour, minute, second }: WallTime): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${String(year).padStart(4, "0")}:${two(month)}:${two(day)} ${two(hour)}:${two(minute)}:${two(second)}`;
}
