import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Revision } from "#lib/domain/requirement/set";
import { atMost, quantity } from "#lib/domain/plan/line-part";
import { readArchive } from "#lib/db/archive";
import { decisionView } from "#lib/services/decision-view";
import { pileView } from "#lib/services/pile-view";
import { discardDraft } from "#lib/services/revision-draft";
import { revisionOf } from "#lib/services/sheet";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { issue, keepDraft, look, nextRevision, reviewed, stricter } from "#tests/services/revised-project";
import { CODE, smallProject, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
let c: Revision;

/** One pile up to its last look and one begun under revision B, and revision C reviewed. */
async function begin(): Promise<void> {
  small = await smallProject();
  await small.bringToLastLook("02-A");
  await small.sendPreparation("02-B", ["2.6", "2.6", "2.7", "3.0"]);
  c = await nextRevision(small, stricter);
  await draftReviewed(c);
}
const close = (): Promise<void> => small.close();

async function draftReviewed(revision: Revision): Promise<void> {
  await keepDraft(small, revision);
  await reviewed(small, revision);
}

const states = async (mark: string, ...lines: string[]) => {
  const { folded } = await small.sheet(mark);
  return lines.map((line) => folded.get(line)?.state);
};
const letters = async (mark: string, ...lines: string[]) => {
  const sheet = await small.sheet(mark);
  return lines.map((line) => revisionOf(sheet, line).letter).join("");
};

describe("the impact of a revision", () => {
  beforeAll(begin);
  afterAll(close);

  it("holds every signed point against the changed lines, with what it measured, and writes nothing", async () => {
    const seq = (await readArchive(small.house.db.read, CODE)).logLines.length;
    const { signed, difference } = await look(small, c);
    expect(difference.changes.map(({ lead, types }) => [lead.line, types])).toEqual([["4", ["H"]], ["5", ["H"]], ["13", ["H"]]]);
    expect(signed.map(({ sheet, line, letter, impact, downstream }) => ({ sheet, line, letter, finding: impact.finding, downstream }))).toEqual([
      { sheet: "02-A", line: "4", letter: "B", finding: "would fail", downstream: ["5", "10"] },
      { sheet: "02-A", line: "5", letter: "B", finding: "needs a value", downstream: ["10"] },
      { sheet: "02-B", line: "4", letter: "B", finding: "still meets", downstream: [] },
    ]);
    expect(signed[0]?.impact.values.map(({ measured, margin }) => [measured, margin])[0]).toEqual(["2.4 mil", "2.4 mil, needs 2.5 to 4.0 mil: 0.1 mil short"]);
    expect((await readArchive(small.house.db.read, CODE)).logLines.length).toBe(seq);
  });

  it("does not look again at what failed before and is not changed", async () => {
    await small.sendPreparation("02-C", ["1.0", "2.6", "2.7", "3.0"], { reason: "Hard to reach." });
    const onlyWait = await nextRevision(small, (line) => (line.line === "4" ? { ...line, quantities: [...line.quantities, quantity("salt", "Soluble salt", atMost("5", "µg/cm²"))] } : line));
    const finding = (await look(small, onlyWait)).signed.find(({ sheet }) => sheet === "02-C")?.impact;
    expect([finding?.finding, finding?.values.map(({ quantity: { id } }) => id)]).toEqual(["needs a value", ["salt"]]);
  });
});

describe("a revision issued in the middle of a project", () => {
  beforeEach(begin);
  afterEach(close);

  it("leaves what is signed under its revision, moves what is open, and judges nothing again", async () => {
    await issue(small, await look(small, c), { "4": "open points", "5": "open points", "13": "open points" });
    expect(await states("02-A", "4", "5", "10")).toEqual(["released", "released", "released"]);
    expect([await letters("02-A", "4", "5", "10", "13"), await letters("02-B", "4", "5", "13"), await letters("02-C", "4")]).toEqual(["BBBC", "BCC", "C"]);
    const sheet = await small.sheet("02-A");
    expect(sheet.lines.map(({ line, quantities }) => [line, quantities.length])).toEqual([["4", 1], ["5", 1], ["10", 1], ["11", 1], ["13", 1], ["15", 1], ["26", 1]]);
  });

  it("keeps piles in work under the revision before where only later piles take it up", async () => {
    await issue(small, await look(small, c), {}, { appliesFrom: "2026-12-03T07:00" });
    expect([await letters("02-A", "4", "5", "13"), await letters("02-C", "4", "13")]).toEqual(["BBB", "BB"]);
    small.later(24 * 60);
    expect([await letters("02-A", "4", "5", "13"), await letters("02-C", "4", "13")]).toEqual(["BBB", "CC"]);
    await small.sendPreparation("02-C", ["2.5", "2.6", "2.5", "3.0"]);
    const { submissions } = (await small.sheet("02-C")).history;
    expect([...submissions.values()].map(({ revision, worst }) => [revision.letter, worst])).toEqual([["C", "meets, inside uncertainty"]]);
    expect(await letters("02-C", "4", "5")).toBe("CC");
  });

  it("puts in doubt what it reaches back to and what stands on it, as the impact said, until each is decided again", async () => {
    const seen = await look(small, c);
    await issue(small, seen, { "4": "retroactive", "5": "open points", "13": "open points" });
    const doubtful = [...(await small.sheet("02-A")).folded.values()].filter(({ state }) => state === "in doubt").map(({ line }) => line);
    expect(doubtful).toEqual(["4", ...(seen.signed[0]?.downstream ?? [])]);
    expect(await letters("02-A", "4", "5", "10")).toBe("CBB");
    expect(await states("02-B", "4")).toEqual(["submitted"]);
    expect(await letters("02-B", "4")).toBe("C");

    // It fails now, so nobody releases it as it is: the inspector rejects it, and it is made anew.
    expect(await refusedWith(small.decide("inspector", "02-A", "4", "release"))).toMatchObject({ code: "blocked" });
    await small.decide("inspector", "02-A", "4", "reject", { codes: ["MEAS"], words: "Revision C." });
    small.later(30);
    await small.sendPreparation("02-A", ["2.9", "2.9", "2.9", "3.0"]);
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    expect(await states("02-A", "4", "5", "10")).toEqual(["released", "in doubt", "in doubt"]);
    await small.decide("inspector", "02-A", "5", "release");
    await small.decide("inspector", "02-A", "10", "release");
    expect(await states("02-A", "4", "5", "10")).toEqual(["released", "released", "released"]);
    await small.sendLastLook("02-A");
    await small.finish("02-A").catch(() => undefined);
    expect(await states("02-A", "11", "13")).toEqual(["released", "open"]);
  });

  it("asks for the value that it needs where it reaches back, by a new attempt", async () => {
    await issue(small, await look(small, c), { "4": "piles that start", "5": "retroactive", "13": "piles that start" });
    expect(await states("02-A", "4", "5", "10")).toEqual(["released", "in doubt", "in doubt"]);
    expect(await refusedWith(small.submit("crew", "02-A", "5", { left: "91 %", spots: "none" }))).toMatchObject({ code: "blocked" });
    await small.decide("inspector", "02-A", "5", "reopen", { codes: ["DOC"], words: "Count the spots." });
    await small.submit("crew", "02-A", "5", { left: "91 %", spots: "none" });
    await small.check("02-A", "5");
    await small.decide("inspector", "02-A", "5", "release");
    expect(await states("02-A", "5", "10")).toEqual(["released", "in doubt"]);
  });

  it("says at each point of a pile which revision it stands under, where that is not the pile's own", async () => {
    await issue(small, await look(small, c), { "4": "open points", "5": "open points", "13": "open points" });
    const member = await small.member("inspector");
    const view = await pileView(small.house.db.read, await small.sheet("02-A"), member);
    expect(view.points.filter(({ line }) => ["5", "13"].includes(line)).map(({ second }) => second)).toEqual([expect.not.stringContaining("revision"), expect.stringContaining("revision C")]);
    expect(await decisionView(small.house.db.read, await small.sheet("02-A"), "4", member)).toMatchObject({ submission: { revision: "B" } });
  });

  it("is on record with the review, the words, the answers and the impact that was shown, and the draft is gone", async () => {
    const receipt = await issue(small, await look(small, c), { "4": "retroactive" }, { appliesFrom: "2026-12-04T07:00", words: " Resin maker's letter. " });
    const { records } = await readArchive(small.house.db.read, CODE);
    const body = records.filter(({ kind }) => kind === "revision").map(({ bytes }) => JSON.parse(Buffer.from(bytes).toString("utf8")) as Record<string, unknown>).find(({ id }) => id === receipt.id);
    expect(body).toMatchObject({
      approvedBy: "engineer", reviewedBy: "qc", words: "Resin maker's letter.", appliesFrom: "2026-12-04T11:00:00.000Z", digest: receipt.digest,
      answers: [{ type: "H", line: "4", applies: "retroactive" }, { type: "H", line: "5", applies: "piles that start" }, { type: "H", line: "13", applies: "piles that start" }],
      impact: [
        { sheet: "02-A", line: "4", finding: "would fail", applies: "retroactive" },
        { sheet: "02-A", line: "5", finding: "needs a value", applies: "piles that start" },
        { sheet: "02-B", line: "4", finding: "still meets", applies: "retroactive" },
      ],
    });
    expect(await small.house.db.read.revisionDraft.count()).toBe(0);
    // What is retroactive holds at once, whenever the rest begins.
    expect(await states("02-A", "4", "5")).toEqual(["in doubt", "in doubt"]);
  });

  it("is one revision when it is sent twice", async () => {
    const seen = await look(small, c);
    const first = await issue(small, seen, {}, { id: "rev-c" });
    small.later(2);
    expect(await issue(small, seen, {}, { id: "rev-c" })).toEqual(first);
    expect(await small.house.db.read.revision.count()).toBe(2);
  });

  it("gives the same tables again from the log alone", async () => {
    const smaller = await nextRevision(small, (line) => (line.line === "15" ? null : line.line === "26" ? { ...line, after: ["13"] } : stricter({ ...line, hiddenBy: line.hiddenBy.filter((id) => id !== "15") })));
    await draftReviewed(smaller);
    await issue(small, await look(small, smaller), { "4": "retroactive", "15": "open points", "26": "open points" });
    small.later(10);
    await small.decide("inspector", "02-A", "4", "reject", { codes: ["MEAS"], words: "Revision C." });
    expect((await small.sheet("02-A")).lines.map(({ line }) => line)).not.toContain("15");
    await expectRebuilt(small.house);
  });
});

describe("a revision is not issued", () => {
  beforeAll(begin);
  afterAll(close);

  it.each([["the QC manager", "qc"], ["the inspector", "inspector"], ["the owner", "owner"], ["the crew", "crew"]] as const)("by %s", async (_name, who) => {
    expect(await refusedWith(issue(small, await look(small, c), {}, {}, who))).toMatchObject({ code: "not-allowed" });
  });

  it("without the engineer's password", async () => {
    expect(await refusedWith(issue(small, await look(small, c), {}, { password: "guess" }))).toMatchObject({ code: "invalid", faults: [{ field: "password" }] });
  });

  it.each([
    ["without an answer for every change", { answers: [{ type: "H", line: "4", applies: "open points" as const }] }, ["answer-2", "answer-3"]],
    ["with two answers for one line", { answers: ["4", "4", "5", "13"].map((line) => ({ type: "H", line, applies: "open points" as const })) }, ["answer-1"]],
    ["with an answer for what does not change", { answers: ["4", "5", "10", "13"].map((line) => ({ type: "H", line, applies: "open points" as const })) }, ["answers"]],
    ["without words", { words: "  " }, ["words"]],
    ["from a time that has passed", { appliesFrom: "2026-12-02T07:00" }, ["appliesFrom"]],
    ["from a time that is none", { appliesFrom: "soon" }, ["appliesFrom"]],
  ])("%s", async (_what, parts, fields) => {
    const error = await refusedWith(issue(small, await look(small, c), {}, parts));
    expect([error.code, error.faults.map(({ field }) => field)]).toEqual(["invalid", fields]);
  });

  it("when nobody has reviewed it as it stands: not there, sent back, or changed since", async () => {
    const changed = { ...c, title: "More of it, and a word" };
    await keepDraft(small, changed);
    expect(await refusedWith(issue(small, await look(small, changed), {}))).toMatchObject({ code: "blocked", message: expect.stringContaining("changed after it was reviewed") });
    await reviewed(small, changed, "sent back");
    expect(await refusedWith(issue(small, await look(small, changed), {}))).toMatchObject({ code: "blocked", message: expect.stringContaining("sent back") });
    await discardDraft(small.as("qc"), { digest: sha256(canonicalBytes(changed)) });
    expect(await refusedWith(issue(small, await look(small, changed), {}))).toMatchObject({ code: "not-found" });
    await draftReviewed(c);
  });

  it("when something was signed since the engineer looked, and is after another look", async () => {
    const seen = await look(small, c);
    await small.sendPreparation("02-C", ["2.4", "2.6", "2.5", "3.0"]);
    expect(await refusedWith(issue(small, seen, {}))).toMatchObject({ code: "conflict", message: expect.stringContaining("look again") });
    expect(await small.house.db.read.revision.count()).toBe(1);
    await issue(small, await look(small, c), {}, { appliesFrom: "2026-12-09T07:00" });
    expect(await small.house.db.read.revision.count()).toBe(2);

    // The next one may not begin before this one does.
    const d = await nextRevision(small, (line) => (line.line === "15" ? { ...line, name: "Wrap, two layers" } : line));
    await draftReviewed(d);
    const error = await refusedWith(issue(small, await look(small, d), {}, { letter: "D", appliesFrom: "2026-12-08T07:00" }));
    expect([error.code, error.faults.map(({ field }) => field)]).toEqual(["invalid", ["appliesFrom"]]);
  });
});
