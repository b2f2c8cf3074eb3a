import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { decisionView } from "#lib/services/decision-view";
import { smallProject, type SmallProject, type Who } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

const view = async (who: Who, mark: string, line: string) => decisionView(small.house.db.read, await small.sheet(mark), line, await small.member(who));

describe("what is shown of a point", () => {
  it("says who decides before anything is sent", async () => {
    expect(await view("inspector", "02-A", "4")).toMatchObject({ submission: null, decidedBy: "inspector", values: [], photos: [], history: [], blocks: [] });
  });

  it("shows sound values of one quantity as one row with their range, and one that stops by itself", async () => {
    await small.sendPreparation("02-A", ["2.4", "4.6", "2.5", "3.0"], { reason: "blasted twice" });

    const { values } = await view("inspector", "02-A", "4");
    expect(values.map(({ name, measured, verdict }) => [name, measured, verdict])).toEqual([
      ["Profile, face 2", "4.6 mil", "fails"],
      ["Profile, 3 faces", "2.4 mil … 3.0 mil", "meets"],
    ]);
    expect(values[0]).toMatchObject({ margin: "0.6 mil over", reason: "blasted twice", drawn: { value: "4.6", uncertainty: "0.2", min: "1.5", max: "4", unit: "mil" } });
  });

  it("names the instrument with its accuracy and until when it is calibrated", async () => {
    await small.sendPreparation("02-A");
    const { values } = await view("inspector", "02-A", "4");
    expect(values[0]?.instrument).toBe("RT-3, replica tape, ± 0.2 mil, calibrated to 28 Mar 2027");
  });

  it("shows each photo with its verdicts and window", async () => {
    await small.sendPreparation("02-A");
    const { photos } = await view("inspector", "02-A", "4");
    expect(photos).toMatchObject([{ label: "Close-up with scale", order: "in order", place: "no place", windowFrom: null, numbers: [] }]);
  });

  it("adds the values of what will be hidden to the last look", async () => {
    await small.bringToLastLook("02-A");
    await small.sendLastLook("02-A");
    const { behind, coveredBy, limit } = await view("inspector", "02-A", "11");
    expect(behind.map(({ point, name }) => `${point.line} ${name}`)).toEqual(["4 Profile, 4 faces", "5 Area left"]);
    expect(coveredBy).toEqual({ line: "13", name: "Resin batch" });
    expect(limit).toMatchObject({ words: "preparation to cover-up", over: false });
  });

  it("draws only the points around the one that is decided, and the wait at the point it runs from", async () => {
    await small.bringToLastLook("02-A");
    await small.sendLastLook("02-A");
    const { sequence } = await view("inspector", "02-A", "11");
    expect(sequence?.rows.map(({ line }) => line)).toEqual(["4", "5", "10", "11", "13"]);
    const waits = sequence?.rows.flatMap(({ line, bars }) => bars.filter(({ type }) => type === "max-wait").map(({ label }) => [line, label]));
    expect(waits).toEqual([["4", "preparation to cover-up, at most 24 h"]]);
    expect(sequence?.finding).toMatch(/^Sequence of pile 02-A around point 11: 4 released /);
  });
});

describe("flags to answer", () => {
  it("are one question for all photos of one camera", async () => {
    for (let sent = 0; sent < 2; sent += 1) await small.sendPhoto("02-A", "4", "close-up", { cameraMinutesOff: 300 });
    await small.submit("crew", "02-A", "4", { profile: ["2.4 mil", "2.4 mil", "2.4 mil", "2.4 mil"] }, { instrumentId: "rt-3" });

    const { questions, photos } = await view("inspector", "02-A", "4");
    expect(questions.map(({ code, items, camera }) => [code, items.length, camera])).toEqual([
      ["ORDER_CLOCK_IN_DOUBT", 2, "Cove One"],
      ["TIME_FUTURE", 2, "Cove One"],
    ]);
    expect(questions[0]).toMatchObject({ number: 1, words: "Close-up with scale: clock in doubt" });
    expect(questions[0]?.items.map(({ label }) => label)).toEqual(["Close-up with scale 1", "Close-up with scale 2"]);
    expect(photos.map(({ numbers }) => numbers)).toEqual([[1, 2], [1, 2]]);
  });

  it("say their instants on the site's clock", async () => {
    await small.sendPhoto("02-A", "4", "close-up", { cameraMinutesOff: 300 });
    await small.submit("crew", "02-A", "4", { profile: ["2.4 mil", "2.4 mil", "2.4 mil", "2.4 mil"] }, { instrumentId: "rt-3" });
    const { questions } = await view("inspector", "02-A", "4");
    const said = questions.flatMap(({ items }) => items.flatMap(({ measured, limit }) => [measured, limit])).join(" ");
    expect(said).toContain("−04:00");
    expect(said).not.toMatch(/\dZ/);
  });
});

describe("what a person may do", () => {
  beforeEach(() => small.sendPreparation("02-A"));

  it("is to check for the QC manager, and to decide for the inspector once that is done", async () => {
    expect((await view("qc", "02-A", "4")).may).toMatchObject({ check: true, sendBack: true });
    const before = await view("inspector", "02-A", "4");
    expect(before.may.notDecide).toBeNull();
    expect(before.blocks).toEqual(["The QC manager has not checked it yet."]);

    await small.check("02-A", "4");
    expect((await view("inspector", "02-A", "4")).blocks).toEqual([]);
    expect((await view("qc", "02-A", "4")).may).toMatchObject({ check: false, sendBack: true });
  });

  it.each(["crew", "owner"] as const)("is to read for the %s", async (who) => {
    expect((await view(who, "02-A", "4")).may).toEqual({ notDecide: "This point is decided by: inspector.", check: false, sendBack: false, reopen: false });
  });

  it("is to reopen for who may release, with what that puts in doubt", async () => {
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    await small.submit("crew", "02-A", "5", { left: "91 %" });

    expect(await view("inspector", "02-A", "4")).toMatchObject({ may: { reopen: true }, standsOnIt: ["5"] });
    expect((await view("qc", "02-A", "4")).may).toMatchObject({ reopen: false, check: false, sendBack: false });
  });
});

describe("a second attempt", () => {
  it("is held against the first: values that changed, photos that are new", async () => {
    await small.sendPreparation("02-A", ["2.4", "4.6", "2.5", "3.0"], { reason: "blasted twice" });
    await small.decide("inspector", "02-A", "4", "reject", { codes: ["MEAS"], words: "Blast face 2 again." });
    const rejected = await view("inspector", "02-A", "4");
    expect(rejected).toMatchObject({ state: "rejected", change: null, may: { check: false, reopen: false } });
    expect(rejected.values[0]).toMatchObject({ name: "Profile, face 2", verdict: "fails" });

    small.later(60);
    await small.sendPreparation("02-A", ["2.5", "3.1", "2.5", "3.0"]);
    const { change, attempt, history } = await view("inspector", "02-A", "4");
    expect(attempt).toBe(2);
    expect(change).toEqual({
      attempt: 1,
      values: [{ name: "Profile, face 1", before: "2.4 mil", now: "2.5 mil" }, { name: "Profile, face 2", before: "4.6 mil", now: "3.1 mil" }],
      photosNew: 1,
      photosAgain: 0,
    });
    expect(history.map(({ number, submissions }) => [number, submissions.flatMap(({ stamps }) => stamps.map(({ kind }) => kind))])).toEqual([[1, ["rejected"]], [2, []]]);
    expect(history[0]?.submissions[0]?.stamps[0]?.lines.slice(0, 2)).toEqual(["MEAS measured value fails", "Blast face 2 again."]);
  });
});

describe("after a reopening", () => {
  it("a point that stands on it is in doubt, says why, and may be decided again", async () => {
    await small.bringToLastLook("02-A");
    await small.decide("inspector", "02-A", "5", "reopen", { codes: ["INST"], words: "the gauge failed its block check" });

    const doubted = await view("inspector", "02-A", "10");
    expect(doubted).toMatchObject({ state: "in doubt", doubt: "point 5 was reopened: INST", may: { notDecide: null, reopen: false } });
    expect(doubted.blocks).toEqual(["Point 5 is open. It has to be decided first."]);

    await small.submit("crew", "02-A", "5", { left: "92 %" });
    await small.check("02-A", "5");
    await small.decide("inspector", "02-A", "5", "release");
    expect((await view("inspector", "02-A", "10")).blocks).toEqual([]);
    await small.decide("inspector", "02-A", "10", "release");
    expect(await view("inspector", "02-A", "10")).toMatchObject({ state: "released", doubt: null });
  });
});
