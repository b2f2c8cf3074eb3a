import type { ClockState } from "#lib/domain/clock/temperature-clock";
import { nextTideWindow, type TideWindow, type Water, type WorkLevel } from "#lib/domain/clock/tide";
import { HOUR, type Instant } from "#lib/domain/instant";
import { downstream, predecessors, upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { OutsidePoint, PointStatus, RunningWait } from "#lib/domain/point/fold";
import { Decimal } from "#lib/domain/quantity/decimal";

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

/** Points at which work is still to be done, in these states of theirs. */
const TO_DO: ReadonlySet<PointStatus["state"]> = new Set<PointStatus["state"]>(["open", "not open", "rejected", "expired"]);

export function hoursAfter(at: Instant, hours: string | number): Instant {
  return at + new Decimal(hours).times(HOUR).toNumber();
}

/** Works the bounds of a sheet out, each point once. */
export class SheetBounds {
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

export function maximumWaits({ folded }: NextActionFacts): RunningWait[] {
  return [...folded.values()].flatMap(({ runningWaits }) => runningWaits).filter(({ wait }) => wait.kind === "at most");
}

/** When a point let the next begin: by its release, or where nobody decided it by the end of its work; null where it needs neither. */
function letGoAt({ standing }: Pick<PointStatus, "standing">): Instant | null {
  return standing.release?.at ?? standing.trail?.submission.workEnded ?? null;
}
