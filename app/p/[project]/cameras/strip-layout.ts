import { formatWhen, fromSite, siteTime } from "#lib/domain/clock/site-time";
import { HOUR, type Instant } from "#lib/domain/instant";
import type { CameraStrip } from "#lib/services/camera-strip";

const DAY = 24 * HOUR;
/** What lies between two labels of the time axis, the first that leaves few enough of them. */
const STEPS = [HOUR, 3 * HOUR, 6 * HOUR, DAY, 2 * DAY, 7 * DAY, 14 * DAY, 28 * DAY, 91 * DAY, 365 * DAY] as const;
const MOST_LABELS = 7;
const EDGE = { left: 0.02, right: 0.09 }; // of the width, kept free for the first stroke and for the dimension at the end
const LEAST_SPAN = HOUR;

export interface StripScale {
  /** Share of the width, 0 to 1. */
  place(at: Instant): number;
  ticks: { left: number; text: string }[];
}

/** The time axis of a strip, with round times on site as its labels. */
export function stripScale({ from, to }: Pick<CameraStrip, "from" | "to">, zone: string): StripScale {
  const span = Math.max(to - from, LEAST_SPAN);
  const place = (at: Instant): number => Math.min(1, Math.max(0, EDGE.left + ((at - from) / span) * (1 - EDGE.left - EDGE.right)));
  const step = STEPS.find((one) => span / one <= MOST_LABELS) ?? STEPS[STEPS.length - 1]!;
  const midnight = fromSite(`${siteTime(from, zone).date}T00:00`, zone).instants[0] ?? from;
  const starts = Array.from({ length: Math.ceil((to - midnight) / step) + 1 }, (_, index) => midnight + index * step).filter((at) => at >= from && at <= to);
  // So short a strip that no round time lies on it has its beginning.
  return { place, ticks: (starts.length > 0 ? starts : [from]).map((at) => ({ left: place(at), text: step < DAY ? formatWhen(at, zone, { short: true }) : dayText(at, zone) })) };
}

/** Clocks change between two labels, so midnight may have become 23:00 or 01:00: the day that is meant is the one at noon. */
function dayText(at: Instant, zone: string): string {
  return formatWhen(at + 12 * HOUR, zone, { offset: false }).split(" ").slice(1, 3).join(" ");
}

/** Round steps of the upward axis, seconds. */
const SECOND_STEPS = [1, 2, 5, 10, 20, 30, 60, 120, 300, 600, 900] as const;
const LEAST_REACH = 5; // seconds on either side of what is drawn, so that a clock to the second has an axis
const MOST_LINES = 5;

export interface HeightScale {
  low: number;
  high: number;
  /** Where lines are drawn, seconds. */
  lines: number[];
}

/** The upward axis: on time is always on it, and what was dropped does not stretch it. */
export function heightScale({ runs }: Pick<CameraStrip, "runs">): HeightScale {
  const values = [0, ...runs.flatMap(({ marks, medianSeconds }) => [medianSeconds, ...marks.map(({ restSeconds }) => restSeconds)])];
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const reach = Math.max(LEAST_REACH, (most - least) * 0.18);
  const [low, high] = [least - reach, most + reach];
  const step = SECOND_STEPS.find((one) => (high - low) / one <= MOST_LINES) ?? SECOND_STEPS[SECOND_STEPS.length - 1]!;
  const first = Math.ceil(low / step);
  const lines = Array.from({ length: Math.floor(high / step) - first + 1 }, (_, index) => (first + index) * step + 0);
  return { low, high, lines };
}
