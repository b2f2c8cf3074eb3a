import { randomUUID } from "node:crypto";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { siteTime } from "#lib/domain/clock/site-time";
import type { ReasonCode } from "#lib/domain/point/history";
import { exactly, between, atLeast, each, photo, quantity, stated } from "#lib/domain/plan/line-part";
import type { PlanLineSpec, Revision, Role } from "#lib/domain/requirement/set";
import { databaseFile } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { getProjectById, findMember, type Project } from "#lib/db/project";
import type { Answer } from "#lib/records/kind";
import type { Asking } from "#lib/services/ask";
import { checkSubmission } from "#lib/services/check-submission";
import { decidePoint, standingSubmission } from "#lib/services/decide-point";
import { addPile } from "#lib/services/add-pile";
import { openHouse, type House } from "#lib/services/house";
import { recordCalibration, receiveLot, registerInstrument } from "#lib/services/keep-register";
import { addMember, approveRevision, giveCredential, openProject } from "#lib/services/open-project";
import { receivePhoto } from "#lib/services/receive-photo";
import { loadSheet } from "#lib/services/sheet";
import { submitPoint } from "#lib/services/submit-point";
import { withExif } from "#seed/photo/exif";
import { pictureOf } from "#tests/support/picture";

/** Six points of one pile, enough for every decision to be taken: H, W, the last look, what covers it, and the end. */
const RESINS = [{ id: "resin-a", name: "Resin part A", kind: "resin A" }];

function line(parts: Partial<PlanLineSpec> & Pick<PlanLineSpec, "line" | "name" | "kind" | "after">): PlanLineSpec {
  return {
    notApplicable: null, waits: [], batch: null, gate: "free", hiddenBy: [], quantities: [], photos: [], documents: [], lots: [],
    submits: ["crew lead", "QC manager"], register: null, evidenceOnly: { photos: 0 }, release: { roles: ["inspector"], all: false, automatic: false, whenFails: [] },
    ...parts,
  };
}

const REVISION: Revision = {
  format: 1,
  letter: "B",
  title: "Small project",
  projectLines: [line({ line: "P1", name: "Submittals approved", kind: "H", after: [], submits: ["QC manager"], quantities: [quantity("grout", "Grout mix", stated())], release: { roles: ["engineer"], all: false, automatic: false, whenFails: [] } })],
  sets: [
    {
      type: "H",
      name: "Steel H pile",
      core: "H",
      coreWidthIn: "12.045",
      jacket: { insideDiameterIn: "24", heightIn: "42", layers: 2, spacerRings: 3, tieSets: 4, clamps: 0, bars: 0 },
      design: null,
      lines: [
        line({
          line: "4", name: "Surface preparation", kind: "H", after: [], hiddenBy: ["15"],
          quantities: [quantity("profile", "Profile", each("face", 4, between("1.5", "4.0", "mil")), { instrument: "replica tape" })],
          photos: [photo("close-up", "Close-up with scale", 1)],
        }),
        line({
          line: "5", name: "Section-loss survey", kind: "H", after: ["4"], hiddenBy: ["15"],
          quantities: [quantity("left", "Area left", atLeast("85", "%"))],
          release: { roles: ["inspector"], all: false, automatic: false, whenFails: ["engineer"] },
        }),
        line({ line: "10", name: "Spacers", kind: "W", after: ["5"], hiddenBy: ["15"], quantities: [quantity("each-ring", "Spacers in the ring", each("ring", 3, exactly(6)))] }),
        line({
          line: "11", name: "Cover-up release", kind: "H", after: ["4", "5", "10"], hiddenBy: ["13"], submits: ["QC manager"],
          waits: [{ kind: "at most", from: "4", hours: "24", until: "released", name: "preparation to cover-up" }],
          quantities: [quantity("looked", "Everything that will be hidden has been looked at", stated())],
          photos: [photo("overview", "All round, taken last", 1, { window: "last look" })],
        }),
        line({
          line: "13", name: "Resin batch", kind: "W", after: ["11"], lots: RESINS, quantities: [quantity("mixed", "Mixing time", atLeast("3", "min"))],
          release: { roles: ["QC manager"], all: false, automatic: false, whenFails: [] },
        }),
        line({ line: "15", name: "Wrap", kind: "W", after: ["13"], quantities: [quantity("layers", "Layers", exactly(2))] }),
        line({ line: "26", name: "Final and as-built", kind: "H", after: ["15"], submits: ["QC manager"], quantities: [quantity("defects", "No open defect", stated())] }),
      ],
    },
  ],
};

const PEOPLE = {
  crew: { name: "Ora Venn", organisationId: "works", roles: ["crew lead"] },
  qc: { name: "Hedda Lorne", organisationId: "works", roles: ["QC manager"] },
  inspector: { name: "Tamsin Orrel", organisationId: "office", roles: ["inspector"] },
  engineer: { name: "Bram Selwick", organisationId: "desk", roles: ["engineer"] },
  owner: { name: "Ines Caldery", organisationId: "port", roles: ["owner"] },
} as const satisfies Record<string, { name: string; organisationId: string; roles: Role[] }>;
export type Who = keyof typeof PEOPLE;

export const PASSWORD = "quiet harbour";
export const CODE = "small";
export const ZONE = "America/Halifax"; // UTC −04:00 in December
export const MORNING: Instant = Date.parse("2026-12-02T08:00:00-04:00");

/** Each photo is another picture. */
let taken = 0;

export type SmallProject = Awaited<ReturnType<typeof smallProject>>;

interface SmallOptions {
  /** Where it is made; without it, in a folder of its own that `close` removes. */
  dataDir?: string;
  /** Its clock goes on from its last record, as a demonstration's does. */
  demonstration?: boolean;
}

/** A project on a database of its own, with a clock that the test moves. Call `close` when done. */
export async function smallProject({ dataDir: given, demonstration = false }: SmallOptions = {}) {
  const dataDir = given ?? mkdtempSync(path.join(tmpdir(), "lastlook-"));
  if (given || demonstration) await make(dataDir, demonstration);
  else cpSync(await (prepared ??= prepare()), dataDir, { recursive: true });
  const clock = { now: MORNING };
  const house = openHouse(dataDir, () => clock.now);
  const project = await getProjectById(house.db.read, CODE);
  await house.now(project); // a demonstration's clock begins when it is first read
  return {
    ...smallActs(house, project, { now: () => clock.now, pass: (minutes) => (clock.now += minutes * MINUTE) }),
    clock,
    close: async () => {
      await house.db.close();
      if (!given) rmSync(dataDir, { recursive: true, force: true });
    },
  };
}

/** The project as it is set up, made once for each test file and copied for each test. */
let prepared: Promise<string> | undefined;

async function prepare(): Promise<string> {
  const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-"));
  process.once("exit", () => rmSync(dataDir, { recursive: true, force: true }));
  await make(dataDir, false);
  return dataDir;
}

async function make(dataDir: string, demonstration: boolean): Promise<void> {
  migrate(databaseFile(dataDir));
  const house = openHouse(dataDir, () => MORNING);
  await setUp(house, demonstration);
  const project = await getProjectById(house.db.read, CODE);
  await fillRegisters((who) => ({ house, project, personId: who }));
  await house.db.close();
}

/** The same acts in a project that somebody else serves meanwhile. Its time passes by itself. */
export async function joinSmallProject(dataDir: string) {
  const house = openHouse(dataDir);
  const project = await getProjectById(house.db.read, CODE);
  const ahead = (await house.now(project)) - Date.now();
  return { ...smallActs(house, project, { now: () => Date.now() + ahead, pass: () => undefined }), close: () => house.db.close() };
}

async function setUp(house: House, demonstration: boolean): Promise<void> {
  await openProject(
    house,
    {
      id: CODE, code: CODE, name: "Small pier", place: "Nowhere Cove", zone: ZONE, startsOn: "2026-10-05", clockFrom: demonstration ? new Date(MORNING).toISOString() : null,
      site: { latitude: "44.0", longitude: "-63.5", radiusM: 100, assumedErrorM: 15 },
      shift: { startsAt: "06:00", hours: 14 },
      organisations: [
        { id: "works", name: "Venn Marine Works", part: "contractor" },
        { id: "office", name: "Orrel Inspection", part: "inspection" },
        { id: "desk", name: "Selwick and Rowe", part: "engineer" },
        { id: "port", name: "Nowhere Port Board", part: "owner" },
      ],
    },
    MORNING,
  );
  for (const [who, { name, organisationId, roles }] of Object.entries(PEOPLE)) {
    await addMember(house, CODE, { personId: who, name, organisationId, roles: [...roles] }, MORNING);
    await giveCredential(house, who, who, PASSWORD);
  }
}

async function fillRegisters(as: (who: Who) => Asking): Promise<void> {
  await approveRevision(as("engineer"), { id: "rev-b", revision: REVISION, appliesFrom: MORNING - 30 * 24 * HOUR });
  await registerInstrument(as("qc"), { id: "rt-3", mark: "RT-3", class: "replica tape", name: "Replica tape", unit: "mil", rangeMin: "0.8", rangeMax: "6", accuracy: { kind: "absolute", value: "0.2" } });
  await recordCalibration(as("qc"), { id: "rt-3-cal", instrumentId: "rt-3", calibratedAt: "2026-09-28T10:00", dueOn: "2027-03-28", certificate: "C-118", words: "" });
  await receiveLot(as("qc"), { id: "lot-a", number: "A-783", lotKind: "resin A", certificate: "K-9", expiresOn: "2027-04-01", receivedOn: "2026-11-10", quantity: "20 kg" });
  for (const mark of ["02-A", "02-B", "02-C", "02-D"]) {
    await addPile(as("qc"), { id: mark, bent: "02", row: mark.slice(-1), mark, type: "H", latitude: null, longitude: null, overrides: [], drawn: null, words: "" });
  }
}

interface Time {
  now(): Instant;
  pass(minutes: number): void;
}

function smallActs(house: House, project: Project, time: Time) {
  const as = (who: Who): Asking => ({ house, project, personId: who });
  const { now } = time;
  const later = (minutes: number): void => time.pass(minutes);
  const sheet = (mark: string) => loadSheet(house.db.read, project, mark, now());
  const member = async (who: Who) => (await findMember(house.db.read, CODE, who))!;

  /** Takes and sends a photo now; the camera writes the site's time, or another clock's. */
  async function sendPhoto(mark: string, point: string, subject: string, { cameraMinutesOff = 0, picture = undefined as Buffer | undefined } = {}): Promise<string> {
    const local = siteTime(now() + cameraMinutesOff * MINUTE, ZONE);
    const jpeg = picture ?? (await pictureOf((taken += 1)));
    const facts = { dateTimeOriginal: `${local.date.replaceAll("-", ":")} ${local.iso.slice(11, 19)}`, offset: local.offset, make: "Cove", model: "One" };
    const bytes = withExif(jpeg, facts);
    later(5);
    return (await receivePhoto(as("crew"), { sheet: mark, line: point, subject, stream: one(bytes), fileName: `${subject}.jpg` })).id;
  }

  type Values = Record<string, string | string[]>;
  async function submit(who: Who, mark: string, point: string, values: Values, { lots = [] as { use: string; lotId: string }[], instrumentId = null as string | null, reason = "" } = {}) {
    const ended = now();
    later(10);
    return submitPoint(as(who), {
      id: randomUUID(), sheet: mark, line: point, workBegan: new Date(ended - 30 * MINUTE).toISOString(), workEnded: new Date(ended).toISOString(), lots, setAside: [], words: "",
      values: Object.entries(values).flatMap(([name, given]) =>
        (Array.isArray(given) ? given : [given]).map((text, index) => ({
          quantity: name, item: Array.isArray(given) ? index + 1 : null, text, unit: null, instrumentId, unitConfirmed: false, reason,
        })),
      ),
    });
  }

  async function check(mark: string, point: string): Promise<void> {
    later(5);
    const standing = (await standingSubmission(house.db.read, await sheet(mark), point))!;
    await checkSubmission(as("qc"), { id: randomUUID(), sheet: mark, line: point, submissionId: standing.submission.id, outcome: "checked", codes: [], words: "" });
  }

  async function decide(who: Who, mark: string, point: string, outcome: "release" | "reject" | "reopen", { codes = [] as ReasonCode[], words = "", answers = [] as Answer[] } = {}) {
    later(5);
    const standing = (await standingSubmission(house.db.read, await sheet(mark), point))!;
    return decidePoint(as(who), {
      id: randomUUID(), sheet: mark, line: point, submissionId: standing.submission.id, outcome, seenAs: "in person", observedOn: siteTime(now(), ZONE).date, codes, words, answers, password: PASSWORD,
    });
  }

  /** Point 4 as it should be: photo, values, sent. */
  async function sendPreparation(mark: string, profile = ["2.4", "2.6", "2.5", "3.0"], { cameraMinutesOff = 0, reason = "", picture = undefined as Buffer | undefined } = {}): Promise<void> {
    await sendPhoto(mark, "4", "close-up", { cameraMinutesOff, picture });
    await submit("crew", mark, "4", { profile: profile.map((mil) => `${mil} mil`) }, { instrumentId: "rt-3", reason });
  }

  /** Brings a pile up to the last look: 4, 5 and 10 released. */
  async function bringToLastLook(mark: string): Promise<void> {
    await sendPreparation(mark);
    await check(mark, "4");
    await decide("inspector", mark, "4", "release");
    later(30);
    await submit("crew", mark, "5", { left: "91 %" });
    await check(mark, "5");
    await decide("inspector", mark, "5", "release");
    later(30);
    await submit("crew", mark, "10", { "each-ring": ["6", "6", "6"] });
    await check(mark, "10");
    await decide("inspector", mark, "10", "release");
  }

  async function sendLastLook(mark: string): Promise<void> {
    later(20);
    await sendPhoto(mark, "11", "overview");
    await submit("qc", mark, "11", { looked: "yes" });
  }

  /** Everything after the last look, to the end of the pile. */
  async function finish(mark: string): Promise<void> {
    await decide("inspector", mark, "11", "release");
    later(40);
    await submit("crew", mark, "13", { mixed: "4 min" }, { lots: [{ use: "resin-a", lotId: "lot-a" }] });
    await decide("qc", mark, "13", "release");
    later(40);
    await submit("crew", mark, "15", { layers: "2" });
    await check(mark, "15");
    await decide("inspector", mark, "15", "release");
    later(40);
    await submit("qc", mark, "26", { defects: "yes" });
    await decide("inspector", mark, "26", "release");
  }

  return { house, project, as, later, sheet, member, sendPhoto, submit, check, decide, sendPreparation, bringToLastLook, sendLastLook, finish };
}

async function* one(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes;
}
