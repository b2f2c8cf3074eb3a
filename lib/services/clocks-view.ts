import { potLifeClock } from "#lib/domain/clock/pot-life-clock";
import { siteTime } from "#lib/domain/clock/site-time";
import { potLifeMinutes } from "#lib/domain/estimate/pot-life";
import { HOUR, type Instant } from "#lib/domain/instant";
import { Decimal } from "#lib/domain/quantity/decimal";
import type { PointKind } from "#lib/domain/point/state";
import type { PlanLine } from "#lib/domain/plan/plan";
import { fromSi } from "#lib/domain/quantity/unit";
import { itemRule } from "#lib/domain/requirement/rule";
import type { Tx } from "#lib/db/client";
import { listReadings } from "#lib/db/evidence";
import { listPiles } from "#lib/db/pile";
import { projectHistories } from "#lib/db/point-record";
import type { Project } from "#lib/db/project";
import { clockView, leftWords, whenNear, type ClockView } from "#lib/services/clock-view";
import { clockOf, entriesAt, loadCommon, pileSheet, workAt, type Sheet } from "#lib/services/sheet";
import { tideWindowsIn, type TideWindowView } from "#lib/services/tide-view";

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
  const sheets = await sheetsInWork(tx, project, at);
  const all = sheets.flatMap(clocksOf).sort(mostPressingFirst);
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
    tide: await tideWindowsIn(tx, project, span),
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

/** Every clock that runs on one sheet. */
function clocksOf(sheet: Sheet): ClockRow[] {
  const lines = sheet.lines.filter(({ notApplicable }) => notApplicable === null);
  return [...lines.flatMap((line) => [...curesAt(sheet, line), ...maximumWaitsAt(sheet, line), ...leastWaitsAt(sheet, line)]), ...potLivesOf(sheet, lines)];
}

function rowAt(sheet: Sheet, line: PlanLine, parts: Pick<ClockRow, "clock" | "state" | "since" | "until" | "bound" | "words" | "recordedAt"> & Partial<ClockRow>): ClockRow {
  return { sheet: sheet.id, mark: sheet.pile?.mark ?? "", line: line.line, kind: line.kind, name: line.name, what: line.name, stopped: [], ...parts };
}

/** A cure or maturity from the end of the work that it follows until it is reached; when something was sent it has done its part. */
function curesAt(sheet: Sheet, line: PlanLine): ClockRow[] {
  const clock = clockOf(sheet, line);
  if (!clock || clock.state === "done" || sheet.folded.get(line.line)?.standing.trail) return [];
  const stopped = clock.segments.filter(({ rate }) => rate === 0).map(({ from, to }) => ({ from, to }));
  const lastRead = clock.segments.at(-1)?.to ?? clock.from;
  const stands = clock.state !== "running";
  const words = {
    running: () => `${endWords(clock.earliest ?? sheet.at, sheet)}, earliest`,
    paused: () => `cannot tell, paused at ${clock.lastC} °C`,
    void: () => "cannot be met: void by cold, the engineer decides",
    "no readings": () => "cannot tell, no temperature read",
    done: () => "",
  }[clock.state]();
  return [rowAt(sheet, line, {
    clock: clock.form, bound: "earliest", since: clock.from, until: clock.earliest, words,
    state: clock.state === "running" ? "runs" : clock.state === "void" ? "cannot be met" : "stopped",
    stopped: stands ? [...stopped, { from: lastRead, to: sheet.at }] : stopped,
    recordedAt: Math.max(submittedAt(sheet, clock.from), ...sheet.readings.filter((one) => one.line === line.line).map(({ enteredAt }) => enteredAt)),
  })];
}

/** When the submission came whose work ended at an instant. */
function submittedAt(sheet: Sheet, ended: Instant): Instant {
  const found = sheet.history.events.findLast((event) => event.type === "submitted" && event.workEnded === ended);
  return found?.at ?? ended;
}

function maximumWaitsAt(sheet: Sheet, line: PlanLine): ClockRow[] {
  const running = [...sheet.folded.values()].flatMap(({ runningWaits }) => runningWaits).filter(({ wait, at }) => wait.kind === "at most" && at === line.line);
  return running.map(({ wait, since, until, over }) =>
    rowAt(sheet, line, {
      clock: "maximum wait", bound: "latest", since, until, what: wait.name, state: over ? "cannot be met" : "runs", recordedAt: submittedAt(sheet, since),
      words: over ? `cannot be met since ${endWords(until, sheet)}: redo point ${wait.from}` : `${endWords(until, sheet)}, ${leftWords(until - sheet.at)} left`,
    }),
  );
}

function leastWaitsAt(sheet: Sheet, line: PlanLine): ClockRow[] {
  return (sheet.folded.get(line.line)?.blocks ?? []).flatMap((block) => {
    if (block.code !== "too soon") return [];
    const { wait, notBefore } = block;
    const since = notBefore - new Decimal(wait.hours).times(HOUR).toNumber();
    return [rowAt(sheet, line, { clock: "least wait", bound: "earliest", since, until: notBefore, what: wait.name, state: "runs", words: `${endWords(notBefore, sheet)}, earliest`, recordedAt: submittedAt(sheet, since) })];
  });
}

/** A time of today without its day: "17:20". */
function endWords(end: Instant, { project: { zone }, at }: Sheet): string {
  const { date, time, offset } = siteTime(end, zone);
  const today = siteTime(at, zone);
  return date === today.date && offset === today.offset ? time : whenNear(end, zone, at);
}

/** The pot life of each batch, at the first point of those that it goes into at which nothing was sent yet. */
function potLivesOf(sheet: Sheet, lines: readonly PlanLine[]): ClockRow[] {
  const begun = new Set<string>();
  return lines.flatMap((line) => {
    const rule = line.quantities.map((quantity) => itemRule(quantity.rule)).find((one) => one.form === "pot life");
    const mixedAt = rule && workAt(sheet, rule.from, "ended");
    if (rule?.form !== "pot life" || !mixedAt || begun.has(rule.from) || sheet.folded.get(line.line)?.standing.trail) return [];
    begun.add(rule.from);
    const read = entriesAt(sheet, rule.from).flatMap((entry) => (entry.kind === "measured" && rule.temperatures.includes(entry.quantity) ? [fromSi(entry.measured.si, "°C").toNumber()] : []));
    const { latest, because } = potLifeClock({ mixedAt, temperaturesC: read, life: (celsius) => potLifeMinutes(rule.life, celsius) });
    const over = latest !== null && latest < sheet.at;
    const words = latest === null ? `cannot tell: ${because}` : over ? `cannot be met since ${endWords(latest, sheet)}: redo point ${rule.from}` : `${endWords(latest, sheet)}, ${leftWords(latest - sheet.at)} left`;
    return [rowAt(sheet, line, {
      clock: "pot life", bound: "latest", since: mixedAt, until: latest, words, what: `Batch of point ${rule.from}`,
      state: latest === null ? "stopped" : over ? "cannot be met" : "runs", recordedAt: submittedAt(sheet, mixedAt),
    })];
  });
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

/** An entry of the calendar: an instant, or with `end` a stretch of time. */
export interface CalendarEventView {
  uid: string;
  start: Instant;
  end: Instant | null;
  stamp: Instant;
  title: string;
  words: string;
}

export async function calendarView(_tx: Tx, _project: Project, _at: Instant): Promise<CalendarEventView[]> {
  return [];
}
