import { z } from "zod";

import { CLAIM_TEXT_LIMIT } from "#lib/domain/photo/claim-text";

const rawText = z
  .string()
  .max(CLAIM_TEXT_LIMIT * 2) // characters outside the basic plane count twice
  .regex(/^[^\u0000-\u001f\u007f-\u009f\ufffd]*$/, "control characters")
  .nullable();

/** A field that records made earlier do not have. */
const addedText = rawText.default(null);

/** A clock that was reset shows 1970 or 2000; nothing is further off. Milliseconds. */
const CENTURY_MS = 100 * 365.25 * 86_400_000;
const DAY_MS = 86_400_000;

const latitudeDeg = z.number().min(-90).max(90);
const longitudeDeg = z.number().min(-180).max(180);

/**
 * What a photo and the phone say, kept apart and as written. Nothing is corrected or combined here: a missing field is null,
 * times are the file's own characters, GPS numbers are its own, as decimals ("12 13 5.25") or fractions ("12/1 13/1 21/4").
 */
export const PhotoClaimsSchema = z.strictObject({
  /** The camera's own fields (Exif: DateTimeOriginal and so on). They carry no zone unless an offset tag is given. */
  camera: z.strictObject({
    dateTimeOriginal: rawText,
    offsetTimeOriginal: rawText,
    subSecTimeOriginal: rawText,
    dateTimeDigitized: rawText,
    offsetTimeDigitized: rawText,
    modifyDate: rawText,
    offsetTime: rawText,
    make: rawText,
    model: rawText,
    serial: rawText,
    software: rawText,
    /** Free text, which some phones use to say what the picture is. */
    comment: addedText,
    /** The size that the camera says the picture has, pixels. */
    pixelWidth: addedText,
    pixelHeight: addedText,
    /** 1–8, how the picture is turned. */
    orientation: z.int().min(1).max(8).nullable(),
  }),
  /** The GPS fields, UTC and WGS 84, as numbers and reference letters. */
  gps: z.strictObject({
    dateStamp: rawText,
    timeStamp: rawText,
    latitude: rawText,
    latitudeRef: rawText,
    longitude: rawText,
    longitudeRef: rawText,
    altitude: rawText,
    altitudeRef: rawText,
    hPositioningError: rawText,
    status: rawText,
    dop: rawText,
  }),
  /** The second set of fields that editors write (XMP). Never used to date a photo. */
  xmp: z.strictObject({
    createDate: rawText,
    modifyDate: rawText,
    dateTimeOriginal: rawText,
    creatorTool: rawText,
    digitalSourceType: rawText,
    /** The day and time of exposure in the words of press photographers (photoshop:DateCreated). */
    dateCreated: addedText,
    make: addedText,
    model: addedText,
    /** What was done to the file, as it was noted there: actions, then programs. */
    history: addedText,
  }),
  /** The texts that a PNG carries beside its picture. */
  png: z.strictObject({ software: rawText, comment: rawText }).default({ software: null, comment: null }),
  /** Pixels as stored, before turning by the tag. A HEIC turns its picture by properties of its own: its pixels are those after that. */
  image: z.strictObject({ width: z.int().positive(), height: z.int().positive() }).nullable(),
  /** What the phone's page said when the photo was taken with it. */
  device: z.strictObject({
    /** The phone's clock, ISO 8601 with offset or Z. */
    capturedAt: z.iso.datetime({ offset: true }).optional(),
    /** Our clock minus the phone's, milliseconds: add it to the phone's time. */
    offsetToServerMs: z.number().min(-CENTURY_MS).max(CENTURY_MS).optional(),
    /** How long the exchange that measured the offset took, milliseconds. */
    roundTripMs: z.number().min(0).max(DAY_MS).optional(),
    latitude: latitudeDeg.optional(),
    longitude: longitudeDeg.optional(),
    /** Radius in metres that holds the true place with 95 % (W3C Geolocation, accuracy attribute). */
    accuracyM: z.number().nonnegative().optional(),
    /** The phone's counter that no clock setting moves, milliseconds. */
    monotonicMs: z.number().nonnegative().optional(),
  }),
});
export type PhotoClaims = z.infer<typeof PhotoClaimsSchema>;
export type DeviceClaims = PhotoClaims["device"];

/** The claims of a file that says nothing. */
export const NO_CLAIMS: PhotoClaims = {
  camera: {
    dateTimeOriginal: null,
    offsetTimeOriginal: null,
    subSecTimeOriginal: null,
    dateTimeDigitized: null,
    offsetTimeDigitized: null,
    modifyDate: null,
    offsetTime: null,
    make: null,
    model: null,
    serial: null,
    software: null,
    comment: null,
    pixelWidth: null,
    pixelHeight: null,
    orientation: null,
  },
  gps: {
    dateStamp: null,
    timeStamp: null,
    latitude: null,
    latitudeRef: null,
    longitude: null,
    longitudeRef: null,
    altitude: null,
    altitudeRef: null,
    hPositioningError: null,
    status: null,
    dop: null,
  },
  xmp: {
    createDate: null,
    modifyDate: null,
    dateTimeOriginal: null,
    creatorTool: null,
    digitalSourceType: null,
    dateCreated: null,
    make: null,
    model: null,
    history: null,
  },
  png: { software: null, comment: null },
  image: null,
  device: {},
};
