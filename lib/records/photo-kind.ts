import { z } from "zod";
import { CAMERA_SOURCES } from "#lib/domain/photo/camera-clock";
import { PhotoClaimsSchema } from "#lib/domain/photo/claims";
import { PhotoLimitsSchema } from "#lib/domain/photo/limits";
import { STREAK_VERDICTS } from "#lib/domain/photo/verdict";
import { LineIdSchema, ROLES } from "#lib/domain/requirement/set";
import { Id, OptionalWords, Sha256, Utc, Words } from "#lib/records/part";

export const FlagSchema = z.strictObject({ code: z.string().min(1).max(40), measured: z.string().max(400), limit: z.string().max(400) });

/**
 * What the pixels give for finding the picture again: their digest, and where there is detail enough the look-alike hash of
 * the picture as it stands followed by that of the picture turned a quarter: from the two follow all eight orientations.
 */
export const LooksSchema = z.strictObject({ pixels: Sha256, hash: z.string().regex(/^[0-9a-f]{32}$/).nullable() });

/** The file as it was received, and what it claims. */
const FileFacts = {
  sha256: Sha256,
  bytes: z.int().min(1),
  mediaType: Words,
  extension: Words,
  width: z.int().min(1).nullable(),
  height: z.int().min(1).nullable(),
  claims: PhotoClaimsSchema,
  flags: z.array(FlagSchema),
};

export const PhotoReceived = z.strictObject({
  kind: z.literal("photo"),
  id: Id,
  sheet: Id,
  line: LineIdSchema,
  attempt: z.int().min(1),
  subject: Id,
  ...FileFacts,
  /** Null where the pixels were not read at receipt; a reading gives them then. */
  looks: LooksSchema.nullable().default(null),
  preview: z.enum(["made", "none"]),
  by: Id,
  receivedAt: Utc,
});
export type PhotoBody = z.infer<typeof PhotoReceived>;

/** What was read from the pixels after receipt: the codes printed on tags and, where receipt had not read them, the looks. */
export const PhotoRead = z.strictObject({
  kind: z.literal("photo reading"),
  id: Id,
  photoId: Id,
  sha256: Sha256,
  looks: LooksSchema.nullable(),
  codes: z.array(z.string().min(1).max(200)).max(16),
  flags: z.array(FlagSchema),
  preview: z.enum(["made", "none"]),
});
export type PhotoReadingBody = z.infer<typeof PhotoRead>;

/** A photo of the clock page: what the camera wrote beside the time that the page showed. */
export const ClockPhotoReceived = z.strictObject({
  kind: z.literal("clock photo"),
  id: Id,
  camera: Words,
  ...FileFacts,
  /** The time that the page showed, read from its code. */
  shown: Utc,
  by: Id,
  receivedAt: Utc,
});
export type ClockPhotoBody = z.infer<typeof ClockPhotoReceived>;


export const CameraReferenceSchema = z.strictObject({
  source: z.enum(CAMERA_SOURCES),
  /** Id of the photo that gives it. */
  photo: Id,
  /** What the camera's clock showed, without zone. */
  wall: z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}$/),
  at: Utc,
});

/** The QC manager says once for a camera how its clock ran; every photo of it is judged by that. */
export const CameraClockConfirmed = z.strictObject({
  kind: z.literal("camera clock"),
  id: Id,
  camera: Words,
  /** All that was known when it was confirmed; which of them count is worked out again from them. */
  references: z.array(CameraReferenceSchema).min(1),
  words: OptionalWords,
  by: Id,
  confirmedAt: Utc,
});
export type CameraClockBody = z.infer<typeof CameraClockConfirmed>;

export const LIKENESS_ANSWERS = ["same, belongs to this", "same, belongs to the other", "two pictures", "cannot tell"] as const;
export const LikenessAnswered = z.strictObject({
  kind: z.literal("likeness answer"),
  id: Id,
  photoId: Id,
  otherId: Id,
  answer: z.enum(LIKENESS_ANSWERS),
  words: OptionalWords,
  by: Id,
  role: z.enum(ROLES),
  answeredAt: Utc,
});
export type LikenessAnswerBody = z.infer<typeof LikenessAnswered>;

/** Shares of the picture's width and height, 0 to 1; the radius is a share of the shorter side. */
export const MixAreaSchema = z.strictObject({ x: z.number().min(0).max(1), y: z.number().min(0).max(1), r: z.number().min(0.02).max(0.5) });

export const StreaksChecked = z.strictObject({
  kind: z.literal("streak check"),
  id: Id,
  photoId: Id,
  sha256: Sha256,
  area: MixAreaSchema,
  verdict: z.enum(STREAK_VERDICTS),
  /** Why it cannot be told; empty otherwise. */
  reason: OptionalWords,
  /** Share of the judged parts that differ, in per cent, and how much they differ in the median. */
  sharePct: z.number().min(0).max(100),
  contrastDeltaE: z.number().min(0),
  /** The judged grid: side in cells, and one letter for each: "u" like the rest, "s" streak, "x" left out (glare, shadow, outside). */
  cells: z.strictObject({ side: z.int().min(4).max(64), marks: z.string().regex(/^[usx]+$/) }),
  by: Id,
  checkedAt: Utc,
});
export type StreakCheckBody = z.infer<typeof StreaksChecked>;

/** The limits that photos received after this are held against. */
export const PhotoLimitsSet = z.strictObject({ kind: z.literal("photo limits"), id: Id, limits: PhotoLimitsSchema, words: OptionalWords, by: Id });
export type PhotoLimitsBody = z.infer<typeof PhotoLimitsSet>;
