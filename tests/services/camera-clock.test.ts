import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { MINUTE, SECOND } from "#lib/domain/instant";
import { listReferences } from "#lib/db/camera";
import { camerasView } from "#lib/services/camera-view";
import { confirmCameraClock } from "#lib/services/confirm-camera-clock";
import { photosOfSheet } from "#lib/services/point-photos";
import { FORGOTTEN, FORGOTTEN_AHEAD_MS, FORGOTTEN_KEY, handIn, sendShot, shotBy } from "#tests/services/camera-shot";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { smallProject, type SmallProject } from "#tests/services/small-project";

let site: SmallProject;
beforeEach(async () => {
  site = await smallProject();
});
afterEach(() => site.close());

const view = (camera: string | null = null) => camerasView(site.house.db.read, site.project, camera, site.clock.now);
const seen = async (): Promise<number> => (await view(FORGOTTEN_KEY)).open?.proposal?.seen ?? 0;
const confirm = async (words = "") => confirmCameraClock(site.as("qc"), { id: randomUUID(), camera: FORGOTTEN_KEY, seen: await seen(), words });
const judged = async (id: string) => (await photosOfSheet(site.house.db.read, await site.sheet("02-A"))).find((one) => one.view.photo.id === id)!.view;

/** An overview of the last look by the camera that nobody put back, without GPS. */
async function overview(): Promise<string> {
  await site.bringToLastLook("02-A");
  site.later(20);
  return sendShot(site, shotBy(FORGOTTEN, site.clock.now), { line: "11", subject: "overview" });
}

describe("confirming a camera's clock", () => {
  it("moves a photo without zone from cannot tell to in order, says so before, and keeps what the camera wrote", async () => {
    const id = await overview();
    expect((await judged(id)).order.verdict).toBe("cannot tell");
    await handIn(site, shotBy(FORGOTTEN, site.clock.now));

    const before = await view();
    expect(before.lead).toBe("2 cameras, 1 waits for a confirmation.");
    expect(before.open).toMatchObject({ key: FORGOTTEN_KEY, state: "to be confirmed", finding: "50 s fast and is still on summer time, 1 h ahead of the site: 1 of 1 reference agrees", senders: ["Ora Venn"], photos: 1 });
    expect(before.open?.effect).toMatchObject({ photos: 1, corrected: 1, moves: [{ from: "cannot tell", to: "in order", count: 1 }] });

    await confirm("Nobody put it back on 1 November.");
    const after = await judged(id);
    expect(after.order.verdict).toBe("in order");
    expect(after.derived).toMatchObject({ basis: "CAMERA_REFERENCE", cameraDriftSeconds: 50, cameraOffsetSeconds: -3 * 3600 });
    expect(after.derived.cameraSays).toBe(before.open?.effect?.examples[0]?.cameraSaid);

    const { open, lead } = await view(FORGOTTEN_KEY);
    expect(lead).toBe("2 cameras, 1 confirmed.");
    expect(open).toMatchObject({ state: "confirmed", newer: 0, proposal: null, confirmations: [{ by: "Hedda Lorne", words: "Nobody put it back on 1 November.", references: 1 }] });
    expect(open?.effect?.moves).toEqual([{ from: "cannot tell", to: "in order", count: 1 }]);
    await expectRebuilt(site.house);
  });

  it("freezes what the QC manager saw, and not what came meanwhile", async () => {
    await handIn(site, shotBy(FORGOTTEN, site.clock.now));
    const upTo = await seen();
    site.later(10);
    await handIn(site, shotBy(FORGOTTEN, site.clock.now, { aheadMs: FORGOTTEN_AHEAD_MS + 3 * SECOND }));
    await confirmCameraClock(site.as("qc"), { id: randomUUID(), camera: FORGOTTEN_KEY, seen: upTo, words: "" });

    const { open } = await view(FORGOTTEN_KEY);
    expect(open).toMatchObject({ state: "confirmed", newer: 1, confirmations: [{ references: 1 }] });
    expect(open?.proposal).toMatchObject({ references: 2 });
    expect(open?.rows.map(({ since }) => since)).toEqual([true, false]);
  });

  it("holds as it was last confirmed, and newer references that say otherwise are said", async () => {
    await handIn(site, shotBy(FORGOTTEN, site.clock.now));
    await confirm();
    site.later(24 * 60);
    for (let turn = 0; turn < 3; turn += 1) {
      await handIn(site, shotBy(FORGOTTEN, site.clock.now, { aheadMs: -4 * 3600 * SECOND + turn * SECOND }));
      site.later(15);
    }
    expect((await view(FORGOTTEN_KEY)).open).toMatchObject({ state: "changed since", newer: 3 });

    await confirm("Put right on 3 December.");
    const { open } = await view(FORGOTTEN_KEY);
    expect(open).toMatchObject({ state: "confirmed", newer: 0 });
    expect(open?.confirmations.map(({ references }) => references)).toEqual([4, 1]);
  });

  it("is refused where nothing tells, and where too little does", async () => {
    const nothing = await refusedWith(confirm());
    expect(nothing.code).toBe("not-found");
    await sendShot(site, shotBy(FORGOTTEN, site.clock.now, { gps: true }));
    await sendShot(site, shotBy(FORGOTTEN, site.clock.now, { gps: true }));
    const few = await refusedWith(confirmCameraClock(site.as("qc"), { id: randomUUID(), camera: FORGOTTEN_KEY, seen: 1e9, words: "" }));
    expect(few.code).toBe("blocked");
    expect(few.message).toMatch(/clock page/);
    expect((await view()).open).toMatchObject({ state: "cannot tell", finding: "2 references, and three are needed, or one photo of the clock page", proposal: null });
    expect(await site.house.db.read.cameraClock.count()).toBe(0);
  });

  it.each(["crew", "inspector", "engineer", "owner"] as const)("is not for the %s", async (who) => {
    await handIn(site, shotBy(FORGOTTEN, site.clock.now));
    const upTo = await seen();
    expect((await refusedWith(confirmCameraClock(site.as(who), { id: randomUUID(), camera: FORGOTTEN_KEY, seen: upTo, words: "" }))).code).toBe("not-allowed");
  });
});

describe("the series of a camera", () => {
  it("comes from the GPS time of its photos, and photos without one are judged by it before anybody confirms", async () => {
    for (let turn = 0; turn < 3; turn += 1) {
      await sendShot(site, shotBy(FORGOTTEN, site.clock.now, { gps: true }));
      site.later(20);
    }
    expect((await listReferences(site.house.db.read, site.project.id)).get(FORGOTTEN_KEY)).toHaveLength(3);
    const bare = await sendShot(site, shotBy(FORGOTTEN, site.clock.now));
    const { derived } = await judged(bare);
    expect(derived.basis).toBe("SITE_ZONE_ASSUMED");
    expect(derived.hypotheses).toHaveLength(1);
    expect(Math.abs(derived.hypotheses[0]! - (site.clock.now - 5 * MINUTE))).toBeLessThanOrEqual(120 * SECOND); // the limit of a camera time without zone
    expect((await view()).open).toMatchObject({ state: "to be confirmed", finding: "50 s fast and is still on summer time, 1 h ahead of the site: 3 of 3 references agree" });
    await expectRebuilt(site.house);
  });

  it("drops the time of an old fix, and the photo that carries it is not dated by it", async () => {
    for (let turn = 0; turn < 4; turn += 1) {
      await sendShot(site, shotBy(FORGOTTEN, site.clock.now, { gps: true }));
      site.later(20);
    }
    const fix = site.clock.now - 8 * MINUTE;
    const stale = await sendShot(site, shotBy(FORGOTTEN, site.clock.now, { gps: fix }));
    const { derived } = await judged(stale);
    expect(derived.hypotheses).not.toContain(fix);
    expect(derived.flags.map(({ code }) => code)).toContain("TIME_GPS_MISMATCH");

    const { open } = await view();
    expect(open?.finding).toMatch(/4 of 5 references agree$/);
    expect(open?.strip?.dropped).toHaveLength(1);
    expect(open?.rows[0]).toMatchObject({ photo: stale, dropped: expect.stringMatching(/off the median/) });
  });

  it("is of one project alone", async () => {
    await handIn(site, shotBy(FORGOTTEN, site.clock.now));
    expect(await listReferences(site.house.db.read, "elsewhere")).toEqual(new Map());
  });

  it("leaves out photos that name no camera, and counts them", async () => {
    await sendShot(site, { ...shotBy(FORGOTTEN, site.clock.now), make: "", model: "" });
    expect(await view()).toMatchObject({ lead: "No photo names a camera yet.", cameras: [], open: null, nameless: 1 });
  });
});
