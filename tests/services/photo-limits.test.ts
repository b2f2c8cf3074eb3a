import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { PHOTO_LIMITS } from "#lib/domain/photo/limits";
import { getPhoto } from "#lib/db/evidence";
import { PhotoLimitsForm } from "#lib/edge/schema/photo-limits";
import { limitsNow, loadEvidenceFacts } from "#lib/services/evidence-facts";
import { photoLimitsView } from "#lib/services/photo-limits-view";
import { receivePhoto } from "#lib/services/receive-photo";
import { limitNames, setPhotoLimits } from "#lib/services/set-photo-limits";
import { one } from "#tests/services/camera-shot";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { smallProject, type SmallProject } from "#tests/services/small-project";
import { pictureOf } from "#tests/support/picture";

let site: SmallProject;
beforeEach(async () => {
  site = await smallProject();
});
afterEach(() => site.close());

const set = (limits: Parameters<typeof setPhotoLimits>[1]["limits"], words = "Old cameras.", who: Parameters<SmallProject["as"]>[0] = "qc") => setPhotoLimits(site.as(who), { id: randomUUID(), limits, words });
const view = () => photoLimitsView(site.house.db.read, site.project);

describe("photo limits", () => {
  it("stand at their defaults until somebody sets others, each with its range and words", async () => {
    const { lead, groups, history } = await view();
    expect(lead).toBe(`${limitNames().length} limits, all at their defaults.`);
    expect(groups.flatMap(({ limits }) => limits.map(({ name }) => name)).sort()).toEqual([...limitNames()].sort());
    expect(groups.flatMap(({ limits }) => limits).every(({ name, value, words }) => value === PHOTO_LIMITS[name].normal && words !== "")).toBe(true);
    expect(history).toEqual([]);
  });

  it("hold for photos received after, and leave those received before as they were", async () => {
    const before = await site.sendPhoto("02-A", "4", "close-up");
    await set({ exifOffsetSeconds: 30, deviceSeconds: 5 });
    const after = await site.sendPhoto("02-A", "4", "close-up");

    const photos = await Promise.all([before, after].map((id) => getPhoto(site.house.db.read, id)));
    const known = await loadEvidenceFacts(site.house.db.read, site.project, photos);
    expect(photos.map(({ seq }) => known.limitsAt(seq).exifOffsetSeconds)).toEqual([120, 30]);
    expect((await limitsNow(site.house.db.read, site.project.id)).deviceSeconds).toBe(5);
    await expectRebuilt(site.house);
  });

  it("refuse what goes past them at receipt", async () => {
    await set({ minSidePx: 300 });
    const small = await refusedWith(receivePhoto(site.as("crew"), { sheet: "02-A", line: "4", subject: "close-up", stream: one(await pictureOf(9_100)) }));
    expect(small.faults[0]?.field).toBe("TOO_SMALL");
  });

  it("say who changed what, from what to what and why, the newest first", async () => {
    await set({ burstSeconds: 90 }, "Two shots of each face.");
    site.later(10);
    await set({ burstSeconds: 60, lookAlikeBits: 6 }, "Back, and closer.");
    expect((await view()).history).toEqual([
      { by: "Hedda Lorne", when: "Wed 2 Dec 2026, 08:10 −04:00", words: "Back, and closer.", changes: [{ title: "Look-alike", from: "8 bits of 64", to: "6 bits of 64" }, { title: "Burst", from: "90 s", to: "60 s" }] },
      { by: "Hedda Lorne", when: "Wed 2 Dec 2026, 08:00 −04:00", words: "Two shots of each face.", changes: [{ title: "Burst", from: "60 s", to: "90 s" }] },
    ]);
    expect((await view()).lead).toBe(`${limitNames().length} limits, 1 changed from its default.`);
  });

  it.each([
    ["above its range", { maxBytesMb: 201 }, "maxBytesMb", "Largest file: from 1 to 200 MB, 201 was given."],
    ["below its range", { driftSeconds: 0 }, "driftSeconds", "Drift of a camera: from 1 to 400 s, 0 was given."],
    ["no number", { streakDeltaE: Number.NaN }, "streakDeltaE", "Streak colour: from 1 to 30 ΔE00, NaN was given."],
  ])("refuse a value that is %s, at its field", async (_, limits, field, message) => {
    const refusal = await refusedWith(set(limits));
    expect(refusal).toMatchObject({ code: "invalid", faults: [{ field, message }] });
    expect((await view()).history).toEqual([]);
  });

  it("need a reason, and a change", async () => {
    expect((await refusedWith(set({ burstSeconds: 90 }, "  "))).faults).toEqual([{ field: "words", message: "Give the reason: it stands in the log beside the change." }]);
    expect((await refusedWith(set({ burstSeconds: 60 }))).faults).toEqual([{ field: null, message: "Every limit is as it was. Change one first." }]);
  });

  it.each(["crew", "inspector", "engineer", "owner"] as const)("are not for the %s to set", async (who) => {
    expect((await refusedWith(set({ burstSeconds: 90 }, "Why not.", who))).code).toBe("not-allowed");
  });
});

describe("the form of the limits", () => {
  const filled = { id: randomUUID(), words: "Reason.", ...Object.fromEntries(limitNames().map((name) => [name, String(PHOTO_LIMITS[name].normal)])) };

  it("reads numbers as they are typed, with a point or a comma", () => {
    expect(PhotoLimitsForm.parse({ ...filled, streakSharePct: "2,5", blankLevels: " 3.25 " }).limits).toMatchObject({ streakSharePct: 2.5, blankLevels: 3.25 });
  });

  it.each(["", "ten", "-1", "1e9", "1e400", "201", "0x10", "1.2.3"])("puts a fault at the field for %j", (text) => {
    const read = PhotoLimitsForm.safeParse({ ...filled, maxBytesMb: text });
    expect(read.error?.issues[0]).toMatchObject({ path: ["maxBytesMb"], message: "Largest file: a number from 1 to 200 MB." });
  });
});
