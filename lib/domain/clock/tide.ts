import { HOUR, type Instant } from "#lib/domain/instant";
import { finite, type DecimalValue } from "#lib/domain/quantity/decimal";

/** One row of a published table: the water turns at this instant, m above the table's own datum. */
export interface Water {
  at: Instant;
  heightM: DecimalValue;
  turn: "high" | "low";
}
/** What the crew works by: the highest water that it works at, and what is added to the table for surge and waves. Both in m. */
export interface WorkLevel {
  workLevelM: DecimalValue;
  allowanceM: DecimalValue;
}
export type TideHeight = { heightM: number; because: null } | { heightM: null; because: string };

/**
 * A stretch of time in which the water, with the allowance added, stands no higher than the working level.
 * `opens` and `closes` say what bounds it: the tide, or the end of what the table knows, past which it may go on.
 */
export interface TideWindow {
  from: Instant;
  to: Instant;
  opens: "tide" | "table";
  closes: "tide" | "table";
}
export type NextTideWindow = { window: TideWindow; because: null } | { window: null; because: string };

/** From a high water to the next low water it never takes longer, h: a row is missing in between. Common practice, no source. */
export const LONGEST_TURN_HOURS = 18;

/** The stretch between two neighbouring rows. */
interface Reach {
  from: Instant;
  to: Instant;
  meanM: number;
  /** Positive while the water falls. */
  amplitudeM: number;
  /** Why nothing is known in it; null where the curve holds. */
  because: string | null;
}

function reachesOf(waters: readonly Water[]): Reach[] {
  const rows = waters.map(({ at, heightM, turn }) => ({ at, turn, heightM: finite(heightM).toNumber() })).sort((a, b) => a.at - b.at);
  if (rows.some(({ at }) => !Number.isFinite(at))) throw new RangeError("A row of a tide table has an instant.");
  // Tables that follow one another share a row.
  const sorted = rows.filter(({ at, heightM, turn }, i) => !(rows[i - 1]?.at === at && rows[i - 1]?.heightM === heightM && rows[i - 1]?.turn === turn));
  return sorted.slice(1).flatMap((to, i): Reach[] => {
    const from = sorted[i];
    if (!from) return [];
    const because = faultOf(from, to);
    return [{ from: from.at, to: to.at, meanM: (from.heightM + to.heightM) / 2, amplitudeM: (from.heightM - to.heightM) / 2, because }];
  });
}

function faultOf(from: { at: Instant; turn: Water["turn"]; heightM: number }, to: { at: Instant; turn: Water["turn"]; heightM: number }): string | null {
  if (from.at === to.at) return "the tide table says two things for one instant";
  if (from.turn === to.turn) return `the tide table has two ${from.turn} waters one after the other`;
  if (to.at - from.at > LONGEST_TURN_HOURS * HOUR) return "rows are missing in the tide table";
  const [high, low] = from.turn === "high" ? [from, to] : [to, from];
  return high.heightM < low.heightM ? "a high water of the tide table is lower than the low water beside it" : null;
}

/**
 * The height of the water at an instant, m above the datum of the table: between a high and a low water that follow one
 * another, h = mean + amplitude · cos(πx). Outside the table, or where it contradicts itself, nothing is said.
 *
 * @param waters  Rows of one table, in any order.
 * @throws RangeError for a height or an instant that is not finite.
 * @source Common practice for interpolating a tide table, no source. For planning: not for navigation nor for divers.
 */
export function tideHeight(waters: readonly Water[], at: Instant): TideHeight {
  const reaches = reachesOf(waters);
  const here = reaches.filter(({ from, to }) => from <= at && at <= to);
  const known = here.find(({ because }) => because === null);
  if (!known) return { heightM: null, because: here[0]?.because ?? outside(reaches, at) };
  const share = (at - known.from) / (known.to - known.from);
  return { heightM: known.meanM + known.amplitudeM * Math.cos(Math.PI * share), because: null };
}

function outside(reaches: readonly Reach[], at: Instant): string {
  const [first] = reaches;
  if (!first) return "the tide table has fewer than two rows";
  return at < first.from ? "the tide table begins later" : "the tide table ends before";
}

/** The part of a reach in which the water is no higher than the limit; null where there is none. */
function lowPart({ from, to, meanM, amplitudeM }: Reach, limitM: number): { from: Instant; to: Instant } | null {
  const [high, low] = [meanM + Math.abs(amplitudeM), meanM - Math.abs(amplitudeM)];
  if (high <= limitM) return { from, to };
  if (low >= limitM) return null;
  const crossing = from + ((to - from) * Math.acos((limitM - meanM) / amplitudeM)) / Math.PI;
  // Rounded inwards: the water is never higher than the limit inside a window.
  return amplitudeM > 0 ? { from: Math.ceil(crossing), to } : { from, to: Math.floor(crossing) };
}

/** Every window of the table, ascending, none touching another. */
function allWindows(reaches: readonly Reach[], { workLevelM, allowanceM }: WorkLevel): TideWindow[] {
  const allowance = finite(allowanceM);
  if (allowance.isNegative() && !allowance.isZero()) throw new RangeError("An allowance is not negative.");
  const limitM = finite(workLevelM).minus(allowance).toNumber();
  const windows: TideWindow[] = [];
  reaches.forEach((reach, i) => {
    const part = reach.because === null ? lowPart(reach, limitM) : null;
    if (!part || part.to <= part.from) return;
    const before = windows.at(-1);
    const unknownBefore = reaches[i - 1]?.because !== null;
    const unknownAfter = reaches[i + 1]?.because !== null;
    const opens = part.from === reach.from && unknownBefore ? "table" : "tide";
    const closes = part.to === reach.to && unknownAfter ? "table" : "tide";
    if (before && before.to === part.from) Object.assign(before, { to: part.to, closes });
    else windows.push({ ...part, opens, closes });
  });
  return windows;
}

/**
 * The windows that overlap a span of time, ascending and apart from one another, each with its own whole length: the caller
 * cuts them where it draws them. `unknown` are the parts of the span about which the table says nothing.
 * @throws RangeError for a height, level or instant that is not finite, or a negative allowance.
 */
export function tideWindows(
  waters: readonly Water[],
  level: WorkLevel,
  span: { from: Instant; to: Instant },
): { windows: TideWindow[]; unknown: { from: Instant; to: Instant; because: string }[] } {
  const reaches = reachesOf(waters);
  const overlaps = ({ from, to }: { from: Instant; to: Instant }): boolean => from < span.to && to > span.from;
  const [first, last] = [reaches[0]?.from ?? span.to, reaches.at(-1)?.to ?? span.to];
  const holes = [
    { from: span.from, to: Math.min(first, span.to), because: outside(reaches, span.from) },
    ...reaches.flatMap(({ from, to, because }) => (because === null || from === to ? [] : [{ from: Math.max(from, span.from), to: Math.min(to, span.to), because }])),
    { from: Math.max(last, span.from), to: span.to, because: outside(reaches, span.to) },
  ];
  return { windows: allWindows(reaches, level).filter(overlaps), unknown: holes.filter(({ from, to }) => from < to) };
}

/**
 * The window that an instant lies in, else the next one after it. Where the table says nothing between the instant and the next
 * window that it knows, it cannot tell which comes next.
 * @throws RangeError as `tideWindows` does.
 */
export function nextTideWindow(waters: readonly Water[], level: WorkLevel, at: Instant): NextTideWindow {
  const reaches = reachesOf(waters);
  const window = allWindows(reaches, level).find(({ to }) => at < to);
  const until = Math.max(at, window?.from ?? Number.POSITIVE_INFINITY);
  const [first, last] = [reaches[0], reaches.at(-1)];
  if (!first || !last || at < first.from) return { window: null, because: outside(reaches, at) };
  const hole = reaches.find(({ from, to, because }) => because !== null && to > at && from < until);
  if (hole?.because && (window === undefined || hole.from < window.from)) return { window: null, because: hole.because };
  return window ? { window, because: null } : { window: null, because: outside(reaches, last.to) };
}
