import { SECOND } from "#lib/domain/instant";
import { instantAt, isBlankTime, parseOffsetSeconds, parseSubSeconds, parseWallTime } from "#lib/domain/photo/capture-time";
import type { WallTime } from "#lib/domain/photo/capture-time";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";

/** The camera's own time of exposure, with what speaks against it. */
export interface CameraReading {
  /** As written. */
  readonly text: string;
  readonly wall: WallTime;
  /** Seconds east of UTC from the offset tag; null without a usable one. */
  readonly offsetSeconds: number | null;
  /** Another time that the camera gives for the same moment, when it is too far from the first to be the same. */
  readonly otherWalls: readonly { readonly wall: WallTime; readonly offsetSeconds: number | null }[];
}

/**
 * Reads DateTimeOriginal with its sub-second and offset fields. Only that field dates a photo: the others tell when it was
 * digitized or changed. DateTimeDigitized,
 * which a camera writes alike, is held against it.
 *
 * @param sameExposureSeconds  A camera writes both times of one exposure within this many seconds.
 * @returns `reading` null when there is no usable time; flags for fields that cannot be read and for two times that disagree.
 */
export function readCamera(
  camera: PhotoClaims["camera"],
  sameExposureSeconds: number = PHOTO_LIMIT_DEFAULTS.sameExposureSeconds,
): { readonly reading: CameraReading | null; readonly flags: readonly PhotoFlag[] } {
  const flags: PhotoFlag[] = [];
  const note = (field: string, text: string, limit: string) => void flags.push({ code: "METADATA_INVALID", measured: `${field} ${text}`, limit });

  const text = camera.dateTimeOriginal;
  const badSubSeconds = parseSubSeconds(camera.subSecTimeOriginal) === null;
  if (badSubSeconds) note("SubSecTimeOriginal", camera.subSecTimeOriginal ?? "", "digits");

  const subSeconds = badSubSeconds ? null : camera.subSecTimeOriginal;
  const wall = read(text, "DateTimeOriginal", DATE_TIME_FORM, (value) => parseWallTime(value, subSeconds), note);
  const offsetSeconds = read(camera.offsetTimeOriginal, "OffsetTimeOriginal", OFFSET_FORM, parseOffsetSeconds, note);
  const digitized = read(camera.dateTimeDigitized, "DateTimeDigitized", DATE_TIME_FORM, parseWallTime, note);
  const digitizedOffset = read(camera.offsetTimeDigitized, "OffsetTimeDigitized", OFFSET_FORM, parseOffsetSeconds, note);
  if (text === null || wall === null) return { reading: null, flags };

  const other = digitized !== null && secondsApart(wall, offsetSeconds, digitized, digitizedOffset) > sameExposureSeconds ? digitized : null;
  if (other !== null) {
    const measured = `DateTimeOriginal ${text}, DateTimeDigitized ${camera.dateTimeDigitized}`;
    flags.push({ code: "TIME_TAGS_CONFLICT", measured, limit: `${sameExposureSeconds} s apart` });
  }
  return { reading: { text, wall, offsetSeconds, otherWalls: other === null ? [] : [{ wall: other, offsetSeconds: digitizedOffset }] }, flags };
}

const DATE_TIME_FORM = "YYYY:MM:DD HH:MM:SS, a day and time that exist";
const OFFSET_FORM = "+HH:MM or -HH:MM, from -12:00 to +14:00";

function read<Value>(
  text: string | null,
  field: string,
  form: string,
  parse: (text: string) => Value | null,
  note: (field: string, text: string, limit: string) => void,
): Value | null {
  if (text === null || isBlankTime(text)) return null;
  const value = parse(text);
  if (value === null) note(field, text, form);
  return value;
}

/** Compares instants where both carry an offset, else what the clock showed. */
function secondsApart(a: WallTime, aOffset: number | null, b: WallTime, bOffset: number | null): number {
  const bothKnown = aOffset !== null && bOffset !== null;
  return Math.abs(instantAt(a, bothKnown ? aOffset : 0) - instantAt(b, bothKnown ? bOffset : 0)) / SECOND;
}
