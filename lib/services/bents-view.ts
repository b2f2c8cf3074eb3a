import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { gateStands } from "#lib/domain/point/gate";
import { pileState } from "#lib/domain/point/pile-state";
import type { PointStatus } from "#lib/domain/point/fold";
import { submittingRole } from "#lib/domain/point/may";
import type { PileState, PointKind, PointState } from "#lib/domain/point/state";
import type { PlanLine } from "#lib/domain/plan/plan";
import { requirementSet } from "#lib/domain/plan/plan";
import type { RequirementSet } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { listReadings } from "#lib/db/evidence";
import { listAcceptances, listPiles, type Pile } from "#lib/db/pile";
import { NO_HISTORY, projectHistories } from "#lib/db/point-record";
import type { ApprovedRevision, Project } from "#lib/db/project";
import { clockView, whenNear } from "#lib/services/clock-view";
import { loadCommon, pileSheet, type Sheet } from "#lib/services/sheet";

export interface PilePlace {
  mark: string;
  row: string;
  core: RequirementSet["core"];
  state: PileState | PointState;
  word: string;
  point: { line: string; kind: PointKind } | null;
  covered: boolean;
  workable: boolean;
  clock: boolean;
}

/** A point at which work may begin now. */
export interface WorkHere {
  mark: string;
  line: string;
  kind: PointKind;
  name: string;
  state: PointState;
  /** What hurries it, or what it leads to. */
  because: string;
  until: Instant | null;
}

export interface ClockHere {
  mark: string;
  line: string;
  name: string;
  headline: string;
  note: string;
  paused: boolean;
}

export type Compass = "north" | "east" | "south" | "west";

export interface BentsView {
  revision: ApprovedRevision | null;
  bents: { code: string; note: string | null; piles: PilePlace[] }[];
  /** Which way bents and rows grow on site; null where the piles carry no positions. */
  north: { bents: Compass; rows: Compass } | null;
  piles: number;
  inWork: number;
  counts: { state: PileState | PointState; word: string; count: number }[];
  /** Whether the list is what this person may begin, or what anybody of the crew may. */
  own: boolean;
  workNow: WorkHere[];
  clocks: ClockHere[];
}


/** The plan of the structure for one member: each pile's state and point that matters, and where work may begin now. */
export async function bentsView(tx: Tx, project: Project, member: Member, at: Instant): Promise<BentsView> {
  const [common, piles, histories, acceptances] = await Promise.all([
    loadCommon(tx, project), listPiles(tx, project.id), projectHistories(tx, project.id), listAcceptances(tx, project.id),
  ]);
  const revision = common.revisions.filter(({ appliesFrom }) => appliesFrom <= at).at(-1) ?? common.revisions[0] ?? null;
  if (!revision) return { revision, bents: [], north: null, piles: 0, inWork: 0, counts: [], own: false, workNow: [], clocks: [] };
  const own = member.roles.some((role) => role === "crew member" || role === "crew lead" || role === "QC manager");
  const rows = await Promise.all(piles.map(async (pile) => {
    const history = histories.get(pile.id) ?? NO_HISTORY;
    const readings = history.events.length > 0 ? await listReadings(tx, pile.id) : [];
    const sheet = pileSheet(project, pile, common, { history, readings }, at);
    const accepted = acceptances.filter(({ pileId }) => pileId === pile.id).at(-1)?.seq ?? 0;
    return pileRow(sheet, pile, pileState([...sheet.folded.values()], accepted), member, own);
  }));
  const workNow = rows.flatMap(({ work }) => work).sort((a, b) => (a.until ?? Infinity) - (b.until ?? Infinity));
  return {
    revision,
    bents: groupByBent(rows, piles, revision),
    north: northOf(piles),
    piles: piles.length,
    inWork: rows.filter(({ started, state }) => started && state !== "accepted" && state !== "out of scope").length,
    counts: countsOf(rows.map(({ place }) => place)),
    own,
    workNow,
    clocks: rows.flatMap(({ clocks }) => clocks),
  };
}

interface Row {
  pile: Pile;
  state: PileState;
  started: boolean;
  place: PilePlace;
  work: WorkHere[];
  clocks: ClockHere[];
}

function pileRow(sheet: Sheet, pile: Pile, state: PileState, member: Member, own: boolean): Row {
  const clocks = sheet.lines.flatMap((line): (ClockHere & { earliest: Instant | null; done: boolean })[] => {
    const status = sheet.folded.get(line.line);
    if (!status?.mayBegin) return [];
    const clock = clockView(sheet, line);
    return clock
      ? [{ mark: pile.mark, line: line.line, name: line.name, headline: clock.headline, note: clock.note, paused: clock.paused, earliest: clock.earliest, done: clock.progress >= clock.required }]
      : [];
  });
  const waiting = clocks.filter(({ done }) => !done);
  const work = workOf(sheet, pile, member, own, new Set(waiting.map(({ line }) => line)));
  const set = sheet.set as RequirementSet;
  const point = pointThatMatters(sheet, work, waiting.map(({ line }) => line));
  const started = sheet.history.submissions.size > 0;
  const first = waiting[0];
  const shownState = state === "accepted" || state === "out of scope" || state === "accepted under concession" || !point ? state : !started ? "not started" : point.status.state;
  return {
    pile, state, started, work,
    clocks: waiting.map(({ earliest: _earliest, done: _done, ...clock }) => clock),
    place: {
      mark: pile.mark,
      row: pile.row,
      core: set.core,
      state: shownState,
      word: first && point?.line.line === first.line ? (first.paused ? "paused" : first.earliest === null ? "clock" : whenShort(first.earliest, sheet)) : shownState,
      point: point && shownState !== "accepted" ? { line: point.line.line, kind: point.line.kind } : null,
      covered: coveredUp(sheet),
      workable: point !== null && work.some(({ line }) => line === point.line.line),
      clock: first !== undefined && point?.line.line === first.line && !first.paused,
    },
  };
}

function whenShort(at: Instant, { project }: Sheet): string {
  return `from ${formatWhen(at, project.zone, { short: true })}`;
}

/** Covered up once the last look is behind it: work at the point that hides it has been sent. */
function coveredUp({ lines, folded }: Sheet): boolean {
  const hiding = new Set(lines.filter(({ line }) => line === "11").flatMap(({ hiddenBy }) => hiddenBy));
  return [...hiding].some((line) => folded.get(line)?.standing.trail);
}

/** Where work may begin at a pile. A point under the shift's access check gives way to it while it is not entered. */
function workOf(sheet: Sheet, pile: Pile, member: Member, own: boolean, waiting: ReadonlySet<string>): WorkHere[] {
  const { lines, folded, project, at } = sheet;
  const gate = lines.find(({ gate: kind }) => kind === "is the gate");
  const gateStatus = gate && folded.get(gate.line);
  const stands = !gateStatus || gateStands(gateStatus.standing, at, project.zone, project.shift);
  const open = lines.flatMap((line): { line: PlanLine; status: PointStatus }[] => {
    const status = folded.get(line.line);
    const mine = !own || submittingRole(line, member) !== null || member.roles.includes("crew member");
    return status?.mayBegin && mine && !waiting.has(line.line) && (line !== gate || !stands) ? [{ line, status }] : [];
  });
  const held = open.filter(({ line }) => line.gate === "under the gate" && !stands);
  const rows = open.filter((one) => !held.includes(one));
  return rows.map(({ line, status }): WorkHere => {
    const leads = line === gate ? held.map((one) => `${one.line.line} ${one.line.name}`) : [];
    const deadline = deadlineAt(sheet, line === gate ? held.map((one) => one.line) : [line]);
    return {
      mark: pile.mark, line: line.line, kind: line.kind, name: line.name, state: status.state, until: deadline?.until ?? null,
      because: deadline ? `${deadline.name}: until ${whenNear(deadline.until, project.zone, at)}` : leads.length > 0 ? `then ${leads.join(", ")}` : secondWords(status),
    };
  });
}

function secondWords({ state, attempt }: PointStatus): string {
  if (state === "expired") return "re-check";
  return attempt > 1 ? `attempt ${attempt} may begin` : "may begin";
}

/** The first maximum wait that ends at one of these points. */
function deadlineAt({ folded }: Sheet, lines: readonly PlanLine[]): { until: Instant; name: string } | null {
  const ids = new Set(lines.map(({ line }) => line));
  const running = [...folded.values()].flatMap(({ runningWaits }) => runningWaits).filter(({ at, over }) => ids.has(at) && !over);
  const first = running.sort((a, b) => a.until - b.until)[0];
  return first ? { until: first.until, name: first.wait.name } : null;
}

/** The point a pile is known by: where something is wrong, else where work may begin, else what is under way. */
function pointThatMatters({ lines, folded, history }: Sheet, work: readonly WorkHere[], waiting: readonly string[]): { line: PlanLine; status: PointStatus } | null {
  const all = lines.flatMap((line) => {
    const status = folded.get(line.line);
    return status ? [{ line, status }] : [];
  });
  const inState = (...states: PointState[]) => all.find(({ status }) => states.includes(status.state));
  const workable = all.find(({ line }) => work.some((one) => one.line === line.line));
  if (history.submissions.size === 0) return workable ?? null;
  return inState("in doubt", "rejected", "expired") ?? all.find(({ line }) => waiting.includes(line.line)) ?? inState("submitted", "QC checked") ?? workable ?? inState("open") ?? null;
}

function groupByBent(rows: readonly Row[], piles: readonly Pile[], { revision }: ApprovedRevision): BentsView["bents"] {
  const codes = [...new Set(piles.map(({ bent }) => bent))].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
  return codes.map((code) => {
    const own = rows.filter(({ pile }) => pile.bent === code);
    const types = [...new Set(own.map(({ pile }) => pile.type))];
    const [type] = types;
    return { code, note: types.length === 1 && type ? (requirementSet(revision, type)?.name ?? null) : null, piles: own.map(({ place }) => place) };
  });
}

const COUNT_ORDER: readonly (PileState | PointState)[] = [
  "accepted", "accepted under concession", "in doubt", "rejected", "expired", "submitted", "QC checked", "open", "released", "in work", "awaiting results", "not started",
];

function countsOf(places: readonly PilePlace[]): BentsView["counts"] {
  const keyOf = ({ state, clock, word }: PilePlace) => (clock || word === "paused" ? "cure clock runs" : state);
  const keys = [...new Set(places.map(keyOf))];
  const rank = (key: string) => (key === "cure clock runs" ? 2.5 : (COUNT_ORDER as readonly string[]).indexOf(key));
  return keys
    .sort((a, b) => rank(a) - rank(b))
    .map((key) => ({ state: key === "cure clock runs" ? "awaiting results" : (key as PileState | PointState), word: key, count: places.filter((place) => keyOf(place) === key).length }));
}

/**
 * Which way bents and rows run on site: bents by piles of one row, rows by piles of one bent, so that a structure with
 * gaps does not turn.
 */
function northOf(piles: readonly Pile[]): BentsView["north"] {
  const [bents, rows] = [directionOf(piles, "bent", "row"), directionOf(piles, "row", "bent")];
  return bents && rows ? { bents, rows } : null;
}

function directionOf(piles: readonly Pile[], along: "bent" | "row", within: "bent" | "row"): Compass | null {
  const pairs = piles.flatMap((from) => piles.filter((to) => to[within] === from[within] && from[along].localeCompare(to[along], "en", { numeric: true }) < 0).map((to) => [from, to] as const));
  const steps = pairs.flatMap(([from, to]) => {
    if (from.latitude === null || from.longitude === null || to.latitude === null || to.longitude === null) return [];
    // A degree of longitude is shorter than one of latitude by the cosine of the latitude.
    return [{ northwards: to.latitude - from.latitude, eastwards: (to.longitude - from.longitude) * Math.cos((from.latitude * Math.PI) / 180) }];
  });
  if (steps.length === 0) return null;
  const northwards = steps.reduce((sum, step) => sum + step.northwards, 0);
  const eastwards = steps.reduce((sum, step) => sum + step.eastwards, 0);
  if (Math.abs(northwards) >= Math.abs(eastwards)) return northwards >= 0 ? "north" : "south";
  return eastwards >= 0 ? "east" : "west";
}
