import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR, MINUTE, SECOND } from "#lib/domain/instant";
import { receiveClockPhoto } from "#lib/services/receive-clock-photo";
import { receivePhoto } from "#lib/services/receive-photo";
import { openOriginal } from "#lib/photos/store";
import { withExif } from "#seed/photo/exif";
import { filesIn } from "#tests/photos/fixture";
import { FORGOTTEN, FORGOTTEN_KEY, handIn, one, pageAt, pictureOfCode, shotBy } from "#tests/services/camera-shot";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { smallProject, type SmallProject } from "#tests/services/small-project";
import { pictureOf } from "#tests/support/picture";

let site: SmallProject;
beforeEach(async () => {
  site = await smallProject();
});
afterEach(() => site.close());

const originals = async () => (await filesIn(site.house.dataDir)).filter((file) => file.startsWith("originals"));
const samples = () => site.house.db.read.cameraSample.findMany({ orderBy: { id: "asc" } });

describe("a photo of the clock page", () => {
  it("is kept with the time that the page showed, beside what the camera wrote", async () => {
    const shown = site.clock.now;
    const receipt = await handIn(site, shotBy(FORGOTTEN, shown));

    expect(receipt).toMatchObject({ camera: FORGOTTEN_KEY, shown: "2026-12-02T12:00:00.000Z", cameraSays: "2026:12:02 09:00:50", receivedAt: "2026-12-02T12:00:00.000Z" });
    const file = await openOriginal(site.house.dataDir, receipt.sha256);
    await file?.close();
    expect(file).not.toBeNull();
    expect(await samples()).toEqual([
      expect.objectContaining({ id: `${receipt.id}:clock page`, camera: FORGOTTEN_KEY, photoId: receipt.id, source: "clock page", wall: "2026-12-02T09:00:50.000", trueAt: new Date(shown), seq: receipt.seq }),
    ]);
    await expectRebuilt(site.house);
  });

  it("gives its GPS time too, where the camera wrote one", async () => {
    const { id } = await handIn(site, shotBy(FORGOTTEN, site.clock.now, { gps: true }));
    expect((await samples()).map((row) => row.id)).toEqual([`${id}:GPS time`, `${id}:clock page`]);
  });

  it("sent twice is one receipt, and its id stands for no other file", async () => {
    const id = randomUUID();
    const shown = site.clock.now;
    const first = await handIn(site, shotBy(FORGOTTEN, shown), { id });
    site.later(3);
    expect(await handIn(site, shotBy(FORGOTTEN, shown), { shown, id })).toEqual(first);
    expect((await refusedWith(handIn(site, shotBy(FORGOTTEN, site.clock.now), { id }))).code).toBe("conflict");
    expect(await site.house.db.read.clockPhoto.count()).toBe(1);
    expect(await originals()).toHaveLength(1);
  });

  it.each([
    ["has no code that can be read", async () => withExif(await pictureOf(9_001), shotBy(FORGOTTEN, Date.parse("2026-12-02T12:00:00Z"))), /whole code is in the picture/],
    ["has the code of a pile's tag", async () => withExif(await pictureOfCode("lastlook:pile:02-A"), shotBy(FORGOTTEN, Date.parse("2026-12-02T12:00:00Z"))), /No clock code/],
    ["names no camera", () => pageAt(Date.parse("2026-12-02T12:00:00Z")), /names no camera/],
    ["carries no time of its own", async () => withExif(await pageAt(Date.parse("2026-12-02T12:00:00Z")), { ...FORGOTTEN, dateTimeOriginal: "    :  :     :  :  " }), /wrote no time/],
    ["shows a time that has not come", async () => withExif(await pageAt(Date.parse("2026-12-02T13:00:00Z")), shotBy(FORGOTTEN, Date.parse("2026-12-02T12:00:00Z"))), /not come yet/],
    ["is no picture", async () => Buffer.from("not a picture at all"), /picture/],
  ])("that %s is refused and leaves no file and no row", async (_, make, words) => {
    const refusal = await refusedWith(receiveClockPhoto(site.as("crew"), { stream: one(await make()) }));
    expect(refusal.code).toBe("invalid");
    expect(refusal.message).toMatch(words);
    expect(await filesIn(site.house.dataDir).then((files) => files.filter((file) => /^(originals|renditions|incoming)/.test(file)))).toEqual([]);
    expect(await site.house.db.read.clockPhoto.count()).toBe(0);
    expect(await samples()).toEqual([]);
  });

  it("that is refused does not take a photo of a point with it that has the same bytes", async () => {
    const bytes = withExif(await pictureOf(9_002), shotBy(FORGOTTEN, site.clock.now - MINUTE));
    const { sha256 } = await receivePhoto(site.as("crew"), { sheet: "02-A", line: "4", subject: "close-up", stream: one(bytes) });
    await refusedWith(receiveClockPhoto(site.as("crew"), { stream: one(bytes) }));
    const file = await openOriginal(site.house.dataDir, sha256);
    expect((await file?.readFile())?.equals(bytes)).toBe(true);
    await file?.close();
  });

  it("is taken from nobody who does not send photos", async () => {
    const refusal = await refusedWith(handIn(site, shotBy(FORGOTTEN, site.clock.now), { who: "inspector" }));
    expect(refusal.code).toBe("not-allowed");
    expect(await originals()).toEqual([]);
  });

  it("of a device without a serial number is a reference of the one who sends with it", async () => {
    const phone = { make: "Tavio", model: "Field 2" };
    const theirs = await handIn(site, shotBy(phone, site.clock.now), { who: "qc" });
    site.later(1);
    const own = await handIn(site, shotBy(phone, site.clock.now, { aheadMs: -4 * HOUR + 3 * SECOND }));
    expect([theirs.camera, own.camera]).toEqual(["Tavio|Field 2|of qc", "Tavio|Field 2|of crew"]);
  });
});
