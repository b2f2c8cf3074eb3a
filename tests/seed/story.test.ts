import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { siteTime } from "#lib/domain/clock/site-time";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { listPhotos } from "#lib/db/evidence";
import { getPile } from "#lib/db/pile";
import { findMember, getProject, listRevisions } from "#lib/db/project";
import { standingSubmission, type Standing } from "#lib/services/decide-point";
import { likenessTasks } from "#lib/services/likeness-view";
import { photosOfPoint } from "#lib/services/point-photos";
import { openHouse, type House } from "#lib/services/house";
import { readyPhotoFile, readyPhotos } from "#lib/services/ready-photo";
import { clockOf, getLine, loadSheet, type Sheet } from "#lib/services/sheet";
import { signIn } from "#lib/services/sign-in";
import { readClaims } from "#lib/photos/read-claims";
import { readHeader } from "#lib/photos/picture-pool";
import { onSite, STANDS_AT, ZONE } from "#seed/calendar";
import { PASSWORD } from "#seed/cast";
import { PILES } from "#seed/facts/all";
import type { PileFact } from "#seed/facts/fact";
import { seed } from "#seed/seed";
import { WHARF_2 } from "#seed/wharf-2";
import { plainMaker } from "#tests/seed/plain-maker";

function fact(mark: string): PileFact {
  const found = PILES.find((one) => one.mark === mark);
  if (!found) throw new Error(`There is no pile ${mark}.`);
  return found;
}

/** A pile's story up to a day. */
const upTo = (mark: string, day: string): PileFact => {
  const { accepted: _later, drafts: _drafts, gates: _gates, ready: _ready, days, ...pile } = fact(mark);
  return { ...pile, days: days.filter(({ on }) => on <= day) };
};

/** Up to the cure that crosses the change of the clocks, and up to the photo that was used twice. */
const BEGINNINGS = (): PileFact[] => [upTo("03-A", "2026-11-01"), upTo("04-B", "2026-11-10"), upTo("04-C", "2026-11-17")];

let dataDir: string;
let house: House;

beforeAll(async () => {
  dataDir = await mkdtemp(path.join(tmpdir(), "lastlook-seed-"));
  await seed(dataDir, { piles: [...BEGINNINGS(), ...["03-D", "04-D", "05-B", "05-C", "05-D", "06-D"].map(fact)], second: false, maker: plainMaker() });
  house = openHouse(dataDir);
}, 120_000);

afterAll(async () => {
  await house.db.close();
  await rm(dataDir, { recursive: true, force: true });
});

async function sheetOf(mark: string, at = STANDS_AT): Promise<Sheet> {
  const project = await getProject(house.db.read, WHARF_2);
  return loadSheet(house.db.read, project, (await getPile(house.db.read, project.id, { mark })).id, at);
}

async function standing(mark: string, line: string): Promise<Standing> {
  const found = await standingSubmission(house.db.read, await sheetOf(mark), line);
  if (!found) throw new Error(`Nothing stands at ${mark} point ${line}.`);
  return found;
}

const stateOf = async (mark: string, line: string): Promise<string> => getLine(await sheetOf(mark), line).status.state;

describe("the demonstration's story", () => {
  it("stands at its own instant, noon on 3 December, and goes on from there", async () => {
    const project = await getProject(house.db.read, WHARF_2);
    expect(project.clockFrom).toBe(STANDS_AT);
    const now = await house.now(project);
    expect(Math.abs(now - STANDS_AT)).toBeLessThan(60_000); // ms; it runs on while the test does
  });

  it("lets everybody sign in by first name", async () => {
    const { personId } = await signIn(house, { signIn: "ilse", password: PASSWORD, agent: "test" });
    expect(personId).toBe("ilse");
  });

  it("is not played twice over one data folder", async () => {
    expect(await seed(dataDir, { maker: plainMaker() })).toBe(false);
  });

  // 18 h from 20:30 −03:00, over the night in which the clocks go back: 13:30 −04:00, not 14:30.
  it("ends 03-A's cure of 18 h at 20 °C at 13:30 after the clocks went back", async () => {
    const sheet = await sheetOf("03-A");
    const clock = clockOf(sheet, getLine(sheet, "17").line);
    expect(clock?.progress).toBeCloseTo(18, 9);
    expect(siteTime(clock?.doneAt ?? 0, ZONE).iso).toBe("2026-11-01T13:30:00-04:00");
    expect(await stateOf("03-A", "17")).toBe("released");
  });

  // 6 h each at 20, 10 and 14 °C: 120 + 60 + 84 = 264 °C·h; (400 − 264) ÷ 12 = 11 h 20 min more.
  it("has 03-D's grout at 264 of 400 °C·h, to be stripped from 23:20 at the earliest", async () => {
    const sheet = await sheetOf("03-D");
    const clock = clockOf(sheet, getLine(sheet, "22").line);
    expect(clock?.progress).toBeCloseTo(264, 2);
    expect(clock?.required).toBe(400);
    expect(siteTime(clock?.earliest ?? 0, ZONE).iso.slice(0, 16)).toBe("2026-12-03T23:20");
  });

  // 6 h × (1 + 1/2 + 2^−0.6) = 12.9585 h.
  it("has 04-D's jacket cure paused at 12.96 of 18 h, since it is 6 °C and 8 °C is the least", async () => {
    const sheet = await sheetOf("04-D");
    const clock = clockOf(sheet, getLine(sheet, "17").line);
    expect(clock?.state).toBe("paused");
    expect(clock?.earliest).toBeNull();
    expect(clock?.progress.toFixed(2)).toBe("12.96");
    expect(clock?.lastC).toBe(6);
  });

  it("has revision C drafted by Jonty, reviewed by Hanne and approved by Pim for piles that start later: 04-D keeps 18 h", async () => {
    const project = await getProject(house.db.read, WHARF_2);
    const c = (await listRevisions(house.db.read, project.id)).find(({ letter }) => letter === "C");
    expect(c).toMatchObject({ approvedBy: "pim", approvedAt: onSite("2026-11-19 15:10"), appliesFrom: onSite("2026-11-27 07:00"), terms: { reviewedBy: "hanne", words: "Resin maker's letter of 16 Nov." } });
    expect(c?.terms.answers.map(({ type, line, applies }) => `${type} ${line} ${applies}`)).toEqual(["T 15", "T 12", "T 14", "H 17", "C 17", "T 17"].map((line) => `${line} piles that start`));
    const cure = getLine(await sheetOf("04-D"), "17").line.quantities[0]?.rule;
    expect(cure).toMatchObject({ form: "cure", hours: "18" });
  });

  it("rejected 05-B's batch of 1020 g of A and 372 g of B, 4.02 % short", async () => {
    const sheet = await sheetOf("05-B");
    const { status } = getLine(sheet, "13");
    expect(status.state).toBe("rejected");
    const rejected = status.standing.attempts[0]?.submissions[0]?.submission.submissionId;
    const found = await standingSubmission(house.db.read, sheet, "13", rejected);
    const ratio = found?.judged.find(({ quantity }) => quantity.id === "ratio");
    expect(ratio?.verdict).toBe("fails");
    expect(ratio?.measured).toContain("4.02");
  });

  it("waits at 05-C for a last look that the preparation allows until 17:20, with one photo that cannot be placed in time and one camera on summer time", async () => {
    const sheet = await sheetOf("05-C");
    const { status } = getLine(sheet, "11");
    expect(status.state).toBe("submitted");
    const wait = getLine(sheet, "4").status.runningWaits.find(({ at }) => at === "11");
    expect(siteTime(wait?.until ?? 0, ZONE).iso).toBe("2026-12-03T17:20:00-04:00");
    const { photos, questions } = await standing("05-C", "11");
    expect(photos.map(({ order }) => order.verdict)).toEqual(expect.arrayContaining(["in order", "in order", "in order", "cannot tell"]));
    expect(questions.map(({ code }) => code).sort()).toEqual(["ORDER_CANNOT_TELL", "TIME_OFFSET_NOT_SITE"]);
    expect(getLine(await sheetOf("05-C", Date.parse("2026-12-03T17:21:00-04:00")), "4").status.state).toBe("expired");
  });

  it("finds the photo of 04-B that was saved again and sent for 04-C, and asks those who released either to look at both", async () => {
    const { photos } = await standing("04-C", "3");
    const [copy, ...others] = photos.filter(({ flags }) => flags.some(({ code }) => code === "DUP_NEAR"));
    expect([copy?.photo.id, others.length, copy?.order.verdict]).toEqual(["w2-04-C-3-1-faces-1", 0, "no time"]);
    expect(copy?.flags.find(({ code }) => code === "DUP_NEAR")?.measured).toMatch(/^[0-8] of 64 cells differ from the photo at pile 04-B, point 3$/);
    const project = await getProject(house.db.read, WHARF_2);
    const inspector = (await findMember(house.db.read, project.id, "ilse"))!;
    const tasks = await likenessTasks(house.db.read, project, inspector, STANDS_AT);
    expect(tasks.map(({ marks }) => marks)).toEqual([["04-B", "04-C"]]);
  });

  it("finds 05-D's clean-hole photo 32 minutes too late, and the bars that stand on the holes in doubt", async () => {
    expect(await stateOf("05-D", "6")).toBe("submitted");
    expect(await stateOf("05-D", "7")).toBe("in doubt");
    const { photos } = await standing("05-D", "6");
    const clean = photos.filter(({ subject }) => subject === "clean").sort((a, b) => (a.derived.instant ?? 0) - (b.derived.instant ?? 0));
    expect(clean[0]?.order.verdict).toBe("too late");
    expect(Math.floor((clean[0]?.order.bySeconds ?? 0) / 60)).toBe(32); // the camera writes hundredths of a second as well
  });

  it("cannot tell where 06-D's photo was taken: 64 m off, give or take 48 m", async () => {
    const sheet = await sheetOf("06-D");
    const { line, status } = getLine(sheet, "4");
    expect(status.state).toBe("open");
    const [view] = await photosOfPoint(house.db.read, sheet, line, await listPhotos(house.db.read, sheet.id, "4"), { attempt: 1, beforeSeq: Number.POSITIVE_INFINITY });
    expect(view?.place).toMatchObject({ verdict: "place cannot tell", errorM: 48 });
    // GeographicLib: 64.096 m on the WGS 84 ellipsoid between 44, −63.5 and 44.00045, −63.5005.
    expect(view?.place.distanceM).toBeCloseTo(64.096, 3);
  });

  it("has photos of all released points in order", async () => {
    for (const mark of ["03-A", "03-D", "04-D"]) {
      const sheet = await sheetOf(mark);
      for (const { line } of sheet.lines.filter((one) => getLine(sheet, one.line).status.state === "released")) {
        const { photos } = await standing(mark, line);
        expect(photos.filter(({ order }) => order.verdict !== "in order"), `${mark} point ${line}`).toEqual([]);
      }
    }
  });

  it("lays photos ready for a point to be gone on with, taken before noon of the last day", async () => {
    const photos = await readyPhotos(dataDir, WHARF_2, "06-D", "4");
    expect(photos.map(({ subject }) => subject)).toEqual(["close-up", "close-up", "close-up", "close-up", "overview"]);
    const file = await readyPhotoFile(dataDir, WHARF_2, "06-D", "4", photos[0]?.file ?? "");
    const header = await readHeader(file ?? "", 1_000_000);
    if (!header) throw new Error("The ready photo is no picture.");
    const { instant } = deriveInstant(readClaims(header).claims, { siteZone: ZONE, receivedAt: STANDS_AT });
    expect(instant).toBe(Date.parse(photos[0]?.taken ?? ""));
    expect(instant).toBeLessThan(STANDS_AT);
  });

  it("gives no ready photo that the list does not name, and none for names that are no point", async () => {
    expect(await readyPhotoFile(dataDir, WHARF_2, "06-D", "4", "../list.json")).toBeNull();
    expect(await readyPhotoFile(dataDir, WHARF_2, "06-D", "4", "list.json")).toBeNull();
    expect(await readyPhotos(dataDir, WHARF_2, "../..", "4")).toEqual([]);
    expect(await readyPhotos(dataDir, WHARF_2, "02-A", "4")).toEqual([]);
  });
});
