import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR } from "#lib/domain/instant";
import { coveringLine, mostIrreversibleFirst, roundView } from "#lib/services/round-view";
import { smallProject, type SmallProject, type Who } from "#tests/services/small-project";

const points = (rows: readonly { mark: string | null; line: string }[]) => rows.map(({ mark, line }) => `${mark} ${line}`);

describe("the round of one person", () => {
  let small: SmallProject;
  beforeEach(async () => {
    small = await smallProject();
  });
  afterEach(() => small.close());

  const round = async (who: Who) => roundView(small.house.db.read, small.project, await small.member(who), small.clock.now);

  it("is empty before anything was sent", async () => {
    expect(await round("inspector")).toEqual({ yours: [], review: [], others: [], alike: [], toAccept: [] });
  });

  it("gives what the crew sent to the QC manager to check and to the inspector to decide, and to nobody else", async () => {
    await small.sendPreparation("02-A");

    expect((await round("qc")).yours).toMatchObject([{ mark: "02-A", line: "4", task: "check", state: "submitted" }]);
    const [forInspector] = (await round("inspector")).yours;
    expect(forInspector).toMatchObject({ line: "4", task: "decide", sentBy: "Ora Venn", photos: 1 });
    expect(forInspector?.exceptions).toContainEqual({ hand: "doubt", words: "not checked by the QC manager yet" });
    expect((await round("engineer")).yours).toEqual([]);
    expect((await round("engineer")).others).toMatchObject([{ lines: ["4"], words: "with the inspector" }]);
    expect((await round("owner")).yours).toEqual([]);
  });

  it("no longer asks the QC manager once it is checked", async () => {
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");

    expect((await round("qc")).yours).toEqual([]);
    expect((await round("inspector")).yours).toMatchObject([{ line: "4", state: "QC checked", exceptions: [] }]);
  });

  it("puts what is covered up next first, although it was sent last", async () => {
    await small.bringToLastLook("02-A");
    await small.sendPreparation("02-B");
    await small.sendLastLook("02-A");

    const { yours } = await round("inspector");
    expect(points(yours)).toEqual(["02-A 11", "02-B 4"]);
    expect(yours[0]).toMatchObject({ coveredBy: "13", limit: { words: "preparation to cover-up" } });
  });

  it("shows the failing values and nothing of the sound ones", async () => {
    await small.sendPreparation("02-A", ["2.4", "4.6", "2.5", "3.0"], { reason: "blasted twice" });

    const [row] = (await round("inspector")).yours;
    expect(row?.exceptions[0]).toEqual({ hand: "bad", words: "Profile, face 2: 4.6 mil, needs 1.5 to 4.0 mil: 0.6 mil over" });
    expect(row?.exceptions.filter(({ words }) => words.startsWith("Profile"))).toHaveLength(1);
  });

  it("sends a loss above the limit to the engineer and only tells the inspector", async () => {
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    await small.submit("crew", "02-A", "5", { left: "80 %" }, { reason: "worst bar" });

    expect(points((await round("engineer")).yours)).toEqual(["02-A 5"]);
    const inspector = await round("inspector");
    expect(inspector.yours).toEqual([]);
    expect(inspector.others).toMatchObject([{ lines: ["5"], words: "with the engineer" }]);
  });

  it("calls for a review of what stands on a reopened point", async () => {
    await small.bringToLastLook("02-A");
    await small.decide("inspector", "02-A", "5", "reopen", { codes: ["INST"], words: "the gauge failed its block check" });

    const { review, yours } = await round("inspector");
    expect(yours).toEqual([]);
    expect(review).toMatchObject([{ lines: ["10"], state: "in doubt", words: "point 5 was reopened: INST" }]);
  });

  it("lists a pile for the owner once its last point is released", async () => {
    await small.bringToLastLook("02-A");
    await small.sendLastLook("02-A");
    expect((await round("owner")).toAccept).toEqual([]);
    await small.finish("02-A");

    expect((await round("owner")).toAccept).toEqual([{ mark: "02-A", pileId: "02-A" }]);
    expect((await round("inspector")).toAccept).toEqual([]);
  });

  it("finds what covers a hold point up only where its release lets the covering begin", async () => {
    const { lines } = await small.sheet("02-A");
    const covering = Object.fromEntries(lines.map((line) => [line.line, coveringLine(lines, line)]));
    expect(covering).toEqual({ "4": null, "5": null, "10": null, "11": "13", "13": null, "15": null, "26": null });
  });
});

describe("the order of the round", () => {
  const row = (coveredBy: string | null, until: number | null, sentAt: number) => ({ coveredBy, limit: until === null ? null : { until, words: "" }, sentAt });

  it.each([
    ["covered up next comes before a wait that runs out sooner", row("13", 9, 5), row(null, 1, 1)],
    ["the nearer limit comes first", row(null, 2 * HOUR, 9), row(null, 3 * HOUR, 1)],
    ["any limit comes before none", row(null, 9 * HOUR, 9), row(null, null, 1)],
    ["of two without a limit the one that waits longer comes first", row(null, null, 1), row(null, null, 2)],
  ])("%s", (_, first, second) => {
    expect(mostIrreversibleFirst(first, second)).toBeLessThan(0);
    expect(mostIrreversibleFirst(second, first)).toBeGreaterThan(0);
  });
});
