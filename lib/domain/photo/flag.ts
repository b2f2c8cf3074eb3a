import type { OrderVerdict } from "#lib/domain/photo/verdict";

/** A note is shown. A question has to be answered (seen, explained, rejected) before release. */
export type FlagWeight = "note" | "question";

interface FlagEntry {
  readonly weight: FlagWeight;
  readonly title: string;
}

/** Every flag a photo may carry. A flag says what was measured against which limit; it accuses nobody. */
export const PHOTO_FLAGS = {
  TIME_MISSING: { weight: "question", title: "No usable time" },
  /** A note where every reading of the camera's time gives the same answer: see {@link flagWeight}. */
  TIME_ZONE_ASSUMED_SITE: { weight: "question", title: "No zone in the file; the site's zone was assumed" },
  TIME_ZONE_INFERRED: { weight: "note", title: "Zone of the camera worked out from its GPS time or its confirmed clock" },
  TIME_FROM_GPS_ONLY: { weight: "note", title: "Time taken from GPS alone" },
  TIME_OFFSET_NOT_SITE: { weight: "question", title: "Camera was not on the site's time" },
  TIME_TAGS_CONFLICT: { weight: "question", title: "Two times in the file disagree" },
  TIME_GPS_MISMATCH: { weight: "question", title: "Camera time and GPS time disagree" },
  TIME_FUTURE: { weight: "question", title: "Taken later than it was received" },
  TIME_BEFORE_PROJECT: { weight: "question", title: "Taken before the project began" },
  TIME_OUTSIDE_SHIFT: { weight: "question", title: "Taken outside the shift hours" },
  TIME_DST_AMBIGUOUS: { weight: "question", title: "This time came twice when the clocks went back" },
  TIME_DST_NONEXISTENT: { weight: "question", title: "This time was skipped when the clocks went forward" },
  GPS_MISSING: { weight: "note", title: "No position" },
  GPS_INVALID: { weight: "question", title: "GPS fields that cannot be right" },
  GPS_FAR: { weight: "question", title: "Taken away from the site" },
  GPS_LOW_ACCURACY: { weight: "note", title: "Position is not precise" },
  METADATA_INVALID: { weight: "question", title: "Fields of the file that cannot be read" },
  METADATA_CONFLICT: { weight: "question", title: "Two claims about the photo disagree" },
  METADATA_OVERSIZE: { weight: "question", title: "Unusually large metadata" },
  NO_CAMERA_METADATA: { weight: "question", title: "Nothing from a camera in the file" },
  SOFTWARE_EDITED: { weight: "question", title: "Saved by an image editor" },
  SYNTHETIC_DECLARED: { weight: "question", title: "The file says that it was generated" },
  SCREENSHOT_SUSPECT: { weight: "question", title: "May be a picture of a screen" },
  THUMBNAIL_MISMATCH: { weight: "question", title: "The small picture inside shows something else" },
  TRAILING_DATA: { weight: "question", title: "Data after the end of the picture" },
  FORMAT_MISMATCH: { weight: "question", title: "The name says another kind of file" },
  BLANK_IMAGE: { weight: "question", title: "Nothing in the picture" },
  LOW_DETAIL: { weight: "question", title: "Little detail in the picture" },
  TRUNCATED: { weight: "question", title: "The end of the picture is missing" },
  CORRUPT: { weight: "question", title: "Damaged picture data" },
  DUP_EXACT: { weight: "question", title: "The same file is on record already" },
  DUP_PIXELS: { weight: "question", title: "The same picture is on record already" },
  DUP_NEAR: { weight: "question", title: "Looks like a photo on record" },
  NAME_SANITISED: { weight: "note", title: "File name was cleaned" },
} as const satisfies Record<string, FlagEntry>;

export type PhotoFlagCode = keyof typeof PHOTO_FLAGS;
export const PHOTO_FLAG_CODES = Object.keys(PHOTO_FLAGS) as readonly PhotoFlagCode[];

/** A flag as raised: what was measured, and the limit it was held against. */
export interface PhotoFlag {
  readonly code: PhotoFlagCode;
  readonly measured: string;
  readonly limit: string;
  /** Where it weighs less than its code does: a look-alike within a burst, or one that was answered. */
  readonly weight?: "note";
}

/** Whether a flag as raised has to be answered: see {@link flagWeight}. */
export function weightOf(flag: PhotoFlag, order: OrderVerdict | null): FlagWeight {
  return flag.weight ?? flagWeight(flag.code, order);
}

/**
 * Whether a flag has to be answered. An assumed zone needs no answer where every reading of the time gives the same verdict.
 *
 * @param order The order verdict of the same photo, or null when it was not judged.
 */
export function flagWeight(code: PhotoFlagCode, order: OrderVerdict | null): FlagWeight {
  const decided = order === "in order" || order === "too early" || order === "too late";
  return code === "TIME_ZONE_ASSUMED_SITE" && decided ? "note" : PHOTO_FLAGS[code].weight;
}

/** Longest text of a flag, characters: a file may have a hundred fields to complain about. */
const TEXT_LIMIT = 400;

function cut(text: string): string {
  return text.length <= TEXT_LIMIT ? text : `${text.slice(0, TEXT_LIMIT - 1).replace(/[\ud800-\udbff]$/, "")}…`;
}

/**
 * One flag for each code, in the order of {@link PHOTO_FLAGS}: findings under the same code are joined, so that each is
 * answered once.
 */
export function mergeFlags(flags: readonly PhotoFlag[]): readonly PhotoFlag[] {
  const joined = (texts: readonly string[]) => cut([...new Set(texts)].join("; "));

  return PHOTO_FLAG_CODES.flatMap((code): PhotoFlag[] => {
    const same = flags.filter((flag) => flag.code === code);
    if (same.length === 0) return [];
    const noted = same.every(({ weight }) => weight === "note");
    return [{ code, measured: joined(same.map((flag) => flag.measured)), limit: joined(same.map((flag) => flag.limit)), ...(noted && { weight: "note" }) }];
  });
}
