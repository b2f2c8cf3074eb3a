import Decimal from "decimal.js";
import type { ClockState } from "#lib/domain/clock/temperature-clock";
import { nextTideWindow, type TideWindow, type Water, type WorkLevel } from "#lib/domain/clock/tide";
import { HOUR, type Instant } from "#lib/domain/instant";
import { downstream, predecessors, upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { OutsidePoint, PointStatus, RunningWait } from "#lib/domain/point/fold";

/** The cure, maturity or age clock of a point, as it stands. */
export interface PointClock {
  form: "cure" | "maturity" | "equivalent age";
  /** The point whose work it follows, and when that ended. */
  from: string;
  since: Instant;
  state: ClockState;
  earliest: Instant | null;
}
/** The batch that a point works with: `latest` is null where the end of its pot life cannot be told. */
export interface PointPotLife {
  from: string;
  since: Instant;
  latest: Instant | null;
}
/** The notice of a point: how long it runs, and since when it is valid; null while none is. */
export interface PointNotice {
  hours: number;
  validSince: Instant | null;
}

/** One sheet at an instant, with the clocks of its points by their line. */
export interface NextActionFacts {
  lines: readonly PlanLine[];
  folded: ReadonlyMap<string, PointStatus>;
  outside: readonly OutsidePoint[];
  clocks: ReadonlyMap<string, PointClock>;
  potLives: ReadonlyMap<string, PointPotLife>;
  notices: ReadonlyMap<string, PointNotice>;
  /** Null where no tide table is kept: the water bounds nothing then. */
  tide: ({ waters: readonly Water[] } & WorkLevel) | null;
  at: Instant;
}

/** Why an instant cannot be told. */
export type Unknown = "not released" | "not done" | "in doubt" | "paused" | "void" | "no readings" | "tide table" | "pot life";

interface BoundParts {
  /** The point that it runs from; null for the tide. */
  from: string | null;
  /** The point that it is written at. */
  line: string;
  /** The wait's own name; null for what has none. */
  name: string | null;
  /** Null where it cannot be told, `unknown` why. */
  at: Instant | null;
  unknown: Unknown | null;
}
/** What keeps a point from beginning before an instant. */
export type EarliestBound = BoundParts & { kind: "predecessor" | "least wait" | PointClock["form"] | "notice" | "tide" };
/** What a point has to begin before, or end its work before; written at it or at a point after it. */
export type LatestBound = BoundParts & { kind: "maximum wait" | "pot life" };

/** What cannot be met any more by going on: the step to redo, and since when; null where the limit has not passed yet and is out of reach all the same. */
export interface DeadEnd {
  bound: EarliestBound | LatestBound;
  redo: string;
  since: Instant | null;
}

/**
 * - "may begin": every bound is met now.
 * - "later": from `earliest` on.
 * - "waits": a point before it is not done or not decided, so no instant can be named.
 * - "cannot tell": a clock stands still, or the tide table says nothing.
 * - "cannot be met": see `deadEnd`.
 */
export type NextState = "may begin" | "later" | "waits" | "cannot tell" | "cannot be met";
export interface NextAction {
  line: string;
  state: NextState;
  /** An earliest instant, never a permission; null where it cannot be told. */
  earliest: Instant | null;
  /** It is not sooner than this, whatever else cannot be told. */
  notBefore: Instant;
  latest: Instant | null;
  earliestBounds: EarliestBound[];
  latestBounds: LatestBound[];
  /** The window of the tide that it can begin in; null where the tide bounds nothing or cannot tell. */
  window: TideWindow | null;
  deadEnd: DeadEnd | null;
}

/** Points at which work is still to be done, in these states of theirs. */
const TO_DO: ReadonlySet<PointStatus["state"]> = new Set<PointStatus["state"]>(["open", "not open", "rejected", "expired"]);

function hoursAfter(at: Instant, hours: string | number): Instant {
  return at + new Decimal(hours).times(HOUR).toNumber();
}

/** Works the bounds of a sheet out once for all that ask. */
class Bounds {
  private readonly known = new Map<string, { bounds: EarliestBound[]; notBefore: Instant; window: TideWindow | null }>();

  constructor(private readonly facts: NextActionFacts) {}

  isToDo(line: PlanLine): boolean {
    return line.notApplicable === null && line.register === null && TO_DO.has(this.facts.folded.get(line.line)?.state ?? "not applicable");
  }

  lineOf(id: string): PlanLine | undefined {
    return this.facts.lines.find(({ line }) => line === id);
  }

  /** What keeps a point from beginning; points before it that are to do push it as far as they are pushed themselves. */
  before(line: PlanLine): { bounds: EarliestBound[]; notBefore: Instant; window: TideWindow | null } {
    const found = this.known.get(line.line);
    if (found) return found;
    const own = [...predecessors(this.facts.lines, line).flatMap((id) => this.predecessor(line, id)), ...this.leastWaits(line), ...this.clock(line)];
    const pushed = Math.max(this.facts.at, ...own.map(({ at }) => at ?? Number.NEGATIVE_INFINITY));
    const { bound, window } = this.tideAt(line, pushed);
    const notBefore = Math.max(pushed, bound?.at ?? Number.NEGATIVE_INFINITY);
    const worked = { bounds: bound ? [...own, bound] : own, notBefore, window };
    this.known.set(line.line, worked);
    return worked;
  }

  private predecessor(line: PlanLine, id: string): EarliestBound[] {
    const bound = (at: Instant | null, unknown: Unknown | null): EarliestBound[] => [{ kind: "predecessor", from: id, line: line.line, name: null, at, unknown }];
    const status = this.facts.folded.get(id) ?? this.facts.outside.find((one) => one.line === id);
    const unmet = this.facts.folded.get(line.line)?.blocks.some((block) => block.code === "predecessor" && block.line === id) ?? true;
    if (!unmet) {
      const letGo = status ? letGoAt(status) : null;
      return letGo === null ? [] : bound(letGo, null);
    }
    const before = this.lineOf(id);
    if (before && this.isToDo(before)) return bound(this.before(before).notBefore, "not done");
    if (status?.state === "in doubt") return bound(this.facts.at, "in doubt");
    const sent = Boolean(status?.standing.trail);
    const notice = this.facts.notices.get(id);
    // A witness point lets go when its notice has run out; a hold point never does.
    if (before?.kind === "W" && sent && notice && notice.validSince !== null) return [{ kind: "notice", from: id, line: line.line, name: null, at: hoursAfter(notice.validSince, notice.hours), unknown: null }];
    return bound(this.facts.at, sent ? "not released" : "not done");
  }

  private leastWaits(line: PlanLine): EarliestBound[] {
    return line.waits.flatMap((wait): EarliestBound[] => {
      if (wait.kind !== "at least") return [];
      const common = { kind: "least wait" as const, from: wait.from, line: line.line, name: wait.name };
      const ended = this.facts.folded.get(wait.from)?.standing.trail?.submission.workEnded;
      if (ended !== undefined) return [{ ...common, at: hoursAfter(ended, wait.hours), unknown: null }];
      const before = this.lineOf(wait.from);
      return [{ ...common, at: before && this.isToDo(before) ? hoursAfter(this.before(before).notBefore, wait.hours) : null, unknown: "not done" }];
    });
  }

  private clock(line: PlanLine): EarliestBound[] {
    const clock = this.facts.clocks.get(line.line);
    if (!clock) return [];
    const { state, earliest } = clock;
    const unknown = state === "running" || state === "done" ? null : state;
    return [{ kind: clock.form, from: clock.from, line: line.line, name: null, at: earliest, unknown }];
  }

  /** Work under the gate waits for the water; laboratory work and clocks do not. */
  private tideAt(line: PlanLine, pushed: Instant): { bound: EarliestBound | null; window: TideWindow | null } {
    const { tide } = this.facts;
    if (!tide || line.gate === "free") return { bound: null, window: null };
    const { window } = nextTideWindow(tide.waters, tide, pushed);
    return { bound: { kind: "tide", from: null, line: line.line, name: null, at: window?.from ?? null, unknown: window ? null : "tide table" }, window };
  }

  /** What a point has to begin before, at it and at the points to do after it, as far as it does not renew it itself. */
  after(line: PlanLine): LatestBound[] {
    const reached = [line.line, ...downstream(this.facts.lines, line)].flatMap((id) => this.lineOf(id) ?? []).filter((one) => this.isToDo(one));
    return reached.flatMap((one) => [...this.maximumWaits(one), ...this.potLife(one)]).filter(({ from }) => from === null || !this.renews(line, from));
  }

  private renews(line: PlanLine, from: string): boolean {
    const start = this.lineOf(from);
    return line.line === from || (start !== undefined && upstream(this.facts.lines, start).includes(line.line));
  }

  private maximumWaits(line: PlanLine): LatestBound[] {
    return maximumWaits(this.facts).filter(({ at }) => at === line.line).map(({ wait, until }): LatestBound => ({ kind: "maximum wait", from: wait.from, line: line.line, name: wait.name, at: until, unknown: null }));
  }

  private potLife(line: PlanLine): LatestBound[] {
    const batch = this.facts.potLives.get(line.line);
    return batch ? [{ kind: "pot life", from: batch.from, line: line.line, name: null, at: batch.latest, unknown: batch.latest === null ? "pot life" : null }] : [];
  }
}

function maximumWaits({ folded }: NextActionFacts): RunningWait[] {
  return [...folded.values()].flatMap(({ runningWaits }) => runningWaits).filter(({ wait }) => wait.kind === "at most");
}

/** When a point let the next begin: by its release, or where nobody decided it by the end of its work; null where it needs neither. */
function letGoAt({ standing }: Pick<PointStatus, "standing">): Instant | null {
  return standing.release?.at ?? standing.trail?.submission.workEnded ?? null;
}

/**
 * What can be done next on a sheet, and when: for each point that nothing undone comes before, and each later one that going on
 * would not reach in time. The earliest instant is the latest of its bounds, the latest the soonest of its limits, and where the
 * first lies past the second a step has to be redone; that is said as soon as it is so.
 *
 * Instants in, instants out. An earliest instant is never a permission.
 * @throws RangeError for a tide table or level that is not finite.
 */
export function nextActions(facts: NextActionFacts): NextAction[] {
  const bounds = new Bounds(facts);
  const actions = facts.lines.filter((line) => bounds.isToDo(line)).map((line) => ({ line, action: actionAt(line, bounds, facts.at) }));
  const next = ({ line, action }: (typeof actions)[number]): boolean =>
    (action.deadEnd?.bound.line === line.line) || !action.earliestBounds.some(({ kind, from, unknown }) => kind === "predecessor" && unknown === "not done" && from !== null && bounds.lineOf(from) !== undefined);
  return actions.filter(next).map(({ action }) => action);
}

function actionAt(line: PlanLine, bounds: Bounds, at: Instant): NextAction {
  const { bounds: earliestBounds, notBefore, window } = bounds.before(line);
  const latestBounds = bounds.after(line);
  const limits = latestBounds.flatMap((bound) => (bound.at === null ? [] : [bound.at]));
  const open = earliestBounds.flatMap(({ unknown }) => unknown ?? []);
  const known = earliestBounds.flatMap((bound) => (bound.at === null ? [] : [bound.at]));
  const deadEnd = deadEndOf(earliestBounds, latestBounds, notBefore, at);
  const earliest = open.length > 0 ? null : known.length > 0 ? Math.max(...known) : at;
  return {
    line: line.line,
    state: deadEnd ? "cannot be met" : stateOf(open, earliest, at),
    earliest: deadEnd ? null : earliest,
    notBefore,
    latest: limits.length > 0 ? Math.min(...limits) : null,
    earliestBounds,
    latestBounds,
    window,
    deadEnd,
  };
}

const WAITS_FOR_PEOPLE: ReadonlySet<Unknown> = new Set<Unknown>(["not released", "not done", "in doubt"]);

function stateOf(open: readonly Unknown[], earliest: Instant | null, at: Instant): NextState {
  if (open.some((one) => !WAITS_FOR_PEOPLE.has(one))) return "cannot tell";
  if (earliest === null) return "waits";
  return earliest <= at ? "may begin" : "later";
}

function deadEndOf(earliestBounds: readonly EarliestBound[], latestBounds: readonly LatestBound[], notBefore: Instant, at: Instant): DeadEnd | null {
  const spoiled = earliestBounds.find(({ unknown }) => unknown === "void");
  if (spoiled && spoiled.from !== null) return { bound: spoiled, redo: spoiled.from, since: null };
  const [missed] = latestBounds.filter((bound) => bound.at !== null && notBefore > bound.at).sort((a, b) => (a.at ?? 0) - (b.at ?? 0));
  if (!missed || missed.from === null || missed.at === null) return null;
  return { bound: missed, redo: missed.from, since: at > missed.at ? missed.at : null };
}

/** One clock of a sheet, for the list of what runs. */
export interface RunningBound {
  kind: PointClock["form"] | "pot life" | "maximum wait" | "least wait" | "notice" | "tide";
  /** The point that it is written at; null for the tide, which is about the whole sheet. */
  line: string | null;
  /** The point that it runs from; null for the tide. */
  from: string | null;
  name: string | null;
  /** Null for the tide. */
  since: Instant | null;
  /** An earliest or a latest instant, as `bound` says; null where it cannot be told. */
  at: Instant | null;
  bound: "earliest" | "latest";
  state: "runs" | "stopped" | "cannot be met";
}

/**
 * Every clock that runs on a sheet: cures, pot lives, waits, notices and the tide. What stands still, and so names no instant,
 * comes first, then what ends soonest; what has run out without being met is in its place by the instant that passed.
 * @throws RangeError as `nextActions` does.
 */
export function runningBounds(facts: NextActionFacts): RunningBound[] {
  const dead = nextActions(facts).flatMap(({ deadEnd }) => deadEnd?.bound ?? []);
  const isDead = (line: string, from: string, kind: RunningBound["kind"]): boolean => dead.some((bound) => bound.kind === kind && bound.line === line && bound.from === from);
  const bounds = new Bounds(facts);
  const found = facts.lines.filter((line) => bounds.isToDo(line)).flatMap((line): RunningBound[] => [
    ...cureAt(facts, line.line),
    ...potLifeAt(facts, line.line, isDead),
    ...bounds.before(line).bounds.flatMap((bound): RunningBound[] => {
      if (bound.kind !== "least wait" || bound.unknown !== null || bound.at === null || bound.at <= facts.at) return [];
      return [{ ...bound, kind: bound.kind, since: facts.folded.get(bound.from ?? "")?.standing.trail?.submission.workEnded ?? null, bound: "earliest", state: "runs" }];
    }),
  ]);
  const waits = maximumWaits(facts).map(({ wait, at: line, since, until, over }): RunningBound => ({
    kind: "maximum wait", line, from: wait.from, name: wait.name, since, at: until, bound: "latest", state: over || isDead(line, wait.from, "maximum wait") ? "cannot be met" : "runs",
  }));
  return [...found, ...waits, ...notices(facts), ...tideNow(facts)].sort((a, b) => (a.at ?? Number.NEGATIVE_INFINITY) - (b.at ?? Number.NEGATIVE_INFINITY));
}

function cureAt({ clocks }: NextActionFacts, line: string): RunningBound[] {
  const clock = clocks.get(line);
  if (!clock || clock.state === "done") return [];
  const state = clock.state === "running" ? "runs" : clock.state === "void" ? "cannot be met" : "stopped";
  return [{ kind: clock.form, line, from: clock.from, name: null, since: clock.since, at: clock.earliest, bound: "earliest", state }];
}

function potLifeAt({ potLives }: NextActionFacts, line: string, isDead: (line: string, from: string, kind: "pot life") => boolean): RunningBound[] {
  const batch = potLives.get(line);
  if (!batch) return [];
  const state = isDead(line, batch.from, "pot life") ? "cannot be met" : batch.latest === null ? "stopped" : "runs";
  return [{ kind: "pot life", line, from: batch.from, name: null, since: batch.since, at: batch.latest, bound: "latest", state }];
}

/** Notices that run, of points that have not let go. */
function notices({ notices: given, folded, at }: NextActionFacts): RunningBound[] {
  return [...given].flatMap(([line, { hours, validSince }]): RunningBound[] => {
    if (validSince === null || folded.get(line)?.letsGo) return [];
    const over = hoursAfter(validSince, hours);
    return over <= at ? [] : [{ kind: "notice", line, from: line, name: null, since: validSince, at: over, bound: "earliest", state: "runs" }];
  });
}

/** The tide as it is now: until when its window lasts, else when the next one opens. */
function tideNow({ tide, at }: NextActionFacts): RunningBound[] {
  if (!tide) return [];
  const { window } = nextTideWindow(tide.waters, tide, at);
  const common = { kind: "tide" as const, line: null, from: null, name: null, since: null };
  if (!window) return [{ ...common, at: null, bound: "earliest", state: "stopped" }];
  return [window.from <= at ? { ...common, at: window.to, bound: "latest", state: "runs" } : { ...common, at: window.from, bound: "earliest", state: "runs" }];
}
