import Decimal from "decimal.js";
import { formatWhen } from "#lib/domain/clock/site-time";
import { nightSpans } from "#lib/domain/clock/sun";
import { HOUR, SECOND, type Instant } from "#lib/domain/instant";
import { cameraInstant } from "#lib/domain/photo/camera-instant";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PointStatus } from "#lib/domain/point/fold";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { photoWindow, startedBeforeRelease } from "#lib/domain/point/window";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { listTideTables } from "#lib/db/clock";
import type { Project } from "#lib/db/project";
import { clockView, leftWords, type ClockView } from "#lib/services/clock-view";
import { windowFacts, type PhotoView } from "#lib/services/evidence";
import { groupBy } from "#lib/services/exceptions";
import { photosOfSheet } from "#lib/services/point-photos";
import type { Sheet } from "#lib/services/sheet";
import { tideWindowsIn } from "#lib/services/tide-view";

export interface SequenceSpan {
  from: Instant;
  to: Instant;
}

export interface SequenceBarView extends SequenceSpan {
  type: "work" | "waiting" | "cure-done" | "cure-left" | "cure-stopped" | "max-wait" | "met-wait" | "min-wait";
  /** What the wait is for, or how far a cure has come. */
  label?: string;
}

export interface SequencePhotoView {
  id: string;
  /** What it shows, and which of several: "Clean hole 3". */
  label: string;
  /** Every instant that it may have been taken at: one where that is known, none where nothing says. */
  readings: Instant[];
  uncertaintyMs: number;
  verdict: OrderVerdict;
  /** The finding against its window as a sentence. */
  words: string;
  /** How far it misses its window, where it does for certain. */
  missedMs: number | null;
  /** What the camera's own clock showed, read on the site's clocks, where that is not when it was taken. */
  cameraAt: Instant | null;
  window: SequenceWindowView;
}

/** When photos of a point have to have been taken. Null: nothing has to come before, or nothing hides the work yet. */
export interface SequenceWindowView {
  from: Instant | null;
  to: Instant | null;
}

export interface SequenceRowView {
  line: string;
  kind: PointKind;
  name: string;
  state: PointState;
  applicable: boolean;
  /** Why the point does not apply. */
  note: string | null;
  bars: SequenceBarView[];
  windows: SequenceWindowView[];
  releases: { at: Instant; kind: "released" | "rejected" | "reopened" }[];
  photos: SequencePhotoView[];
  /** Work that began before a hold point it stands on was released: the step leans back. */
  early: { began: Instant; line: string; releasedAt: Instant }[];
}

export interface SequenceBandView extends SequenceSpan {
  type: "night" | "tide";
  label?: string;
}

export interface SequenceView {
  rows: SequenceRowView[];
  bands: SequenceBandView[];
  coverUpAt: Instant | null;
  /** Latest and earliest times, said before the time: "22 from", "11 by". */
  limits: { at: Instant; label: string }[];
  /** What the picture shows, as a sentence. */
  finding: string;
}

/** What happened at a pile, when, and in which windows, ready to be drawn. Null before anything was sent. */
export async function sequenceView(tx: Tx, sheet: Sheet): Promise<SequenceView | null> {
  if (sheet.history.submissions.size === 0) return null;
  const photos = await photosOfSheet(tx, sheet);
  const views = new Map(groupBy(photos, ({ line }) => line.line).map(([line, own]) => [line, own.map(({ view }) => view)]));
  const clocks = new Map(sheet.lines.flatMap((line): [string, ClockView][] => {
    const clock = clockView(sheet, line);
    return clock ? [[line.line, clock]] : [];
  }));
  const rows = sheet.lines.map((line) => rowOf(sheet, line, clocks.get(line.line), views.get(line.line) ?? []));
  const hiding = sheet.lines.find(({ line }) => line === "11")?.hiddenBy.flatMap((id) => sheet.folded.get(id)?.standing.trail?.submission.workBegan ?? []) ?? [];
  const coverUpAt = hiding.length > 0 ? Math.min(...hiding) : null;
  const limits = limitsOf(sheet, clocks);
  return { rows, bands: await sequenceBands(tx, sheet.project, daysOf(rows, [sheet.at, ...limits.map(({ at }) => at)])), coverUpAt, limits, finding: findingOf(sheet, rows) };
}

// ---- photos and their windows ---------------------------------------------------------------------------------------

function photosOf(line: PlanLine, views: readonly PhotoView[], zone: string): SequencePhotoView[] {
  const subjects = new Map(groupBy(views, ({ subject }) => subject));
  return views.map(({ photo, subject, derived, order, window }) => {
    const same = subjects.get(subject) ?? [];
    const name = line.photos.find(({ id }) => id === subject)?.name ?? subject;
    const uncertaintyMs = (derived.uncertaintySeconds ?? 0) * SECOND;
    return {
      id: photo.id,
      label: same.length > 1 ? `${name} ${same.findIndex((one) => one.photo.id === photo.id) + 1}` : name,
      readings: [...(derived.instant === null ? derived.hypotheses : [derived.instant])].sort((a, b) => a - b),
      uncertaintyMs,
      verdict: order.verdict,
      words: order.words,
      missedMs: order.bySeconds === null ? null : order.bySeconds * SECOND,
      cameraAt: cameraInstant(derived, zone),
      window: { from: window.from, to: window.to === photo.receivedAt ? null : window.to },
    };
  });
}

/** The windows of a point's photos, each once; of a point without photos, the one that they will have to lie in. */
function windowsOf(sheet: Sheet, line: PlanLine, photos: readonly SequencePhotoView[], status: PointStatus): SequenceWindowView[] {
  const [subject] = line.photos;
  if (!subject) return [];
  const settled = status.standing.released ? lastOf(photos.flatMap(({ readings, uncertaintyMs }) => readings.map((at) => at + uncertaintyMs))) : null;
  const own = photos.map(({ window }) => window);
  if (own.length === 0 && status.mayBegin) {
    const { from, to } = photoWindow(windowFacts(sheet), line, subject, { attempt: status.attempt, beforeSeq: Number.POSITIVE_INFINITY, receivedAt: sheet.at });
    own.push({ from, to: to === sheet.at ? null : to });
  }
  const each = new Map(own.map((window) => [`${window.from} ${window.to}`, { from: window.from, to: window.to ?? settled }]));
  // Work that was hidden before the window opened leaves nothing to draw.
  return [...each.values()].filter(({ from, to }) => from === null || to === null || from < to);
}

function lastOf(instants: readonly Instant[]): Instant | null {
  return instants.length > 0 ? Math.max(...instants) : null;
}

// ---- rows -----------------------------------------------------------------------------------------------------------

const OUTCOME_WORDS = { release: "released", reject: "rejected", reopen: "reopened" } as const;

function rowOf(sheet: Sheet, line: PlanLine, clock: ClockView | undefined, views: readonly PhotoView[]): SequenceRowView {
  const status = sheet.folded.get(line.line) as PointStatus;
  const decided = sheet.history.decisions.filter((one) => one.line === line.line);
  const photos = photosOf(line, views, sheet.project.zone);
  return {
    line: line.line, kind: line.kind, name: line.name, state: status.state, applicable: line.notApplicable === null, note: line.notApplicable,
    bars: [...cureBars(sheet, clock, status.standing.released), ...workBars(sheet, status), ...waitBars(sheet, line)],
    windows: windowsOf(sheet, line, photos, status),
    releases: decided.map(({ decidedAt, outcome }) => ({ at: Date.parse(decidedAt), kind: OUTCOME_WORDS[outcome] })),
    photos,
    early: earlyOf(sheet, line, status),
  };
}

function standingTrails({ standing }: PointStatus) {
  return standing.attempts.flatMap(({ submissions }) => submissions).filter(({ withdrawn }) => !withdrawn);
}

function workBars(sheet: Sheet, status: PointStatus): SequenceBarView[] {
  return standingTrails(status).flatMap(({ submission, decisions, checks }): SequenceBarView[] => {
    const work = { type: "work" as const, from: submission.workBegan, to: submission.workEnded };
    const end = decisions[0]?.at ?? checks.find(({ outcome }) => outcome === "sent back")?.at ?? sheet.at;
    return end > submission.workEnded ? [work, { type: "waiting", from: submission.workEnded, to: end }] : [work];
  });
}

function cureBars(sheet: Sheet, clock: ClockView | undefined, released: boolean): SequenceBarView[] {
  if (!clock) return [];
  const until = Math.max(clock.startedAt, Math.min(sheet.at, clock.earliest ?? sheet.at));
  const done: SequenceBarView = { type: "cure-done", from: clock.startedAt, to: until, ...(released ? {} : { label: clock.amount }) };
  const stopped = clock.stopped.map(({ from, to }): SequenceBarView => ({ type: "cure-stopped", from, to: Math.min(to, until) })).filter(({ from, to }) => from < to);
  const left: SequenceBarView[] = clock.earliest !== null && clock.earliest > sheet.at ? [{ type: "cure-left", from: sheet.at, to: clock.earliest }] : [];
  return [done, ...left, ...stopped];
}

/** The waits that run from a point, each at the point whose work starts it: how long it lasted, or until when it can. */
function waitBars(sheet: Sheet, from: PlanLine): SequenceBarView[] {
  const since = sheet.folded.get(from.line)?.standing.trail?.submission.workEnded;
  if (since === undefined) return [];
  return sheet.lines.filter(({ notApplicable }) => !notApplicable).flatMap((line) => line.waits.filter((wait) => wait.from === from.line).map((wait): SequenceBarView => {
    const until = since + new Decimal(wait.hours).times(HOUR).toNumber();
    if (wait.kind === "at least") return { type: "min-wait", from: since, to: until, label: `${wait.name}, at least ${wait.hours} h` };
    const runs = sheet.folded.get(line.line)?.runningWaits.some((one) => one.wait === wait) ?? false;
    const own = sheet.folded.get(line.line)?.standing;
    const met = wait.until === "began" ? own?.trail?.submission.workBegan : own?.release?.at;
    if (runs || met === undefined || met <= since) return { type: "max-wait", from: since, to: until, label: `${wait.name}, at most ${wait.hours} h` };
    return { type: "met-wait", from: since, to: met, label: `${wait.name}, ${leftWords(met - since)} of ${wait.hours} h` };
  }));
}

function earlyOf(sheet: Sheet, line: PlanLine, status: PointStatus): SequenceRowView["early"] {
  const facts = windowFacts(sheet);
  return standingTrails(status).flatMap(({ submission: { workBegan, seq } }) =>
    startedBeforeRelease(facts, line, { workBegan, beforeSeq: seq })
      .filter((one) => sheet.lines.some((own) => own.line === one.line))
      .map((one) => ({ began: workBegan, ...one })));
}

function limitsOf(sheet: Sheet, clocks: ReadonlyMap<string, ClockView>): SequenceView["limits"] {
  const reached = (line: string): boolean => sheet.folded.get(line)?.standing.released ?? false;
  return [
    ...[...clocks.values()].flatMap(({ earliest, line }) => (earliest !== null && earliest > sheet.at && !reached(line) ? [{ at: earliest, label: `${line} from` }] : [])),
    ...[...sheet.folded.values()].flatMap(({ runningWaits }) => runningWaits.filter(({ over, wait }) => !over && wait.kind === "at most").map(({ until, at }) => ({ at: until, label: `${at} by` }))),
  ];
}

// ---- night and tide -------------------------------------------------------------------------------------------------

/** Days on which something stands: half a day around each instant, so that the nights of long silences are not worked out. */
function daysOf(rows: readonly SequenceRowView[], others: readonly Instant[]): SequenceSpan[] {
  const happened = rows.flatMap(({ bars, releases, photos }) => [
    ...bars.flatMap(({ from, to }) => [from, to]), ...releases.map(({ at }) => at), ...photos.flatMap(({ readings }) => readings),
  ]);
  const days: SequenceSpan[] = [];
  for (const at of [...happened, ...others].sort((a, b) => a - b)) {
    const last = days.at(-1);
    if (last && at - DAY <= last.to) last.to = at + DAY;
    else days.push({ from: at - DAY, to: at + DAY });
  }
  return days;
}

const DAY = 24 * HOUR;

/** Nights, and the hours in which the water is below the working level where a tide table is kept, over some spans of time. */
export async function sequenceBands(tx: Tx, { id, site, zone }: Pick<Project, "id" | "site" | "zone">, spans: readonly SequenceSpan[]): Promise<SequenceBandView[]> {
  const tides = await listTideTables(tx, id);
  return spans.flatMap(({ from, to }) => [
    ...nightSpans(from, to, site).map((night): SequenceBandView => ({ type: "night", ...night })),
    ...tideWindowsIn(tides, zone, { from, to }).map(({ opens, closes, ...window }): SequenceBandView => ({ type: "tide", from: window.from, to: window.to, label: `${opens} – ${closes}` })),
  ]);
}

// ---- the finding ----------------------------------------------------------------------------------------------------

/** Photos of one point are named singly up to this many. */
const MOST_NAMED = 2;

/** What the chart shows, said in a sentence: how far the pile is, whether photos lie in order, and every step that leans back. */
function findingOf({ pile, at, project }: Sheet, rows: readonly SequenceRowView[]): string {
  const applicable = rows.filter(({ applicable: own }) => own);
  const released = applicable.filter(({ state }) => state === "released").length;
  const photos = rows.flatMap((row) => row.photos);
  const inOrder = photos.filter(({ verdict }) => verdict === "in order").length;
  const order = photos.length === 0 ? "no photo yet" : `${inOrder} of ${photos.length} photos in order`;
  const head = `Pile ${pile?.mark ?? ""} at ${formatWhen(at, project.zone)}: ${released} of ${applicable.length} points released, ${order}`;
  return `${[head, ...rows.flatMap(leanWords), ...rows.flatMap(photoFaults)].join("; ")}.`;
}

export function leanWords({ line, early }: Pick<SequenceRowView, "line" | "early">): string[] {
  return early.map(({ began, line: before, releasedAt }) => `point ${line} leans back, its work began ${longWords(releasedAt - began)} before ${before} was released`);
}

function photoFaults({ line, photos }: SequenceRowView): string[] {
  const wrong = groupBy(photos.filter(({ verdict }) => verdict !== "in order"), ({ verdict }) => verdict);
  return wrong.flatMap(([verdict, own]) => (own.length > MOST_NAMED
    ? [`point ${line}: ${own.length} photos ${verdict}`]
    : own.map(({ label, missedMs }) => `point ${line} ${label} ${verdict}${missedMs === null ? "" : ` by ${longWords(missedMs)}`}`)));
}

/** "32 min", or under a minute in seconds. */
function longWords(ms: number): string {
  return ms < 60 * SECOND ? `${Math.round(ms / SECOND)} s` : leftWords(ms);
}
