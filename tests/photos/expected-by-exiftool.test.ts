import { readFile } from "node:fs/promises";

import { describe, expect, it } from "vitest";

import { claimText } from "#lib/domain/photo/claim-text";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { filePosition } from "#lib/domain/photo/position";
import { parseRationals } from "#lib/domain/photo/rational";
import { readHeader } from "#lib/photos/picture-pool";
import { readClaims } from "#lib/photos/read-claims";
import { fixturePath } from "#tests/photos/fixture";

type Row = Readonly<Record<string, string | number>> & { readonly SourceFile: string };

// exiftool 12.57, an outside reader: tests/fixtures/photos/README.md says how the file was made.
const { source, rows } = JSON.parse(await readFile(fixturePath("expected-by-exiftool.json"), "utf8")) as { source: string; rows: readonly Row[] };

const TEXTS: readonly (readonly [string, (claims: PhotoClaims) => string | null])[] = [
  ["ExifIFD:DateTimeOriginal", ({ camera }) => camera.dateTimeOriginal],
  ["ExifIFD:CreateDate", ({ camera }) => camera.dateTimeDigitized],
  ["IFD0:ModifyDate", ({ camera }) => camera.modifyDate],
  ["ExifIFD:OffsetTimeOriginal", ({ camera }) => camera.offsetTimeOriginal],
  ["ExifIFD:OffsetTimeDigitized", ({ camera }) => camera.offsetTimeDigitized],
  ["ExifIFD:OffsetTime", ({ camera }) => camera.offsetTime],
  ["ExifIFD:SubSecTimeOriginal", ({ camera }) => camera.subSecTimeOriginal],
  ["ExifIFD:SerialNumber", ({ camera }) => camera.serial],
  ["ExifIFD:UserComment", ({ camera }) => camera.comment],
  ["ExifIFD:ExifImageWidth", ({ camera }) => camera.pixelWidth],
  ["ExifIFD:ExifImageHeight", ({ camera }) => camera.pixelHeight],
  ["IFD0:Make", ({ camera }) => camera.make],
  ["IFD0:Model", ({ camera }) => camera.model],
  ["IFD0:Software", ({ camera }) => camera.software],
  ["IFD0:Orientation", ({ camera }) => (camera.orientation === null ? null : String(camera.orientation))],
  ["GPS:GPSDateStamp", ({ gps }) => gps.dateStamp],
  ["GPS:GPSLatitudeRef", ({ gps }) => gps.latitudeRef],
  ["GPS:GPSLongitudeRef", ({ gps }) => gps.longitudeRef],
  ["GPS:GPSStatus", ({ gps }) => gps.status],
  ["GPS:GPSAltitude", ({ gps }) => gps.altitude],
  ["GPS:GPSHPositioningError", ({ gps }) => gps.hPositioningError],
  ["GPS:GPSDOP", ({ gps }) => gps.dop],
  ["XMP-xmp:CreatorTool", ({ xmp }) => xmp.creatorTool],
  ["XMP-iptcExt:DigitalSourceType", ({ xmp }) => xmp.digitalSourceType],
  ["XMP-tiff:Make", ({ xmp }) => xmp.make],
  ["XMP-xmp:CreateDate", ({ xmp }) => asExifWrites(xmp.createDate)],
  ["XMP-xmp:ModifyDate", ({ xmp }) => asExifWrites(xmp.modifyDate)],
  ["XMP-exif:DateTimeOriginal", ({ xmp }) => asExifWrites(xmp.dateTimeOriginal)],
  ["PNG:Software", ({ png }) => png.software],
];

function asExifWrites(text: string | null): string | null {
  return text?.replace("T", " ").replace(/^(\d{4})-(\d\d)-/, "$1:$2:") ?? null;
}

async function claimsOf(name: string): Promise<PhotoClaims> {
  const header = await readHeader(fixturePath(name), 1024 ** 2);
  return readClaims(header!).claims;
}

describe(`what is read from a photo, beside ${source.split(",")[0]}`, () => {
  it("covers every kind of file that is taken", () => {
    expect(new Set(rows.map((row) => row["File:MIMEType"]))).toEqual(new Set(["image/jpeg", "image/png", "image/webp", "image/heic"]));
  });

  it.each(rows.map((row) => [row.SourceFile, row] as const))("%s: every text is the same", async (name, row) => {
    const claims = await claimsOf(name);
    // exiftool leaves control characters in and writes "?" for bytes that are no UTF-8; here both are "·".
    const shown = (value: string | number | undefined) => (value === undefined ? null : claimText(String(value)).text?.replace("T?2", "T·2") ?? null);
    const read = TEXTS.map(([tag, text]) => [tag, text(claims)]);
    expect(read).toEqual(TEXTS.map(([tag]) => [tag, shown(row[tag])]));
  });

  it.each(rows.map((row) => [row.SourceFile, row] as const))("%s: it lies in the same place, if in any", async (name, row) => {
    const reading = filePosition((await claimsOf(name)).gps);
    const [latitude, longitude] = [row["Composite:GPSLatitude"], row["Composite:GPSLongitude"]];
    const placed = typeof latitude === "number" && typeof longitude === "number" && row["GPS:GPSLatitudeRef"] !== undefined;
    expect(reading.kind === "position").toBe(placed);
    if (reading.kind !== "position" || !placed) return;
    expect(Math.abs(reading.position.latitude - latitude)).toBeLessThan(1e-9); // degrees; exiftool writes 13 decimals
    expect(Math.abs(reading.position.longitude - longitude)).toBeLessThan(1e-9);
  });

  it.each(rows.filter((row) => row["GPS:GPSTimeStamp"] !== undefined).map((row) => [row.SourceFile, row] as const))("%s: GPS gives the same time", async (name, row) => {
    const numbers = parseRationals((await claimsOf(name)).gps.timeStamp ?? "", 3);
    const expected = String(row["GPS:GPSTimeStamp"]).split(":").map(Number);
    expect(numbers).toEqual(expected.every(Number.isFinite) ? expected : null);
  });

  it.each(rows.filter((row) => row["File:ImageWidth"] !== undefined).map((row) => [row.SourceFile, row] as const))("%s has the same size", async (name, row) => {
    const { image } = await claimsOf(name);
    const size = [row["File:ImageWidth"], row["File:ImageHeight"]];
    // exiftool gives the size before the file's own properties turn the picture.
    expect([image!.width, image!.height]).toEqual(name === "turned.heic" ? size.reverse() : size);
  });
});
