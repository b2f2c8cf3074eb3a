import { randomUUID } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { HOUR } from "#lib/domain/instant";
import type { RefusalCode } from "#lib/domain/refusal";
import type { Override } from "#lib/domain/plan/plan";
import { readArchive } from "#lib/db/archive";
import { getProjectById } from "#lib/db/project";
import { addPile } from "#lib/services/add-pile";
import type { Asking } from "#lib/services/ask";
import { checkSubmission } from "#lib/services/check-submission";
import { receiveLot, recordCalibration, registerInstrument } from "#lib/services/keep-register";
import { addMember, approveRevision, closeMembership, openProject } from "#lib/services/open-project";
import { receiveDocument } from "#lib/services/receive-document";
import { receivePhoto } from "#lib/services/receive-photo";
import { recordTemperature } from "#lib/services/record-temperature";
import { loadSheet } from "#lib/services/sheet";
import { submitPoint } from "#lib/services/submit-point";
import { refusedWith } from "#tests/services/refused";
import { issue, keepDraft, look, nextRevision, reviewed, stricter } from "#tests/services/revised-project";
import { CODE, smallProject, ZONE, type SmallProject } from "#tests/services/small-project";
import { photoTakenAt } from "#tests/services/whole-pile";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

async function refusal(work: Promise<unknown>): Promise<{ code: RefusalCode; message: string; fields: (string | null)[] }> {
  const error = await refusedWith(work);
  return { code: error.code, message: error.message, fields: error.faults.map(({ field }) => field) };
}
async function* once(bytes: Uint8Array) {
  yield bytes;
}

describe("a pile", () => {
  const add = (parts: Partial<Parameters<typeof addPile>[1]> = {}, who: "qc" | "crew" = "qc") =>
    addPile(small.as(who), { id: randomUUID(), bent: "09", row: "A", mark: "09-A", type: "H", latitude: null, longitude: null, overrides: [], drawn: null, words: "", ...parts });
  const override: Override = { line: "5", drawing: "S-9", words: "Heavy section.", change: { kind: "quantity", quantity: "left", rule: { form: "min", limit: "90", unit: "%", inclusive: true } } };

  it("is added with its overrides, and judged by them", async () => {
    await add({ id: "nine", overrides: [override] });
    const { lines, pile } = await small.sheet("nine");
    expect(pile).toMatchObject({ mark: "09-A", state: "not started" });
    expect(lines.find(({ line }) => line === "5")?.quantities[0]).toMatchObject({ rule: { limit: "90" }, override: { drawing: "S-9", was: { limit: "85" } } });
  });

  it.each<[string, Parameters<typeof add>[0], string]>([
    ["of a mark that is there", { mark: "02-A" }, "mark"],
    ["at a place that is taken", { bent: "02", row: "A" }, "row"],
    ["of a type without requirements", { type: "Z" }, "type"],
    ["with an override that names nothing", { overrides: [{ ...override, line: "9" }] }, "overrides"],
    ["with two overrides of one requirement", { overrides: [override, { ...override, drawing: "S-10" }] }, "overrides"],
  ])("%s is refused", async (_what, parts, field) => {
    expect(await refusal(add(parts))).toMatchObject({ code: "invalid", fields: [field] });
  });

  it("with an id that exists is a conflict, and by the crew not allowed", async () => {
    expect(await refusal(add({ id: "02-A" }))).toMatchObject({ code: "conflict" });
    expect(await refusal(add({}, "crew"))).toMatchObject({ code: "not-allowed" });
  });
});

describe("the registers", () => {
  const gauge = { id: "g", mark: "G-1", class: "gauge", name: "Gauge", unit: "mil", rangeMin: "1", rangeMax: "9", accuracy: null } as const;
  const calibration = { id: "c", instrumentId: "rt-3", calibratedAt: "2026-11-30T10:00", dueOn: "2027-11-30", certificate: "C-2", words: "" };
  const lot = { id: "l", number: "A-9", lotKind: "resin A", certificate: "K", expiresOn: "2027-01-01", receivedOn: "2026-12-01", quantity: "" };

  it.each<[string, () => Promise<void>, string]>([
    ["a second instrument of one mark", () => registerInstrument(small.as("qc"), { ...gauge, mark: "rt-3" }), "mark"],
    ["a range that ends before it begins", () => registerInstrument(small.as("qc"), { ...gauge, rangeMin: "10" }), "rangeMax"],
    ["a range without a unit", () => registerInstrument(small.as("qc"), { ...gauge, unit: null }), "unit"],
    ["a calibration in the future", () => recordCalibration(small.as("qc"), { ...calibration, calibratedAt: "2026-12-09T10:00" }), "calibratedAt"],
    ["one at a time that comes twice", () => recordCalibration(small.as("qc"), { ...calibration, calibratedAt: "2026-11-01T01:30" }), "calibratedAt"],
    ["one due before it was made", () => recordCalibration(small.as("qc"), { ...calibration, dueOn: "2026-11-29" }), "dueOn"],
    ["one without a certificate", () => recordCalibration(small.as("qc"), { ...calibration, certificate: " " }), "certificate"],
    ["a lot that is there", () => receiveLot(small.as("qc"), { ...lot, number: "a-783" }), "number"],
    ["a lot received after it expired", () => receiveLot(small.as("qc"), { ...lot, expiresOn: "2026-11-30" }), "expiresOn"],
  ])("refuse %s", async (_what, work, field) => {
    expect(await refusal(work())).toMatchObject({ code: "invalid", fields: [field] });
  });

  it("are the QC manager's", async () => {
    expect(await refusal(registerInstrument(small.as("crew"), gauge))).toMatchObject({ code: "not-allowed" });
    expect(await refusal(receiveLot(small.as("inspector"), lot))).toMatchObject({ code: "not-allowed" });
    expect(await refusal(recordCalibration(small.as("qc"), { ...calibration, instrumentId: "none" }))).toMatchObject({ code: "not-found" });
  });

  it("make an instrument good again from the day it was calibrated", async () => {
    await registerInstrument(small.as("qc"), gauge);
    const calibrations = async () => (await small.sheet("02-A")).instruments.find(({ id }) => id === "g")?.calibrations;
    expect(await calibrations()).toEqual([]);
    await recordCalibration(small.as("qc"), { ...calibration, instrumentId: "g" });
    expect(await calibrations()).toEqual([{ from: "2026-11-30", dueOn: "2027-11-30" }]);
  });
});

describe("a revision", () => {
  it("is approved by the engineer alone where a project is opened with it; the next one is issued from a reviewed draft, and begun piles stay under the one they began with", async () => {
    const { revision } = (await small.sheet("02-A")).revision;
    const next = { ...structuredClone(revision), letter: "C" };
    expect(await refusal(approveRevision(small.as("qc"), { id: "rev-c", revision: next, appliesFrom: small.clock.now }))).toMatchObject({ code: "not-allowed" });
    expect(await refusal(approveRevision(small.as("engineer"), { id: "rev-c", revision: next, appliesFrom: small.clock.now }))).toMatchObject({ code: "conflict" });
    await small.sendPreparation("02-A");
    const c = await nextRevision(small, stricter);
    await keepDraft(small, c);
    await reviewed(small, c);
    await issue(small, await look(small, c), {});
    expect([(await small.sheet("02-A")).revision.letter, (await small.sheet("02-B")).revision.letter]).toEqual(["B", "C"]);
  });
});

describe("a photo", () => {
  const send = async (parts: Partial<Parameters<typeof receivePhoto>[1]> = {}, bytes?: Uint8Array) =>
    receivePhoto(small.as("crew"), { sheet: "02-A", line: "4", subject: "close-up", stream: once(bytes ?? (await photoTakenAt(small.clock.now, ZONE))), ...parts });

  it("sent twice is one receipt, by its id or by its bytes", async () => {
    const bytes = await photoTakenAt(small.clock.now, ZONE);
    const first = await send({ id: "p1" }, bytes);
    expect(await send({ id: "p1" }, bytes)).toEqual(first);
    expect(await send({}, bytes)).toEqual(first);
    expect(await small.house.db.read.photo.count()).toBe(1);
  });

  it("with the id of another file is a conflict", async () => {
    await send({ id: "p1" });
    expect(await refusal(send({ id: "p1" }))).toMatchObject({ code: "conflict" });
  });

  it.each<[string, Partial<Parameters<typeof receivePhoto>[1]>, RefusalCode]>([
    ["for a subject that the point does not ask for", { subject: "sunset" }, "invalid"],
    ["for a point that is not there", { line: "31" }, "not-found"],
    ["for a pile of no project", { sheet: "elsewhere" }, "not-found"],
    ["that is not what the phone said", { declaredSha256: "0".repeat(64) }, "invalid"],
  ])("%s is refused", async (_what, parts, code) => {
    expect(await refusal(send(parts))).toMatchObject({ code });
    expect(await small.house.db.read.photo.count()).toBe(0);
  });

  it("belongs to the attempt that is being written", async () => {
    await small.sendPreparation("02-A");
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "reject", { codes: ["MEAS"], words: "x" });
    await send({ id: "p2" });
    expect((await small.house.db.read.photo.findUniqueOrThrow({ where: { id: "p2" } })).attempt).toBe(2);
  });
});

describe("beside what a point asks for", () => {
  it("no document and no temperature is taken", async () => {
    const pdf = Buffer.from("%PDF-1.4\n%%EOF\n");
    expect(await refusal(receiveDocument(small.as("qc"), { sheet: "02-A", line: "4", use: "report", title: "x", stream: once(pdf) }))).toMatchObject({ code: "invalid", fields: ["use"] });
    expect(await refusal(recordTemperature(small.as("crew"), { sheet: "02-A", line: "4", at: "2026-12-02T07:00", temperature: "12", unit: "°C" }))).toMatchObject({ code: "blocked" });
  });
});

describe("two projects on one server", () => {
  let other: Asking;
  beforeEach(async () => {
    const { house } = small;
    await openProject(house, {
      id: "far", code: "far", name: "Far pier", place: "Nowhere Far", zone: ZONE, startsOn: "2026-10-05", clockFrom: null, site: { latitude: "45.0", longitude: "-60.5", radiusM: 100, assumedErrorM: 15 },
      shift: { startsAt: "06:00", hours: 14 }, organisations: [{ id: "far-works", name: "Far Works", part: "contractor" }],
    }, small.clock.now);
    await addMember(house, "far", { personId: "crew", name: "Ora Venn", organisationId: "far-works", roles: ["crew lead", "QC manager"] }, small.clock.now);
    await addMember(house, "far", { personId: "far-qc", name: "Una Brand", organisationId: "far-works", roles: ["QC manager"] }, small.clock.now);
    other = { house, project: await getProjectById(house.db.read, "far"), personId: "far-qc" };
    await small.sendPreparation("02-A");
  });

  it("know nothing of each other's piles, points and submissions", async () => {
    const submissionId = [...(await small.sheet("02-A")).history.submissions.keys()][0]!;
    const revision = await small.sheet("02-A").then((sheet) => sheet.revision.revision);
    await addMember(small.house, "far", { personId: "far-engineer", name: "Ivo Lund", organisationId: "far-works", roles: ["engineer"] }, small.clock.now);
    await approveRevision({ ...other, personId: "far-engineer" }, { id: "far-rev", revision, appliesFrom: small.clock.now - HOUR });
    const attempts = [
      () => loadSheet(small.house.db.read, other.project, "02-A", small.clock.now),
      () => checkSubmission(other, { id: randomUUID(), sheet: "02-A", line: "4", submissionId, outcome: "checked", codes: [], words: "" }),
      () => submitPoint({ ...other, personId: "crew" }, { id: randomUUID(), sheet: "02-A", line: "5", workBegan: "", workEnded: "", values: [], lots: [], setAside: [], words: "" }),
      () => checkSubmission(other, { id: randomUUID(), sheet: CODE, line: "P1", submissionId, outcome: "checked", codes: [], words: "" }),
      () => addPile({ ...small.as("qc"), personId: "far-qc" }, { id: "x", bent: "9", row: "A", mark: "9-A", type: "H", latitude: null, longitude: null, overrides: [], drawn: null, words: "" }),
    ];
    for (const attempt of attempts) expect(await refusal(attempt())).toMatchObject({ code: "not-found" });
  });

  it("may say the same thing in the same words, and each keeps it", async () => {
    for (const project of [CODE, "far"]) await closeMembership(small.house, project, "crew", "went to sea", small.clock.now);
    for (const project of [CODE, "far"]) {
      const { records, logLines } = await readArchive(small.house.db.read, project);
      expect(records.filter(({ kind }) => kind === "departure")).toHaveLength(1);
      const named = logLines.map((bytes) => (JSON.parse(Buffer.from(bytes).toString()) as { ref: { digest: string } }).ref.digest);
      expect(new Set(records.map(({ digest }) => digest))).toEqual(new Set(named));
    }
  });
});
