import type { TideWindow } from "#lib/domain/clock/tide";
import type { Instant } from "#lib/domain/instant";
import { SheetBounds, type EarliestBound, type LatestBound, type NextActionFacts, type Unknown } from "#lib/domain/plan/bound";
import type { PlanLine } from "#lib/domain/plan/plan";

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

/**
 * What can be done next on a sheet, and when: for each point that nothing undone comes before, and each later one that going on
 * would not reach in time. The earliest instant is the latest of its bounds, the latest the soonest of its limits, and where the
 * first lies past the second a step has to be redone; that is said as soon as it is so.
 *
 * Instants in, instants out. An earliest instant is never a permission.
 * @throws RangeError for a tide table or level that is not finite.
 */
export function nextActions(facts: NextActionFacts): NextAction[] {
  const bounds = new SheetBounds(facts);
  const actions = facts.lines.filter((line) => bounds.isToDo(line)).map((line) => ({ line, action: actionAt(line, bounds, facts.at) }));
  const next = ({ line, action }: (typeof actions)[number]): boolean =>
    (action.deadEnd?.bound.line === line.line) || !action.earliestBounds.some(({ kind, from, unknown }) => kind === "predecessor" && unknown === "not done" && from !== null && bounds.lineOf(from) !== undefined);
  return actions.filter(next).map(({ action }) => action);
}

function actionAt(line: PlanLine, bounds: SheetBounds, at: Instant): NextAction {
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
