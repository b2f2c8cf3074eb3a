import { rm, stat } from "node:fs/promises";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { MINUTE } from "#lib/domain/instant";
import { pileCode } from "#lib/domain/photo/tag";
import { getPhoto } from "#lib/db/evidence";
import { originalPath, renditionPath } from "#lib/photos/store";
import { receivePhoto } from "#lib/services/receive-photo";
import { runStudy, studyPhotos, wakeStudy } from "#lib/services/study-photo";
import { fixtureBytes, streamOf } from "#tests/photos/fixture";
import { sceneWith } from "#tests/photos/tag-scene";
import { expectRebuilt } from "#tests/services/rebuilt";
import { CODE, smallProject, type SmallProject } from "#tests/services/small-project";

let site: SmallProject;
const read = (id: string) => getPhoto(site.house.db.read, id);

beforeEach(async () => {
  site = await smallProject();
});
afterEach(() => site.close());

async function send(bytes: Buffer, { mark = "02-A", fileName = "close-up.jpg" } = {}): Promise<string> {
  site.clock.now += MINUTE;
  return (await receivePhoto(site.as("crew"), { sheet: mark, line: "4", subject: "close-up", stream: streamOf(bytes), fileName })).id;
}

const withTag = async (text: string): Promise<Buffer> => sceneWith({ text, modulePx: 4, turnDegrees: 9 });
const logOf = () => site.house.db.read.logEntry.findMany({ where: { projectId: CODE }, orderBy: { seq: "asc" } });

describe("what is read of a photo after its receipt", () => {
  it("is the code of the tag in it, on record once", async () => {
    const tagged = await send(await withTag(pileCode("02-A")));
    const plain = await send(await sceneWith(null));
    expect((await read(tagged)).codes).toBeNull();

    expect(await studyPhotos(site.house)).toMatchObject({ count: 2 });
    expect((await read(tagged)).codes).toEqual([pileCode("02-A")]);
    expect((await read(plain)).codes).toEqual([]);
    expect(await studyPhotos(site.house)).toMatchObject({ count: 0 });
    await expectRebuilt(site.house);
  });

  it("is recorded by the system at the project's time", async () => {
    await send(await sceneWith(null));
    site.clock.now += 3 * MINUTE;
    await studyPhotos(site.house);
    const last = (await logOf()).at(-1)!;
    expect(JSON.parse(Buffer.from(last.bytes).toString())).toMatchObject({ actor: "system", at: new Date(site.clock.now).toISOString(), type: "photo read" });
  });

  it("is of a HEIC its looks and its renditions, which the receipt leaves out", async () => {
    const id = await send(await fixtureBytes("phone.heic"), { fileName: "phone.heic" });
    expect(await read(id)).toMatchObject({ looks: null, preview: "none" });

    await studyPhotos(site.house);
    const photo = await read(id);
    expect(photo).toMatchObject({ preview: "made", codes: [], looks: { pixels: expect.stringMatching(/^[0-9a-f]{64}$/) as string, hash: expect.stringMatching(/^[0-9a-f]{32}$/) as string } });
    for (const px of [320, 1600] as const) expect((await stat(renditionPath(site.house.dataDir, px, photo.sha256))).size).toBeGreaterThan(500);
    await expectRebuilt(site.house);
  });

  it("is nothing where the picture cannot be decoded: that is said, and nobody tries again", async () => {
    const spoiled = await fixtureBytes("phone.heic");
    spoiled.fill(0, 700); // as long as it was, its picture wiped
    const id = await send(spoiled, { fileName: "spoiled.heic" });
    expect(await studyPhotos(site.house)).toMatchObject({ count: 1 });
    expect(await read(id)).toMatchObject({ codes: [], looks: null, preview: "none", flags: expect.arrayContaining([expect.objectContaining({ code: "CORRUPT", measured: expect.stringContaining("HEIC cannot be decoded") as string })]) as object[] });
    expect(await studyPhotos(site.house)).toMatchObject({ count: 0 });
  });

  it("does not say the damage again that the receipt has said", async () => {
    const id = await send(await fixtureBytes("truncated.jpg"));
    await studyPhotos(site.house);
    const flags = (await read(id)).flags.map(({ code }) => code);
    expect(flags.filter((code) => code === "TRUNCATED" || code === "CORRUPT")).toHaveLength(1);
  });

  it("waits for an original that is not there, and keeps no other from being read", async () => {
    const said = vi.spyOn(console, "error").mockImplementation(() => undefined);
    const lost = await send(await withTag(pileCode("02-A")));
    const other = await send(await withTag(pileCode("02-B")), { mark: "02-B" });
    await rm(originalPath(site.house.dataDir, (await read(lost)).sha256));

    expect(await studyPhotos(site.house)).toMatchObject({ count: 1 });
    expect((await read(lost)).codes).toBeNull();
    expect((await read(other)).codes).toEqual([pileCode("02-B")]);
    expect(said).toHaveBeenCalledWith(expect.stringContaining(lost));
    said.mockRestore();
  });

  it("is read of more photos than are taken at once, each by itself", async () => {
    const ids: string[] = [];
    for (let i = 0; i < 19; i += 1) ids.push(await site.sendPhoto("02-C", "4", "close-up"));
    expect(await studyPhotos(site.house)).toMatchObject({ count: 19 });
    expect((await Promise.all(ids.map(read))).every(({ codes }) => codes?.length === 0)).toBe(true);
  });
});

describe("a server's study", () => {
  const untilRead = (id: string) => vi.waitFor(async () => expect((await read(id)).codes).not.toBeNull(), { timeout: 10_000, interval: 20 });

  it("reads what was left, then what comes in, and nothing any more when it was stopped", async () => {
    const left = await send(await withTag(pileCode("02-A")));
    const study = runStudy(site.house);
    try {
      await untilRead(left);
      const next = await send(await withTag(pileCode("02-B"))); // its receipt wakes the study
      await untilRead(next);
      expect((await read(next)).codes).toEqual([pileCode("02-B")]);
    } finally {
      await study.stop();
    }
    const late = await send(await sceneWith(null));
    wakeStudy();
    expect((await read(late)).codes).toBeNull();
    expect(await studyPhotos(site.house)).toMatchObject({ count: 1 });
  });

  it("has recorded what it was reading when stop is over", async () => {
    const id = await send(await sceneWith(null));
    const study = runStudy(site.house);
    await study.stop();
    const before = (await read(id)).codes;
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect((await read(id)).codes).toEqual(before); // nothing is written behind the back of a closed database
  });

  it("records each photo once, however often it is woken", async () => {
    const study = runStudy(site.house);
    try {
      const ids = [await send(await sceneWith(null)), await send(await withTag(pileCode("02-A")))];
      for (let i = 0; i < 20; i += 1) wakeStudy();
      await Promise.all(ids.map(untilRead));
    } finally {
      await study.stop();
    }
    expect(await site.house.db.read.photoReading.count()).toBe(2);
  });
});
