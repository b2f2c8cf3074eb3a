import type { CameraClock, CameraReference, CameraSource } from "#lib/domain/photo/camera-clock";
import { at } from "#tests/domain/photo/claims-factory";

/** What a clock `aheadSeconds` ahead of UTC showed at a true time. */
export function reference(trueTime: string, aheadSeconds: number, source: CameraSource = "GPS time", photo = `${source} ${trueTime}`): CameraReference {
  const wall = new Date(at(trueTime) + aheadSeconds * 1000).toISOString().slice(0, -1);
  return { source, photo, wall, at: at(trueTime) };
}

/** Three GPS times on three days of a camera left on summer time: −10 750 s is −03:00 and 50 s fast. */
export const SUMMER = [reference("2026-11-02T13:00:00Z", -10_750), reference("2026-11-03T13:19:10Z", -10_750), reference("2026-11-04T15:00:00Z", -10_750)];

/** A clock that there has to be. */
export function known(clock: CameraClock | null): CameraClock {
  if (clock === null) throw new Error("no clock");
  return clock;
}
