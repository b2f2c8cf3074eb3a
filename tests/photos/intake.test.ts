import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import path from "node:path";

import sharp from "sharp";
import { describe, expect, it } from "vitest";

import type { PhotoFlag } from "#lib/domain/photo/flag";
import type { RefusalCode } from "#lib/domain/photo/refusal";
import { receiveDocument, receiveImage } from "#lib/photos/intake";
import type { IncomingImage, KeptImage, Refused } from "#lib/photos/intake";
import { originalPath, renditionPath } from "#lib/photos/store";
import { dataFolder, filesIn, fixtureBytes, fixturePath, fixtureStream, sha256, streamOf } from "#tests/photos/fixture";

/** Receives and waits for the renditions, which are written after the answer. */
async function receive(incoming: IncomingImage): Promise<KeptImage | Refused> {
  const result = await receiveImage(incoming);
  if (result.ok) await result.shown;
  return result;
}

async function receiveFixture(name: string, more: Partial<IncomingImage> = {}) {
  const dataDir = more.dataDir ?? (await dataFolder());
  return { dataDir, result: await receive({ stream: fixtureStream(name), fileName: name, dataDir, ...more }) };
}

async function kept(name: string, more: Partial<IncomingImage> = {}): Promise<KeptImage & { readonly dataDir: string }> {
  const { dataDir, result } = await receiveFixture(name, more);
  if (!result.ok) throw new Error(`${name} was refused: ${result.refusal.code}`);
  return { ...result, dataDir };
}

describe("a photo that is taken", () => {
  it.each<[string, string, string, string, PhotoFlag[]?]>([
    ["phone-offset-gps.jpg", "image/jpeg", "jpg", "made"],
    ["grey.jpg", "image/jpeg", "jpg", "made"],
    ["tagged.png", "image/png", "png", "made"],
    ["see-through.png", "image/png", "png", "made", [{ code: "LOW_DETAIL", measured: "neighbouring parts differ by 0.91 levels", limit: "1 of 255 levels" }]],
    ["tagged.webp", "image/webp", "webp", "made"],
    ["phone.heic", "image/heic", "heic", "none"],
  ])("%s is kept byte for byte as %s", async (name, mediaType, extension, preview, flags = []) => {
    const bytes = await fixtureBytes(name);
    const photo = await kept(name, { declaredLength: bytes.length, declaredSha256: sha256(bytes) });

    expect(photo).toMatchObject({ sha256: sha256(bytes), bytes: bytes.length, mediaType, extension, preview, width: 240, height: 180, alreadyHeld: false, flags });
    expect(await readFile(originalPath(photo.dataDir, photo.sha256))).toEqual(bytes);
    const { sha256: digest } = photo;
    const made = preview === "made" ? [`renditions/1600/${digest.slice(0, 2)}/${digest}.jpg`, `renditions/320/${digest.slice(0, 2)}/${digest}.jpg`] : [];
    expect(await filesIn(photo.dataDir)).toEqual([`originals/${digest.slice(0, 2)}/${digest}`, ...made]);
  });

  it("has renditions that stand upright, carry no metadata and are never enlarged", async () => {
    const photo = await kept("turned.jpg");
    for (const px of [320, 1600] as const) {
      const metadata = await sharp(renditionPath(photo.dataDir, px, photo.sha256)).metadata();
      expect(metadata).toMatchObject({ format: "jpeg", width: 180, height: 240 });
      expect([metadata.exif, metadata.xmp, metadata.orientation]).toEqual([undefined, undefined, undefined]);
    }
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8])("is turned by orientation %d as another reader turns it", async (orientation) => {
    const corners = Buffer.from([255, 0, 0, 0, 255, 0, 0, 0, 255, 255, 255, 0]); // red, green / blue, yellow
    const bytes = await sharp(corners, { raw: { width: 2, height: 2, channels: 3 } })
      .resize(200, 120, { kernel: "nearest", fit: "fill" })
      .withMetadata({ orientation })
      .png()
      .toBuffer();
    const dataDir = await dataFolder();
    const result = await receive({ stream: streamOf(bytes), dataDir });
    if (!result.ok) throw new Error(result.refusal.code);

    const upright = await sharp(bytes).autoOrient().removeAlpha().raw().toBuffer({ resolveWithObject: true });
    const rendition = await sharp(renditionPath(dataDir, 320, result.sha256)).raw().toBuffer({ resolveWithObject: true });
    expect([rendition.info.width, rendition.info.height]).toEqual([upright.info.width, upright.info.height]);
    const difference = upright.data.reduce((sum, value, i) => sum + Math.abs(value - rendition.data[i]!), 0) / upright.data.length;
    expect(difference).toBeLessThan(5); // of 255; another corner on top would give over 80
  });

  it("is made smaller to 1600 and 320 pixels", async () => {
    const large = await sharp({ create: { width: 2400, height: 1200, channels: 3, background: "#467" } }).jpeg().toBuffer();
    const dataDir = await dataFolder();
    const result = await receive({ stream: streamOf(large), dataDir });
    if (!result.ok) throw new Error(result.refusal.code);
    const sizes = await Promise.all(([320, 1600] as const).map((px) => sharp(renditionPath(dataDir, px, result.sha256)).metadata()));
    expect(sizes.map(({ width, height }) => [width, height])).toEqual([
      [320, 160],
      [1600, 800],
    ]);
  });

  it("twice is kept once, and the second is told", async () => {
    const dataDir = await dataFolder();
    const first = await kept("no-metadata.jpg", { dataDir });
    const before = await stat(originalPath(dataDir, first.sha256));
    const second = await kept("no-metadata.jpg", { dataDir, fileName: "renamed.jpg" });
    const after = await stat(originalPath(dataDir, first.sha256));

    expect([first.alreadyHeld, second.alreadyHeld, second.sha256]).toEqual([false, true, first.sha256]);
    expect([after.ino, after.mtimeMs]).toEqual([before.ino, before.mtimeMs]);
    expect(await filesIn(dataDir)).toHaveLength(3);
  });

  it("twice at the same moment is kept once", async () => {
    const dataDir = await dataFolder();
    await Promise.all([kept("no-metadata.jpg", { dataDir }), kept("no-metadata.jpg", { dataDir }), kept("no-metadata.jpg", { dataDir })]);
    expect(await filesIn(dataDir)).toHaveLength(3);
    expect(await readFile(originalPath(dataDir, sha256(await fixtureBytes("no-metadata.jpg"))))).toEqual(await fixtureBytes("no-metadata.jpg"));
  });

  it("with a path for a name leaves nothing outside the data folder", async () => {
    const photo = await kept("no-metadata.jpg", { fileName: "../../x.jpg" });
    expect(photo.fileName).toBe("x.jpg");
    expect(photo.flags).toEqual([{ code: "NAME_SANITISED", measured: "x.jpg", limit: "letters, digits and signs without folders" }]);
    expect((await filesIn(photo.dataDir)).some((file) => file.includes("x.jpg"))).toBe(false);
    await expect(stat(path.join(photo.dataDir, "..", "..", "x.jpg"))).rejects.toThrow("ENOENT");
  });

  it("under the name of another type is told apart by content", async () => {
    expect((await kept("no-metadata.jpg", { fileName: "picture.gif" })).flags).toMatchObject([{ code: "FORMAT_MISMATCH", measured: ".gif in the name" }]);
    expect((await kept("no-metadata.jpg", { fileName: "picture.v2" })).flags).toEqual([]); // which says nothing
    const photo = await kept("plain.png", { fileName: "plain.jpg" });
    expect(photo).toMatchObject({ mediaType: "image/png", extension: "png", flags: [{ code: "FORMAT_MISMATCH", measured: ".jpg in the name", limit: "image/png by content" }] });
  });

  it("in a worker that takes too long is kept all the same, and the next one is read", async () => {
    const slow = await kept("15000-square.png", { limits: { maxMegapixels: 250 }, decodeTimeMs: 20 });
    expect(slow).toMatchObject({ preview: "none", flags: [{ code: "CORRUPT", measured: "not decoded in 0.02 s" }] });
    expect(await filesIn(slow.dataDir)).toEqual([`originals/${slow.sha256.slice(0, 2)}/${slow.sha256}`]);
    expect((await kept("no-metadata.jpg")).preview).toBe("made");
  });
});

describe("what a file shows of itself", () => {
  it.each<[string, PhotoFlag[]]>([
    ["small-picture-barred.jpg", []],
    ["small-picture-turned.jpg", []],
    ["small-picture-flat.jpg", []],
    ["small-picture-other.jpg", [{ code: "THUMBNAIL_MISMATCH", measured: "25 of 64 bits differ", limit: "10 of 64 bits" }]],
    ["loose-exif.heic", []],
  ])("%s", async (name, flags) => {
    expect((await kept(name)).flags).toEqual(flags);
  });

  it("is held against the limits of the project", async () => {
    expect((await kept("small-picture-other.jpg", { limits: { thumbnailBits: 25 } })).flags).toEqual([]);
    expect((await kept("no-metadata.jpg", { limits: { lowDetailLevels: 2 } })).flags).toMatchObject([{ code: "LOW_DETAIL", limit: "2 of 255 levels" }]);
    expect((await kept("phone-offset-gps.jpg", { limits: { largeMetadataKb: 0.5 } })).flags).toMatchObject([{ code: "METADATA_OVERSIZE", limit: "512 bytes" }]);
  });

  it("includes a name that says it is a picture of a screen", async () => {
    expect((await kept("no-metadata.jpg", { fileName: "Screenshot_20261020-093000.jpg" })).flags).toMatchObject([{ code: "SCREENSHOT_SUSPECT" }]);
  });

  it("is not asked of a blank picture twice", async () => {
    const blank = await sharp({ create: { width: 400, height: 300, channels: 3, background: "#765" } }).jpeg().toBuffer();
    const result = await receive({ stream: streamOf(blank), dataDir: await dataFolder() });
    expect(result).toMatchObject({ ok: true, flags: [{ code: "BLANK_IMAGE", measured: "brightness varies by 0.00 levels", limit: "3 of 255 levels" }] });
  });
});

describe("a damaged photo", () => {
  it.each([
    ["truncated.jpg", "TRUNCATED", "premature end of JPEG image"],
    ["truncated.png", "TRUNCATED", "shorter than the file says; libpng read error"],
    ["corrupt.jpg", "CORRUPT", "Corrupt JPEG data: premature end of data segment"],
  ])("%s is kept as it came, shown as far as it goes, and flagged %s", async (name, code, measured) => {
    const photo = await kept(name);
    expect(photo).toMatchObject({ preview: "made", flags: [{ code, measured, limit: "a whole picture" }] });
    expect(await readFile(originalPath(photo.dataDir, photo.sha256))).toEqual(await fixtureBytes(name));
  });

  it.each([0.5, 0.7, 0.99])("that is a WebP cut at %d of its length is kept and flagged, though its decoder takes nothing of it", async (part) => {
    const whole = await fixtureBytes("tagged.webp");
    const bytes = whole.subarray(0, Math.floor(whole.length * part));
    const dataDir = await dataFolder();
    const result = await receive({ stream: streamOf(bytes), dataDir });
    expect(result).toMatchObject({ ok: true, width: 240, height: 180, preview: "none", looks: null, flags: [{ code: "TRUNCATED" }] });
    expect(await readFile(originalPath(dataDir, sha256(bytes)))).toEqual(bytes);
  });

  it("that is half a HEIC is found out before a pixel is read", async () => {
    const bytes = (await fixtureBytes("phone.heic")).subarray(0, 3000);
    const result = await receive({ stream: streamOf(bytes), dataDir: await dataFolder() });
    expect(result).toMatchObject({ ok: true, preview: "none", flags: [{ code: "TRUNCATED", measured: "shorter than the file says" }] });
  });

  it("of large size is found damaged too, though it is made much smaller", async () => {
    const pixels = Buffer.from(Array.from({ length: 3000 * 100 * 3 }, (_, i) => (i * 7919) % 251));
    const large = await sharp(pixels, { raw: { width: 3000, height: 100, channels: 3 } }).resize(12_000, 400).jpeg({ quality: 90 }).toBuffer();
    large.fill(0, Math.floor(large.length / 2), Math.floor(large.length / 2) + 200);
    const result = await receive({ stream: streamOf(large), dataDir: await dataFolder() });
    expect(result).toMatchObject({ ok: true, flags: [{ code: "CORRUPT" }] });
  });
});

describe("a file that is refused leaves nothing behind", () => {
  it.each<[string, RefusalCode, Partial<IncomingImage>]>([
    ["empty.jpg", "EMPTY", {}],
    ["text.jpg", "NOT_AN_IMAGE", {}],
    ["picture.gif", "FORMAT_NOT_ALLOWED", {}],
    ["moving.webp", "FORMAT_NOT_ALLOWED", {}],
    ["moving.png", "FORMAT_NOT_ALLOWED", {}],
    ["15000-square.png", "TOO_MANY_PIXELS", {}],
    ["too-small.jpg", "TOO_SMALL", {}],
    ["phone-offset-gps.jpg", "METADATA_OVERSIZE", { limits: { maxMetadataKb: 0.1 } }],
    ["no-metadata.jpg", "TOO_LARGE", { limits: { maxBytesMb: 0.001 } }],
    ["no-metadata.jpg", "TOO_LARGE", { declaredLength: 10 ** 9 }],
    ["no-metadata.jpg", "DIGEST_MISMATCH", { declaredSha256: "0".repeat(64) }],
    ["no-metadata.jpg", "DIGEST_MISMATCH", { declaredLength: 100 }],
    ["no-metadata.jpg", "INTERRUPTED", { declaredLength: 100_000 }],
  ])("%s: %s", async (name, code, more) => {
    const { dataDir, result } = await receiveFixture(name, more);
    expect(result).toMatchObject({ ok: false, refusal: { code } });
    expect(await filesIn(dataDir)).toEqual([]);
  });

  it("when the transfer breaks off", async () => {
    const bytes = await fixtureBytes("no-metadata.jpg");
    async function* broken() {
      yield bytes.subarray(0, 2000);
      throw new Error("connection reset");
    }
    const dataDir = await dataFolder();
    expect(await receive({ stream: broken(), dataDir })).toMatchObject({ ok: false, refusal: { code: "INTERRUPTED", measured: "2000 bytes arrived" } });
    expect(await filesIn(dataDir)).toEqual([]);
  });

  it("when it only begins like a picture", async () => {
    const dataDir = await dataFolder();
    const result = await receive({ stream: streamOf(Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(500, 65)])), dataDir });
    expect(result).toMatchObject({ ok: false, refusal: { code: "NOT_AN_IMAGE" } });
    expect(await filesIn(dataDir)).toEqual([]);
  });

  it("and tells the sender to stop as soon as it is too large", async () => {
    let sent = 0;
    async function* endless() {
      for (;;) {
        sent += 1;
        yield Buffer.alloc(1000);
      }
    }
    const result = await receive({ stream: endless(), dataDir: await dataFolder(), limits: { maxBytesMb: 5000 / 1024 ** 2 } });
    expect(result).toMatchObject({ ok: false, refusal: { code: "TOO_LARGE" } });
    expect(sent).toBe(6);
  });
});

describe("a document", () => {
  const pdf = Buffer.from("%PDF-1.4\n1 0 obj<<>>endobj\ntrailer<<>>\n%%EOF\n");

  it("is kept byte for byte, with no picture made of it", async () => {
    const dataDir = await dataFolder();
    const result = await receiveDocument({ stream: streamOf(pdf), fileName: "certificate.pdf", dataDir, declaredSha256: sha256(pdf).toUpperCase() });
    expect(result).toMatchObject({ ok: true, mediaType: "application/pdf", extension: "pdf", fileName: "certificate.pdf", bytes: pdf.length, flags: [] });
    expect(await readFile(originalPath(dataDir, sha256(pdf)))).toEqual(pdf);
    expect(await filesIn(dataDir)).toHaveLength(1);
  });

  it("is no photo, and a photo is no document", async () => {
    const dataDir = await dataFolder();
    expect(await receive({ stream: streamOf(pdf), dataDir })).toMatchObject({ ok: false, refusal: { code: "FORMAT_NOT_ALLOWED" } });
    expect(await receiveDocument({ stream: createReadStream(fixturePath("no-metadata.jpg")), dataDir })).toMatchObject({ ok: false, refusal: { code: "FORMAT_NOT_ALLOWED" } });
    expect(await filesIn(dataDir)).toEqual([]);
  });
});
