import { z } from "zod";

interface LimitEntry {
  readonly title: string;
  readonly unit: "MB" | "megapixels" | "px" | "kB" | "levels" | "%" | "bits of 64" | "s" | "ΔE00";
  readonly normal: number;
  readonly least: number;
  readonly most: number;
  /** What goes past it, and where the number comes from. */
  readonly words: string;
}

/**
 * The limits that photos are held against, each settable for a project. The numbers of {@link PHOTO_LIMIT_DEFAULTS} hold
 * until somebody sets others.
 */
export const PHOTO_LIMITS = {
  maxBytesMb: { title: "Largest file", unit: "MB", normal: 50, least: 1, most: 200, words: "A larger file is refused. Common practice, no source." },
  maxMegapixels: { title: "Most pixels", unit: "megapixels", normal: 120, least: 1, most: 250, words: "A larger picture is refused before it is opened. Common practice, no source." },
  minSidePx: { title: "Shorter side", unit: "px", normal: 64, least: 16, most: 2000, words: "A smaller picture is refused: the small picture inside a file is about 160 × 120. Common practice, no source." },
  largeMetadataKb: { title: "Large metadata", unit: "kB", normal: 512, least: 16, most: 65_536, words: "More is flagged; a camera writes some 20 kB. Common practice, no source." },
  maxMetadataKb: { title: "Most metadata", unit: "kB", normal: 8192, least: 64, most: 65_536, words: "More is refused. Common practice, no source." },
  trailingBytes: { title: "Data after the picture", unit: "kB", normal: 0, least: 0, most: 65_536, words: "More is flagged. Phones that write a second picture or a film behind the first say so in the file, and that is no flag. Common practice, no source." },
  blankLevels: { title: "Blank picture", unit: "levels", normal: 3, least: 0, most: 64, words: "A picture whose brightness varies by less (standard deviation, 0–255) is flagged as blank. Chosen: of 1,360 demonstration photos by day and night none varies by less than 24." },
  lowDetailLevels: { title: "Little detail", unit: "levels", normal: 1, least: 0, most: 64, words: "A picture whose neighbouring parts differ by less (mean step over 72 × 72, 0–255) is flagged. Chosen: the same photos have 4 and more, photos of twelve other cameras 3.5 and more." },
  thumbnailBits: { title: "Small picture inside", unit: "bits of 64", normal: 10, least: 0, most: 32, words: "A small picture that differs more from the large one is flagged. Chosen on ten cameras: their own small pictures differ by 0 to 2, those of other photos by 16 and more." },
  lookAlikeBits: { title: "Look-alike", unit: "bits of 64", normal: 8, least: 0, most: 8, words: "Two photos that differ by no more, in any of eight orientations, are shown side by side. Measured on the demonstration: of 918,828 honest pairs of different points none is within 8 and the nearest is at 10; of copies saved again, smaller, grey, darker, turned or mirrored all are, of copies cut by 2 % at the edges 80 %, by 5 % hardly any." },
  burstSeconds: { title: "Burst", unit: "s", normal: 60, least: 0, most: 600, words: "Look-alikes of one pile within this time are a burst, and only noted. Common practice, no source." },
  exifOffsetSeconds: { title: "Camera time with its zone", unit: "s", normal: 120, least: 0, most: 3600, words: "Uncertainty. Common practice, no source." },
  gpsDeltaSeconds: { title: "Camera time against GPS", unit: "s", normal: 2, least: 0, most: 600, words: "Uncertainty. Common practice, no source." },
  cameraReferenceSeconds: { title: "Camera time by a confirmed clock", unit: "s", normal: 2, least: 0, most: 600, words: "Uncertainty, to which the drift is added. Common practice, no source." },
  gpsOnlySeconds: { title: "GPS time alone", unit: "s", normal: 120, least: 0, most: 3600, words: "Uncertainty. Common practice, no source." },
  siteZoneSeconds: { title: "Camera time without zone", unit: "s", normal: 120, least: 0, most: 3600, words: "Uncertainty of each reading. Common practice, no source." },
  deviceSeconds: { title: "Phone's clock", unit: "s", normal: 2, least: 0, most: 600, words: "Uncertainty, to which half the exchange is added. Common practice, no source." },
  driftSeconds: { title: "Drift of a camera", unit: "s", normal: 120, least: 1, most: 400, words: "A camera's time may be this far from a whole quarter hour off GPS. Common practice, no source." },
  sameExposureSeconds: { title: "Two times of one exposure", unit: "s", normal: 120, least: 0, most: 3600, words: "Times in one file that lie further apart disagree. Common practice, no source." },
  streakDeltaE: { title: "Streak colour", unit: "ΔE00", normal: 5, least: 1, most: 30, words: "A part of the mix that differs more from the mix around it counts to a streak; what is only lighter or darker has to differ 2.5 times as much. Chosen on drawn photos in five colours and five lights: of 100 with streaks of ΔE 12 and 20 none was called uniform, 75 streaks, 25 cannot tell." },
  streakSharePct: { title: "Streak share", unit: "%", normal: 2, least: 0.1, most: 50, words: "A mix with a larger share of such parts shows streaks; with half of it and less it is uniform. Chosen on drawn photos: of 25 even mixes and 51 with reflections, shadows, a stirrer, grain or bubbles none showed streaks, 31 were uniform, 45 cannot tell." },
} as const satisfies Record<string, LimitEntry>;

export type PhotoLimitName = keyof typeof PHOTO_LIMITS;
export type PhotoLimits = { readonly [name in PhotoLimitName]: number };

/** A limit added later reads with its default from a record made before. */
export const PhotoLimitsSchema: z.ZodType<PhotoLimits, unknown> = z.strictObject(
  Object.fromEntries(Object.entries(PHOTO_LIMITS).map(([name, { normal, least, most }]) => [name, z.number().min(least).max(most).default(normal)])) as Record<PhotoLimitName, z.ZodDefault<z.ZodNumber>>,
);

export const PHOTO_LIMIT_DEFAULTS: PhotoLimits = PhotoLimitsSchema.parse({});
