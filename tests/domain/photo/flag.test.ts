import { describe, expect, it } from "vitest";

import { claimText } from "#lib/domain/photo/claim-text";
import { NO_CLAIMS, PhotoClaimsSchema } from "#lib/domain/photo/claims";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { cleanFileName, extensionOf } from "#lib/domain/photo/file-name";
import { flagWeight, mergeFlags, PHOTO_FLAG_CODES, PHOTO_FLAGS } from "#lib/domain/photo/flag";
import { photoFlags } from "#lib/domain/photo/photo-flags";
import type { FlagContext } from "#lib/domain/photo/photo-flags";
import { placeVerdict } from "#lib/domain/photo/place";
import { bestPosition } from "#lib/domain/photo/position";
import { at, claimsWith, gpsTime } from "#tests/domain/photo/claims-factory";

const CAMERA = { make: "Testcam", model: "T-1", dateTimeOriginal: "2026:10:20 09:30:00", offsetTimeOriginal: "-03:00" };
const HERE = { latitude: "44/1 0/1 0/1", latitudeRef: "N", longitude: "63/1 30/1 0/1", longitudeRef: "W" };
const SITE = { latitude: 44, longitude: -63.5, radiusM: 100, assumedErrorM: 60 };
const CONTEXT: FlagContext = { receivedAt: at("2026-10-20T20:00:00Z"), projectStart: at("2026-10-05T00:00:00-03:00"), shift: null, siteRadiusM: SITE.radiusM };

const sized = (claims: PhotoClaims, width: number, height: number): PhotoClaims => ({ ...claims, image: { width, height } });

function codes(claims: PhotoClaims, context: Partial<FlagContext> = {}) {
  const all = { ...CONTEXT, ...context };
  const derived = deriveInstant(claims, { siteZone: "America/Halifax", receivedAt: all.receivedAt });
  return photoFlags(claims, derived, placeVerdict(bestPosition(claims), SITE), all).map(({ code }) => code);
}

describe("the flags of a photo", () => {
  const shift = { siteZone: "America/Halifax", beginsMinute: 7 * 60, endsMinute: 17 * 60 };

  it.each([
    ["a sound photo at the site", claimsWith({ camera: CAMERA, gps: HERE }), {}, []],
    ["no position", claimsWith({ camera: CAMERA }), {}, ["GPS_MISSING"]],
    ["the phone's position instead of the file's", claimsWith({ camera: CAMERA, device: { latitude: 44, longitude: -63.5, accuracyM: 20 } }), {}, []],
    ["a letter missing", claimsWith({ camera: CAMERA, gps: { ...HERE, longitudeRef: null } }), {}, ["GPS_INVALID"]],
    ["± 48 m is precise enough for a radius of 100 m", claimsWith({ camera: CAMERA, gps: { ...HERE, hPositioningError: "48/1" } }), {}, []],
    ["± 51 m is not", claimsWith({ camera: CAMERA, gps: { ...HERE, hPositioningError: "51/1" } }), {}, ["GPS_LOW_ACCURACY"]],
    ["another town", claimsWith({ camera: CAMERA, gps: { ...HERE, latitude: "45/1 0/1 0/1" } }), {}, ["GPS_FAR"]],
    ["nothing from a camera", claimsWith({ gps: { ...HERE, ...gpsTime("2026:10:20 12:30:00") } }), {}, ["TIME_FROM_GPS_ONLY", "NO_CAMERA_METADATA"]],
    ["an editor in the software field", claimsWith({ camera: { ...CAMERA, software: "GIMP 2.4.5" }, gps: HERE }), {}, ["SOFTWARE_EDITED"]],
    ["an editor in the second set of fields", claimsWith({ camera: CAMERA, gps: HERE, xmp: { creatorTool: "Adobe Photoshop CC (Macintosh)" } }), {}, ["SOFTWARE_EDITED"]],
    ["an edit in the file's history", claimsWith({ camera: CAMERA, gps: HERE, xmp: { history: "created, saved; Any Program 5" } }), {}, ["SOFTWARE_EDITED"]],
    ["a history of nothing but its making", claimsWith({ camera: CAMERA, gps: HERE, xmp: { history: "created" } }), {}, []],
    ["changed later, and no editor named", claimsWith({ camera: { ...CAMERA, modifyDate: "2026:10:21 08:00:00" }, gps: HERE }), {}, []],
    ["declared as generated", claimsWith({ camera: CAMERA, gps: HERE, xmp: { digitalSourceType: "http://cv.iptc.org/newscodes/digitalsourcetype/trainedAlgorithmicMedia" } }), {}, ["SYNTHETIC_DECLARED"]],
    ["declared as taken with a camera", claimsWith({ camera: CAMERA, gps: HERE, xmp: { digitalSourceType: "http://cv.iptc.org/newscodes/digitalsourcetype/digitalCapture" } }), {}, []],
    ["a screen named in the comment", claimsWith({ camera: { ...CAMERA, comment: "Screenshot" }, gps: HERE }), {}, ["SCREENSHOT_SUSPECT"]],
    ["the size of a screen, and no camera named", sized(claimsWith({ gps: HERE }), 1170, 2532), {}, ["TIME_MISSING", "NO_CAMERA_METADATA", "SCREENSHOT_SUSPECT"]],
    ["the size of a screen, from a camera", sized(claimsWith({ camera: CAMERA, gps: HERE }), 1170, 2532), {}, []],
    ["two makes", claimsWith({ camera: CAMERA, gps: HERE, xmp: { make: "Othercam" } }), {}, ["METADATA_CONFLICT"]],
    ["one model, with its maker and without", claimsWith({ camera: CAMERA, gps: HERE, xmp: { make: "TESTCAM", model: "Testcam T-1" } }), {}, []],
    ["a size that the camera did not take", sized(claimsWith({ camera: { ...CAMERA, pixelWidth: "4000", pixelHeight: "3000" }, gps: HERE }), 1600, 1200), {}, ["METADATA_CONFLICT"]],
    ["the same size, turned", sized(claimsWith({ camera: { ...CAMERA, pixelWidth: "4000", pixelHeight: "3000" }, gps: HERE }), 3000, 4000), {}, []],
    ["a size of no numbers", sized(claimsWith({ camera: { ...CAMERA, pixelWidth: "NaN", pixelHeight: "Infinity" }, gps: HERE }), 3000, 4000), {}, []],
    ["the file and the phone in two towns", claimsWith({ camera: CAMERA, gps: HERE, device: { latitude: 45, longitude: -63.5, accuracyM: 20 } }), {}, ["METADATA_CONFLICT"]],
    ["the file and the phone as close as they are exact", claimsWith({ camera: CAMERA, gps: HERE, device: { latitude: 44.001, longitude: -63.5, accuracyM: 20 } }), {}, []],
    ["another time of exposure in the second set of fields", claimsWith({ camera: CAMERA, gps: HERE, xmp: { dateTimeOriginal: "2026-10-19T09:30:00-03:00" } }), {}, ["TIME_TAGS_CONFLICT"]],
    ["a firmware version is no editor", claimsWith({ camera: { ...CAMERA, software: "14.4.2" }, gps: HERE }), {}, []],
    ["later than receipt", claimsWith({ camera: CAMERA, gps: HERE }), { receivedAt: at("2026-10-20T12:27:00Z") }, ["TIME_FUTURE"]],
    ["later than receipt by what the clock may be off", claimsWith({ camera: CAMERA, gps: HERE }), { receivedAt: at("2026-10-20T12:28:00Z") }, []],
    ["before the project", claimsWith({ camera: CAMERA, gps: HERE }), { projectStart: at("2026-10-21T00:00:00Z") }, ["TIME_BEFORE_PROJECT"]],
    ["inside the shift", claimsWith({ camera: CAMERA, gps: HERE }), { shift }, []],
    ["after the shift", claimsWith({ camera: { ...CAMERA, dateTimeOriginal: "2026:10:20 17:00:00" }, gps: HERE }), { shift, receivedAt: at("2026-10-21T20:00:00Z") }, ["TIME_OUTSIDE_SHIFT"]],
    ["a night shift runs past midnight", claimsWith({ camera: { ...CAMERA, dateTimeOriginal: "2026:10:20 01:00:00" }, gps: HERE }), { shift: { ...shift, beginsMinute: 19 * 60, endsMinute: 5 * 60 } }, []],
    ["stripped by a messenger", claimsWith({}), {}, ["TIME_MISSING", "GPS_MISSING", "NO_CAMERA_METADATA"]],
  ] as const)("%s", (_name, claims, context, expected) => {
    expect(codes(claims, context)).toEqual(expected);
  });

  it("each say what was measured and against which limit", () => {
    const claims = claimsWith({ camera: { ...CAMERA, dateTimeOriginal: "2026:02:30 10:00:00", offsetTimeOriginal: "+15:00" }, gps: { ...HERE, latitude: "45/1 0/1 0/1" } });
    const derived = deriveInstant(claims, { siteZone: "America/Halifax", receivedAt: CONTEXT.receivedAt });
    const flags = photoFlags(claims, derived, placeVerdict(bestPosition(claims), SITE), CONTEXT);
    expect(flags).toContainEqual({ code: "GPS_FAR", measured: "111122 m ± 60 m", limit: "within 100 m of the site" });
    expect(flags.find(({ code }) => code === "METADATA_INVALID")?.measured).toBe("DateTimeOriginal 2026:02:30 10:00:00; OffsetTimeOriginal +15:00");
    expect(flags.every(({ measured, limit }) => measured !== "" && limit !== "")).toBe(true);
  });
});

describe("the table of flags", () => {
  it("counts exactly these as notes", () => {
    expect(PHOTO_FLAG_CODES.filter((code) => flagWeight(code, null) === "note")).toEqual(["TIME_ZONE_INFERRED", "TIME_FROM_GPS_ONLY", "GPS_MISSING", "GPS_LOW_ACCURACY", "NAME_SANITISED"]);
  });

  it("asks about an assumed zone only where the readings disagree", () => {
    expect(flagWeight("TIME_ZONE_ASSUMED_SITE", "in order")).toBe("note");
    expect(flagWeight("TIME_ZONE_ASSUMED_SITE", "too late")).toBe("note");
    expect(flagWeight("TIME_ZONE_ASSUMED_SITE", "cannot tell")).toBe("question");
    expect(flagWeight("TIME_ZONE_ASSUMED_SITE", "clock in doubt")).toBe("question");
  });

  it("accuses nobody", () => {
    for (const { title } of Object.values(PHOTO_FLAGS)) expect(title).not.toMatch(/fake|forged|authentic|fraud|tamper|manipulat/i);
  });

  it("joins findings under one code, so that it is answered once", () => {
    const flag = (measured: string) => ({ code: "METADATA_INVALID" as const, measured, limit: "readable" });
    expect(mergeFlags([flag("a"), { code: "GPS_MISSING", measured: "none", limit: "one" }, flag("b"), flag("a")])).toEqual([
      { code: "GPS_MISSING", measured: "none", limit: "one" },
      { code: "METADATA_INVALID", measured: "a; b", limit: "readable" },
    ]);
  });
});

describe("a text from a file", () => {
  it.each([
    ["NIKON   \u0000\u0000", "NIKON", true],
    ["  14.4.2", "14.4.2", true],
    ["   ", null, true],
    ["", null, true],
    ["Étoile 5", "Étoile 5", true],
    ["A\u0000B", "A·B", false],
    ["A\u001b[31mB", "A·[31mB", false],
    ["A\nB", "A·B", false],
    ["A\ufffdB", "A·B", false],
    ["A\ud800B", "A·B", false],
    ["A\u{1f4f7}B", "A\u{1f4f7}B", true],
    ["A\u202egpj.exe", "A·gpj.exe", false],
    ["x".repeat(300), "x".repeat(256), false],
  ])("%j is kept as %j", (raw, text, intact) => {
    expect(claimText(raw)).toEqual({ text, intact });
  });
});

describe("claims", () => {
  it("of a file that says nothing are valid and survive JSON", () => {
    expect(PhotoClaimsSchema.parse(JSON.parse(JSON.stringify(NO_CLAIMS)))).toEqual(NO_CLAIMS);
  });

  it.each([
    ["not a number", { latitude: Number.NaN, longitude: 0 }],
    ["endless", { offsetToServerMs: Number.POSITIVE_INFINITY }],
    ["1e400", { accuracyM: 1e400 }],
    ["a place off the globe", { latitude: 91, longitude: 0 }],
    ["a time without a zone", { capturedAt: "2026-10-20T09:30:00" }],
    ["30 February", { capturedAt: "2026-02-30T09:30:00Z" }],
    ["a negative round trip", { roundTripMs: -1 }],
    ["a field that is not known", { battery: 1 }],
  ])("from a phone are refused when they are %s", (_name, device) => {
    expect(PhotoClaimsSchema.safeParse({ ...NO_CLAIMS, device }).success).toBe(false);
  });

  it("with control characters are refused", () => {
    expect(PhotoClaimsSchema.safeParse({ ...NO_CLAIMS, camera: { ...NO_CLAIMS.camera, make: "a\u0007" } }).success).toBe(false);
  });
});

describe("a file name", () => {
  it.each([
    ["IMG_0001.JPG", "IMG_0001.JPG", false],
    ["../../x.jpg", "x.jpg", true],
    ["C:\\Users\\me\\x.jpg", "x.jpg", true],
    ["/etc/passwd", "passwd", true],
    ["..", null, true],
    [".htaccess", "htaccess", true],
    ["a\u0000b.jpg", "a·b.jpg", true],
    ["Pfahl 02-C, Süd.jpg", "Pfahl 02-C, Süd.jpg", false],
    [`${"n".repeat(200)}.jpg`, "n".repeat(100), true],
    ["a<b>.jpg", "a·b·.jpg", true],
  ])("%j is shown as %j", (given, name, changed) => {
    expect(cleanFileName(given)).toEqual({ name, changed });
  });

  it("has the ending after its last dot", () => {
    expect([extensionOf("a.b.JPG"), extensionOf("a"), extensionOf("a.")]).toEqual(["jpg", null, null]);
  });
});
