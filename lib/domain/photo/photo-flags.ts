import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { DerivedInstant } from "#lib/domain/photo/derived-instant";
import { editorNamed } from "#lib/domain/photo/editor";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { mergeFlags } from "#lib/domain/photo/flag";
import type { PlaceFinding } from "#lib/domain/photo/place";
import { bestPosition, filePosition } from "#lib/domain/photo/position";
import { siteMinuteOfDay } from "#lib/domain/photo/site-zone";

/** What the project says about a photo's surroundings. */
export interface FlagContext {
  readonly receivedAt: Instant;
  /** When work on the project began; null when not stated. */
  readonly projectStart: Instant | null;
  /** The shift hours in the site's zone, minutes since midnight; it may run past midnight. Null when not stated. */
  readonly shift: { readonly siteZone: string; readonly beginsMinute: number; readonly endsMinute: number } | null;
  /** Radius of the site in metres; null when not stated. */
  readonly siteRadiusM: number | null;
}

/**
 * Every flag that the claims of a photo raise: about its time, position, metadata and software. Flags about the file
 * itself (format, damage, name, repeats) come from receiving it.
 *
 * @param place  The place finding of the same photo; null when the site is not known.
 * @returns One flag for each code.
 */
export function photoFlags(claims: PhotoClaims, derived: DerivedInstant, place: PlaceFinding | null, context: FlagContext): readonly PhotoFlag[] {
  return mergeFlags([...derived.flags, ...timeFlags(derived, context), ...placeFlags(claims, place, context), ...metadataFlags(claims)]);
}

function timeFlags(derived: DerivedInstant, { receivedAt, projectStart, shift }: FlagContext): PhotoFlag[] {
  const { hypotheses, uncertaintySeconds } = derived;
  if (hypotheses.length === 0 || uncertaintySeconds === null) return [];

  const uMs = uncertaintySeconds * SECOND;
  const measured = `${hypotheses.map((at) => new Date(at).toISOString()).join(" or ")} ± ${uncertaintySeconds} s`;
  const flags: PhotoFlag[] = [];
  if (hypotheses.every((at) => at - uMs > receivedAt)) {
    flags.push({ code: "TIME_FUTURE", measured, limit: `received ${new Date(receivedAt).toISOString()}` });
  }
  if (projectStart !== null && hypotheses.every((at) => at + uMs < projectStart)) {
    flags.push({ code: "TIME_BEFORE_PROJECT", measured, limit: `project began ${new Date(projectStart).toISOString()}` });
  }
  if (shift !== null && hypotheses.every((at) => !inShift(siteMinuteOfDay(at, shift.siteZone), shift))) {
    const limit = `${clockText(shift.beginsMinute)} to ${clockText(shift.endsMinute)}, ${shift.siteZone}`;
    flags.push({ code: "TIME_OUTSIDE_SHIFT", measured, limit });
  }
  return flags;
}

function inShift(minute: number, { beginsMinute, endsMinute }: { readonly beginsMinute: number; readonly endsMinute: number }): boolean {
  if (beginsMinute <= endsMinute) return minute >= beginsMinute && minute < endsMinute;
  return minute >= beginsMinute || minute < endsMinute;
}

function clockText(minuteOfDay: number): string {
  const two = (value: number) => String(value).padStart(2, "0");
  return `${two(Math.trunc(minuteOfDay / 60))}:${two(minuteOfDay % 60)}`;
}

function placeFlags(claims: PhotoClaims, place: PlaceFinding | null, { siteRadiusM }: FlagContext): PhotoFlag[] {
  const flags: PhotoFlag[] = [];
  const file = filePosition(claims.gps);
  const best = bestPosition(claims);
  if (file.kind === "invalid") flags.push({ code: "GPS_INVALID", measured: file.measured, limit: file.limit });
  if (file.kind === "missing" && best === null) {
    flags.push({ code: "GPS_MISSING", measured: "none in the file, none from the phone", limit: "a position" });
  }

  // With an error of more than half the radius not even the middle of the site would be told apart from outside.
  if (best?.errorM != null && siteRadiusM !== null && 2 * best.errorM > siteRadiusM) {
    flags.push({ code: "GPS_LOW_ACCURACY", measured: `± ${metres(best.errorM)} m`, limit: `± ${metres(siteRadiusM / 2)} m` });
  }
  if (place?.verdict === "elsewhere" && place.distanceM !== null && place.errorM !== null && siteRadiusM !== null) {
    const measured = `${metres(place.distanceM)} m ± ${metres(place.errorM)} m`;
    flags.push({ code: "GPS_FAR", measured, limit: `within ${metres(siteRadiusM)} m of the site` });
  }
  return flags;
}

function metres(value: number): number {
  return value < 10 ? Math.round(value * 10) / 10 : Math.round(value);
}

function metadataFlags({ camera, xmp }: PhotoClaims): PhotoFlag[] {
  const flags: PhotoFlag[] = [];
  if (camera.make === null && camera.model === null && camera.dateTimeOriginal === null) {
    flags.push({ code: "NO_CAMERA_METADATA", measured: "no make, model or time", limit: "what a camera writes" });
  }
  const editor = [camera.software, xmp.creatorTool].find((text) => text !== null && editorNamed(text));
  if (editor != null) flags.push({ code: "SOFTWARE_EDITED", measured: editor, limit: "no image editor named" });
  return flags;
}
