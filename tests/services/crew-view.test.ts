import { randomUUID } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { HOUR, MINUTE } from "#lib/domain/instant";
import { listPiles } from "#lib/db/pile";
import { bentsView } from "#lib/services/bents-view";
import { pileView } from "#lib/services/pile-view";
import { entryView } from "#lib/services/entry-view";
import { pointFace } from "#lib/services/point-view";
import { receivedView } from "#lib/services/received-view";
import { recordTemperature } from "#lib/services/record-temperature";
import { saveDraft } from "#lib/services/save-draft";
import { withdrawSubmission } from "#lib/services/withdraw-submission";
import { bringTo, CODE, crewProject, decide, MORNING, openSite, ZONE, type CrewProject } from "#tests/services/crew-project";
import { sendSoundWork } from "#tests/services/whole-pile";

const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-crew-"));
const clock = { now: MORNING };
let project: CrewProject;

const tx = () => project.house.db.read;
const bents = async (who: string) => bentsView(tx(), (await project.as(who)).project, await project.member(who), clock.now);
const pile = async (mark: string, who = "crew") => pileView(tx(), await project.sheet(mark), await project.member(who));

/** One pile at its grout cure, one at its bars, one refused at point 4, and one not begun. */
beforeAll(async () => {
  project = await crewProject(dataDir, () => clock.now);
  await openSite(project, clock);
  await bringTo(project, clock, "03-A", "21");
  for (const [hours, temperature] of [[2, "20"], [3, "14"], [2, "12"]] as const) {
    clock.now += hours * HOUR;
    await recordTemperature(await project.as("crew"), { sheet: "pile-03-A", line: "22", at: new Date(clock.now).toISOString(), temperature, unit: "°C" });
  }
  clock.now = Date.parse("2026-12-04T07:00:00-04:00");
  await bringTo(project, clock, "02-A", "6");
  await bringTo(project, clock, "03-C", "3");
  const began = clock.now;
  clock.now += 20 * MINUTE;
  await sendSoundWork(await project.as("crew"), { sheet: "pile-03-C", line: "4", began, ended: clock.now });
  await decide(project, clock, "03-C", "4", "inspector", "reject", ["WORK"], "Growth left at the north face.");
  clock.now += MINUTE;
}, 60_000);

afterAll(async () => {
  await project.house.db.close();
  rmSync(dataDir, { recursive: true, force: true });
});

describe("the plan of bents", () => {
  it("shows each pile by the point that matters there, and where work may begin now", async () => {
    const view = await bents("crew");
    const places = view.bents.flatMap(({ piles }) => piles);
    expect(places.map(({ mark, state, point, workable, clock: runs }) => [mark, state, point?.line ?? null, workable, runs])).toEqual([
      ["02-A", "open", "7", true, false],
      ["02-B", "not started", "1", true, false],
      ["03-A", "open", "22", false, true],
      ["03-C", "rejected", "4", true, false],
      ["07-A", "not started", "1", true, false],
    ]);
    expect(view.piles).toBe(5);
    expect(view.inWork).toBe(3);
    expect(view.counts.reduce((sum, { count }) => sum + count, 0)).toBe(5);
    expect(view.bents.map(({ code, note }) => [code, note])).toEqual([["02", "HP 12×53"], ["03", "HP 12×53"], ["07", "13 in timber"]]);
  });

  it("puts first what ends first, and says what that is", async () => {
    const [first] = (await bents("crew")).workNow;
    expect(first).toMatchObject({ mark: "02-A", line: "7", because: expect.stringMatching(/^hole cleaned to resin: until Fri \d\d:\d\d$/) });
  });

  it("does not offer a clock point before its clock is reached, and tells the clock instead", async () => {
    const view = await bents("crew");
    expect(view.workNow.some(({ mark, line }) => mark === "03-A" && line === "22")).toBe(false);
    expect(view.clocks).toEqual([expect.objectContaining({ mark: "03-A", line: "22", headline: expect.stringMatching(/^Strip from /) })]);
  });

  it("offers a person only what they may send, and an onlooker what the crew may", async () => {
    const [crew, inspector] = [await bents("crew"), await bents("inspector")];
    expect(crew.own).toBe(true);
    expect(inspector.own).toBe(false);
    expect(inspector.workNow.length).toBeGreaterThanOrEqual(crew.workNow.length);
  });

  it("puts the shift's access check before the work that stands under it", async () => {
    const tomorrow = clock.now + 24 * HOUR;
    const view = await bentsView(tx(), (await project.as("crew")).project, await project.member("crew"), tomorrow);
    expect(view.workNow.find(({ mark, line }) => mark === "03-C" && line === "1")?.because).toBe("then 4 Surface preparation");
    expect(view.workNow.some(({ mark, line }) => mark === "03-C" && line === "4")).toBe(false);
  });

  it("finds the north from where the piles stand", async () => {
    expect((await bents("crew")).north).toEqual({ bents: "north", rows: "east" });
  });

  it("covers a pile up in the plan once its first resin is mixed", async () => {
    const places = (await bents("crew")).bents.flatMap(({ piles }) => piles);
    expect(places.filter(({ covered }) => covered).map(({ mark }) => mark)).toEqual(["03-A"]);
  });
});

describe("the sheet of a pile", () => {
  it("draws as much as has been done", async () => {
    const { elevation } = await pile("03-A");
    expect(elevation).toMatchObject({ topFt: 1.3, bottomFt: -2.2, stage: { cleaned: true, bars: true, clamps: true, spacers: true, jacket: true, grouted: true, stripped: false } });
    expect((await pile("07-A")).elevation).toMatchObject({ topFt: null, bottomFt: null, lifts: [], stage: { cleaned: false, jacket: false } });
  });

  it("counts released points in words and says why a point is not open", async () => {
    const view = await pile("03-A");
    expect(view.stateWords).toBe("in work, 21 of 26 released");
    const second = (line: string) => view.points.find((point) => point.line === line)?.second;
    expect(second("23")).toBe("after 22");
    expect(second("26")).toBe("after 23, 24, 25");
    expect((await pile("07-A")).points.find(({ line }) => line === "6")).toMatchObject({ state: "not applicable", second: "Timber takes no anchor holes." });
  });

  it("adds the degree-hours of the readings and gives the earliest time, not a permission", async () => {
    const [cure] = (await pile("03-A")).clocks;
    // Between two readings the lower holds: 2 h at 20, 3 h at 14 and 2 h at 12 °C above 0 °C are 40 + 42 + 24 = 106 °C·h (Nurse–Saul, ASTM C1074).
    expect(cure).toMatchObject({ line: "22", progress: 106, required: 400, unit: "°C·h", note: "Earliest, not a permission. If it stays at 12 °C." });
    const [first, , , last] = cure!.readings.map(({ at }) => at);
    const gained = ((cure!.readings[1]!.at - first!) / HOUR) * 20 + 3 * 14 + 2 * 12;
    expect(Math.abs(cure!.earliest! - (last! + ((400 - gained) / 12) * HOUR))).toBeLessThanOrEqual(1); // ms, rounded up
  });

  it("lists a maximum wait while it runs", async () => {
    expect((await pile("02-A")).waits.map(({ words }) => words)).toContainEqual(expect.stringMatching(/^Point 7 has to begin by Fri \d\d:\d\d \(hole cleaned to resin, 4 h\)\.$/));
  });

  it("shows what a drawing changes on this pile beside what it was", async () => {
    const [override] = (await pile("02-B")).overrides;
    expect(override).toEqual({ line: "9", what: "Torque", was: "65 … 72 ft·lbf", now: "55 … 62 ft·lbf", drawing: "S-114 rev. 2, note 5", words: "Thin flange: lower torque." });
    expect((await pile("02-A")).overrides).toEqual([]);
  });

  it("has a sequence with a bar, a release and its photos for each point done, and none before work began", async () => {
    const { sequence } = await pile("03-A");
    const four = sequence!.rows.find(({ line }) => line === "4")!;
    expect(four.bars[0]!.type).toBe("work");
    expect(four.releases).toEqual([{ at: expect.any(Number), kind: "released" }]);
    expect(four.photos).toHaveLength(5);
    expect(sequence!.coverUpAt).not.toBeNull();
    expect(sequence!.finding).toMatch(/^Pile 03-A at Fri 4 Dec 2026, 0\d:\d\d −04:00: 21 of 26 points released, \d+ of \d+ photos in order\.$/);
    expect((await pile("07-A")).sequence).toBeNull();
  });

  it("offers the owner acceptance only when every point is released", async () => {
    expect((await pile("03-A", "owner")).acceptance.open).toBe(false);
  });
});

describe("the side of a point that a person sees", () => {
  const face = async (mark: string, line: string, who: string) => pointFace(await project.sheet(mark), line, await project.member(who));

  it.each([
    ["02-A", "7", "crew", "entry"],
    ["02-A", "7", "hand", "entry"],
    ["02-A", "7", "inspector", "planned"],
    ["02-A", "6", "crew", "received"],
    ["02-A", "6", "inspector", "decision"],
    ["02-A", "6", "qc", "decision"],
    ["02-A", "6", "owner", "decision"],
    ["02-A", "15", "crew", "planned"],
    ["03-C", "4", "crew", "entry"],
    ["03-C", "4", "inspector", "decision"],
    ["07-A", "6", "crew", "planned"],
    [CODE, "P1", "engineer", "decision"],
    [CODE, "P2", "qc", "planned"],
  ])("%s point %s shows %s the %s", async (mark, line, who, wanted) => {
    expect(await face(mark, line, who)).toBe(wanted);
  });
});

describe("the entry of a point", () => {
  const entry = async (mark: string, line: string, who = "crew") => entryView(tx(), await project.as(who), await project.sheet(mark), line, await project.member(who));

  it("asks for each value with its requirement, the specification's unit first, and the instruments of its class", async () => {
    const view = await entry("02-A", "7");
    const ask = (id: string) => view.asks.find((one) => one.id === id)!;
    expect(ask("base")).toMatchObject({ needs: "5 … 35 °C", entry: { kind: "measured", unit: "°C" }, units: ["°C", "°F"], of: null });
    expect(ask("projection")).toMatchObject({ of: "bar", count: 6, instrument: { class: "tape", options: [{ id: "tp-2", label: "TP-2 Steel tape, ± 0.12 in, due 2027-03-28" }] } });
    expect(ask("embedment")).toMatchObject({ entry: { kind: "derived" }, besideOf: "projection" });
    expect(view.maySend).toBe(true);
    expect((await entry("02-A", "7", "hand")).maySend).toBe(false);
  });

  it("offers the instruments and lots of the last time, and takes none by itself", async () => {
    const view = await entry("02-A", "7");
    expect(view.proposal).toMatchObject({ instruments: { base: "th-1", projection: "tp-2", "bar-length": "tp-2" }, lots: { "resin-a": "lot-resin A", "resin-b": "lot-resin B" } });
    expect(view.writing.values).toEqual([]);
    expect(view.judgement.faults.some(({ field }) => field === "lot.resin-a")).toBe(true);
  });

  it("comes back with the draft that was kept, judged as it stands", async () => {
    const asking = await project.as("crew");
    const text = { quantity: "base", item: null, text: "48", unit: "°F", instrumentId: "th-1", unitConfirmed: false, reason: "" };
    await saveDraft(asking, { sheet: "pile-02-A", line: "7", draft: { workBegan: "2026-12-04T07:30", workEnded: "", values: [text], lots: [], setAside: [], words: "Wind rising." } });
    const view = await entry("02-A", "7");
    expect(view.writing).toMatchObject({ workBegan: "2026-12-04T07:30", words: "Wind rising.", values: [text] });
    // 48 °F is 8.889 °C: (48 − 32) × 5/9.
    expect(view.judgement.judged.find(({ field }) => field === "value.base")).toMatchObject({ verdict: "meets", measured: "48 °F" });
    expect(view.keptAt).toMatch(/^Fri \d\d:\d\d$/);
    expect((await pile("02-A")).points.find(({ line }) => line === "7")?.state).toBe("draft");
    expect((await entry("02-A", "7", "hand")).writing.values).toEqual([]);
  });

  it("stands under the reason for which the attempt before was refused", async () => {
    const { head } = await entry("03-C", "4");
    expect(head).toMatchObject({ state: "rejected", attempt: 2 });
    expect(head.stamps).toEqual([{ kind: "rejected", attested: true, lines: ["WORK, workmanship: gap, wrinkle, sag, streak, leak: Growth left at the north face.", "Tamsin Orrel, Orrel Inspection", expect.stringContaining("−04:00"), "seen in person"] }]);
  });

  it("carries the cautions of its point", async () => {
    expect((await entry("02-A", "7")).head.cautions.join(" ")).toContain("sensitise");
  });

  it("proposes the times of the work from photos that were sent and not yet used", async () => {
    expect((await entry("02-A", "7")).times).toBeNull();
  });
});

describe("what was received", () => {
  const received = async (who: string) => receivedView(tx(), await project.sheet("02-A"), "6", await project.member(who));

  it("has the receipt's digest and place, every value as judged, and the photos in words", async () => {
    const view = (await received("crew"))!;
    expect(view.digest).toMatch(/^[0-9a-f]{64}$/);
    expect(view.seq).toBeGreaterThan(0);
    expect(view.by).toBe("Ora Venn");
    expect(view.values.map(({ name }) => name)).toContain("Hole depth, hole 6");
    expect(view.photos).toHaveLength(4);
    expect(view.photos[0]).toMatchObject({ order: "in order", place: "at site", taken: expect.stringMatching(/^taken Fri 4 Dec 2026, .* ± 2 s, by the camera's time against GPS$/) });
  });

  it("can no longer be withdrawn once it is decided", async () => {
    expect((await received("crew"))!.withdraw).toBeNull();
  });

  it("can be withdrawn by who sent it and the QC manager while nobody has decided it", async () => {
    const began = clock.now;
    clock.now += 10 * MINUTE;
    await sendSoundWork(await project.as("crew"), { sheet: "pile-02-A", line: "8", began, ended: clock.now });
    const view = async (who: string) => (await receivedView(tx(), await project.sheet("02-A"), "8", await project.member(who)))!.withdraw;
    expect(await view("crew")).not.toBeNull();
    expect(await view("qc")).not.toBeNull();
    expect(await view("inspector")).toBeNull();
  });

  it("comes back to be mended when it is withdrawn, with everything that was typed", async () => {
    const standing = (await project.sheet("02-A")).folded.get("8")!.standing.trail!.submission.submissionId;
    await withdrawSubmission(await project.as("crew"), { id: randomUUID(), sheet: "pile-02-A", line: "8", submissionId: standing, words: "Counted the wrong clamp." });
    const view = await entryView(tx(), await project.as("crew"), await project.sheet("02-A"), "8", await project.member("crew"));
    expect(view.writing.values.map(({ quantity, item, text }) => [quantity, item, text])).toEqual([["clamps", null, "2"], ["bolts", 1, "4"], ["bolts", 2, "4"]]);
    expect(view.judgement.faults).toEqual([]);
    expect(view.subjects[0]!.photos).toHaveLength(2);
  });
});

it("a plan without piles is empty and says so", async () => {
  const { project: row } = await project.as("crew");
  expect((await listPiles(tx(), "another")).length).toBe(0);
  const view = await bentsView(tx(), { ...row, id: "another" }, await project.member("crew"), clock.now);
  expect(view).toMatchObject({ revision: null, bents: [], workNow: [] });
  expect(ZONE).toBe(row.zone);
});
