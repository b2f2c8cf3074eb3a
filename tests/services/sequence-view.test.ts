import sharp from "sharp";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE } from "#lib/domain/instant";
import { decisionSequence } from "#lib/services/decision-sequence";
import { keepTideTable } from "#lib/services/keep-tide-table";
import { receivePhoto } from "#lib/services/receive-photo";
import { sequenceView } from "#lib/services/sequence-view";
import { withExif } from "#seed/photo/exif";
import { MORNING, smallProject, ZONE, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

const PILE = "02-A";
const view = async () => (await sequenceView(small.house.db.read, await small.sheet(PILE)))!;
const row = async (line: string) => (await view()).rows.find((one) => one.line === line)!;

/** A photo for point 4 whose file says what is given, and nothing where nothing is. */
async function sendFile(facts: { dateTimeOriginal: string; offset?: string } | null): Promise<void> {
  const jpeg = await sharp({ create: { width: 96, height: 72, channels: 3, background: "#7a8288", noise: { type: "gaussian", mean: 128, sigma: 40 } } }).jpeg().toBuffer();
  const bytes = facts ? withExif(jpeg, { ...facts, make: "Cove", model: "Two" }) : jpeg;
  small.later(5);
  await receivePhoto(small.as("crew"), { sheet: PILE, line: "4", subject: "close-up", stream: (async function* () { yield bytes; })(), fileName: "close-up.jpg" });
}

/** A camera's text of an instant, `minutesOff` fast. */
const written = (at: number, minutesOff = 0): string => {
  const { date, iso } = siteTime(at + minutesOff * MINUTE, ZONE);
  return `${date.replaceAll("-", ":")} ${iso.slice(11, 19)}`;
};

describe("the sequence of a pile", () => {
  it("is none before anything was sent", async () => {
    expect(await sequenceView(small.house.db.read, await small.sheet(PILE))).toBeNull();
  });

  it("has for each point its work, its wait for a decision, its release and its photos", async () => {
    await small.sendPreparation(PILE);
    await small.check(PILE, "4");
    await small.decide("inspector", PILE, "4", "release");

    const four = await row("4");
    expect(four.bars.map(({ type, from, to }) => [type, (to - from) / MINUTE])).toEqual([["work", 30], ["waiting", 20], ["max-wait", 24 * 60]]);
    expect(four.releases).toEqual([{ at: small.clock.now, kind: "released" }]);
    expect(four.photos).toMatchObject([{ label: "Close-up with scale", readings: [MORNING], uncertaintyMs: 120_000, verdict: "in order", missedMs: null, cameraAt: null }]);
    expect((await row("5")).photos).toEqual([]);
  });

  it("ends the window of a released point's photos where the last of them reaches, and of an open one nowhere", async () => {
    await small.sendPreparation(PILE);
    expect((await row("4")).windows).toEqual([{ from: null, to: null }]);
    await small.check(PILE, "4");
    await small.decide("inspector", PILE, "4", "release");
    expect((await row("4")).windows).toEqual([{ from: null, to: MORNING + 2 * MINUTE }]);
  });

  it("keeps a wait at the point that it runs from, and says how long it took once it is met", async () => {
    await small.bringToLastLook(PILE);
    await small.sendLastLook(PILE);
    expect((await row("4")).bars.at(-1)).toMatchObject({ type: "max-wait", label: "preparation to cover-up, at most 24 h" });
    expect((await row("11")).bars.some(({ type }) => type.endsWith("wait"))).toBe(false);

    await small.decide("inspector", PILE, "11", "release");
    const met = (await row("4")).bars.at(-1)!;
    expect(met).toMatchObject({ type: "met-wait", to: small.clock.now });
    expect(met.label).toMatch(/^preparation to cover-up, \d+ h \d\d of 24 h$/);
  });

  it("finds the cover-up where the work that hides the pile began", async () => {
    await small.bringToLastLook(PILE);
    await small.sendLastLook(PILE);
    expect((await view()).coverUpAt).toBeNull();
    await small.finish(PILE);
    const { coverUpAt, rows, finding } = await view();
    expect(coverUpAt).toBe(rows.find(({ line }) => line === "13")!.bars[0]!.from);
    expect(finding).toMatch(/7 of 7 points released, 2 of 2 photos in order\.$/);
  });

  it("names a photo outside its window with how far it misses it", async () => {
    await small.bringToLastLook(PILE);
    small.later(20);
    await small.sendPhoto(PILE, "11", "overview", { cameraMinutesOff: -180 });
    await small.submit("qc", PILE, "11", { looked: "yes" });

    const [photo] = (await row("11")).photos;
    expect(photo).toMatchObject({ verdict: "too early" });
    expect(photo!.missedMs).toBe(photo!.window.from! - photo!.readings[0]!);
    expect((await view()).finding).toMatch(/1 of 2 photos in order; point 11 All round, taken last too early by 2 h \d\d\.$/);
  });

  it("marks a step whose work began before the release that it stands on", async () => {
    await small.sendPreparation(PILE);
    await small.check(PILE, "4");
    await small.decide("inspector", PILE, "4", "release");
    const releasedAt = small.clock.now;
    small.later(10);
    await small.submit("crew", PILE, "5", { left: "91 %" });

    expect((await row("5")).early).toEqual([{ began: releasedAt - 20 * MINUTE, line: "4", releasedAt }]);
    expect((await view()).finding).toContain("; point 5 leans back, its work began 20 min before 4 was released");
    const sheet = await small.sheet(PILE);
    expect((await decisionSequence(small.house.db.read, sheet, sheet.lines.find(({ line }) => line === "5")!))?.finding).toContain("Point 5 leans back");
  });

  it("keeps every reading of a photo that may have been taken at several times, in their order", async () => {
    await small.sendPreparation(PILE);
    await sendFile({ dateTimeOriginal: written(MORNING) });
    const { readings } = (await row("4")).photos[1]!;
    expect(readings.length).toBeGreaterThan(1);
    expect(readings).toContain(MORNING);
    expect([...readings].sort((a, b) => a - b)).toEqual(readings);
  });

  it("says what a camera showed that was still on summer time, and where the photo belongs", async () => {
    await small.sendPreparation(PILE);
    await sendFile({ dateTimeOriginal: written(MORNING, 60), offset: "-03:00" });
    expect((await row("4")).photos[1]).toMatchObject({ readings: [MORNING], cameraAt: MORNING + HOUR });
  });

  it("has no place for a photo without a time, and says so", async () => {
    await small.sendPreparation(PILE);
    await sendFile(null);
    expect((await row("4")).photos[1]).toMatchObject({ readings: [], verdict: "no time", label: "Close-up with scale 2" });
    expect((await view()).finding).toContain("; point 4 Close-up with scale 2 no time");
  });

  it("shows the nights of its days, and the water only where a tide table is kept", async () => {
    await small.sendPreparation(PILE);
    const types = async () => new Set((await view()).bands.map(({ type }) => type));
    expect(await types()).toEqual(new Set(["night"]));

    await keepTideTable(small.as("qc"), {
      id: "tides", table: "Date Time,Height (m),High or low\n2026-12-02 06:10 -04:00,1.9,high\n2026-12-02 12:22 -04:00,0.3,low\n2026-12-02 18:35 -04:00,2.0,high", source: "Sheet 12",
      clock: "own", offset: "", order: "", unit: null, workLevel: "0.8 m", allowance: "0 m",
    });
    const tide = (await view()).bands.find(({ type }) => type === "tide")!;
    expect(tide.label).toBe("10:01 – 14:38"); // the crossings of 0.8 m between these waters
  });
});
