import { spawnSync } from "node:child_process";
import { randomUUID } from "node:crypto";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import Database from "better-sqlite3";
import { afterAll, beforeAll, expect, it } from "vitest";
import { databaseFile, openDatabase } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { getProjectById, type Project } from "#lib/db/project";
import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { needsCheck } from "#lib/domain/point/may";
import type { PlanLineSpec, Role } from "#lib/domain/requirement/set";
import { acceptPile } from "#lib/services/accept-pile";
import { addPile } from "#lib/services/add-pile";
import type { Asking } from "#lib/services/ask";
import { checkSubmission } from "#lib/services/check-submission";
import { decidePoint, standingSubmission } from "#lib/services/decide-point";
import { openHouse, type House } from "#lib/services/house";
import { issueCloseoutAsOperator } from "#lib/services/issue-closeout";
import { receiveLot, recordCalibration, recordQualification, registerInstrument } from "#lib/services/keep-register";
import { addMember, approveRevision, giveCredential, openProject } from "#lib/services/open-project";
import { rebuildFromLog, viewDifferences } from "#lib/services/rebuild";
import { recordTemperature } from "#lib/services/record-temperature";
import { clockOf, getLine, loadSheet } from "#lib/services/sheet";
import { writeRevision } from "#seed/specification";
import { unpack } from "#tests/closeout/unpack";
import { sendSoundWork } from "#tests/services/whole-pile";

const PROJECT = "reach";
const PILE = "pile-02-a";
const ZONE = "America/Halifax"; // UTC −03:00 until 1 November 2026
const PASSWORD = "cold slack water";
const REVISION = writeRevision("B");
const LINES = REVISION.sets.find(({ type }) => type === "H")!.lines;

const PEOPLE = {
  engineer: { name: "Corin Ashdell", organisationId: "desk", roles: ["engineer"] },
  qc: { name: "Lisbet Varrow", organisationId: "works", roles: ["QC manager"] },
  crew: { name: "Odo Kestrin", organisationId: "works", roles: ["crew lead"] },
  inspector: { name: "Maren Tolvey", organisationId: "office", roles: ["inspector"] },
  owner: { name: "Edda Fallow", organisationId: "port", roles: ["owner"] },
} as const satisfies Record<string, { name: string; organisationId: string; roles: Role[] }>;
type Who = keyof typeof PEOPLE;

const WHO_DECIDES: Partial<Record<Role, Who>> = { "QC manager": "qc", inspector: "inspector", engineer: "engineer" };

/** Lines whose work begins on the morning after what came before them. */
const NEXT_MORNING = new Set(["4", "11", "18", "23", "25"]);
/** Lines whose wait is proved by temperatures, and for how long these are read. */
const READ_HOURS = new Map([["17", 20], ["22", 28]]);
const READ_EVERY_HOURS = 4;
/** Grout strength is broken at 28 days, which are 672 h. */
const UNTIL_STRENGTH = 700 * HOUR;

let folder: string;
let house: House;
let project: Project;
let now: Instant = Date.parse("2026-10-05T09:00:00-03:00");

beforeAll(async () => {
  folder = mkdtempSync(path.join(tmpdir(), "lastlook-whole-pile-"));
  migrate(databaseFile(path.join(folder, "data")));
  house = { ...openHouse(path.join(folder, "data")), now: async () => now };
  await setUp();
});
afterAll(async () => {
  await house.db.close();
  rmSync(folder, { recursive: true, force: true });
});

const as = (who: Who): Asking => ({ house, project, personId: who });
const sheetOf = (sheet: string) => loadSheet(house.db.read, project, sheet, now);

async function setUp(): Promise<void> {
  await openProject(
    house,
    {
      id: PROJECT, code: PROJECT, name: "Reach pier", place: "Nowhere Reach", zone: ZONE, startsOn: "2026-09-01", clockFrom: null,
      site: { latitude: "44", longitude: "-63.5", radiusM: 100, assumedErrorM: 60 },
      shift: { startsAt: "07:00", hours: 12 },
      organisations: [
        { id: "desk", name: "Ashdell and Wray", part: "engineer" },
        { id: "works", name: "Kestrin Marine", part: "contractor" },
        { id: "office", name: "Tolvey Inspection", part: "inspection" },
        { id: "port", name: "Nowhere Reach Harbour", part: "owner" },
      ],
    },
    now,
  );
  project = await getProjectById(house.db.read, PROJECT);
  for (const [personId, { name, organisationId, roles }] of Object.entries(PEOPLE)) {
    await addMember(house, PROJECT, { personId, name, organisationId, roles: [...roles] }, now);
    await giveCredential(house, personId, personId, PASSWORD);
  }
  await approveRevision(as("engineer"), { id: "revision-b", revision: REVISION, appliesFrom: now });
  await fillRegisters();
  await recordQualification(as("qc"), { id: "coating level 2", personId: "inspector", certificate: "Coating inspector, level 2", expiresOn: "2027-06-30" });
}

/** One instrument of each class and one lot of each kind that the points ask for. */
async function fillRegisters(): Promise<void> {
  const classes = new Set(LINES.flatMap(({ quantities }) => quantities.flatMap(({ instrument }) => instrument ?? [])));
  for (const name of classes) {
    await registerInstrument(as("qc"), { id: `the ${name}`, mark: name, class: name, name, unit: null, rangeMin: null, rangeMax: null, accuracy: null });
    await recordCalibration(as("qc"), { id: `${name} calibrated`, instrumentId: `the ${name}`, calibratedAt: "2026-09-20T10:00", dueOn: "2027-09-20", certificate: "C-40", words: "" });
  }
  for (const kind of new Set(LINES.flatMap(({ lots }) => lots.map((lot) => lot.kind)))) {
    await receiveLot(as("qc"), { id: `lot of ${kind}`, number: "L-7", lotKind: kind, certificate: "K-2", expiresOn: "2027-09-01", receivedOn: "2026-10-01", quantity: "1" });
  }
}

/** Inside the pot life everybody hurries, and what was sent is decided when the ties are set. */
const IN_BATCH = ["13", "14", "15", "16"];
const paceOf = (line: string): Instant => (IN_BATCH.includes(line) ? 2 * MINUTE : 5 * MINUTE);

async function send(who: Who, sheet: string, line: string): Promise<void> {
  const began = now + paceOf(line);
  const ended = began + 4 * paceOf(line);
  now = ended + 2 * paceOf(line);
  await sendSoundWork(as(who), { sheet, line, began, ended });
}

/** Checks and decides a point as its line asks, unless it released itself. */
async function release(sheet: string, lineId: string): Promise<void> {
  const { line, status } = getLine(await sheetOf(sheet), lineId);
  if (status.state === "released") return;
  if (needsCheck(line, status.standing)) {
    now += paceOf(lineId);
    await checkSubmission(as("qc"), { id: randomUUID(), sheet, line: lineId, submissionId: status.standing.trail!.submission.submissionId, outcome: "checked", codes: [], words: "" });
  }
  for (const role of line.release.all ? line.release.roles : line.release.roles.slice(0, 1)) {
    now += paceOf(lineId);
    const { submission } = (await standingSubmission(house.db.read, await sheetOf(sheet), lineId))!;
    await decidePoint(as(WHO_DECIDES[role]!), {
      id: randomUUID(), sheet, line: lineId, submissionId: submission.id, outcome: "release", seenAs: "in person",
      observedOn: siteTime(now, ZONE).date, codes: [], words: "", answers: [], password: PASSWORD,
    });
  }
}

function toNextMorning(): void {
  const { date } = siteTime(now, ZONE);
  now = Date.parse(`${date}T08:00:00-03:00`) + 24 * HOUR;
}

let gateOpenOn = "";

/** The access gate is sent once a shift, before any work under it. */
async function openGate(): Promise<void> {
  const { date } = siteTime(now, ZONE);
  if (gateOpenOn === date) return;
  gateOpenOn = date;
  await send("crew", PILE, "1");
}

async function readTemperatures(line: string, hours: number): Promise<void> {
  const sheet = await sheetOf(PILE);
  const { from } = clockOf(sheet, getLine(sheet, line).line)!;
  for (let hour = 0; hour <= hours; hour += READ_EVERY_HOURS) {
    now = Math.max(now, from! + hour * HOUR + MINUTE);
    await recordTemperature(as("crew"), { sheet: PILE, line, at: new Date(from! + hour * HOUR).toISOString(), temperature: "20 C", unit: null });
  }
}

async function workPoint({ line, gate, submits }: PlanLineSpec): Promise<void> {
  if (line === "25") now += UNTIL_STRENGTH;
  if (NEXT_MORNING.has(line)) toNextMorning();
  if (line === "1" || gate === "under the gate") await openGate();
  if (line === "1") return;
  const hours = READ_HOURS.get(line);
  if (hours !== undefined) await readTemperatures(line, hours);
  await send(submits[0] === "QC manager" ? "qc" : "crew", PILE, line);
  if (line === "16") for (const sent of IN_BATCH) await release(PILE, sent);
  else if (!IN_BATCH.includes(line)) await release(PILE, line);
}

/** Every row of a table of the record itself, its bytes as text. */
function recordRows(file: string, table: string): string[] {
  const db = new Database(file, { readonly: true });
  try {
    return db.prepare(`SELECT * FROM "${table}"`).all().map((row) => JSON.stringify(row)).sort();
  } finally {
    db.close();
  }
}

it("brings a steel pile from P1 to the owner's acceptance and into a final package that verifies, and the log gives the same tables again", { timeout: 120_000 }, async () => {
  for (const line of ["P1", "P4"]) {
    await send("qc", PROJECT, line);
    await release(PROJECT, line);
  }
  await addPile(as("qc"), { id: PILE, bent: "02", row: "A", mark: "02-A", type: "H", latitude: "44.0001", longitude: "-63.5", overrides: [], drawn: null, words: "" });
  for (const line of LINES) await workPoint(line);
  const ready = await sheetOf(PILE);
  expect([...ready.folded.values()].filter(({ state }) => state !== "released").map(({ line, state }) => `${line} ${state}`)).toEqual([]);

  await acceptPile(as("owner"), { id: randomUUID(), pileId: PILE, words: "", password: PASSWORD });
  expect((await sheetOf(PILE)).pile!.state).toBe("accepted");

  const issued = await issueCloseoutAsOperator({ house, project }, { id: randomUUID(), kind: "final" });
  const bag = unpack(issued.path, path.join(folder, "package"));
  const verified = spawnSync("sh", ["verify.sh"], { cwd: bag, encoding: "utf8" });
  expect(verified.stdout).not.toMatch(/^FAULT/m);
  expect(verified.status).toBe(0);

  migrate(databaseFile(path.join(folder, "again")));
  const again = openDatabase(databaseFile(path.join(folder, "again")));
  try {
    await rebuildFromLog(house.db, again);
    expect(await viewDifferences(house.db, again)).toEqual([]);
    for (const table of ["Record", "LogEntry", "Head", "Signature"]) {
      const living = recordRows(house.db.file, table);
      expect(living.length, table).toBeGreaterThan(0);
      expect(recordRows(again.file, table), table).toEqual(living);
    }
    await again.write((tx) => tx.pile.update({ where: { id: PILE }, data: { state: "in work" } }));
    expect(await viewDifferences(house.db, again)).toEqual([expect.stringMatching(/^Pile: 2 rows differ/)]);
  } finally {
    await again.close();
  }
});
