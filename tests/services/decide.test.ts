import { randomUUID } from "node:crypto";
import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { MINUTE } from "#lib/domain/instant";
import type { RefusalCode } from "#lib/domain/refusal";
import { listPhotos } from "#lib/db/evidence";
import { verifyBytes } from "#lib/records/key";
import { verifyChain } from "#lib/records/log";
import { acceptPile } from "#lib/services/accept-pile";
import { checkSubmission, type CheckInput } from "#lib/services/check-submission";
import { decidePoint, standingSubmission, type DecideInput } from "#lib/services/decide-point";
import { receivePhoto } from "#lib/services/receive-photo";
import { submitPoint } from "#lib/services/submit-point";
import { withdrawSubmission } from "#lib/services/withdraw-submission";
import { originalPath } from "#lib/photos/store";
import { refusedWith } from "#tests/services/refused";
import { PASSWORD, smallProject, type SmallProject, type Who } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

async function refusal(work: Promise<unknown>): Promise<{ code: RefusalCode; message: string; faults: string[] }> {
  const error = await refusedWith(work);
  return { code: error.code, message: error.message, faults: error.faults.map(({ message }) => message) };
}

const standingAt = async (line: string, mark = "02-A") => (await standingSubmission(small.house.db.read, await small.sheet(mark), line))!;
const stateOf = async (line: string, mark = "02-A") => (await small.sheet(mark)).folded.get(line)!.state;
const decisions = async (mark = "02-A") => (await small.sheet(mark)).history.decisions;

async function decision(line: string, parts: Partial<DecideInput> = {}, mark = "02-A"): Promise<DecideInput> {
  const { submission } = await standingAt(line, mark);
  return { id: randomUUID(), sheet: mark, line, submissionId: submission.id, outcome: "release", seenAs: "in person", observedOn: "2026-12-02", codes: [], words: "", answers: [], password: PASSWORD, ...parts };
}
const decide = async (who: Who, line: string, parts: Partial<DecideInput> = {}, mark = "02-A") => decidePoint(small.as(who), await decision(line, parts, mark));

describe("a decision", () => {
  beforeEach(async () => {
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");
    small.later(5);
  });

  it("names the submission, every photo and who decided, and carries a signature that the public key verifies", async () => {
    const { submission, photos } = await standingAt("4");
    const receipt = await decide("inspector", "4", { words: " sound " });
    const [filed] = await decisions();
    expect(filed).toMatchObject({
      digest: receipt.digest, submissionDigest: submission.digest, photos: photos.map(({ sha256 }) => sha256), by: "inspector", role: "inspector", organisation: "Orrel Inspection",
      outcome: "release", attestation: "server-attested", observedOn: "2026-12-02", words: "sound",
    });
    const { db, key } = small.house;
    const [record, signature] = await Promise.all([db.read.record.findUniqueOrThrow({ where: { digest: receipt.digest } }), db.read.signature.findUniqueOrThrow({ where: { digest: receipt.digest } })]);
    expect(verifyBytes(key.publicPem, record.bytes, signature.signature)).toBe(true);
    expect(verifyBytes(key.publicPem, Buffer.concat([record.bytes, Buffer.from(" ")]), signature.signature)).toBe(false);
  });

  it("twice by its id is one decision", async () => {
    const input = await decision("4");
    const first = await decidePoint(small.as("inspector"), input);
    expect(await decidePoint(small.as("inspector"), input)).toEqual(first);
    expect(await decisions()).toHaveLength(1);
  });

  it.each([["", "Type your password to sign."], ["quiet harbor", "The password is not right. Nothing was signed."]])("with the password %j signs nothing", async (password, message) => {
    expect(await refusal(decide("inspector", "4", { password }))).toEqual({ code: "invalid", message, faults: [message] });
    expect(await decisions()).toEqual([]);
    expect(await stateOf("4")).toBe("QC checked");
  });

  it.each<[string, Who, Partial<DecideInput>, RefusalCode]>([
    ["by the crew lead who sent it", "crew", {}, "not-allowed"],
    ["of a hold point by the contractor's QC manager", "qc", {}, "not-allowed"],
    ["by the engineer, where no value fails", "engineer", {}, "not-allowed"],
    ["by the owner", "owner", {}, "not-allowed"],
    ["about a submission that does not stand", "inspector", { submissionId: "another" }, "conflict"],
    ["to reopen what is not released", "inspector", { outcome: "reopen", codes: ["MEAS"], words: "x" }, "conflict"],
    ["to reject without a reason", "inspector", { outcome: "reject" }, "invalid"],
    ["to reject without words", "inspector", { outcome: "reject", codes: ["OTH"], words: " " }, "invalid"],
    ["seen tomorrow", "inspector", { observedOn: "2026-12-03" }, "invalid"],
  ])("%s is refused", async (_what, who, parts, code) => {
    expect(await refusal(decide(who, "4", parts))).toMatchObject({ code });
    expect(await decisions()).toEqual([]);
  });

  it("of another project's pile, or by a stranger, is about nothing that exists", async () => {
    const input = await decision("4");
    expect(await refusal(decidePoint(small.as("inspector"), { ...input, sheet: "elsewhere" }))).toMatchObject({ code: "not-found" });
    expect(await refusal(decidePoint(small.as("inspector"), { ...input, line: "31" }))).toMatchObject({ code: "not-found" });
  });

  it("for yesterday keeps the day it was seen beside the day it was signed", async () => {
    await decide("inspector", "4", { observedOn: "2026-12-01" });
    expect((await decisions())[0]).toMatchObject({ observedOn: "2026-12-01", decidedAt: new Date(small.clock.now).toISOString() });
  });

  it("is taken once: the second word is a conflict", async () => {
    const both = await Promise.allSettled([decide("inspector", "4"), decide("inspector", "4")]);
    expect(both.map(({ status }) => status).sort()).toEqual(["fulfilled", "rejected"]);
    expect(await refusal(decide("inspector", "4"))).toMatchObject({ code: "conflict", message: "Point 4 is released already." });
    expect(await refusal(decide("inspector", "4", { outcome: "reject", codes: ["MEAS"], words: "x" }))).toMatchObject({ code: "conflict", message: "Point 4 is released. Reopen it, with the reason." });
  });

  it("to reject opens a second attempt, whose photos are its own", async () => {
    await decide("inspector", "4", { outcome: "reject", codes: ["MEAS", "WORK"], words: "flash rust" });
    expect(await stateOf("4")).toBe("rejected");
    expect((await decisions())[0]).toMatchObject({ outcome: "reject", codes: ["MEAS", "WORK"], words: "flash rust" });
    const again = await refusal(small.submit("crew", "02-A", "4", { profile: ["2.4 mil", "2.6 mil", "2.5 mil", "3.0 mil"] }, { instrumentId: "rt-3" }));
    expect(again.faults).toEqual(["Close-up with scale: 1 more photo needed, 0 of 1 there."]);
    await small.sendPreparation("02-A", ["2.2", "2.6", "2.5", "3.0"]);
    expect((await standingAt("4")).submission.attempt).toBe(2);
  });
});

describe("a check by the QC manager", () => {
  const check = async (who: Who, parts: Partial<CheckInput> = {}) =>
    checkSubmission(small.as(who), { id: randomUUID(), sheet: "02-A", line: "4", submissionId: (await standingAt("4")).submission.id, outcome: "checked", codes: [], words: "", ...parts });
  beforeEach(() => small.sendPreparation("02-A"));

  it("has to stand before the inspector releases, and is asked for in words", async () => {
    small.later(5);
    expect(await refusal(decide("inspector", "4"))).toMatchObject({ code: "blocked", faults: ["The QC manager has not checked it yet."] });
    await check("qc");
    expect(await stateOf("4")).toBe("QC checked");
    expect(await refusal(check("qc"))).toMatchObject({ code: "conflict", message: "It is checked already." });
    await decide("inspector", "4");
  });

  it("or sends it back with a reason, and the point is open in the same attempt", async () => {
    expect(await refusal(check("qc", { outcome: "sent back" }))).toMatchObject({ code: "invalid", faults: ["Choose at least one reason.", "Say in words what has to be mended."] });
    await check("qc", { outcome: "sent back", codes: ["BLUR"], words: "photo blurred" });
    expect((await small.sheet("02-A")).folded.get("4")).toMatchObject({ state: "open", attempt: 1 });
  });

  it("is the QC manager's alone, and not of what was sent by the same person or does not stand", async () => {
    expect(await refusal(check("crew"))).toMatchObject({ code: "not-allowed" });
    expect(await refusal(check("inspector"))).toMatchObject({ code: "not-allowed" });
    expect(await refusal(check("qc", { submissionId: "gone" }))).toMatchObject({ code: "conflict" });
    await small.sendPhoto("02-B", "4", "close-up");
    await small.submit("qc", "02-B", "4", { profile: ["2.4 mil", "2.6 mil", "2.5 mil", "3.0 mil"] }, { instrumentId: "rt-3" });
    const { submission } = await standingAt("4", "02-B");
    expect(await refusal(check("qc", { sheet: "02-B", submissionId: submission.id }))).toMatchObject({ code: "not-allowed" });
  });
});

describe("a release is blocked", () => {
  it("by a failing value, and the engineer alone releases a failing survey", async () => {
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    small.later(30);
    await small.submit("crew", "02-A", "5", { left: "80 %" }, { reason: "web holed" });
    await small.check("02-A", "5");
    expect(await refusal(decide("inspector", "5"))).toMatchObject({ code: "blocked", faults: ["A value fails. Reject it, or leave it to whom the plan names."] });
    await decide("engineer", "5", { words: "80 % carries the load." });
    expect((await decisions()).at(-1)).toMatchObject({ role: "engineer", outcome: "release" });
  });

  it("by a photo that is not in order, and by every flag without an answer", async () => {
    await small.sendPreparation("02-A", undefined, { cameraMinutesOff: 600 });
    await small.check("02-A", "4");
    const { questions } = await standingAt("4");
    expect(questions.map(({ code }) => code)).toContain("ORDER_CLOCK_IN_DOUBT");
    expect((await refusal(decide("inspector", "4"))).faults).toEqual(["Close-up with scale: 0 of 1 photos count.", `${questions.length} flags are not answered.`]);
    const answers = questions.map(({ photo, code }) => ({ photo, code, answer: "seen" as const, words: "" }));
    expect((await refusal(decide("inspector", "4", { answers }))).faults).toEqual(["Close-up with scale: 0 of 1 photos count."]);
  });

  it("keeps only answers to what was asked", async () => {
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");
    await decide("inspector", "4", { answers: [{ photo: null, code: "MADE_UP", answer: "seen", words: "" }] });
    expect((await decisions())[0]?.answers).toEqual([]);
  });

  it("by an instrument overdue, until the decider has answered it", async () => {
    small.clock.now = Date.parse("2027-03-29T08:00:00-03:00");
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");
    const { questions, judged } = await standingAt("4");
    expect(judged.map(({ verdict, mark }) => [verdict, mark])).toEqual(Array(4).fill(["meets", "instrument overdue"]));
    expect(questions).toMatchObject([{ photo: null, title: "Profile: instrument overdue", measured: "RT-3" }]);
    expect((await refusal(decide("inspector", "4", { observedOn: "2027-03-29" }))).faults).toEqual(["1 flag is not answered."]);
    await decide("inspector", "4", { observedOn: "2027-03-29", answers: [{ photo: null, code: questions[0]!.code, answer: "explained", words: "certificate is on its way" }] });
  });

  it("by a lot that had expired on the day it was used", async () => {
    await small.bringToLastLook("02-A");
    await small.sendLastLook("02-A");
    await small.decide("inspector", "02-A", "11", "release");
    small.clock.now = Date.parse("2027-04-01T08:00:00-03:00");
    await small.submit("crew", "02-A", "13", { mixed: "4 min" }, { lots: [{ use: "resin-a", lotId: "lot-a" }] });
    const { questions } = await standingAt("13");
    expect(questions).toMatchObject([{ title: "Resin part A: lot expired", measured: "lot A-783", limit: "certificate on file, used before 2027-04-01" }]);
  });
});

describe("the same file at two points", () => {
  const bytesOf = async (mark: string) => readFileSync(originalPath(small.house.dataDir, (await listPhotos(small.house.db.read, mark))[0]!.sha256));
  async function* one(bytes: Uint8Array) {
    yield bytes;
  }
  async function sendSame(): Promise<void> {
    await small.sendPreparation("02-A");
    await receivePhoto(small.as("crew"), { sheet: "02-B", line: "4", subject: "close-up", stream: one(await bytesOf("02-A")) });
  }
  const sendB = () => small.submit("crew", "02-B", "4", { profile: ["2.4 mil", "2.6 mil", "2.5 mil", "3.0 mil"] }, { instrumentId: "rt-3" });
  const elsewhere = async (mark: string) => (await standingAt("4", mark)).photos.map((photo) => photo.elsewhere ?? false);

  it("is kept and flagged, and counts for neither until one is withdrawn", async () => {
    await sendSame();
    expect(await elsewhere("02-A")).toEqual([false]); // received a second time, and not sent with anything yet
    await sendB();
    expect([await elsewhere("02-A"), await elsewhere("02-B")]).toEqual([[true], [true]]);
    expect((await standingAt("4")).questions).toMatchObject([{ code: "DUP_EXACT", measured: "the same file stands at pile 02-B, point 4" }]);
    await small.check("02-A", "4");
    const answers = (await standingAt("4")).questions.map(({ photo, code }) => ({ photo, code, answer: "explained" as const, words: "x" }));
    expect((await refusal(decide("inspector", "4", { answers }))).faults).toEqual(["Close-up with scale: 0 of 1 photos count."]);

    const { submission } = await standingAt("4", "02-B");
    await withdrawSubmission(small.as("crew"), { id: randomUUID(), sheet: "02-B", line: "4", submissionId: submission.id, words: "wrong photo" });
    expect(await elsewhere("02-A")).toEqual([false]);
    await decide("inspector", "4");
  });
});

describe("a reopening", () => {
  beforeEach(() => small.bringToLastLook("02-A"));

  it("by who may release puts what stands on it in doubt, and each is decided again", async () => {
    small.later(5);
    await decide("inspector", "4", { outcome: "reopen", codes: ["INST"], words: "replica tape found wrong" });
    expect(await Promise.all(["4", "5", "10", "11"].map((line) => stateOf(line)))).toEqual(["open", "in doubt", "in doubt", "not open"]);
    expect((await small.sheet("02-A")).pile?.state).toBe("in doubt");
    expect(await refusal(decide("inspector", "5"))).toMatchObject({ code: "blocked", faults: ["Point 4 is open. It has to be decided first."] });
    expect(await refusal(small.submit("crew", "02-A", "5", { left: "91 %" }))).toMatchObject({ code: "blocked", message: expect.stringContaining("is in doubt") });

    await small.sendPreparation("02-A", ["2.2", "2.6", "2.5", "3.0"]);
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    await small.decide("inspector", "02-A", "5", "release");
    await small.decide("inspector", "02-A", "10", "release");
    expect(await Promise.all(["4", "5", "10", "11"].map((line) => stateOf(line)))).toEqual(["released", "released", "released", "open"]);
  });

  it("needs a reason, and is nothing for who may not release", async () => {
    expect(await refusal(decide("inspector", "4", { outcome: "reopen" }))).toMatchObject({ code: "invalid" });
    expect(await refusal(decide("qc", "4", { outcome: "reopen", codes: ["INST"], words: "x" }))).toMatchObject({ code: "not-allowed" });
    expect(await stateOf("4")).toBe("released");
  });
});

describe("a whole pile", () => {
  const accept = (who: Who, password = PASSWORD) => acceptPile(small.as(who), { id: randomUUID(), pileId: "02-A", words: "", password });

  it("is accepted by the owner after its last point and not before, and in doubt when something is reopened", async () => {
    await small.bringToLastLook("02-A");
    await small.sendLastLook("02-A");
    expect(await refusal(accept("owner"))).toMatchObject({ code: "blocked", faults: ["Point 11, Cover-up release, is submitted.", "Point 13, Resin batch, is not open.", "Point 15, Wrap, is not open.", "Point 26, Final and as-built, is not open."] });
    await small.finish("02-A");
    expect(await refusal(accept("inspector"))).toMatchObject({ code: "not-allowed" });
    expect(await refusal(accept("owner", "wrong"))).toMatchObject({ code: "invalid" });
    await accept("owner");
    expect((await small.sheet("02-A")).pile?.state).toBe("accepted");
    expect(await refusal(accept("owner"))).toMatchObject({ code: "conflict" });

    small.later(60);
    await decide("inspector", "4", { outcome: "reopen", codes: ["INST"], words: "tape recalled" });
    expect((await small.sheet("02-A")).pile?.state).toBe("in doubt");
    expect(await refusal(accept("owner"))).toMatchObject({ code: "blocked" });

    const entries = await small.house.db.read.logEntry.findMany({ orderBy: { seq: "asc" } });
    expect(verifyChain(entries.map(({ bytes }) => bytes))).toMatchObject({ ok: true, size: entries.length });
    const spoiled = entries.map(({ bytes, seq }) => (seq === 9 ? Buffer.from(Buffer.from(bytes).toString().replace('"actor":"', '"actor":"x')) : bytes));
    expect(verifyChain(spoiled)).toMatchObject({ ok: false });
  });
});

describe("work that began before the release it stands on", () => {
  it("is stated for the decider to answer, since a phone without signal cannot know", async () => {
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    const releasedAt = small.clock.now;
    small.later(30);
    await submitPoint(small.as("crew"), {
      id: randomUUID(), sheet: "02-A", line: "5", lots: [], setAside: [], words: "", workBegan: new Date(releasedAt - 10 * MINUTE).toISOString(), workEnded: new Date(releasedAt + MINUTE).toISOString(),
      values: [{ quantity: "left", item: null, text: "91 %", unit: null, instrumentId: null, unitConfirmed: false, reason: "" }],
    });
    await small.check("02-A", "5");
    expect((await standingAt("5")).questions).toMatchObject([{ photo: null, code: "SEQ 4", title: "Work began before point 4 was released" }]);
    expect((await refusal(decide("inspector", "5"))).faults).toEqual(["1 flag is not answered."]);
    await decide("inspector", "5", { answers: [{ photo: null, code: "SEQ 4", answer: "seen", words: "I stood there" }] });
  });
});
