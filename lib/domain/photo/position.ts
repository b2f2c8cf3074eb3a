import type { DeviceClaims, PhotoClaims } from "#lib/domain/photo/claims";
import { parseRationals } from "#lib/domain/photo/rational";

/** A place on the WGS 84 ellipsoid. */
export interface Position {
  /** Degrees, −90…90, north positive. */
  readonly latitude: number;
  /** Degrees, −180…180, east positive. */
  readonly longitude: number;
  /** Radius in metres that holds the true place with about 68 %; null when the source states none. */
  readonly errorM: number | null;
}

export type PositionReading =
  | { readonly kind: "position"; readonly position: Position }
  | { readonly kind: "missing" }
  | { readonly kind: "invalid"; readonly measured: string; readonly limit: string };

/**
 * The position that the file states, from its own numbers and reference letters. It is invalid, never guessed, when a
 * number has a zero denominator or is out of
 * range, when a reference letter is missing or odd (a bare number is not "north"), when only one half is there, when the
 * receiver says that its measurement was
 * interrupted (status V), and at exactly 0, 0, which is what a receiver without a fix writes.
 *
 * @source CIPA DC-008-2019, GPS IFD; the 0, 0 rule is common practice, no source.
 */
export function filePosition(gps: PhotoClaims["gps"]): PositionReading {
  if (gps.latitude === null && gps.longitude === null) return { kind: "missing" };
  if (isVoid(gps)) return { kind: "invalid", measured: `GPS status ${gps.status}`, limit: "A, measuring" };

  const latitude = signedDegrees(gps.latitude, gps.latitudeRef, { positive: "N", negative: "S", max: 90 });
  const longitude = signedDegrees(gps.longitude, gps.longitudeRef, { positive: "E", negative: "W", max: 180 });
  const written = (text: string | null, letter: string | null) => `${text ?? "none"} ${letter ?? "no letter"}`;
  const measured = `latitude ${written(gps.latitude, gps.latitudeRef)}, longitude ${written(gps.longitude, gps.longitudeRef)}`;
  if (latitude === null || longitude === null) {
    return { kind: "invalid", measured, limit: "degrees, minutes, seconds in range, with N or S and E or W" };
  }
  if (latitude === 0 && longitude === 0) return { kind: "invalid", measured, limit: "not exactly 0, 0" };
  return { kind: "position", position: { latitude, longitude, errorM: statedErrorM(gps.hPositioningError) } };
}

/** The place that the phone's page stated at capture. Its accuracy is a 95 % radius, so half of it is taken as the 68 % one. */
export function devicePosition(device: DeviceClaims): PositionReading {
  if (device.latitude === undefined || device.longitude === undefined) return { kind: "missing" };
  const errorM = device.accuracyM === undefined ? null : device.accuracyM / 2;
  return { kind: "position", position: { latitude: device.latitude, longitude: device.longitude, errorM } };
}

/** The position to judge a photo by: the file's own, else the phone's, else none. */
export function bestPosition(claims: PhotoClaims): Position | null {
  for (const reading of [filePosition(claims.gps), devicePosition(claims.device)]) {
    if (reading.kind === "position") return reading.position;
  }
  return null;
}

/** True when the receiver says that its measurement was interrupted: what it wrote is old or made up. */
export function isVoid(gps: PhotoClaims["gps"]): boolean {
  return gps.status !== null && gps.status.toUpperCase() === "V";
}

/**
 * Degrees, minutes and seconds ("44 0 7.2" or "44/1 0/1 72/10") with a reference letter, as signed degrees.
 *
 * @returns Null when a number is invalid, a part is out of range (minutes and seconds under 60) or the letter is not one
 * of the two.
 */
export function signedDegrees(
  text: string | null,
  letter: string | null,
  axis: { readonly positive: string; readonly negative: string; readonly max: number },
): number | null {
  const parts = text === null ? null : parseRationals(text, 3);
  if (!parts || (letter !== axis.positive && letter !== axis.negative)) return null;

  const [degrees, minutes, seconds] = parts as [number, number, number];
  if (minutes >= 60 || seconds >= 60) return null;
  const size = degrees + minutes / 60 + seconds / 3600;
  if (size > axis.max) return null;
  return letter === axis.negative && size !== 0 ? -size : size;
}

/** The stated horizontal error in metres. Zero is no statement: no receiver is that good. */
function statedErrorM(text: string | null): number | null {
  const [error] = (text === null ? null : parseRationals(text, 1)) ?? [];
  return error === undefined || error === 0 ? null : error;
}
