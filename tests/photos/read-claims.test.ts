import { describe, expect, it } from "vitest";

import { NO_CLAIMS } from "#lib/domain/photo/claims";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { bestPosition, filePosition } from "#lib/domain/photo/position";
import { readHeader } from "#lib/photos/picture-pool";
import { readClaims } from "#lib/photos/read-claims";
import { xmpProperty } from "#lib/photos/xmp";
import { fixturePath } from "#tests/photos/fixture";

async function read(name: string) {
  const header = await readHeader(fixturePath(name), 1024 ** 2);
  return readClaims(header!);
}
const LATER = { siteZone: "America/Halifax", receivedAt: Date.parse("2026-12-03T16:00:00Z") };

describe("what a photo claims", () => {
  it("is read as written", async () => {
    const { claims, flags } = await read("phone-offset-gps.jpg");
    expect(flags).toEqual([]);
    expect(claims).toEqual({
      camera: {
        dateTimeOriginal: "2026:10:20 09:30:00",
        offsetTimeOriginal: "-03:00",
        subSecTimeOriginal: "054",
        dateTimeDigitized: "2026:10:20 09:30:00",
        offsetTimeDigitized: "-03:00",
        modifyDate: "2026:10:20 09:30:00",
        offsetTime: "-03:00",
        make: "Testcam",
        model: "T-1 phone",
        serial: "T1-0042",
        software: "14.4.2",
        comment: null,
        pixelWidth: null,
        pixelHeight: null,
        orientation: 1,
      },
      gps: {
        dateStamp: "2026:10:20",
        timeStamp: "12 30 1.25",
        latitude: "44 0 1.620360003445009",
        latitudeRef: "N",
        longitude: "63 30 1.8",
        longitudeRef: "W",
        altitude: "2.5",
        altitudeRef: "0",
        hPositioningError: "48",
        status: "A",
        dop: "1.5",
      },
      xmp: NO_CLAIMS.xmp,
      png: NO_CLAIMS.png,
      image: { width: 240, height: 180 },
      device: {},
    });
  });

  // Position and instant as exiftool 12.57 reads the same files.
  it("turns into the place and time that exiftool reads", async () => {
    const { claims } = await read("phone-offset-gps.jpg");
    expect(bestPosition(claims)!.latitude).toBeCloseTo(44.0004501000008, 9);
    expect(bestPosition(claims)!.longitude).toBeCloseTo(-63.5005, 9);
    expect(deriveInstant(claims, LATER)).toMatchObject({ basis: "GPS_DELTA", instant: Date.parse("2026-10-20T12:30:01.250Z") });
  });

  it("is south and east where the letters say so", async () => {
    const { claims } = await read("gps-no-offset.jpg");
    expect(bestPosition(claims)).toEqual({ latitude: -44, longitude: 63.5, errorM: null });
    expect(deriveInstant(claims, LATER)).toMatchObject({ basis: "GPS_DELTA", cameraOffsetSeconds: -10_800, cameraDriftSeconds: 87 });
  });

  it.each([
    ["gps-no-reference.jpg", { kind: "invalid" }],
    ["gps-zero-denominator.jpg", { kind: "invalid" }],
    ["no-metadata.jpg", { kind: "missing" }],
    ["phone.heic", { kind: "position", position: { latitude: 44, longitude: -63.5 } }],
  ])("places %s as %j", async (name, expected) => {
    expect(filePosition((await read(name)).claims.gps)).toMatchObject(expected);
  });

  it("keeps what a zero denominator gives as text, which is no number and dates nothing", async () => {
    const { claims } = await read("gps-zero-denominator.jpg");
    expect(claims.gps.latitude).toBe("44 0 NaN");
    expect(claims.gps.timeStamp).toBe("12 13 Infinity");
    expect(JSON.parse(JSON.stringify(claims))).toEqual(claims);
    expect(deriveInstant(claims, LATER)).toMatchObject({ basis: "NONE", instant: null });
  });

  it("keeps a date of zeros and a date of blanks, and dates nothing by them", async () => {
    const { claims } = await read("zero-date.jpg");
    expect(claims.camera).toMatchObject({ dateTimeOriginal: "0000:00:00 00:00:00", dateTimeDigitized: ":  :     :  :" });
    expect(deriveInstant(claims, LATER).flags.map(({ code }) => code)).toEqual(["METADATA_INVALID", "TIME_MISSING"]);
  });

  it.each(["tagged.png", "tagged.webp", "phone.heic", "loose-exif.heic"])("is found in %s too", async (name) => {
    const { claims, flags } = await read(name);
    expect(flags).toEqual([]);
    expect(claims.camera).toMatchObject({ make: "Testcam", dateTimeOriginal: "2026:10:20 09:30:00", offsetTimeOriginal: "-03:00" });
    expect(claims.image).toEqual({ width: 240, height: 180 });
  });

  it("includes what an editor wrote, apart from what the camera wrote", async () => {
    const { claims } = await read("edited.jpg");
    expect(claims.xmp).toEqual({
      ...NO_CLAIMS.xmp,
      createDate: "2026-10-20T10:12:00-03:00",
      modifyDate: "2026-10-21T08:00:00-03:00",
      dateTimeOriginal: "2026-10-20T10:12:00-03:00",
      creatorTool: "GIMP 2.10",
      digitalSourceType: null,
    });
    expect(claims.camera.software).toBe("GIMP 2.10.34");
    expect((await read("tagged.webp")).claims.xmp.creatorTool).toBe("Testcam & 3");
  });

  it("includes the history of the file, and the texts beside the picture of a PNG", async () => {
    expect((await read("history.jpg")).claims.xmp.history).toBe("created, saved; Any Program 5");
    expect((await read("screenshot.png")).claims).toMatchObject({ camera: { comment: "Screenshot" }, png: { software: "any-desktop", comment: null } });
  });

  it("holds no control characters and no broken UTF-8, and says that it did", async () => {
    const { claims, flags } = await read("strange-text.jpg");
    expect(claims.camera).toMatchObject({ make: "Test·cam·x", model: "T·2" });
    expect(flags.map(({ code, measured }) => `${code} ${measured.split(" ")[0]}`)).toEqual(["METADATA_INVALID make", "METADATA_INVALID model"]);
  });

  it("is nothing for a picture without metadata", async () => {
    expect(await read("no-metadata.jpg")).toEqual({ claims: { ...NO_CLAIMS, image: { width: 240, height: 180 } }, flags: [] });
  });
});

describe("a property of an XMP packet", () => {
  it.each([
    ['<rdf:Description xmp:CreateDate="2026-10-20"/>', "2026-10-20"],
    ["<rdf:Description xmp:CreateDate='2026-10-20'/>", "2026-10-20"],
    ["<xmp:CreateDate>2026-10-20</xmp:CreateDate>", "2026-10-20"],
    ['<x note="xmp:CreateDate" xmp:CreateDate="right"/>', "right"],
    ['<x xmp:CreateDate="a &lt; b &amp;amp; c"/>', "a < b &amp; c"],
    ['<x xmp:CreateDate="never closed', null],
    ["<xmp:CreateDate>\n  <rdf:Alt>\n <rdf:li xml:lang='x-default'>2026</rdf:li><rdf:li>2027</rdf:li></rdf:Alt></xmp:CreateDate>", "2026"],
    ['<xmp:CreateDate rdf:resource="http://x/2026"/>', "http://x/2026"],
    ['<xmp:CreateDate xml:lang="en"> 2026 </xmp:CreateDate>', "2026"],
    ['<x xmlns:basic="http://ns.adobe.com/xap/1.0/" basic:CreateDate="2026"/>', "2026"],
    ['<x xmlns:xmp="http://ns.adobe.com/xap/1.0/mm/" xmlns:n="http://ns.adobe.com/xap/1.0/" xmp:CreateDate="other" n:CreateDate="2026"/>', "2026"],
    ["", null],
  ])("in %s is %j", (packet, value) => {
    expect(xmpProperty(packet, "xmp:CreateDate")).toBe(value);
  });

  it("is looked for in time that grows with the packet, not with its square", () => {
    const began = performance.now();
    expect(xmpProperty('<xmp:CreateDate xmp:CreateDate= "'.repeat(30_000), "xmp:CreateDate")).not.toBe("");
    for (const hostile of [`<xmp:CreateDate>${" ".repeat(1010)}`, `<xmp:CreateDate ${"rdf:resource=".repeat(80)}`, `<xmp:CreateDate>${"<rdf:Alt ".repeat(110)}`]) {
      expect(xmpProperty(hostile.repeat(4000), "xmp:CreateDate")).not.toBe("2026");
    }
    expect(performance.now() - began).toBeLessThan(2000); // ms; a square would take minutes
  });
});
