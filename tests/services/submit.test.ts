import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { MINUTE } from "#lib/domain/instant";
import type { RefusalCode } from "#lib/domain/refusal";
import { listPhotos } from "#lib/db/evidence";
import { loadDraft, saveDraft } from "#lib/services/save-draft";
import { submitPoint, type SubmitInput } from "#lib/services/submit-point";
import { withdrawSubmission } from "#lib/services/withdraw-submission";
import { refusedWith } from "#tests/services/refused";
import { smallProject, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

/** What a service says no with. */
async function refusal(work: Promise<unknown>): Promise<{ code: RefusalCode; message: string; faults: string[] }> {
  const error = await refusedWith(work);
  return { code: error.code, message: error.message, faults: error.faults.map(({ field, message }) => `${field}: ${message}`) };
}

function preparation(parts: Partial<SubmitInput> = {}, mils = ["2.4", "2.6", "2.5", "3.0"], instrumentId: string | null = "rt-3"): SubmitInput {
  return {
    id: randomUUID(), sheet: "02-A", line: "4", lots: [], setAside: [], words: "",
    workBegan: new Date(small.clock.now - 30 * MINUTE).toISOString(), workEnded: new Date(small.clock.now).toISOString(),
    values: mils.map((text, index) => ({ quantity: "profile", item: index + 1, text: text && `${text} mil`, unit: null, instrumentId, unitConfirmed: false, reason: "" })),
    ...parts,
  };
}
const records = async (mark = "02-A") => [...(await small.sheet(mark)).history.submissions.values()];
const pointState = async (line: string, mark = "02-A") => (await small.sheet(mark)).folded.get(line)!.state;

describe("sending a point", () => {
  beforeEach(() => small.sendPhoto("02-A", "4", "close-up"));

  it("twice by its id is one record, one log entry and one receipt", async () => {
    const input = preparation();
    const first = await submitPoint(small.as("crew"), input);
    small.later(20);
    expect(await submitPoint(small.as("crew"), input)).toEqual(first);
    expect(await records()).toHaveLength(1);
    expect(first.attempt).toBe(1);
  });

  it("at the same time, five times over, is one record", async () => {
    const input = preparation();
    const receipts = await Promise.all(Array.from({ length: 5 }, () => submitPoint(small.as("crew"), input)));
    expect(new Set(receipts.map(({ seq }) => seq)).size).toBe(1);
    expect(await records()).toHaveLength(1);
  });

  it("with a second id is a conflict in words", async () => {
    await submitPoint(small.as("crew"), preparation());
    const { code, message } = await refusal(submitPoint(small.as("qc"), preparation()));
    expect({ code, message }).toEqual({ code: "conflict", message: "Point 4, Surface preparation, is submitted already. Withdraw that submission first if it has to change." });
    expect(await records()).toHaveLength(1);
  });

  it("with an id that stands on another pile is a conflict, not a fault of the server", async () => {
    const { id } = preparation();
    await submitPoint(small.as("crew"), preparation({ id }));
    await small.sendPhoto("02-B", "4", "close-up");
    expect(await refusal(submitPoint(small.as("crew"), preparation({ id, sheet: "02-B" })))).toMatchObject({ code: "conflict" });
    expect(await records("02-B")).toEqual([]);
  });

  it("keeps who sent it in which role, under which revision, and what was worked out", async () => {
    await submitPoint(small.as("crew"), preparation({ words: " wind from the south " }));
    const [sent] = await records();
    expect(sent).toMatchObject({
      by: "crew", role: "crew lead", enteredBy: ["crew"], attempt: 1, worst: "meets", words: "wind from the south",
      revision: { letter: "B", digest: expect.stringMatching(/^[0-9a-f]{64}$/) }, photos: [{ subject: "close-up" }],
    });
    expect(sent!.judged[0]).toEqual({ quantity: "profile", item: 1, verdict: "meets", requirement: "1.5 … 4.0 mil", measured: "2.4 mil", margin: "2.4 mil lies in 1.5 to 4.0 mil", instrument: "RT-3", mark: "" });
  });

  it.each<[string, () => Promise<unknown>, RefusalCode]>([
    ["a point that is not open", () => submitPoint(small.as("crew"), preparation({ line: "5" })), "blocked"],
    ["a point that is not in the plan", () => submitPoint(small.as("crew"), preparation({ line: "99" })), "not-found"],
    ["a pile of no project", () => submitPoint(small.as("crew"), preparation({ sheet: "elsewhere" })), "not-found"],
    ["by the inspector", () => submitPoint(small.as("inspector"), preparation()), "not-allowed"],
    ["by the owner", () => submitPoint(small.as("owner"), preparation()), "not-allowed"],
    ["by nobody of the project", () => submitPoint({ ...small.as("crew"), personId: "stranger" }, preparation()), "not-found"],
  ])("%s is refused and leaves nothing behind", async (_what, work, code) => {
    expect(await refusal(work())).toMatchObject({ code });
    expect(await records()).toEqual([]);
  });

  it("in a role that the plan does not name is refused", async () => {
    await small.bringToLastLook("02-B");
    await small.sendPhoto("02-B", "11", "overview");
    expect(await refusal(submitPoint(small.as("crew"), preparation({ sheet: "02-B", line: "11", values: [] })))).toEqual({ code: "not-allowed", message: "Point 11 is submitted by: QC manager.", faults: [] });
  });

  it("says everything that is missing at once, each at its field", async () => {
    const { code, message, faults } = await refusal(submitPoint(small.as("crew"), preparation({ workEnded: "", setAside: (await listPhotos(small.house.db.read, "02-A")).map(({ id }) => id) }, ["2.4", "", "4.6", "3.0"])));
    expect([code, message]).toEqual(["invalid", "4 things stop this from being sent."]);
    expect(faults).toEqual([
      "workEnded: Work ended: give the date and time.",
      "value.profile.2: Profile, face 2: give the value, or say why it was not measured.",
      "reason.profile.3: Profile, face 3 fails: 4.6 mil, needs 1.5 to 4.0 mil: 0.6 mil over. Mend it, or say why it is sent as it is.",
      "photo.close-up: Close-up with scale: 1 more photo needed, 0 of 1 there.",
    ]);
  });

  it("takes a failing value with its reason, and the worst verdict stands in the record", async () => {
    const values = preparation({}, ["2.4", "4.6", "2.5", "3.0"]).values.map((value) => (value.item === 2 ? { ...value, reason: "blasted twice" } : value));
    await submitPoint(small.as("crew"), preparation({ values }));
    expect((await records())[0]).toMatchObject({ worst: "fails", reasons: [{ quantity: "profile", item: 2, words: "blasted twice" }] });
  });

  it("refuses an instrument of another project, as one that is not named", async () => {
    const { faults } = await refusal(submitPoint(small.as("crew"), preparation({}, ["2.4", "2.6", "2.5", "3.0"], "tw-9")));
    expect(faults).toHaveLength(4);
    expect(faults[0]).toBe("value.profile.1: Profile, face 1: name the replica tape it was read with.");
  });
});

describe("a lot that is used", () => {
  it("has to be on this project's register and of the kind asked for", async () => {
    await small.bringToLastLook("02-A");
    await small.sendLastLook("02-A");
    await small.decide("inspector", "02-A", "11", "release");
    small.later(30);
    const send = (lotId: string) => small.submit("crew", "02-A", "13", { mixed: "4 min" }, { lots: [{ use: "resin-a", lotId }] });
    expect((await refusal(send("lot-z"))).faults).toEqual(["lot.resin-a: This lot is not in the register. The QC manager adds it there."]);
    expect((await refusal(send(""))).faults).toEqual(["lot.resin-a: Resin part A: choose the lot."]);
    expect((await send("lot-a")).attempt).toBe(1);
  });
});

describe("a maximum wait", () => {
  it("to the release of the last look stops the last look alone, and a re-check renews it", async () => {
    await small.bringToLastLook("02-A");
    small.later(25 * 60);
    expect(await pointState("4")).toBe("expired");
    await small.sendPhoto("02-A", "11", "overview");
    const { code, message } = await refusal(small.submit("qc", "02-A", "11", { looked: "yes" }));
    expect(code).toBe("blocked");
    expect(message).toMatch(/^Point 11, Cover-up release, is not open: Point 4 expired .* \(preparation to cover-up, 24 h\): re-check it\.$/);

    await small.sendPhoto("02-A", "4", "close-up");
    await small.submit("crew", "02-A", "4", { profile: ["2.4 mil", "2.6 mil", "2.5 mil", "3.0 mil"] }, { instrumentId: "rt-3" });
    expect((await records()).at(-1)).toMatchObject({ line: "4", attempt: 2 });
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release"); // its photo was taken after the wait ran out and before it was sent: it counts
    expect(await Promise.all(["4", "5", "10", "11"].map((line) => pointState(line)))).toEqual(["released", "released", "released", "open"]);
  });
});

describe("a draft", () => {
  const writing = { workBegan: "2026-12-02T07:30", workEnded: "", values: [{ quantity: "profile", item: 1, text: "2.", unit: null, instrumentId: null, unitConfirmed: false, reason: "" }], lots: [], setAside: [], words: "half done" };
  const draftOf = (who: "crew" | "qc") => loadDraft(small.house.db.read, small.as(who), "02-A", "4");

  it("is kept as it was typed, for the one who wrote it, until it is sent", async () => {
    await saveDraft(small.as("crew"), { sheet: "02-A", line: "4", draft: writing });
    expect(await draftOf("crew")).toEqual({ ...writing, savedAt: small.clock.now });
    expect(await draftOf("qc")).toMatchObject({ savedAt: null, values: [] });

    await refusal(submitPoint(small.as("crew"), preparation()));
    expect(await draftOf("crew")).toMatchObject({ words: "half done" }); // what is refused loses nothing
    await small.sendPhoto("02-A", "4", "close-up");
    await submitPoint(small.as("crew"), preparation());
    expect((await draftOf("crew")).savedAt).toBeNull();
  });

  it("is nobody's record: it changes no state and no log", async () => {
    const before = await small.house.db.read.logEntry.count();
    await saveDraft(small.as("crew"), { sheet: "02-A", line: "4", draft: writing });
    expect(await small.house.db.read.logEntry.count()).toBe(before);
    expect(await pointState("4")).toBe("open");
  });

  it("of another project's pile, or by somebody who writes none, is refused", async () => {
    expect(await refusal(saveDraft(small.as("crew"), { sheet: "elsewhere", line: "4", draft: writing }))).toMatchObject({ code: "not-found" });
    expect(await refusal(saveDraft(small.as("inspector"), { sheet: "02-A", line: "4", draft: writing }))).toMatchObject({ code: "not-allowed" });
  });
});

describe("a withdrawal", () => {
  const withdraw = async (who: "crew" | "qc" | "inspector", words = "wrong pile") =>
    withdrawSubmission(small.as(who), { id: randomUUID(), sheet: "02-A", line: "4", submissionId: (await records())[0]!.id, words });
  beforeEach(() => small.sendPreparation("02-A"));

  it("opens the point again, keeps the record, and gives its photos free", async () => {
    await withdraw("crew");
    expect(await pointState("4")).toBe("open");
    const { history } = await small.sheet("02-A");
    expect(history.withdrawals).toMatchObject([{ by: "crew", words: "wrong pile" }]);
    small.later(10);
    await submitPoint(small.as("crew"), preparation());
    expect((await records()).map(({ attempt, photos }) => [attempt, photos.length])).toEqual([[1, 1], [1, 1]]);
  });

  it("is for who sent it or the QC manager, with a reason", async () => {
    expect(await refusal(withdraw("crew", "  "))).toMatchObject({ code: "invalid", faults: ["words: Say why it is withdrawn."] });
    expect(await refusal(withdraw("inspector"))).toMatchObject({ code: "not-allowed" });
    await withdraw("qc");
    expect(await pointState("4")).toBe("open");
  });

  it("is refused once it is decided, and of what does not stand", async () => {
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    expect(await refusal(withdraw("crew"))).toMatchObject({ code: "conflict" });
    expect(await refusal(withdrawSubmission(small.as("crew"), { id: randomUUID(), sheet: "02-B", line: "4", submissionId: (await records())[0]!.id, words: "x" }))).toMatchObject({ code: "conflict" });
  });
});

