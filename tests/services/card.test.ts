import { existsSync } from "node:fs";
import sharp from "sharp";
import { renderSVG } from "uqr";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { siteTime } from "#lib/domain/clock/site-time";
import { MINUTE } from "#lib/domain/instant";
import { pileCode } from "#lib/domain/photo/tag";
import { listPhotos } from "#lib/db/evidence";
import { originalPath } from "#lib/photos/store";
import { cardView } from "#lib/services/card-view";
import { receiveCardPhoto } from "#lib/services/receive-card-photo";
import { takeCardPhotos } from "#lib/services/take-card-photos";
import { withExif } from "#seed/photo/exif";
import { pictureOf } from "#tests/support/picture";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { smallProject, ZONE, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
let number = 7_000;
beforeEach(async () => {
  small = await smallProject();
  small.later(60);
});
afterEach(() => small.close());

/** A photo as a camera writes it, some minutes ago, with the tag of a pile in it. */
async function photoOf(minutesAgo: number, tag: string | null): Promise<Buffer> {
  const local = siteTime(small.clock.now - minutesAgo * MINUTE, ZONE);
  const plain = await pictureOf((number += 1), 640, 480);
  const code = tag === null ? null : await sharp(Buffer.from(renderSVG(pileCode(tag), { border: 4, ecc: "Q" }))).resize(180, 180).png().toBuffer();
  const jpeg = code === null ? plain : await sharp(plain).composite([{ input: code, left: 40, top: 60 }]).jpeg().toBuffer();
  return withExif(jpeg, { dateTimeOriginal: `${local.date.replaceAll("-", ":")} ${local.iso.slice(11, 19)}`, offset: local.offset, make: "Cove", model: "Two", serial: "11" });
}

async function* once(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}
const put = (bytes: Buffer, fileName = "IMG_1.jpg") => receiveCardPhoto(small.as("crew"), { stream: once(bytes), fileName });
const view = () => cardView(small.house.db.read, { project: small.project, personId: "crew" }, small.clock.now);
const original = (sha256: string) => existsSync(originalPath(small.house.dataDir, sha256));

describe("a photo on a camera card", () => {
  it("is proposed to the pile whose tag is in it, and belongs to nothing until it is taken", async () => {
    await put(await photoOf(20, "02-B"));
    const { groups, proposed } = await view();
    expect([proposed, groups[0]?.certainty, groups[0]?.proposal?.mark, groups[0]?.shots[0]?.subject]).toEqual([1, "tag and time agree", "02-B", "close-up"]);
    expect(await listPhotos(small.house.db.read, "02-B")).toEqual([]);
  });

  it("becomes a photo of its point as if it had been sent there, received when the server had it", async () => {
    const { id, sha256 } = await put(await photoOf(20, "02-B"));
    const receivedAt = small.clock.now;
    small.later(45);
    const choice = { taken: [{ photo: id!, sheet: "02-B", line: "4", subject: "close-up" }], left: [] };
    expect(await takeCardPhotos(small.as("crew"), choice)).toEqual({ taken: 1, left: 0 });
    expect(await takeCardPhotos(small.as("crew"), choice)).toEqual({ taken: 0, left: 0 });
    const [photo, ...more] = await listPhotos(small.house.db.read, "02-B");
    expect([photo?.id, photo?.sha256, photo?.receivedAt, photo?.by, more.length]).toEqual([id, sha256, receivedAt, "crew", 0]);
    expect((await view()).total).toBe(0);
    await expectRebuilt(small.house);
  });

  it("that is left out goes, and its file with it", async () => {
    const { id, sha256 } = await put(await photoOf(20, null));
    expect(original(sha256)).toBe(true);
    await takeCardPhotos(small.as("crew"), { taken: [], left: [id!] });
    expect([(await view()).total, original(sha256)]).toEqual([0, false]);
  });

  it("sent twice is there once, and one that is on record is not there at all", async () => {
    const bytes = await photoOf(20, "02-B");
    const first = await put(bytes);
    expect((await put(bytes)).id).toBe(first.id);
    await takeCardPhotos(small.as("crew"), { taken: [{ photo: first.id!, sheet: "02-B", line: "4", subject: "close-up" }], left: [] });
    expect((await put(bytes)).id).toBeNull();
    expect([(await view()).total, original(first.sha256)]).toEqual([0, true]);
  });

  it("is somebody's own: another person sees and takes nothing of it", async () => {
    const { id } = await put(await photoOf(20, "02-B"));
    expect((await cardView(small.house.db.read, { project: small.project, personId: "qc" }, small.clock.now)).total).toBe(0);
    expect(await takeCardPhotos(small.as("qc"), { taken: [{ photo: id!, sheet: "02-B", line: "4", subject: "close-up" }], left: [] })).toEqual({ taken: 0, left: 0 });
    expect(await listPhotos(small.house.db.read, "02-B")).toEqual([]);
  });
});

it("takes all or nothing: one point that takes no photos now stops the act", async () => {
  const [first, second] = [await put(await photoOf(20, "02-B")), await put(await photoOf(19, null))];
  const taken = [{ photo: first.id!, sheet: "02-B", line: "4", subject: "close-up" }, { photo: second.id!, sheet: "02-B", line: "11", subject: "overview" }];
  expect((await refusedWith(takeCardPhotos(small.as("crew"), { taken, left: [] }))).code).toBe("blocked");
  expect([(await view()).total, (await listPhotos(small.house.db.read, "02-B")).length]).toEqual([2, 0]);
});

it("keeps nothing of a file that is no photo", async () => {
  expect((await refusedWith(put(Buffer.from("no picture at all")))).faults[0]?.field).toBe("NOT_AN_IMAGE");
  expect((await view()).total).toBe(0);
});
