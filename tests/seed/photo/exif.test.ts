import exifr from "exifr";
import sharp from "sharp";
import { beforeAll, describe, expect, it } from "vitest";
import { type CameraFacts, withExif } from "#seed/photo/exif";

const RAW = { reviveValues: false, translateValues: false, mergeOutput: false, tiff: true, ifd0: {}, exif: true, gps: true } as const;

const FACTS: CameraFacts = {
  dateTimeOriginal: "2026:11:01 01:30:05",
  subSec: "042",
  offset: "-04:00",
  make: "Quillstone",
  model: "QS-4",
  serial: "QS4-00817",
  software: "QS 2.1",
  gps: { latitude: 44.0000495, longitude: -63.5000321, errorM: 4.75, utc: "2026-11-01T05:30:03.250Z" },
  orientation: 6,
};

let plain: Buffer;
beforeAll(async () => {
  plain = await sharp({ create: { width: 96, height: 72, channels: 3, background: "#68706c" } }).jpeg().toBuffer();
});

async function read(facts: CameraFacts): Promise<Record<string, Record<string, unknown>>> {
  return (await exifr.parse(withExif(plain, facts), RAW)) as Record<string, Record<string, unknown>>;
}

describe("a photo's camera facts", () => {
  it("read back raw as they were written", async () => {
    const { ifd0, exif, gps } = await read(FACTS);

    expect(ifd0).toMatchObject({ Make: "Quillstone", Model: "QS-4", Software: "QS 2.1", Orientation: 6, ModifyDate: FACTS.dateTimeOriginal });
    expect(exif).toMatchObject({
      DateTimeOriginal: FACTS.dateTimeOriginal, OffsetTimeOriginal: "-04:00", SubSecTimeOriginal: "042",
      SerialNumber: "QS4-00817", ExifImageWidth: 96, ExifImageHeight: 72,
    });
    expect(gps).toMatchObject({ GPSLatitudeRef: "N", GPSLongitudeRef: "W", GPSDateStamp: "2026:11:01", GPSHPositioningError: 4.75 });
    expect(gps?.["GPSTimeStamp"]).toEqual([5, 30, 3.25]);
    expect(Buffer.from(exif?.["ExifVersion"] as Uint8Array).toString()).toBe("0231");
  });

  it.each([
    [44.0000495, -63.5000321],
    [-44.9999999999, 179.9999999999],
    [0, 0],
    [89.5, -0.00002],
  ])("place %f, %f on the ground to a centimetre", async (latitude, longitude) => {
    const { gps } = await read({ ...FACTS, gps: { latitude, longitude } });
    const degrees = (name: string): number => {
      const [d = Number.NaN, m = Number.NaN, s = Number.NaN] = gps?.[name] as number[];
      expect(m).toBeLessThan(60);
      expect(s).toBeLessThan(60);
      return d + m / 60 + s / 3600;
    };
    // 1e-7 of a degree is 11 mm along a meridian.
    expect(Math.abs(degrees("GPSLatitude") * (gps?.["GPSLatitudeRef"] === "S" ? -1 : 1) - latitude)).toBeLessThan(1e-7);
    expect(Math.abs(degrees("GPSLongitude") * (gps?.["GPSLongitudeRef"] === "W" ? -1 : 1) - longitude)).toBeLessThan(1e-7);
  });

  it("leave out what the camera does not say", async () => {
    const { exif, gps } = await read({ dateTimeOriginal: "2026:11:06 10:00:00", offset: null, make: "Marrow", model: "M2" });

    expect(exif).not.toHaveProperty("OffsetTimeOriginal");
    expect(exif).not.toHaveProperty("SubSecTimeOriginal");
    expect(gps).toBeUndefined();
  });

  it("change no pixel and leave one Exif segment when written twice", async () => {
    const twice = withExif(withExif(plain, { ...FACTS, model: "QS-3" }), FACTS);

    expect(twice.equals(withExif(plain, FACTS))).toBe(true);
    expect(await sharp(twice).raw().toBuffer()).toEqual(await sharp(plain).raw().toBuffer());
  });

  it("refuse bytes that are no JPEG, and a fix without a time", () => {
    expect(() => withExif(Buffer.from("PNG, perhaps"), FACTS)).toThrow(RangeError);
    expect(() => withExif(plain, { ...FACTS, gps: { latitude: 44, longitude: -63.5, utc: "yesterday" } })).toThrow(RangeError);
  });
});
