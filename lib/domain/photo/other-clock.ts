import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import { clockReadings } from "#lib/domain/photo/camera-clock";
import type { ClockReading } from "#lib/domain/photo/camera-clock";
import { wallIso } from "#lib/domain/photo/capture-time";
import { deviceCapture } from "#lib/domain/photo/device-time";
import { by, conflict } from "#lib/domain/photo/hypothesis";
import type { Clues, Hypothesis, Undecided } from "#lib/domain/photo/hypothesis";

/**
 * A phone whose clock was found wrong by more than the camera's uncertainty takes photos with that wrong clock. Whether this photo is
 * one of them cannot be known (it may come from another camera), so both readings stay. A confirmed clock that agrees with the
 * phone's corrected time of capture has the error in it already.
 */
export function withPhoneClock(undecided: Undecided, { device, limits }: Clues): Undecided {
  const offsetMs = Math.round(device.offsetToServerMs ?? 0);
  if (Math.abs(offsetMs) <= limits.exifOffsetSeconds * SECOND) return undecided;

  const capture = deviceCapture(device);
  const isKnown = (at: Instant) => capture !== null && Math.abs(capture.at - at) <= (limits.exifOffsetSeconds + capture.halfExchangeSeconds) * SECOND;
  const byCameraClock = undecided.candidates.filter(
    ({ at, basis }) => basis === "EXIF_OFFSET" || basis === "SITE_ZONE_ASSUMED" || (basis === "CAMERA_REFERENCE" && !isKnown(at)),
  );
  if (byCameraClock.length === 0) return undecided;

  const measured = `phone clock ${Math.abs(offsetMs) / SECOND} s ${offsetMs > 0 ? "behind" : "ahead of"} the server`;
  return {
    ...undecided,
    candidates: [...undecided.candidates, ...byCameraClock.map(({ at, basis }) => ({ at: at + offsetMs, basis, unshifted: at }))],
    flags: [...undecided.flags, conflict(measured, `${limits.exifOffsetSeconds} s`)],
  };
}

/**
 * Of readings in an assumed zone keeps those that agree with what the camera's other photos show, unless none does. A reading that
 * the other photos show and nobody thought of joins them: the camera may be in another zone. A zone that the file gives is not
 * touched: a phone changes zones, and its other photos do not know.
 */
export function withSeries(undecided: Undecided, { camera, known }: Clues): Undecided {
  const u = undecided.uncertaintySeconds;
  const isAssumed = ({ basis }: Hypothesis) => basis === "SITE_ZONE_ASSUMED";
  if (camera === null || known.series === null || u === null || !undecided.candidates.some(isAssumed)) return undecided;

  const { series } = known;
  const shown = [camera.wall, ...camera.otherWalls.map(({ wall }) => wall)].flatMap((wall) => clockReadings(series, wallIso(wall)));
  const apart = (one: Hypothesis, reading: ClockReading) => Math.abs((one.unshifted ?? one.at) - reading.at) / SECOND;
  const agrees = (one: Hypothesis, reading: ClockReading) => apart(one, reading) <= u + reading.uncertaintySeconds;
  // GPS time that the camera's clock bears out, whatever that clock shows, leaves an assumed zone nothing to say.
  const isBorneOut = (one: Hypothesis) => one.basis === "GPS_ONLY" && shown.some((reading) => reading.firm && apart(one, reading) <= reading.uncertaintySeconds);

  const agreeing = undecided.candidates.filter((one) => (isAssumed(one) ? shown.some((reading) => agrees(one, reading)) : isBorneOut(one)));
  const kept = agreeing.length === 0 ? undecided.candidates : undecided.candidates.filter((one) => !isAssumed(one) || agreeing.includes(one));
  const missing = shown.filter((reading) => !undecided.candidates.some((one) => agrees(one, reading)));
  const reach = (one: Hypothesis) => Math.min(...shown.map((reading) => (apart(one, reading) <= u ? u : apart(one, reading) + reading.uncertaintySeconds)));
  return {
    ...undecided,
    candidates: [...kept, ...missing.map(({ at }) => by("SITE_ZONE_ASSUMED", at))],
    uncertaintySeconds: Math.max(u, ...agreeing.map(reach), ...missing.map(({ uncertaintySeconds }) => uncertaintySeconds)),
  };
}
