import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR } from "#lib/domain/instant";
import { receiveLot, recordCalibration, registerInstrument } from "#lib/services/keep-register";
import { projectSheetView } from "#lib/services/project-sheet-view";
import { registerView } from "#lib/services/register-view";
import { markWords } from "#lib/services/words";
import { smallProject, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

const DAY = 24 * HOUR;
const register = () => registerView(small.house.db.read, small.project, small.clock.now, { classes: ["tape"], lotKinds: ["grout"] });

describe("the registers", () => {
  it.each([
    [0, "good", "calibrated to 28 Mar 2027"],
    [100, "soon", "due in 16 days"],
    [116, "soon", "due today"],
    [117, "over", "overdue since 28 Mar 2027"],
  ])("after %i days say of an instrument that it is %s: %s", async (days, state, stateWords) => {
    small.clock.now += days * DAY;
    expect((await register()).instruments).toMatchObject([{ mark: "RT-3", state, stateWords, from: "2026-09-28", until: "2027-03-28" }]);
  });

  it("say that an instrument without a calibration has none", async () => {
    await registerInstrument(small.as("qc"), { id: "tp-1", mark: "TP-1", class: "tape", name: "Tape", unit: null, rangeMin: null, rangeMax: null, accuracy: null });
    expect((await register()).instruments.at(-1)).toMatchObject({ mark: "TP-1", state: "none", stateWords: "not calibrated", facts: "" });
  });

  it("go by the last calibration and keep the ones before", async () => {
    small.clock.now += 130 * DAY;
    await recordCalibration(small.as("qc"), { id: "again", instrumentId: "rt-3", calibratedAt: "2027-04-01T09:00", dueOn: "2027-10-01", certificate: "C-201", words: "as found 2.5 of 2.5" });
    const [row] = (await register()).instruments;
    expect(row).toMatchObject({ state: "good", from: "2027-04-01", until: "2027-10-01" });
    expect(row?.calibrations.map(({ certificate }) => certificate)).toEqual(["C-118", "C-201"]);
  });

  it("show where a thing was used", async () => {
    await small.sendPreparation("02-B");
    await small.bringToLastLook("02-A");
    await small.sendLastLook("02-A");
    await small.finish("02-A");
    const { instruments, lots } = await register();
    expect(instruments).toMatchObject([{ piles: ["02-A", "02-B"] }]);
    expect(instruments[0]?.uses).toHaveLength(2);
    expect(lots).toMatchObject([{ mark: "A-783", piles: ["02-A"] }]);
    expect(lots[0]?.uses).toHaveLength(1);
  });

  it("take a lot without a stated expiry as in date, and offer the kinds that the plan asks for", async () => {
    await receiveLot(small.as("qc"), { id: "g", number: "G-52", lotKind: "grout", certificate: "", expiresOn: null, receivedOn: "2026-11-20", quantity: "" });
    const { lots, lotKinds, classes } = await register();
    expect(lots[0]).toMatchObject({ mark: "G-52", state: "good", stateWords: "no expiry stated", facts: "no certificate" });
    expect([lotKinds, classes]).toEqual([["grout", "resin A"], ["replica tape", "tape"]]);
  });
});

describe("marks in words", () => {
  const plan = ["02-A", "02-B", "02-C", "02-D", "03-A", "03-B"].map((mark) => ({ mark, bent: mark.slice(0, 2), row: mark.slice(3) }));

  it.each([
    [["02-A"], "02-A"],
    [["02-A", "02-B"], "02-A, 02-B"],
    [["02-A", "02-B", "02-C"], "02-A … C"],
    [["02-B", "02-C", "02-D", "03-A", "03-B"], "02-B … D, 03-A, 03-B"],
    [["02-A", "02-C", "project sheet"], "02-A, 02-C, project sheet"],
    [[], ""],
  ])("%j are %s", (marks, words) => {
    expect(markWords(marks, plan)).toBe(words);
  });
});

describe("the project sheet", () => {
  const sheet = async () => projectSheetView(small.house.db.read, await small.sheet(small.project.id), await small.member("engineer"));

  it("says who has to decide what has not been sent", async () => {
    expect((await sheet()).points).toMatchObject([{ line: "P1", state: "open", fact: "nothing sent yet", by: "decided by engineer" }]);
  });

  it("says who released what was sent", async () => {
    await small.submit("qc", small.project.id, "P1", { grout: "yes" });
    await small.decide("engineer", small.project.id, "P1", "release");
    const { points, sent } = await sheet();
    expect(points).toMatchObject([{ state: "released", fact: "1 of 1 meet, attempt 1", by: "released by Bram Selwick" }]);
    expect(sent).toMatchObject([{ line: "P1", values: [{ name: "Grout mix", verdict: "meets" }], stamps: [{ kind: "released", serverAttested: true }] }]);
  });
});
