import type { CameraReference, CameraSource } from "#lib/domain/photo/camera-clock";
import { at } from "#tests/domain/photo/claims-factory";

/** What a clock `aheadSeconds` ahead of UTC showed at a true time. */
export function reference(trueTime: string, aheadSeconds: number, source: CameraSource = "GPS time", photo = `${source} ${trueTime}`): CameraReference {
  const wall = new Date(at(trueTime) + aheadSeconds * 1000).toISOString().slice(0, -1);
  return { source, photo, wall, at: at(trueTime) };
}
