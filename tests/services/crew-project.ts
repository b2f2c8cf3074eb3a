import { randomUUID } from "node:crypto";
import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { gateStands } from "#lib/domain/point/gate";
import type { ReasonCode } from "#lib/domain/point/history";
import { needsCheck } from "#lib/domain/point/may";
import type { Override } from "#lib/domain/plan/plan";
import { writeProjectLines, writeSet } from "#lib/domain/plan/catalogue";
import { atLeast, atMost, between, each, photo, quantity, recorded } from "#lib/domain/plan/line-part";
import type { SpecificationNumbers } from "#lib/domain/plan/specification";
import type { Role } from "#lib/domain/requirement/set";
import { databaseFile } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { findMember, getProjectById } from "#lib/db/project";
import { addPile } from "#lib/services/add-pile";
import type { Asking } from "#lib/services/ask";
import { checkSubmission } from "#lib/services/check-submission";
import { decidePoint, standingSubmission } from "#lib/services/decide-point";
import { openHouse, type House } from "#lib/services/house";
import { receiveLot, recordCalibration, registerInstrument } from "#lib/services/keep-register";
import { addMember, approveRevision, giveCredential, openProject } from "#lib/services/open-project";
import { recordTemperature } from "#lib/services/record-temperature";
import { clockOf, getLine, loadSheet } from "#lib/services/sheet";
import { sendSoundWork } from "#tests/services/whole-pile";

export const ZONE = "America/Halifax";
export const CODE = "pier";
export const PASSWORD = "quiet harbour";
/** Half past seven on site, UTC −04:00. */
export const MORNING: Instant = Date.parse("2026-12-02T07:30:00-04:00");

/** A steel pile's specification, with numbers that are invented. */
const STEEL: SpecificationNumbers = {
  type: "H", name: "HP 12×53", core: "H", coreWidthIn: "12.045", notApplicable: {}, design: null,
  jacket: { insideDiameterIn: "24", heightIn: "42", layers: 2, spacerRings: 3, tieSets: 5, clamps: 2, bars: 6 },
  tolerances: { heightIn: "0.25", diameterIn: "0.25", cutLengthIn: "159.9", overlapIn: "8" },
  access: { waterMaxFt: "2.0", windMaxKn: "20", waveMaxFt: "1.0" },
  cleaning: { zoneMinIn: "54", residualMaxPct: "5", toCoverUpHours: "72" },
  preparation: {
    quantities: [
      quantity("grade", "Visual grade", { form: "grade", atLeast: "Sa 2", chains: [["Sa 1", "Sa 2", "Sa 2½", "Sa 3"]] }),
      quantity("salt", "Soluble salt", atMost("7", "µg/cm²"), { instrument: "salt kit" }),
      quantity("profile", "Profile", each("face", 4, between("1.5", "4.0", "mil")), { instrument: "replica tape" }),
    ],
    toCoverUpHours: "24",
  },
  survey: {
    quantities: [quantity("thickness", "Flange left", each("reading", 4, atLeast("0.36", "in")), { instrument: "UT gauge" }), quantity("left", "Area left", atLeast("85", "%")), quantity("note", "What was found", recorded(null))],
    photos: [photo("gauge", "Gauge on metal", 2)],
  },
  holes: { diameterMinIn: "0.95", diameterMaxIn: "1.10", depthMinIn: "7.0", cleaningPasses: 3, toResinHours: "4" },
  bars: { size: "#6", embedmentMinIn: "7.0", baseMinC: "5", baseMaxC: "35" },
  clamps: { boltsEach: 4, torqueMin: "65", torqueMax: "72", retorqueHours: "12" },
  spacers: { perRing: 6, sizeIn: "3.5", toleranceIn: "0.25" },
  resin: { a: "100", b: "38", tolerancePct: "3", partMinC: "10", partMaxC: "30", mixMinMin: "3", dewMarginK: "3", life: { kind: "doubling", referenceC: "20", minutes: "60", factor: "2" } },
  coat: { sharePct: "50", filmMinMil: "15", filmMaxMil: "25" },
  wrap: { gapMinIn: "2.0" },
  ties: { spacingMaxIn: "10", seamGapMaxIn: "0.06", screws: 6 },
  cure: { hours: "18", referenceC: "20", minimumC: "10", underMinimum: "pause" },
  seal: { kind: "two-part", widthMinIn: "2", heldMin: "15", dropMaxIn: "0.5", toLiftHours: "24" },
  firstLift: { minIn: "2", maxIn: "4", waterQt: "3.5", waterToleranceQt: "0.25", flowMinS: "20", flowMaxS: "35", groutMinC: "8", groutMaxC: "30", setHours: "12" },
  lifts: { heightMaxIn: "24", rateMaxInH: "24", shiftMaxIn: "0.25" },
  topOff: { levelToleranceIn: "0.5", takeMin: "0.9", takeMax: "1.2", specimens: 6 },
  strip: { degreeHours: "400", datumC: "0", hollowMaxIn2: "12", voidMaxIn2: "4" },
  topCoat: { sealWidthMinIn: "3", filmMinMil: "12", filmMaxMil: "30" },
  strength: { psi: "5500", afterHours: "672" },
};

/** A timber pile has no bars in resin and no clamp torque. */
const TIMBER: SpecificationNumbers = {
  ...STEEL, type: "T", name: "13 in timber", core: "round", coreWidthIn: "13",
  notApplicable: { "6": "Timber takes no anchor holes.", "7": "Timber takes no bars in resin.", "9": "Lag connectors are not torqued." },
};

const PEOPLE: Record<string, { name: string; organisationId: string; roles: Role[] }> = {
  crew: { name: "Ora Venn", organisationId: "works", roles: ["crew lead"] },
  hand: { name: "Pell Addow", organisationId: "works", roles: ["crew member"] },
  qc: { name: "Hedda Lorne", organisationId: "works", roles: ["QC manager"] },
  inspector: { name: "Tamsin Orrel", organisationId: "office", roles: ["inspector"] },
  engineer: { name: "Bram Selwick", organisationId: "desk", roles: ["engineer"] },
  owner: { name: "Ines Caldery", organisationId: "port", roles: ["owner"] },
};

const INSTRUMENTS: { mark: string; class: string; name: string; unit: "in" | "°C" | "ft·lbf" | "g" | "mil" | null; accuracy: string | null }[] = [
  { mark: "TP-2", class: "tape", name: "Steel tape", unit: "in", accuracy: "0.12" },
  { mark: "TH-1", class: "thermometer", name: "Probe thermometer", unit: "°C", accuracy: "0.5" },
  { mark: "TW-1", class: "torque wrench", name: "Click wrench", unit: "ft·lbf", accuracy: "1" },
  { mark: "SC-1", class: "scale", name: "Bench scale", unit: "g", accuracy: "1" },
  { mark: "RT-3", class: "replica tape", name: "Replica tape", unit: "mil", accuracy: "0.2" },
  ...["level", "staff gauge", "salt kit", "UT gauge", "calipers", "depth gauge", "hygrometer", "comb gauge", "feeler gauge", "flow cone", "hammer"].map((name, index) => ({
    mark: `K-${index + 1}`, class: name, name, unit: null, accuracy: null,
  })),
];

export interface CrewProject {
  house: House;
  as(who: string): Promise<Asking>;
  sheet(mark: string): ReturnType<typeof loadSheet>;
  member(who: string): Promise<NonNullable<Awaited<ReturnType<typeof findMember>>>>;
}

const NOTE_5: Override = {
  line: "9", change: { kind: "quantity", quantity: "torque", rule: { form: "each", of: "bolt", count: 8, sample: null, rule: between("55", "62", "ft·lbf") } }, drawing: "S-114 rev. 2, note 5", words: "Thin flange: lower torque.",
};

/** A whole project in a data folder: every point of the plan, four steel piles and one of timber, and no work done yet. */
export async function crewProject(dataDir: string, now: () => Instant, clockFrom: Instant | null = null): Promise<CrewProject> {
  migrate(databaseFile(dataDir));
  const house = openHouse(dataDir, now);
  const at = clockFrom ?? now();
  await openProject(
    house,
    {
      id: CODE, code: CODE, name: "Small pier", place: "Nowhere Cove", zone: ZONE, startsOn: "2026-10-05", clockFrom: clockFrom === null ? null : new Date(clockFrom).toISOString(),
      site: { latitude: "44.0", longitude: "-63.5", radiusM: 100, assumedErrorM: 15 },
      shift: { startsAt: "06:00", hours: 14 },
      organisations: [
        { id: "works", name: "Venn Marine Works", part: "contractor" },
        { id: "office", name: "Orrel Inspection", part: "inspection" },
        { id: "desk", name: "Selwick and Rowe", part: "engineer" },
        { id: "port", name: "Nowhere Port Board", part: "owner" },
      ],
    },
    at,
  );
  for (const [who, member] of Object.entries(PEOPLE)) {
    await addMember(house, CODE, { personId: who, ...member }, at);
    await giveCredential(house, who, who, PASSWORD);
  }
  const project = await getProjectById(house.db.read, CODE);
  const as = async (who: string): Promise<Asking> => ({ house, project, personId: who });
  const revision = { format: 1 as const, letter: "B", title: "Small pier", projectLines: writeProjectLines({ submittals: ["Grout mix", "Resin data"], hollowMaxIn2: "4" }), sets: [writeSet(STEEL), writeSet(TIMBER)] };
  await approveRevision(await as("engineer"), { id: "rev-b", revision, appliesFrom: at - 30 * 24 * HOUR });
  for (const { mark, class: kind, name, unit, accuracy } of INSTRUMENTS) {
    const id = mark.toLowerCase();
    await registerInstrument(await as("qc"), { id, mark, class: kind, name, unit, rangeMin: null, rangeMax: null, accuracy: accuracy === null ? null : { kind: "absolute", value: accuracy } });
    await recordCalibration(await as("qc"), { id: `${id}-cal`, instrumentId: id, calibratedAt: "2026-09-28T10:00", dueOn: "2027-03-28", certificate: "C-118", words: "" });
  }
  for (const kind of ["resin A", "resin B", "jacket", "grout"]) {
    await receiveLot(await as("qc"), { id: `lot-${kind}`, number: `${kind.at(-1)?.toUpperCase()}-783`, lotKind: kind, certificate: "K-9", expiresOn: "2027-04-01", receivedOn: "2026-11-10", quantity: "20 kg" });
  }
  const piles: [string, string, string, Override[]][] = [["02", "A", "H", []], ["02", "B", "H", [NOTE_5]], ["03", "A", "H", []], ["03", "C", "H", []], ["07", "A", "T", []]];
  for (const [index, [bent, row, type, overrides]] of piles.entries()) {
    await addPile(await as("qc"), { id: `pile-${bent}-${row}`, bent, row, mark: `${bent}-${row}`, type, latitude: `44.000${Number(bent)}`, longitude: `-63.500${9 - index}`, overrides, drawn: null, words: "" });
  }
  return {
    house, as,
    sheet: async (mark) => loadSheet(house.db.read, project, mark === CODE ? CODE : `pile-${mark}`, await house.now(project)),
    member: async (who) => (await findMember(house.db.read, CODE, who)) as NonNullable<Awaited<ReturnType<typeof findMember>>>,
  };
}

/** Who decides a point in these tests. */
const DECIDERS: readonly Role[] = ["inspector", "engineer", "QC manager"];
const WHO: Partial<Record<Role, string>> = { inspector: "inspector", engineer: "engineer", "QC manager": "qc", "crew lead": "crew" };

/** Sends sound work for one point in the half hour that follows, and has it decided. */
export async function doPoint(project: CrewProject, clock: { now: Instant }, mark: string, lineId: string, minutes = 20): Promise<void> {
  const sheet = await project.sheet(mark);
  const { line } = getLine(sheet, lineId);
  const sender = WHO[line.submits[0] ?? "crew lead"] ?? "crew";
  const began = clock.now + MINUTE;
  clock.now += minutes * MINUTE;
  await sendSoundWork(await project.as(sender), { sheet: sheet.id, line: lineId, began, ended: clock.now });
  await settle(project, clock, mark, lineId);
}

/** Has what stands at a point checked and released by everybody whose word it needs; every flag is seen. */
export async function settle(project: CrewProject, clock: { now: Instant }, mark: string, lineId: string): Promise<void> {
  const { line, status } = getLine(await project.sheet(mark), lineId);
  if (status.standing.released) return;
  if (needsCheck(line, status.standing)) {
    clock.now += MINUTE;
    const standing = await standingSubmission(project.house.db.read, await project.sheet(mark), lineId);
    if (!standing) throw new Error(`Nothing stands at ${lineId}.`);
    await checkSubmission(await project.as("qc"), { id: randomUUID(), sheet: standing.submission.sheet, line: lineId, submissionId: standing.submission.id, outcome: "checked", codes: [], words: "" });
  }
  for (const role of DECIDERS.filter((one) => line.release.roles.includes(one)).slice(0, line.release.all ? undefined : 1)) {
    clock.now += MINUTE;
    await decide(project, clock, mark, lineId, WHO[role] ?? "inspector", "release");
  }
}

export async function decide(project: CrewProject, clock: { now: Instant }, mark: string, lineId: string, who: string, outcome: "release" | "reject", codes: ReasonCode[] = [], words = ""): Promise<void> {
  const standing = await standingSubmission(project.house.db.read, await project.sheet(mark), lineId);
  if (!standing) throw new Error(`Nothing stands at ${lineId}.`);
  await decidePoint(await project.as(who), {
    id: randomUUID(), sheet: standing.submission.sheet, line: lineId, submissionId: standing.submission.id, outcome, seenAs: "in person", observedOn: siteTime(clock.now, ZONE).date, codes, words,
    answers: standing.questions.map(({ photo: sha256, code }) => ({ photo: sha256, code, answer: "seen" as const, words: "" })), password: PASSWORD,
  });
}

/** The project's own points, so that piles may begin: submittals and the mock-up. */
export async function openSite(project: CrewProject, clock: { now: Instant }): Promise<void> {
  await doPoint(project, clock, CODE, "P1");
  await doPoint(project, clock, CODE, "P4");
}

/** Brings a pile through every point up to and with `until`, all released, in as little time as its clocks allow. */
export async function bringTo(project: CrewProject, clock: { now: Instant }, mark: string, until: string): Promise<void> {
  const { lines } = await project.sheet(mark);
  for (const line of lines.slice(0, lines.findIndex((one) => one.line === until) + 1)) {
    const { status } = getLine(await project.sheet(mark), line.line);
    if (line.notApplicable || status.state === "released") continue;
    await waitForClock(project, clock, mark, line.line);
    const gate = lines.find((one) => one.gate === "is the gate");
    const gateStatus = gate && (await project.sheet(mark)).folded.get(gate.line);
    if (gate && gate !== line && line.gate === "under the gate" && gateStatus && !gateStands(gateStatus.standing, clock.now, ZONE, { startsAt: "06:00", hours: 14 })) {
      await doPoint(project, clock, mark, gate.line);
    }
    if (line.waits.some(({ kind }) => kind === "at least")) clock.now += 700 * HOUR;
    await doPoint(project, clock, mark, line.line, 6);
  }
}

/** Lets a cure or maturity clock run out at 20 °C; does nothing at other points. */
async function waitForClock(project: CrewProject, clock: { now: Instant }, mark: string, lineId: string): Promise<void> {
  const sheet = await project.sheet(mark);
  if (!clockOf(sheet, getLine(sheet, lineId).line)) return;
  for (let reading = 0; reading < 6; reading += 1) {
    clock.now += 4 * HOUR;
    await recordTemperature(await project.as("crew"), { sheet: sheet.id, line: lineId, at: new Date(clock.now).toISOString(), temperature: "20", unit: "°C" });
  }
}
