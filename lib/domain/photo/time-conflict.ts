import { isBlankTime, parseOffsetSeconds, parseWallTime } from "#lib/domain/photo/capture-time";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { isBlankXmpTime, parseXmpTime, sameMoment } from "#lib/domain/photo/xmp-time";

/** The dates of XMP that say when the picture was taken or first written. When it was changed is no such date. */
const CAPTURE_DATES = [
  ["exif:DateTimeOriginal", "dateTimeOriginal"],
  ["photoshop:DateCreated", "dateCreated"],
  ["xmp:CreateDate", "createDate"],
] as const;

/**
 * TIME_TAGS_CONFLICT where the second set of fields claims another time of exposure than the camera's own, and
 * METADATA_INVALID where its date cannot be one. XMP never dates a photo.
 *
 * @source Which date of XMP stands for which of the camera: Metadata Working Group guidelines 2.0 (from memory).
 */
export function timeConflictFlags({ camera, xmp }: PhotoClaims, { sameExposureSeconds }: PhotoLimits): PhotoFlag[] {
  const own = [
    momentOf(camera.dateTimeOriginal, camera.offsetTimeOriginal, camera.subSecTimeOriginal),
    momentOf(camera.dateTimeDigitized, camera.offsetTimeDigitized, null),
  ];
  return CAPTURE_DATES.flatMap(([name, field]): PhotoFlag[] => {
    const text = xmp[field];
    if (text === null || isBlankXmpTime(text)) return [];
    const time = parseXmpTime(text);
    if (time === null) return [{ code: "METADATA_INVALID", measured: `${name} ${text}`, limit: "YYYY-MM-DDTHH:MM:SS with zone, a day and time that exist" }];

    // The date of creation may stand for either of the camera's; the other two only for the exposure.
    const held = (field === "createDate" ? own : own.slice(0, 1)).filter((moment) => moment !== null);
    if (own[0] === null || held.some((moment) => sameMoment(time, moment, sameExposureSeconds))) return [];
    return [{ code: "TIME_TAGS_CONFLICT", measured: `DateTimeOriginal ${camera.dateTimeOriginal}, ${name} ${text}`, limit: `${sameExposureSeconds} s apart` }];
  });
}

function momentOf(text: string | null, offset: string | null, subSeconds: string | null) {
  if (text === null || isBlankTime(text)) return null;
  const wall = parseWallTime(text, subSeconds) ?? parseWallTime(text);
  return wall === null ? null : { wall, offsetSeconds: offset === null ? null : parseOffsetSeconds(offset) };
}
