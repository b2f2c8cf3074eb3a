import type { Instant } from "#lib/domain/instant";
import { busySpans, type TimeScale, type TimeSpan } from "./sequence-layout";

export const NOMINAL_WIDTH = 820; // px, the chart on a desk
export const LETTER_PX = 6.2; // mean width of a letter at 12 px
const MINUTE = 60_000; // ms
const WHOLE_UP_TO = 36 * 60 * MINUTE; // a view this short is drawn without a cut: a day with the evening before it

/**
 * What is drawn of a view that somebody asked for: a short one whole, a longer one cut where nothing happens in it.
 * Nothing outside the view is drawn.
 *
 * @param whole Spans that must not be cut, as in `busySpans`.
 */
export function viewSpans(instants: readonly Instant[], view: TimeSpan, whole: readonly TimeSpan[] = []): TimeSpan[] {
  const inside = instants.filter((at) => at >= view.from && at <= view.to);
  if (view.to - view.from <= WHOLE_UP_TO || inside.length === 0) return [view];
  const uncut = whole.map((span) => within(span, view)).filter(({ from, to }) => from < to);
  return busySpans(inside, uncut).map((span) => within(span, view));
}

function within({ from, to }: TimeSpan, view: TimeSpan): TimeSpan {
  return { from: Math.max(from, view.from), to: Math.min(to, view.to) };
}

const MOST_CUTS = 3; // in a detail; more and its scale is lost
const LONG = 4; // a silence this many times longer than all the rest is cut
const LEAST_CUT = 10 * MINUTE; // a shorter one never
const EDGE = 0.08; // of what is drawn, kept free on each side
const LEAST_EDGE = 1.5 * MINUTE; // so that a single instant still has an axis

/** The stretches of a detail: its longest silences are cut out where they would leave no room for what happens. */
export function detailSpans(instants: readonly Instant[]): TimeSpan[] {
  const ordered = [...new Set(instants)].sort((a, b) => a - b);
  const gaps = ordered.slice(1).map((to, position) => ({ position, long: to - ordered[position]! })).sort((a, b) => b.long - a.long);
  let rest = gaps.reduce((sum, { long }) => sum + long, 0);
  const cuts = new Set<number>();
  for (const { position, long } of gaps) {
    const without = rest - long;
    if (cuts.size === MOST_CUTS || without === 0 || long <= Math.max(LONG * without, LEAST_CUT)) break;
    cuts.add(position);
    rest = without;
  }
  const edge = Math.max(rest * EDGE, LEAST_EDGE);
  const spans: TimeSpan[] = [];
  ordered.forEach((at, position) => {
    if (position === 0 || cuts.has(position - 1)) spans.push({ from: at - edge, to: at + edge });
    else spans.at(-1)!.to = at + edge;
  });
  return spans;
}

/** Whether an instant lies on the axis and not in a break or beyond its ends. */
export function isDrawn(scale: TimeScale, at: Instant): boolean {
  return scale.segments.some(({ from, to }) => at >= from && at <= to);
}

/** Whether any of a span is drawn. */
export function isSeen(scale: TimeScale, { from, to }: TimeSpan): boolean {
  return scale.segments.some((segment) => from <= segment.to && to >= segment.from);
}

export interface WordPlace {
  /** Share of the width that the word is set at, and px from there. */
  left: number;
  shift: number;
  anchor: "start" | "end";
}

/**
 * Where a word about a mark can stand in its row: after it, else before it, inside its own stretch of the axis and clear of
 * the other marks. Null where there is no room: then it is left to the table.
 *
 * @param marks Shares of the width that are taken. @param wordPx Length of the word. @param width Of the chart, px.
 */
export function wordPlace(scale: TimeScale, at: number, marks: readonly number[], wordPx: number, width: number): WordPlace | null {
  const clear = 8; // px between mark and word
  const segment = scale.segments.find(({ left, right }) => at >= left && at <= right);
  if (!segment) return null;
  const need = (wordPx + clear) / width;
  const end = Math.min(segment.right, ...marks.filter((mark) => mark > at));
  if (end - at > need) return { left: at, shift: clear, anchor: "start" };
  const start = Math.max(segment.left, ...marks.filter((mark) => mark < at));
  return at - start > need ? { left: at, shift: -clear, anchor: "end" } : null;
}
