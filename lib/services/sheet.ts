import { siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { composePlan, type ComposedPlan, type IssuedSet, type Signed } from "#lib/domain/plan/compose";
import { requirementSet, type PlanLine, type TimedOverride } from "#lib/domain/plan/plan";
import { standing } from "#lib/domain/point/attempt";
import { foldSheet, type OutsidePoint, type PointStatus, type SheetFacts } from "#lib/domain/point/fold";
import { isClockRule, runningClock, type PointFacts, type RunningClock } from "#lib/domain/requirement/judge-point";
import type { Entry } from "#lib/domain/point/value";
import { lotMark } from "#lib/domain/requirement/lot";
import { itemRule } from "#lib/domain/requirement/rule";
import type { PointEvent } from "#lib/domain/point/history";
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
  /** The revision in force when work here began, or now where it has not. */
  revision: ApprovedRevision;
  lines: PlanLine[];
  /** Line to the revision that it stands under, where a later one has reached it. */
  under: ReadonlyMap<string, ApprovedRevision>;
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

/** What one sheet is folded from, as the record stands. */
export interface SheetParts {
  common: Common;
  /** Null for the project sheet. */
  own: { pile: Pile; history: SheetHistory; readings: ReadingOnFile[] } | null;
}

/** Loads the parts of one sheet by the pile's id, or by the project's own id for the project sheet. */
export async function loadSheetParts(tx: Tx, project: Project, id: string, known?: Common): Promise<SheetParts> {
  const common = known ?? (await loadCommon(tx, project));
  if (id === project.id) return { common, own: null };
  const pile = await findPile(tx, project.id, { id });
  if (!pile) throw new DomainError("not-found", "There is no such pile.");
  const [history, readings] = await Promise.all([sheetHistory(tx, pile.id), listReadings(tx, pile.id)]);
  return { common, own: { pile, history, readings } };
}

export function sheetOf(project: Project, { common, own }: SheetParts, at: Instant): Sheet {
  return own === null ? projectSheet(project, common, at) : pileSheet(project, own.pile, common, own, at);
}

/** Loads one sheet, folded at an instant. */
export async function loadSheet(tx: Tx, project: Project, id: string, at: Instant, common?: Common): Promise<Sheet> {
  return sheetOf(project, await loadSheetParts(tx, project, id, common), at);
}

export function projectSheet(project: Project, { revisions, instruments, lots, projectHistory }: Common, at: Instant): Sheet {
  const issued = revisions.map((approved): Issued => ({ ...issue(approved, null), set: { lines: approved.revision.projectLines } }));
  const { plan, events } = compose(issued, { id: project.id, mark: "", overrides: [] }, projectHistory, at);
  const revision = plan.base.approved;
  const kept = registers(instruments, lots, revision, at, project.zone);
  const folded = foldSheet({ lines: plan.lines, events, outside: [], registers: kept, outOfScope: false, at });
  const history = { ...projectHistory, events };
  return {
    project, id: project.id, pile: null, set: null, revision, lines: plan.lines, under: approvedOf(plan), history, folded, outside: [], registers: kept, readings: [], instruments, lots, at,
  };
}

export function pileSheet(
  project: Project,
  pile: Pile,
  common: Common,
  { history, readings }: { history: SheetHistory; readings: ReadingOnFile[] },
  at: Instant,
): Sheet {
  const issued = common.revisions.map((approved): Issued => ({ ...issue(approved, pile.type), set: requirementSet(approved.revision, pile.type) }));
  if (issued.length > 0 && issued.every(({ set }) => set === null)) throw new DomainError("not-found", `No approved revision has a requirement set for pile type ${pile.type}.`);
  const { plan, events } = compose(issued, pile, history, at);
  const before = projectSheet(project, common, at);
  const outside = before.lines.flatMap((line): OutsidePoint[] => {
    const status = before.folded.get(line.line);
    if (!status) return [];
    return [{ line: line.line, kind: line.kind, register: line.register !== null, state: status.state, letsGo: status.letsGo, doubtSeq: status.doubtSeq, standing: status.standing }];
  });
  const { registers: kept } = before;
  const folded = foldSheet({ lines: plan.lines, events, outside, registers: kept, outOfScope: pile.scope === "out", at });
  return {
    project, id: pile.id, pile, set: requirementSet(plan.base.approved.revision, pile.type), revision: plan.base.approved, lines: plan.lines, under: approvedOf(plan),
    history: { ...history, events }, folded, outside, registers: kept, readings, instruments: common.instruments, lots: common.lots, at,
  };
}

interface Issued extends IssuedSet {
  approved: ApprovedRevision;
}

/** An approved revision as it reaches the points of a pile type, or with null of the project sheet. */
function issue(approved: ApprovedRevision, type: string | null): Omit<Issued, "set"> {
  const { letter, seq, approvedAt, appliesFrom, terms } = approved;
  const own = terms.answers.filter((answer) => answer.type === type);
  return { letter, seq, approvedAt, appliesFrom, approved, answers: new Map(own.map(({ line, applies }) => [line, applies])) };
}

/** The plan of a sheet line by line, and its history with the revisions that reached back to signed points of it. */
function compose(
  issued: readonly Issued[],
  sheet: { id: string; mark: string; overrides: readonly TimedOverride[] },
  { events, submissions }: SheetHistory,
  at: Instant,
): { plan: ComposedPlan<Issued>; events: PointEvent[] } {
  const started = events.find(({ type }) => type === "submitted");
  const begunAt = started?.type === "submitted" ? started.workBegan : null;
  const plan = composePlan(sheet, { revisions: issued, signed: signedPoints(issued, { events, submissions }), begunAt, at });
  if (!plan) throw new DomainError("blocked", "No requirement revision is approved yet. The engineer approves one before any point can be opened.");
  const reached = issued.filter(({ approvedAt }) => approvedAt <= at).flatMap(({ approved: { seq, approvedAt, letter, terms } }) =>
    terms.impact.flatMap(({ sheet: reachedSheet, line, finding, applies }): PointEvent[] =>
      reachedSheet === sheet.id && applies === "retroactive" && finding !== "still meets" ? [{ type: "requirement changed", seq, at: approvedAt, line, letter, finding }] : [],
    ),
  );
  return { plan, events: reached.length === 0 ? events : [...events, ...reached].sort((a, b) => a.seq - b.seq) };
}

/** What stands signed at each point, read with the newest line that names it. */
function signedPoints(issued: readonly Issued[], { events, submissions }: Pick<SheetHistory, "events" | "submissions">): Map<string, Signed> {
  const lines = new Map(issued.flatMap(({ set }) => set?.lines ?? []).map((line) => [line.line, line]));
  return new Map(
    [...lines].flatMap(([id, line]): [string, Signed][] => {
      const { trail } = standing(line, events.filter((event) => event.line === id));
      const submission = trail && submissions.get(trail.submission.submissionId);
      return submission ? [[id, { seq: submission.seq, letter: submission.revision.letter }]] : [];
    }),
  );
}

function approvedOf({ under }: ComposedPlan<Issued>): Map<string, ApprovedRevision> {
  return new Map([...under].map(([line, { approved }]) => [line, approved]));
}

/** The revision that a point stands under. */
export function revisionOf({ revision, under }: Pick<Sheet, "revision" | "under">, line: string): ApprovedRevision {
  return under.get(line) ?? revision;
}

/** The revision that a point stands under, as a record names it. */
export function namedRevision(sheet: Sheet, line: string): { letter: string; digest: string } {
  const { letter, digest } = revisionOf(sheet, line);
  return { letter, digest };
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

/** What stands entered at a point; empty when nothing does. */
export function entriesAt({ folded, history }: Sheet, line: string): readonly Entry[] {
  const id = folded.get(line)?.standing.trail?.submission.submissionId;
  return (id !== undefined && history.submissions.get(id)?.entries) || [];
}

/** What judging the values of a point needs, for the work times given. */
export function pointFacts(sheet: Sheet, line: string, work: { began: Instant | null; ended: Instant | null }): PointFacts {
  return {
    workBegan: work.began,
    workEnded: work.ended,
    day: siteTime(work.ended ?? sheet.at, sheet.project.zone).date,
    instruments: new Map(sheet.instruments.map((one) => [one.id, one])),
    workAt: (other, event) => workAt(sheet, other, event),
    entriesAt: (other) => entriesAt(sheet, other),
    readings: sheet.readings.filter((reading) => reading.line === line),
  };
}

/** The cure, maturity or age clock of a point, as it stands at the sheet's instant; null where the point has none or it has not begun. */
export function clockOf(sheet: Sheet, line: PlanLine, now: Instant = sheet.at): RunningClock | null {
  for (const quantity of line.quantities) {
    const rule = itemRule(quantity.rule);
    if (!isClockRule(rule)) continue;
    return runningClock(rule, workAt(sheet, rule.from, "ended"), sheet.readings.filter((reading) => reading.line === line.line), now);
  }
  return null;
}

/** Today on site, YYYY-MM-DD. */
export function dayOf({ at, project }: Sheet): string {
  return siteTime(at, project.zone).date;
}
