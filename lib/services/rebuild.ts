import type { Instant } from "#lib/domain/instant";
import { applyRecord } from "#lib/db/apply-record";
import type { LastlookDatabase, Tx } from "#lib/db/client";
import { listPiles } from "#lib/db/pile";
import { getProjectById } from "#lib/db/project";
import { copyHeads, copyLog } from "#lib/db/rebuild";
import { loggedProjects, loggedRecords, viewRows, VIEW_TABLES, type LoggedRecord } from "#lib/db/view";
import { sha256 } from "#lib/records/canonical";
import { RecordSchema, type RecordBody, type ScheduleBody } from "#lib/records/kind";
import { refreshSheet } from "#lib/services/refresh";
import { loadCommon } from "#lib/services/sheet";

/** Records applied in one transaction: few enough that it ends well within its time. */
const AT_ONCE = 200;

/**
 * Copies the log with its records and signatures as they are, and makes the tables that pages read from it alone, in a
 * migrated database that holds nothing yet.
 *
 * @throws Error where a record is missing, is not what its digest says, or does not fit what came before.
 */
export async function rebuildFromLog(from: LastlookDatabase, into: LastlookDatabase): Promise<void> {
  await from.snapshot(async (log) => {
    for (const projectId of await loggedProjects(log)) await rebuildProject(log, into, projectId);
  });
}

async function rebuildProject(log: Tx, into: LastlookDatabase, projectId: string): Promise<void> {
  const touched = new Touched(projectId);
  for (let after = 0; ; ) {
    const stretch = { after, most: AT_ONCE };
    const records = await loggedRecords(log, projectId, stretch);
    await into.write(async (tx) => {
      await copyLog(log, tx, projectId, stretch);
      for (const record of records) touched.note(await replay(tx, record), record.at);
    });
    after += records.length;
    if (records.length < AT_ONCE) break;
  }
  await into.write(async (tx) => {
    await copyHeads(log, tx, projectId);
    await project(tx, touched);
  });
}

async function replay(tx: Tx, { place, bytes }: LoggedRecord): Promise<RecordBody> {
  if (sha256(bytes) !== place.digest) throw new Error(`The record of entry ${place.seq} of ${place.projectId} is not what its digest says.`);
  const body = RecordSchema.parse(JSON.parse(new TextDecoder().decode(bytes)));
  await applyRecord(tx, place, body);
  return body;
}

/** When each sheet was last touched by a record: its projection is as the records stood at that instant. */
class Touched {
  private readonly sheets = new Map<string, Instant>();
  private readonly schedules = new Map<string, ScheduleBody>();
  private all: Instant | null = null;

  constructor(readonly projectId: string) {}

  note(body: RecordBody, at: Instant): void {
    switch (body.kind) {
      case "pile":
        this.sheets.set(body.id, at);
        return;
      case "acceptance":
      case "override":
        this.sheets.set(body.pileId, at);
        return;
      case "temperature":
      case "logger":
        this.sheets.set(body.sheet, at);
        return;
      case "schedule":
        for (const { id } of body.added) this.sheets.set(id, at);
        this.changed(body, at);
        this.schedules.set(body.id, body);
        return;
      case "schedule undone": {
        const undone = this.schedules.get(body.scheduleId);
        if (undone) this.changed(undone, at);
        return;
      }
      case "submission":
      case "withdrawal":
      case "check":
      case "decision":
        if (body.sheet === this.projectId) this.everything(at);
        else this.sheets.set(body.sheet, at);
        return;
      case "revision":
      case "instrument":
      case "calibration":
      case "lot":
        this.everything(at);
    }
  }

  private changed({ changed, removed }: ScheduleBody, at: Instant): void {
    for (const { pileId } of [...changed, ...removed]) this.sheets.set(pileId, at);
  }

  private everything(at: Instant): void {
    this.sheets.clear();
    this.all = at;
  }

  lastOf(sheet: string): Instant | null {
    return this.sheets.get(sheet) ?? this.all;
  }
}

/** Writes the projections. A project without a revision has no points yet. */
async function project(tx: Tx, touched: Touched): Promise<void> {
  const of = await getProjectById(tx, touched.projectId);
  const common = await loadCommon(tx, of);
  if (common.revisions.length === 0) return;
  for (const sheet of [of.id, ...(await listPiles(tx, of.id)).map(({ id }) => id)]) {
    const at = touched.lastOf(sheet);
    if (at !== null) await refreshSheet(tx, of, sheet, at, common);
  }
}

/** The tables of two databases that are not the same, row for row, each with the first rows that differ. */
export async function viewDifferences(a: LastlookDatabase, b: LastlookDatabase): Promise<string[]> {
  const differences: string[] = [];
  for (const table of VIEW_TABLES) {
    const [left, right] = [await viewRows(a.read, table), await viewRows(b.read, table)];
    const [inRight, inLeft] = [new Set(right), new Set(left)];
    const odd = [...left.filter((row) => !inRight.has(row)).map((row) => `− ${row}`), ...right.filter((row) => !inLeft.has(row)).map((row) => `+ ${row}`)];
    if (odd.length > 0 || left.length !== right.length) differences.push([`${table}: ${odd.length} rows differ`, ...odd.slice(0, 4)].join("\n  "));
  }
  return differences;
}
