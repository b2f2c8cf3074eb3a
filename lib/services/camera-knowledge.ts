import { cameraClock, cameraKey, cameraSeries, NO_CAMERA_KNOWLEDGE, type CameraClock, type CameraKnowledge, type CameraReference } from "#lib/domain/photo/camera-clock";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import type { ConfirmedClock } from "#lib/db/camera";
import type { Photo } from "#lib/db/evidence";

/** A person who confirms a clock looks at it, so that one photo of the clock page is enough. */
const FEWEST_CONFIRMED = 1;

/** The clock that references give when the QC manager confirms it; null where they give none. */
export function confirmedClock(references: readonly CameraReference[], limits: PhotoLimits): CameraClock | null {
  return cameraClock(references, { limits, minimum: FEWEST_CONFIRMED });
}

interface CameraFacts {
  confirmed: CameraClock | null;
  series: CameraClock | null;
  stale: ReadonlySet<string>;
}

/** What is known of the camera of each photo, worked out once for each camera and set of limits. The last confirmation of a camera holds. */
export function cameraKnowledge(
  references: ReadonlyMap<string, readonly CameraReference[]>,
  confirmations: readonly Pick<ConfirmedClock, "camera" | "references">[],
  limitsAt: (seq: number) => PhotoLimits,
): (photo: Pick<Photo, "id" | "seq" | "by" | "claims">) => CameraKnowledge {
  const confirmed = new Map(confirmations.map((one) => [one.camera, one.references]));
  const known = new Map<PhotoLimits, Map<string, CameraFacts>>();
  const factsOf = (camera: string, limits: PhotoLimits): CameraFacts => {
    const own = references.get(camera) ?? [];
    const frozen = confirmed.get(camera);
    const { clock, stale } = cameraSeries(own, limits);
    return { confirmed: frozen ? confirmedClock(frozen, limits) : null, series: clock, stale };
  };

  return ({ id, seq, by, claims }) => {
    const camera = cameraKey(claims.camera, by);
    if (camera === null || !(references.has(camera) || confirmed.has(camera))) return NO_CAMERA_KNOWLEDGE;
    const limits = limitsAt(seq);
    const under = known.get(limits) ?? new Map<string, CameraFacts>();
    known.set(limits, under);
    const facts = under.get(camera) ?? factsOf(camera, limits);
    under.set(camera, facts);
    return { confirmed: facts.confirmed, series: facts.series, gpsIsStale: facts.stale.has(id) };
  };
}
