import { calendarEntries, type CalendarEntry } from "#lib/domain/clock/calendar";
import { siteTime } from "#lib/domain/clock/site-time";
import { HOUR, type Instant } from "#lib/domain/instant";
import type { PointKind } from "#lib/domain/point/state";
import { runningBounds, type RunningBound } from "#lib/domain/plan/running-bound";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { RunningClock } from "#lib/domain/requirement/judge-point";
import type { Tx } from "#lib/db/client";
import { listTideTables } from "#lib/db/clock";
import { listReadings } from "#lib/db/evidence";
import { listPiles } from "#lib/db/pile";
import { projectHistories } from "#lib/db/point-record";
import type { Project } from "#lib/db/project";
import { clockView, leftWords, timeNear, type ClockView } from "#lib/services/clock-view";
import { nextFacts } from "#lib/services/next-facts";
import { clockOf, loadCommon, pileSheet, type Sheet } from "#lib/services/sheet";
import { tideTableAt, tideWindowsIn, workingWindows, type TideTable, type TideWindowView } from "#lib/services/tide-view";

export type ClockKind = "cure" | "maturity" | "equivalent age" | "pot life" | "maximum wait" | "least wait";

/** One clock that runs at a point of a pile. Worked out each time, from records alone. */
export interface ClockRow {
  sheet: string;
  mark: string;
  line: string;
  kind: PointKind;
  name: string;
  clock: ClockKind;
  /** "stopped" where it cannot be told when it ends; "cannot be met" where its end is past, or comes before it can be met. */
  state: "runs" | "stopped" | "cannot be met";
  since: Instant;
  /** An earliest instant, or for a maximum wait and a pot life a latest one; null where it cannot be told. */
  until: Instant | null;
  bound: "earliest" | "latest";
  /** What it is about: the wait's own name, else the point's. */
  what: string;
  /** The end in words, with what is left: "Thu 17:20, 5 h 20 left". */
  words: string;
  /** Stretches in which a cure stood still, the one that lasts included. */
  stopped: { from: Instant; to: Instant }[];
  /** When the record came that it follows from. */
  recordedAt: Instant;
  /** The bound of the plan that it is. */
  running: RunningBound;
}

export interface ClocksView {
  /** The count as a sentence. */
  finding: string;
  nowWords: string;
  /** What cannot be met or stands still first, then what ends soonest. */
  rows: ClockRow[];
  /** Clocks that end beyond the axis. */
  later: ClockRow[];
  /** The two cures that matter most, to be drawn. */
  drawn: ClockView[];
  span: { from: Instant; to: Instant };
  tide: TideWindowView[];
}

const BEHIND = 4 * HOUR; // of the axis before now
const AHEAD = 26 * HOUR; // most of it after now: the next shift as well
const LEAST_AHEAD = 10 * HOUR;
const DRAWN = 2;

/** Every clock of a project at an instant: cures, maturities, pot lives, waits, and the tide's working windows. */
export async function clocksView(tx: Tx, project: Project, at: Instant): Promise<ClocksView> {
  const [sheets, tables] = await Promise.all([sheetsInWork(tx, project, at), listTideTables(tx, project.id)]);
  const all = sheets.flatMap((sheet) => clocksOf(sheet, tideTableAt(tables, at))).sort(mostPressingFirst);
  const rows = all.filter(({ until }) => until === null || until <= at + AHEAD);
  const last = Math.max(...rows.flatMap(({ until }) => until ?? []), at + LEAST_AHEAD);
  const span = { from: at - BEHIND, to: Math.min(at + AHEAD, last + (last - at) / 8) };
  return {
    finding: findingOf(all),
    nowWords: siteTime(at, project.zone).time,
    rows,
    later: all.filter((row) => !rows.includes(row)),
    drawn: drawnOf(sheets, all),
    span,
    tide: tideWindowsIn(tables, project.zone, span),
  };
}

/** The sheets of piles at which anything was done and that are in scope. */
async function sheetsInWork(tx: Tx, project: Project, at: Instant): Promise<Sheet[]> {
  const [common, piles, histories] = await Promise.all([loadCommon(tx, project), listPiles(tx, project.id), projectHistories(tx, project.id)]);
  const begun = piles.flatMap((pile) => {
    const history = histories.get(pile.id);
    return history && history.events.length > 0 && pile.scope === "in" ? [{ pile, history }] : [];
  });
  return Promise.all(begun.map(async ({ pile, history }) => pileSheet(project, pile, common, { history, readings: await listReadings(tx, pile.id) }, at)));
}

/** Every clock that runs on one sheet. The tide is about all of them, and stands over the list. */
function clocksOf(sheet: Sheet, tide: TideTable | null): ClockRow[] {
  const batches = new Set<string>();
  return runningBounds(nextFacts(sheet, tide)).flatMap((bound): ClockRow[] => {
    const line = sheet.lines.find((one) => one.line === bound.line);
    if (!line || bound.kind === "tide" || bound.kind === "notice") return [];
    // One batch goes into several points, and has one pot life.
    if (bound.kind === "pot life" && batches.has(bound.from ?? "")) return [];
    if (bound.kind === "pot life") batches.add(bound.from ?? "");
    return [{ ...rowOf(sheet, line, bound), clock: CLOCK_NAMES[bound.kind] }];
  });
}

const CLOCK_NAMES: Record<Exclude<RunningBound["kind"], "tide" | "notice">, ClockKind> = {
  cure: "cure", maturity: "maturity", "equivalent age": "equivalent age", "pot life": "pot life", "maximum wait": "maximum wait", "least wait": "least wait",
};

function rowOf(sheet: Sheet, line: PlanLine, bound: RunningBound): Omit<ClockRow, "clock"> {
  const { state, at: until, bound: side, from, since, kind } = bound;
  const clock = clockOf(sheet, line);
  const cure = clock && kind === clock.form ? clock : null;
  const readings = cure ? sheet.readings.filter((one) => one.line === line.line) : [];
  return {
    sheet: sheet.id, mark: sheet.pile?.mark ?? "", line: line.line, kind: line.kind, name: line.name, state, until, bound: side,
    since: since ?? sheet.at,
    running: bound,
    what: bound.name ?? (kind === "pot life" ? `batch of point ${from ?? ""}` : line.name),
    words: cure ? cureWords(sheet, cure) : waitWords(sheet, bound),
    stopped: cure ? stoppedIn(cure, sheet.at) : [],
    recordedAt: Math.max(submittedAt(sheet, since ?? sheet.at), ...readings.map(({ enteredAt }) => enteredAt)),
  };
}

function cureWords(sheet: Sheet, { state, earliest, lastC }: RunningClock): string {
  if (state === "paused") return `cannot tell, paused at ${lastC} °C`;
  if (state === "void") return "cannot be met: void by cold, the engineer decides";
  return earliest === null ? "cannot tell, no temperature read" : `${timeNear(earliest, sheet.project.zone, sheet.at)}, earliest`;
}

function waitWords(sheet: Sheet, { state, at: until, bound, from }: RunningBound): string {
  if (until === null) return "cannot tell how long the batch lasts";
  const end = timeNear(until, sheet.project.zone, sheet.at);
  if (state === "cannot be met") return until < sheet.at ? `cannot be met since ${end}: redo point ${from}` : `${end}, cannot be met: redo point ${from}`;
  return bound === "earliest" ? `${end}, earliest` : `${end}, ${leftWords(until - sheet.at)} left`;
}

/** The stretches in which a cure stood still; where it stands still now, up to now. */
function stoppedIn({ state, segments, from }: RunningClock, at: Instant): ClockRow["stopped"] {
  const past = segments.filter(({ rate }) => rate === 0).map(({ from: start, to }) => ({ from: start, to }));
  return state === "running" ? past : [...past, { from: segments.at(-1)?.to ?? from, to: at }];
}

/** When the submission came whose work ended at an instant. */
function submittedAt(sheet: Sheet, ended: Instant): Instant {
  const found = sheet.history.events.findLast((event) => event.type === "submitted" && event.workEnded === ended);
  return found?.at ?? ended;
}

const RANK: Record<ClockRow["state"], number> = { "cannot be met": 0, stopped: 1, runs: 2 };

function mostPressingFirst(a: ClockRow, b: ClockRow): number {
  return RANK[a.state] - RANK[b.state] || (a.until ?? a.since) - (b.until ?? b.since) || a.mark.localeCompare(b.mark, "en") || a.line.localeCompare(b.line, "en", { numeric: true });
}

function findingOf(rows: readonly ClockRow[]): string {
  const count = (state: ClockRow["state"]): number => rows.filter((row) => row.state === state).length;
  if (rows.length === 0) return "No clock runs.";
  const parts = [[count("cannot be met"), "cannot be met"], [count("stopped"), count("stopped") === 1 ? "stands still" : "stand still"]] as const;
  const said = parts.filter(([number]) => number > 0).map(([number, words]) => `${number} ${words}`);
  return `${rows.length} clock${rows.length === 1 ? "" : "s"}${said.length > 0 ? `, ${said.join(", ")}` : ""}.`;
}

/** The clocks with a curve to draw, in the order of the list. */
function drawnOf(sheets: readonly Sheet[], rows: readonly ClockRow[]): ClockView[] {
  const cures = rows.filter(({ clock }) => clock === "cure" || clock === "maturity" || clock === "equivalent age");
  return cures.flatMap((row) => {
    const sheet = sheets.find(({ id }) => id === row.sheet);
    const line = sheet?.lines.find((one) => one.line === row.line);
    const clock = sheet && line ? clockView(sheet, line) : null;
    return clock && clock.readings.length > 0 ? [{ ...clock, title: `${row.mark}, point ${row.line}, ${row.name.toLowerCase()}` }] : [];
  }).slice(0, DRAWN);
}

/** How far ahead the calendar shows the tide. */
const TIDE_AHEAD = 14 * 24 * HOUR;

/** What a calendar shows of a project: every clock that names an instant, and the tide's working windows. */
export async function calendarView(tx: Tx, project: Project, at: Instant): Promise<CalendarEntry[]> {
  const [sheets, tables] = await Promise.all([sheetsInWork(tx, project, at), listTideTables(tx, project.id)]);
  const rows = sheets.flatMap((sheet) => clocksOf(sheet, tideTableAt(tables, at)));
  const changedAt = tables.at(-1)?.enteredAt ?? at;
  return calendarEntries(
    rows.map(({ running, sheet, mark, what, recordedAt }) => ({ ...running, sheet, mark, what, changedAt: recordedAt })),
    workingWindows(tables, { from: at, to: at + TIDE_AHEAD }).map((window) => ({ ...window, project: project.id, changedAt })),
  );
}
