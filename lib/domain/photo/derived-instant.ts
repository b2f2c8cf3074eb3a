import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import { NO_CAMERA_KNOWLEDGE } from "#lib/domain/photo/camera-clock";
import type { CameraKnowledge } from "#lib/domain/photo/camera-clock";
import { readCamera } from "#lib/domain/photo/camera-time";
import type { CameraReading } from "#lib/domain/photo/camera-time";
import { instantAt, offsetText } from "#lib/domain/photo/capture-time";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { readGps } from "#lib/domain/photo/gps-time";
import { candidatesOf, gpsMismatch, isoText } from "#lib/domain/photo/hypothesis";
import type { Clues, Undecided } from "#lib/domain/photo/hypothesis";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { withPhoneClock, withSeries } from "#lib/domain/photo/other-clock";
import { siteOffsetSeconds, summerTimeShift } from "#lib/domain/photo/site-zone";

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
  /** Zone part of the camera's clock, seconds east of UTC, where a tag, GPS or its confirmed clock tells. */
  readonly cameraOffsetSeconds: number | null;
  /** Rest of the camera's clock against GPS or its confirmed clock, seconds, positive when fast. */
  readonly cameraDriftSeconds: number | null;
  /** Seconds to add to what the camera's clock showed to have the site's clock time of the first reading; null without either. */
  readonly correctedBySeconds: number | null;
  readonly flags: readonly PhotoFlag[];
}

export interface TimeContext {
  /** IANA name of the site's zone. */
  readonly siteZone: string;
  /** When the file reached the server. */
  readonly receivedAt: Instant;
  readonly limits?: PhotoLimits;
  readonly camera?: CameraKnowledge;
  /** Zones that a camera without zone may be in beside the site's, as the QC manager named them. IANA names. */
  readonly otherZones?: readonly string[];
}

/**
 * Derives when a photo was taken from what the file and the phone claim, and from what is known of its camera. It never uses the
 * zone of the machine it runs on, and it decides nothing that the claims leave open: every reading that is still possible is returned.
 *
 * In this order: the camera's time with its offset tag; the camera's time against its GPS time, whose difference must be a
 * quarter hour within the drift limit and a zone in −12:00…+14:00; the camera's time by its confirmed clock; GPS alone; the camera's
 * time in the site's zone, that ± 1 h, and UTC; the phone's clock at capture, corrected by its measured difference to ours.
 * Two claims that disagree are both kept. With an offset tag a confirmed clock tells the drift; beside GPS within the drift limit it
 * widens the uncertainty where the fix looks older than the exposure. GPS time known to be that of an older fix is left out, and said.
 *
 * Readings later than receipt (plus the uncertainty) drop out unless that leaves none; of those in an assumed zone also the ones that
 * the camera's other photos contradict.
 *
 * @throws RangeError for an unknown zone.
 */
export function deriveInstant(claims: PhotoClaims, context: TimeContext): DerivedInstant {
  const { siteZone, receivedAt, limits = PHOTO_LIMIT_DEFAULTS, camera: known = NO_CAMERA_KNOWLEDGE, otherZones = [] } = context;
  const camera = readCamera(claims.camera, limits.sameExposureSeconds);
  const gps = readGps(claims.gps);
  const isStale = known.gpsIsStale && gps.instant !== null;
  const clues: Clues = { camera: camera.reading, gps: isStale ? null : gps.instant, device: claims.device, known, siteZone, otherZones, limits };

  const possible = notLaterThan(receivedAt, withPhoneClock(candidatesOf(clues), clues));
  const undecided = notLaterThan(receivedAt, withSeries(possible, clues));
  const hypotheses = [...new Set(undecided.candidates.map(({ at }) => at))];
  const [first] = undecided.candidates;
  const stale = isStale && gps.instant !== null ? [staleFlag(claims, gps.instant, limits)] : [];

  return {
    instant: hypotheses.length === 1 ? (hypotheses[0] ?? null) : null,
    hypotheses,
    basis: first?.basis ?? "NONE",
    uncertaintySeconds: undecided.uncertaintySeconds,
    cameraSays: claims.camera.dateTimeOriginal,
    cameraOffsetSeconds: undecided.cameraOffsetSeconds,
    cameraDriftSeconds: undecided.cameraDriftSeconds,
    correctedBySeconds: correction(camera.reading, first?.at, siteZone),
    flags: [...camera.flags, ...gps.flags, ...stale, ...undecided.flags, ...offsetFlags(undecided.cameraOffsetSeconds, hypotheses, siteZone)],
  };
}

/** Nothing is taken after it was received, unless a clock is wrong: then every reading stays, and the order says so. */
function notLaterThan(receivedAt: Instant, undecided: Undecided): Undecided {
  const latest = receivedAt + (undecided.uncertaintySeconds ?? 0) * SECOND;
  const candidates = undecided.candidates.filter(({ at }) => at <= latest);
  return candidates.length === 0 ? undecided : { ...undecided, candidates };
}

function correction(camera: CameraReading | null, at: Instant | undefined, siteZone: string): number | null {
  if (camera === null || at === undefined) return null;
  return (at - instantAt(camera.wall, 0)) / SECOND + siteOffsetSeconds(at, siteZone);
}

function staleFlag(claims: PhotoClaims, gps: Instant, limits: PhotoLimits): PhotoFlag {
  const measured = `camera ${claims.camera.dateTimeOriginal}, GPS ${isoText(gps)} of an older fix by the camera's other photos`;
  return gpsMismatch(measured, `GPS time that moves with the camera's, within ${limits.driftSeconds} s of its median`);
}

function offsetFlags(cameraOffsetSeconds: number | null, hypotheses: readonly Instant[], siteZone: string): PhotoFlag[] {
  const [shown] = hypotheses;
  if (cameraOffsetSeconds === null || shown === undefined) return [];
  const site = siteOffsetSeconds(shown, siteZone);
  if (site === cameraOffsetSeconds) return [];
  const left = summerTimeShift(cameraOffsetSeconds, shown, siteZone);
  const measured = [`camera ${offsetText(cameraOffsetSeconds)}`, ...(left === null ? [] : [left.replace("camera ", "")])].join(", ");
  return [{ code: "TIME_OFFSET_NOT_SITE", measured, limit: `site ${offsetText(site)} on that date` }];
}
