import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";

import { beforeAll, describe, expect, it } from "vitest";

import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { photoFlags } from "#lib/domain/photo/photo-flags";
import { placeVerdict } from "#lib/domain/photo/place";
import { bestPosition } from "#lib/domain/photo/position";
import { receiveImage } from "#lib/photos/intake";
import type { KeptImage, Refused } from "#lib/photos/intake";
import { PhotoReceived } from "#lib/records/photo-kind";
import { oddFiles, spoiltFiles } from "#tests/photos/awkward-file";
import type { AwkwardFile } from "#tests/photos/awkward-file";
import { filesIn, sha256, streamOf } from "#tests/photos/fixture";

const SEED = 20_261_203;
const RECEIVED_AT = Date.parse("2026-12-03T16:00:00Z");
const SITE = { latitude: 44, longitude: -63.5, radiusM: 100, assumedErrorM: 60 };

interface Tried {
  readonly file: AwkwardFile;
  readonly result: KeptImage | Refused;
  readonly left: readonly string[];
  /** What lies under the originals, if anything. */
  readonly original: Buffer | null;
}
const tried: Tried[] = [];

beforeAll(async () => {
  for (const file of [...(await spoiltFiles(SEED)), ...(await oddFiles())]) {
    const dataDir = await mkdtemp(path.join(tmpdir(), "photos-test-"));
    const result = await receiveImage({ stream: streamOf(file.bytes), fileName: file.name, dataDir, renditions: false });
    const left = await filesIn(dataDir);
    tried.push({ file, result, left, original: left[0] === undefined ? null : await readFile(path.join(dataDir, left[0])) });
    await rm(dataDir, { recursive: true, force: true });
  }
}, 60_000);

const kept = () => tried.flatMap(({ file, result }) => (result.ok ? [{ file, photo: result }] : []));

describe("a hundred awkward files", () => {
  it("are each kept byte for byte, or refused with nothing left behind", () => {
    expect(tried.length).toBeGreaterThan(100);
    for (const { file, result, left, original } of tried) {
      const digest = sha256(file.bytes);
      expect([file.name, left]).toEqual([file.name, result.ok ? [`originals/${digest.slice(0, 2)}/${digest}`] : []]);
      expect(original).toEqual(result.ok ? file.bytes : null);
    }
    // Neither answer is the only one, or this would prove nothing.
    expect(kept().length).toBeGreaterThan(40);
    expect(tried.length - kept().length).toBeGreaterThan(20);
  });

  it("give facts that a record can hold", () => {
    for (const { file, photo } of kept()) {
      const { sha256: digest, bytes, mediaType, extension, width, height, claims, flags, looks, preview } = photo;
      const { shape } = PhotoReceived;
      const facts = { sha256: digest, bytes, mediaType, extension, width, height, claims, flags, looks, preview };
      for (const [name, value] of Object.entries(facts)) {
        expect([file.name, name, shape[name as keyof typeof facts].safeParse(value).error?.message]).toEqual([file.name, name, undefined]);
      }
      expect(JSON.parse(JSON.stringify(facts))).toEqual(facts); // a NaN or an Infinity would come back as null
    }
  });

  it("are judged without a number that is none, and every flag says what was measured", () => {
    for (const { file, photo } of kept()) {
      const derived = deriveInstant(photo.claims, { siteZone: "America/Halifax", receivedAt: RECEIVED_AT });
      const place = placeVerdict(bestPosition(photo.claims), SITE);
      const flags = photoFlags(photo.claims, derived, place, { receivedAt: RECEIVED_AT, projectStart: null, shift: null, siteRadiusM: SITE.radiusM });
      const facts = { derived, place, flags };
      expect([file.name, JSON.parse(JSON.stringify(facts))]).toEqual([file.name, facts]);
      for (const { measured, limit } of [...flags, ...photo.flags]) expect(measured !== "" && limit !== "").toBe(true);
    }
  });

  it.each([
    ["cmyk.jpg", []],
    ["progressive.jpg", []],
    ["16-bit.png", []],
    ["interlaced.png", []],
    ["lossless.webp", []],
    ["latin-xmp.jpg", ["METADATA_INVALID"]],
    ["empty-exif.jpg", ["METADATA_INVALID"]],
    ["much-metadata.jpg", ["METADATA_OVERSIZE"]],
    ["more-metadata.jpg", "METADATA_OVERSIZE"],
    ["gif-then-jpeg.jpg", "FORMAT_NOT_ALLOWED"],
    ["film.heic", "FORMAT_NOT_ALLOWED"],
    ["page.jpg", "NOT_AN_IMAGE"],
    ["first-box.heic", "NOT_AN_IMAGE"],
    ["followed-tagged.webp", ["TRAILING_DATA"]],
    ["followed-tagged.png", ["TRAILING_DATA"]],
    ["followed-phone.heic", ["TRAILING_DATA"]],
    ["followed-phone-offset-gps.jpg", ["TRAILING_DATA"]],
  ])("%s: %j", (name, expected) => {
    const { result } = tried.find(({ file }) => file.name === name)!;
    expect(result.ok ? result.flags.map(({ code }) => code) : result.refusal.code).toEqual(expected);
  });
});
