import type { Instant } from "#lib/domain/instant";
import { SECOND } from "#lib/domain/instant";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import type { DerivedInstant } from "#lib/domain/photo/derived-instant";
import { editorNamed, editsIn } from "#lib/domain/photo/editor";
import { SOURCE_LIMIT } from "#lib/domain/photo/file-flags";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { mergeFlags } from "#lib/domain/photo/flag";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { ASSUMED_ERROR_M, distanceBetweenM } from "#lib/domain/photo/place";
import type { PlaceFinding } from "#lib/domain/photo/place";
import { bestPosition, devicePosition, filePosition } from "#lib/domain/photo/position";
import { isScreenSize, screenshotNamed } from "#lib/domain/photo/screen";
import { siteMinuteOfDay } from "#lib/domain/photo/site-zone";
import { sourceKind } from "#lib/domain/photo/source-type";
import { timeConflictFlags } from "#lib/domain/photo/time-conflict";

/** What the project says about a photo's surroundings. */
export interface FlagContext {
  readonly receivedAt: Instant;
  /** When work on the project began; null when not stated. */
  readonly projectStart: Instant | null;
  /** The shift hours in the site's zone, minutes since midnight; it may run past midnight. Null when not stated. */
  readonly shift: { readonly siteZone: string; readonly beginsMinute: number; readonly endsMinute: number } | null;
  /** Radius of the site in metres; null when not stated. */
  readonly siteRadiusM: number | null;
  /** Those of the project when the photo was received; the defaults when not stated. */
  readonly limits?: PhotoLimits;
}

/**
 * Every flag that the claims of a photo raise: about its time, position, metadata and software. Flags about the file
 * itself (format, damage, name, repeats) come from receiving it.
 *
 * @param place  The place finding of the same photo; null when the site is not known.
 * @returns One flag for each code.
 */
export function photoFlags(claims: PhotoClaims, derived: DerivedInstant, place: PlaceFinding | null, context: FlagContext): readonly PhotoFlag[] {
  const limits = context.limits ?? PHOTO_LIMIT_DEFAULTS;
  return mergeFlags([
    ...derived.flags,
    ...timeFlags(derived, context),
    ...timeConflictFlags(claims, limits),
    ...placeFlags(claims, place, context),
    ...conflictFlags(claims),
    ...originFlags(claims),
  ]);
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

/** Whole blocks of 8 or 16 pixels are added or left out at the edge by some cameras. */
const SAME_SIZE_PX = 16;

/** Claims of one file, or of file and phone, that cannot both be right. */
function conflictFlags(claims: PhotoClaims): PhotoFlag[] {
  const { camera, xmp, image } = claims;
  const flags: PhotoFlag[] = [];
  const conflict = (measured: string, limit: string) => void flags.push({ code: "METADATA_CONFLICT", measured, limit });

  if (differ(camera.make, xmp.make)) conflict(`make ${camera.make}, in XMP ${xmp.make}`, "one camera");
  if (differ(camera.model, xmp.model)) conflict(`model ${camera.model}, in XMP ${xmp.model}`, "one camera");

  const said = [camera.pixelWidth, camera.pixelHeight].map(Number).sort(ascending);
  const is = image === null ? [] : [image.width, image.height].sort(ascending);
  if (said.every((px) => Number.isInteger(px) && px > 0) && is.some((px, i) => Math.abs(px - (said[i] ?? px)) > SAME_SIZE_PX)) {
    conflict(`camera says ${camera.pixelWidth} × ${camera.pixelHeight}, picture has ${image?.width} × ${image?.height}`, `${SAME_SIZE_PX} px`);
  }

  const [file, phone] = [filePosition(claims.gps), devicePosition(claims.device)];
  if (file.kind === "position" && phone.kind === "position") {
    const apartM = distanceBetweenM(file.position, phone.position);
    const togetherM = 2 * ((file.position.errorM ?? ASSUMED_ERROR_M.underDeck) + (phone.position.errorM ?? ASSUMED_ERROR_M.underDeck));
    if (apartM > togetherM) conflict(`the file's position and the phone's lie ${metres(apartM)} m apart`, `${metres(togetherM)} m, twice their errors`);
  }
  return flags;
}

const ascending = (a: number, b: number) => a - b;

/** Two names differ when neither holds the other: a model is written with and without its maker. */
function differ(a: string | null, b: string | null): boolean {
  const [one, other] = [a, b].map((text) => text?.trim().toLowerCase() ?? "") as [string, string];
  return one !== "" && other !== "" && !one.includes(other) && !other.includes(one);
}

/** What made the file: a camera, an editor, a program, a screen. */
function originFlags(claims: PhotoClaims): PhotoFlag[] {
  const { camera, xmp, png } = claims;
  const flags: PhotoFlag[] = [];
  if (camera.make === null && camera.model === null && camera.dateTimeOriginal === null) {
    flags.push({ code: "NO_CAMERA_METADATA", measured: "no make, model or time", limit: "what a camera writes" });
  }

  for (const editor of new Set([camera.software, xmp.creatorTool, png.software])) {
    if (editor !== null && editorNamed(editor)) flags.push({ code: "SOFTWARE_EDITED", measured: editor, limit: "no image editor named" });
  }
  if (xmp.history !== null && editsIn(xmp.history).length > 0) {
    flags.push({ code: "SOFTWARE_EDITED", measured: `history: ${xmp.history}`, limit: "no edit noted in the file" });
  }

  const source = xmp.digitalSourceType;
  const kind = source === null ? null : sourceKind(source);
  if (source !== null && kind !== null) {
    const code = { generated: "SYNTHETIC_DECLARED", edited: "SOFTWARE_EDITED", screen: "SCREENSHOT_SUSPECT" } as const;
    flags.push({ code: code[kind], measured: `digital source type ${source}`, limit: SOURCE_LIMIT });
  }
  return [...flags, ...screenFlags(claims)];
}

function screenFlags({ camera, xmp, png, image }: PhotoClaims): PhotoFlag[] {
  const named = [camera.software, camera.comment, xmp.creatorTool, png.software, png.comment].find((text) => text !== null && screenshotNamed(text));
  if (named != null) return [{ code: "SCREENSHOT_SUSPECT", measured: `the file says ${named}`, limit: "no screen named" }];
  if (camera.make !== null || camera.model !== null || image === null || !isScreenSize(image.width, image.height)) return [];
  return [{ code: "SCREENSHOT_SUSPECT", measured: `${image.width} × ${image.height}, and no camera named`, limit: "not the pixels of a common screen" }];
}
