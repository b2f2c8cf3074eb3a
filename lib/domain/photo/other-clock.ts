import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import { clockReadings } from "#lib/domain/photo/camera-clock";
import { wallIso } from "#lib/domain/photo/capture-time";
import { deviceCapture } from "#lib/domain/photo/device-time";
import { by, conflict, widest } from "#lib/domain/photo/hypothesis";
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
 * Of readings in an assumed zone keeps those that agree with what the camera's other photos show. Where none agrees nothing is ruled
 * out, and the reading that the other photos give joins them: the camera is in a zone that was not thought of. A zone that the file
 * gives is not touched: a phone changes zones, and its other photos do not know.
 */
export function withSeries(undecided: Undecided, { camera, known }: Clues): Undecided {
  const u = undecided.uncertaintySeconds;
  const isAssumed = ({ basis }: Hypothesis) => basis === "SITE_ZONE_ASSUMED";
  const assumed = undecided.candidates.filter(isAssumed);
  if (camera === null || known.series === null || u === null || assumed.length === 0) return undecided;

  const { series } = known;
  const shown = [camera.wall, ...camera.otherWalls.map(({ wall }) => wall)].flatMap((wall) => clockReadings(series, wallIso(wall)));
  const nearest = ({ at, unshifted }: Hypothesis) =>
    shown
      .map((one) => ({ apart: Math.abs(one.at - (unshifted ?? at)) / SECOND, uncertaintySeconds: one.uncertaintySeconds }))
      .filter(({ apart, uncertaintySeconds }) => apart <= u + uncertaintySeconds)
      .sort((a, b) => a.apart - b.apart)[0];
  const agreeing = assumed.flatMap((one) => {
    const near = nearest(one);
    return near === undefined ? [] : [{ one, reach: near.apart <= u ? u : near.apart + near.uncertaintySeconds }];
  });

  if (agreeing.length === 0) {
    return { ...undecided, candidates: [...undecided.candidates, ...shown.map(({ at }) => by("SITE_ZONE_ASSUMED", at))], uncertaintySeconds: Math.max(u, widest(shown)) };
  }
  const kept = new Set(agreeing.map(({ one }) => one));
  return {
    ...undecided,
    candidates: undecided.candidates.filter((one) => !isAssumed(one) || kept.has(one)),
    uncertaintySeconds: Math.max(u, ...agreeing.map(({ reach }) => reach)),
  };
}
