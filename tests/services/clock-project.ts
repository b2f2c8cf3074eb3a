import { randomUUID } from "node:crypto";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { atLeast, dewQuantities, line, potLife, quantity, recorded, releasedBy, stated, wait } from "#lib/domain/plan/line-part";
import type { PlanLineSpec, RequirementSet, Revision, Role } from "#lib/domain/requirement/set";
import { databaseFile } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { getProjectById } from "#lib/db/project";
import { addPile } from "#lib/services/add-pile";
import type { Asking } from "#lib/services/ask";
import { checkSubmission } from "#lib/services/check-submission";
import { decidePoint, standingSubmission } from "#lib/services/decide-point";
import { openHouse } from "#lib/services/house";
import { addMember, approveRevision, giveCredential, openProject } from "#lib/services/open-project";
import { loadSheet } from "#lib/services/sheet";
import { submitPoint } from "#lib/services/submit-point";
import type { Answer } from "#lib/records/kind";

const CODE = "clocked";
export const PASSWORD = "quiet harbour";
const release = releasedBy(["inspector"]);
const point = (parts: Pick<PlanLineSpec, "line" | "name" | "kind" | "after"> & Partial<PlanLineSpec>) => line({ gate: "free", release, ...parts });

/** Preparation that waits at most a day, a batch with its pot life, a cure, a maturity, and a margin over the dew point. */
function set(type: string, margin: PlanLineSpec["quantities"]): RequirementSet {
  return {
    type, name: `Type ${type}`, core: "H", coreWidthIn: "12", design: null,
    jacket: { insideDiameterIn: "24", heightIn: "42", layers: 2, spacerRings: 3, tieSets: 4, clamps: 0, bars: 0 },
    lines: [
      point({ line: "4", name: "Surface preparation", kind: "H", after: [], quantities: [quantity("clean", "Clean", stated())] }),
      point({ line: "11", name: "Cover-up release", kind: "H", after: ["4"], waits: [wait("at most", "4", "24", "released", "preparation to cover-up")], quantities: [quantity("looked", "Looked at", stated())] }),
      point({ line: "13", name: "Resin batch", kind: "R", after: [], quantities: ["part-a", "part-b", "air"].map((id) => quantity(id, id, recorded("°C"))) }),
      point({ line: "15", name: "Wrap", kind: "R", after: ["13"], quantities: [potLife("Pot life left", { kind: "doubling", referenceC: "20", minutes: "60", factor: "2" })] }),
      point({ line: "16", name: "Ties", kind: "R", after: [], quantities: [quantity("tied", "Tied", stated())] }),
      point({
        line: "17", name: "Jacket cure", kind: "H", after: ["16"],
        quantities: [quantity("cure", "Cure", { form: "cure", from: "16", hours: "18", referenceC: "20", minimumC: "8", underMinimum: "pause" }, { derived: { formula: "cure", from: [] } })],
      }),
      point({ line: "21", name: "Top-off", kind: "R", after: [], quantities: [quantity("full", "Full", stated())] }),
      point({
        line: "22", name: "Grout cure", kind: "H", after: ["21"],
        quantities: [quantity("maturity", "Maturity", { form: "maturity", from: "21", degreeHours: "400", datumC: "0" }, { derived: { formula: "maturity", from: [] } })],
      }),
      point({ line: "24", name: "Top coat", kind: "W", after: [], quantities: margin }),
    ],
  };
}

/** One set asks for 3 °C, the other for 5 °F: what lies between passes one of them. */
const REVISION: Revision = {
  format: 1, letter: "B", title: "Clocks", projectLines: [point({ line: "P1", name: "Submittals", kind: "H", after: [], quantities: [quantity("grout", "Grout mix", stated())] })],
  sets: [set("H", dewQuantities("3")), set("T", dewQuantities("3").map((one) => (one.id === "dew-margin" ? { ...one, rule: atLeast("5", "F°") } : one)))],
};

const PEOPLE: Record<string, { organisationId: string; roles: Role[] }> = {
  crew: { organisationId: "works", roles: ["crew lead"] },
  hand: { organisationId: "works", roles: ["crew member"] },
  qc: { organisationId: "works", roles: ["QC manager"] },
  inspector: { organisationId: "office", roles: ["inspector"] },
  engineer: { organisationId: "desk", roles: ["engineer"] },
  owner: { organisationId: "port", roles: ["owner"] },
};

export type ClockProject = Awaited<ReturnType<typeof clockProject>>;

/** Made once for each instant and zone of a test file, and copied for each test. */
const prepared = new Map<string, Promise<string>>();

async function prepare(start: Instant, zone: string): Promise<string> {
  const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-clock-"));
  process.once("exit", () => rmSync(dataDir, { recursive: true, force: true }));
  migrate(databaseFile(dataDir));
  const opened = start - 30 * 24 * HOUR;
  const house = openHouse(dataDir, () => opened);
  await openProject(
    house,
    {
      id: CODE, code: CODE, name: "Clocked pier", place: "Nowhere Cove", zone, startsOn: "2026-01-05", clockFrom: null, shift: { startsAt: "06:00", hours: 14 },
      site: { latitude: "44.0", longitude: "-63.5", radiusM: 100, assumedErrorM: 15 },
      organisations: [
        { id: "works", name: "Venn Marine Works", part: "contractor" }, { id: "office", name: "Orrel Inspection", part: "inspection" },
        { id: "desk", name: "Selwick and Rowe", part: "engineer" }, { id: "port", name: "Nowhere Port Board", part: "owner" },
      ],
    },
    opened,
  );
  for (const [who, member] of Object.entries(PEOPLE)) await addMember(house, CODE, { personId: who, name: `Ora ${who}`, ...member }, opened);
  await giveCredential(house, "inspector", "inspector", PASSWORD);
  const project = await getProjectById(house.db.read, CODE);
  const as = (personId: string): Asking => ({ house, project, personId });
  await approveRevision(as("engineer"), { id: "rev-b", revision: REVISION, appliesFrom: opened });
  for (const [mark, type] of [["02-A", "H"], ["02-B", "H"], ["07-A", "T"]] as const) {
    await addPile(as("qc"), { id: mark, bent: mark.slice(0, 2), row: mark.slice(-1), mark, type, latitude: null, longitude: null, overrides: [], drawn: null, words: "" });
  }
  await house.db.close();
  return dataDir;
}

/** A project with clocks in it on a database of its own, at an instant that the test moves. Call `close` when done. */
export async function clockProject(start: Instant, zone = "America/Halifax") {
  const key = `${start} ${zone}`;
  const made = prepared.get(key) ?? prepare(start, zone);
  prepared.set(key, made);
  const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-clock-"));
  cpSync(await made, dataDir, { recursive: true });
  const clock = { now: start };
  const house = openHouse(dataDir, () => clock.now);
  const project = await getProjectById(house.db.read, CODE);
  const as = (personId: string): Asking => ({ house, project, personId });
  const sheet = (mark: string) => loadSheet(house.db.read, project, mark, clock.now);

  /** Work of half an hour that ends now, sent at once. */
  async function send(mark: string, lineId: string, values: Record<string, string>): Promise<void> {
    await submitPoint(as("crew"), {
      id: randomUUID(), sheet: mark, line: lineId, workBegan: new Date(clock.now - 30 * MINUTE).toISOString(), workEnded: new Date(clock.now).toISOString(), lots: [], setAside: [], words: "",
      values: Object.entries(values).map(([name, text]) => ({ quantity: name, item: null, text, unit: null, instrumentId: null, unitConfirmed: false, reason: "" })),
    });
  }

  const standing = async (mark: string, lineId: string) => (await standingSubmission(house.db.read, await sheet(mark), lineId))!;

  async function releasePoint(mark: string, lineId: string, answers: Answer[] = []): Promise<void> {
    const { submission, status } = await standing(mark, lineId);
    if (!status.standing.checked) await checkSubmission(as("qc"), { id: randomUUID(), sheet: mark, line: lineId, submissionId: submission.id, outcome: "checked", codes: [], words: "" });
    await decidePoint(as("inspector"), {
      id: randomUUID(), sheet: mark, line: lineId, submissionId: submission.id, outcome: "release", seenAs: "in person", observedOn: new Date(clock.now - 12 * HOUR).toISOString().slice(0, 10), codes: [], words: "", answers, password: PASSWORD,
    });
  }

  return {
    house, project, clock, as, sheet, send, standing, release: releasePoint, tx: house.db.read,
    close: async () => {
      await house.db.close();
      rmSync(dataDir, { recursive: true, force: true });
    },
  };
}

export async function* stream(text: string | Uint8Array): AsyncGenerator<Uint8Array> {
  yield typeof text === "string" ? Buffer.from(text) : text;
}
