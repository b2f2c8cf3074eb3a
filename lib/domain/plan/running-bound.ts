import { nextTideWindow } from "#lib/domain/clock/tide";
import type { Instant } from "#lib/domain/instant";
import { hoursAfter, maximumWaits, SheetBounds, type NextActionFacts, type PointClock } from "#lib/domain/plan/bound";
import { nextActions } from "#lib/domain/plan/next-action";

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
  const bounds = new SheetBounds(facts);
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
