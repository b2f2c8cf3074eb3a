import { siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { buildPlan, buildProjectPlan, requirementSet, revisionInForce, type PlanLine } from "#lib/domain/plan/plan";
import { foldSheet, type OutsidePoint, type PointStatus, type SheetFacts } from "#lib/domain/point/fold";
import { runningClock, type PointFacts, type RunningClock } from "#lib/domain/requirement/judge-point";
import { lotMark } from "#lib/domain/requirement/lot";
import { itemRule } from "#lib/domain/requirement/rule";
import type { RequirementSet } from "#lib/domain/requirement/set";
import { DomainError } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import { listReadings, type ReadingOnFile } from "#lib/db/evidence";
import { findPile, type Pile } from "#lib/db/pile";
import { sheetHistory, type SheetHistory } from "#lib/db/point-record";
import { listRevisions, type ApprovedRevision, type Project } from "#lib/db/project";
import { listInstruments, listLots, type Instrument, type Lot } from "#lib/db/register";

/** One sheet with everything that its points are judged by, folded at an instant. */
export interface Sheet {
  project: Project;
  id: string;
  /** Null for the project sheet. */
  pile: Pile | null;
  set: RequirementSet | null;
  revision: ApprovedRevision;
  lines: PlanLine[];
  history: SheetHistory;
  folded: Map<string, PointStatus>;
  outside: OutsidePoint[];
  registers: SheetFacts["registers"];
  readings: ReadingOnFile[];
  instruments: Instrument[];
  lots: Lot[];
  at: Instant;
}

/** What a project's sheets have in common, loaded once for many of them. */
export interface Common {
  revisions: ApprovedRevision[];
  instruments: Instrument[];
  lots: Lot[];
  projectHistory: SheetHistory;
}

export async function loadCommon(tx: Tx, project: Project): Promise<Common> {
  const [revisions, instruments, lots, projectHistory] = await Promise.all([
    listRevisions(tx, project.id),
    listInstruments(tx, project.id, project.zone),
    listLots(tx, project.id),
    sheetHistory(tx, project.id),
  ]);
  return { revisions, instruments, lots, projectHistory };
}

/** Loads one sheet by the pile's id, or by the project's own id for the project sheet. */
export async function loadSheet(tx: Tx, project: Project, id: string, at: Instant, common?: Common): Promise<Sheet> {
  const shared = common ?? (await loadCommon(tx, project));
  if (id === project.id) return projectSheet(project, shared, at);
  const pile = await findPile(tx, project.id, { id });
  if (!pile) throw new DomainError("not-found", "There is no such pile.");
  const [history, readings] = await Promise.all([sheetHistory(tx, pile.id), listReadings(tx, pile.id)]);
  return pileSheet(project, pile, shared, { history, readings }, at);
}

export function projectSheet(project: Project, { revisions, instruments, lots, projectHistory }: Common, at: Instant): Sheet {
  const revision = required(revisionInForce(revisions, at) ?? revisions[0] ?? null);
  const lines = buildProjectPlan(revision.revision);
  const kept = registers(instruments, lots, revision, at, project.zone);
  const folded = foldSheet({ lines, events: projectHistory.events, outside: [], registers: kept, at });
  return { project, id: project.id, pile: null, set: null, revision, lines, history: projectHistory, folded, outside: [], registers: kept, readings: [], instruments, lots, at };
}

export function pileSheet(
  project: Project,
  pile: Pile,
  common: Common,
  { history, readings }: { history: SheetHistory; readings: ReadingOnFile[] },
  at: Instant,
): Sheet {
  const started = history.events.find(({ type }) => type === "submitted");
  const begunAt = started?.type === "submitted" ? started.workBegan : at;
  const revision = required(revisionInForce(common.revisions, begunAt) ?? common.revisions[0] ?? null);
  const set = requirementSet(revision.revision, pile.type);
  if (!set) throw new DomainError("not-found", `Revision ${revision.letter} has no requirement set for pile type ${pile.type}.`);
  const { lines } = buildPlan(set, pile);
  const before = projectSheet(project, common, at);
  const outside = before.lines.flatMap((line): OutsidePoint[] => {
    const status = before.folded.get(line.line);
    if (!status) return [];
    return [{ line: line.line, kind: line.kind, register: line.register !== null, state: status.state, letsGo: status.letsGo, doubtSeq: status.doubtSeq, standing: status.standing }];
  });
  const { registers: kept } = before;
  const folded = foldSheet({ lines, events: history.events, outside, registers: kept, at });
  return { project, id: pile.id, pile, set, revision, lines, history, folded, outside, registers: kept, readings, instruments: common.instruments, lots: common.lots, at };
}

function required(revision: ApprovedRevision | null): ApprovedRevision {
  if (!revision) throw new DomainError("blocked", "No requirement revision is approved yet. The engineer approves one before any point can be opened.");
  return revision;
}

/** Whether the registers hold what the continuous points ask for: instruments in calibration, lots with certificates. */
function registers(instruments: readonly Instrument[], lots: readonly Lot[], { revision }: ApprovedRevision, at: Instant, zone: string) {
  const today = siteTime(at, zone).date;
  const wanted = new Set(revision.sets.flatMap(({ lines }) => lines.flatMap((line) => line.lots.map(({ kind }) => kind))));
  const good = lots.filter((lot) => lotMark(lot, today) === null);
  return {
    instruments: instruments.some(({ calibrations }) => calibrations.some(({ from, dueOn }) => from <= today && today <= dueOn)),
    lots: [...wanted].every((kind) => good.some((lot) => lot.kind === kind)),
  };
}

export function getLine(sheet: Sheet, line: string): { line: PlanLine; status: PointStatus } {
  const found = sheet.lines.find((one) => one.line === line);
  const status = sheet.folded.get(line);
  if (!found || !status) throw new DomainError("not-found", "There is no such point.");
  return { line: found, status };
}

/** When work at a point of the sheet began or ended in the submission that stands there. */
export function workAt(sheet: Sheet, line: string, event: "began" | "ended"): Instant | null {
  const submission = sheet.folded.get(line)?.standing.trail?.submission;
  if (!submission) return null;
  return event === "began" ? submission.workBegan : submission.workEnded;
}

/** What judging the values of a point needs, for the work times given. */
export function pointFacts(sheet: Sheet, line: string, work: { began: Instant | null; ended: Instant | null }): PointFacts {
  return {
    workBegan: work.began,
    workEnded: work.ended,
    day: siteTime(work.ended ?? sheet.at, sheet.project.zone).date,
    instruments: new Map(sheet.instruments.map((one) => [one.id, one])),
    workAt: (other, event) => workAt(sheet, other, event),
    readings: sheet.readings.filter((reading) => reading.line === line),
  };
}

/** The cure or maturity clock of a point, as it stands at the sheet's instant; null where the point has none or it has not begun. */
export function clockOf(sheet: Sheet, line: PlanLine, now: Instant = sheet.at): RunningClock | null {
  for (const quantity of line.quantities) {
    const rule = itemRule(quantity.rule);
    if (rule.form !== "cure" && rule.form !== "maturity") continue;
    return runningClock(rule, workAt(sheet, rule.from, "ended"), sheet.readings.filter((reading) => reading.line === line.line), now);
  }
  return null;
}

/** Today on site, YYYY-MM-DD. */
export function dayOf({ at, project }: Sheet): string {
  return siteTime(at, project.zone).date;
}
