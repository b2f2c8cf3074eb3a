import { HOUR, type Instant } from "#lib/domain/instant";

/** A temperature written down or logged at an instant, °C. */
export interface Reading {
  at: Instant;
  celsius: number;
}
/** A stretch of time at one temperature. `assumed`: nobody measured often enough in it to know. */
export interface Step {
  from: Instant;
  to: Instant;
  celsius: number;
  assumed?: boolean;
}
/** What a temperature under the minimum does to a clock that is not done yet. */
export type UnderMinimum = "pause" | "restart" | "void";
export type ClockState = "running" | "paused" | "void" | "done" | "no readings";

export interface Segment {
  from: Instant;
  to: Instant;
  celsius: number;
  /** Progress made in each hour of it. */
  rate: number;
  assumed: boolean;
  /** What it adds to the progress as it stands: zero for what a restart took back. */
  counted: number;
}
/** A stretch in which nobody measured often enough to know: whoever releases on the clock accepts it by name. */
export interface Gap {
  from: Instant;
  to: Instant;
  hours: number;
  /** The lower of the temperatures at its two ends, °C, which was counted. */
  assumedC: number;
}
/** How a kind of clock counts: the progress of one hour at a temperature, and what happens in the cold. */
export interface Counting {
  rateAt: (celsius: number) => number;
  required: number;
  minimumC: number | null;
  underMinimum: UnderMinimum;
}
export interface Progress {
  progress: number;
  doneAt: Instant | null;
  voided: boolean;
  segments: Segment[];
}

/** Relative slack in "reached": sums of powers of two and hours leave a few units in the last place behind. */
const REACHED = 1 - 1e-12;
/** Below this share of a millisecond a computed instant is the whole millisecond. */
const WHOLE_MS = 1e-4;

/**
 * Adds up the progress over steps in order of time. Progress under the minimum is none; there a clock that is not done yet
 * pauses, starts again from nothing, or is void for good. A clock that is done stays done.
 * @throws RangeError for a temperature that is not finite, a step that ends before it begins, or overlapping steps.
 */
export function addUp(steps: readonly Step[], { rateAt, required, minimumC, underMinimum }: Counting): Progress {
  if (!(required >= 0 && Number.isFinite(required))) throw new RangeError("What a clock requires has to be zero or more.");
  const segments: Segment[] = [];
  let progress = 0;
  let doneAt: Instant | null = required === 0 ? (steps[0]?.from ?? null) : null;
  let voided = false;
  let end = Number.NEGATIVE_INFINITY;

  for (const { from, to, celsius, assumed = false } of steps) {
    if (!Number.isFinite(celsius)) throw new RangeError("A temperature has to be a number.");
    if (!(from >= end && to >= from)) throw new RangeError("The steps of a clock have to follow one another.");
    end = to;
    const cold = isCold(celsius, minimumC);
    if (cold && doneAt === null && underMinimum === "void") voided = true;
    if (cold && doneAt === null && underMinimum === "restart") {
      progress = 0;
      for (const segment of segments) segment.counted = 0;
    }
    const rate = cold ? 0 : rateAt(celsius);
    const counted = voided ? 0 : (rate * (to - from)) / HOUR;
    if (doneAt === null && counted > 0 && progress + counted >= required * REACHED) {
      doneAt = Math.min(to, instantAfter(from, required - progress, rate));
    }
    progress += counted;
    segments.push({ from, to, celsius, rate, assumed, counted });
  }
  return { progress, doneAt, voided, segments };
}

function isCold(celsius: number, minimumC: number | null): boolean {
  return minimumC !== null && celsius < minimumC;
}

/** Rounded up to the millisecond: a clock never comes early. */
function instantAfter(from: Instant, missing: number, ratePerHour: number): Instant {
  return Math.ceil(from + (missing / ratePerHour) * HOUR - WHOLE_MS);
}

/**
 * Turns single readings, in order of time, into steps from `from` to the last reading.
 *
 * Between two readings the lower of the two holds, since nobody knows when it changed; before the first reading, the first.
 * A stretch longer than `assumedGapHours` is marked assumed. After the last reading nothing is known, so nothing is counted.
 */
function stepsBetween(readings: readonly Reading[], from: Instant, assumedGapHours: number): Step[] {
  return readings.flatMap((reading, i): Step[] => {
    const before = readings[i - 1];
    const start = before?.at ?? from;
    if (reading.at <= start) return [];
    const celsius = before ? Math.min(before.celsius, reading.celsius) : reading.celsius;
    return [{ from: start, to: reading.at, celsius, assumed: reading.at - start > assumedGapHours * HOUR }];
  });
}

/**
 * The readings of a clock in order of time. What was read before the clock began or after `now` says nothing about it, and
 * of several readings at one instant the lowest counts, whatever order they were entered in.
 */
function readingsOf(readings: readonly Reading[], from: Instant, now: Instant): Reading[] {
  const lowest = new Map<Instant, number>();
  for (const { at, celsius } of readings) {
    if (!Number.isFinite(celsius) || !Number.isFinite(at)) throw new RangeError("A temperature reading has to be a number at an instant.");
    if (at >= from && at <= now) lowest.set(at, Math.min(celsius, lowest.get(at) ?? celsius));
  }
  return [...lowest].map(([at, celsius]) => ({ at, celsius })).sort((a, b) => a.at - b.at);
}

/**
 * The stretches that were assumed, in order of time, as far as the clock rests on them: not those after it was done, nor those
 * that a restart took back.
 */
function assumedGaps(segments: readonly Segment[], doneAt: Instant | null): Gap[] {
  const takenBack = ({ rate, counted }: Segment): boolean => rate > 0 && counted === 0;
  return segments.flatMap((segment): Gap[] => {
    const { from, to, celsius, assumed } = segment;
    if (!assumed || takenBack(segment) || (doneAt !== null && from >= doneAt)) return [];
    return [{ from, to, hours: (to - from) / HOUR, assumedC: celsius }];
  });
}

export interface ClockReading {
  progress: number;
  doneAt: Instant | null;
  earliest: Instant | null;
  state: ClockState;
  lastC: number | null;
  segments: Segment[];
  /** What the clock assumes because nothing was read, and how long that is together, h. */
  gaps: Gap[];
  assumedHours: number;
}

/** Runs a clock over readings up to `now` and says where it stands; see `cureClock` for what each field means. */
export function runClock(
  { from, readings, now, assumedGapHours }: { from: Instant; readings: readonly Reading[]; now: Instant; assumedGapHours: number },
  counting: Counting,
): ClockReading {
  const known = readingsOf(readings, from, now);
  const last = known.at(-1);
  const { progress, doneAt, voided, segments } = addUp(stepsBetween(known, from, assumedGapHours), counting);
  const gaps = assumedGaps(segments, doneAt);
  const answer = { progress, doneAt, lastC: last?.celsius ?? null, segments, gaps, assumedHours: gaps.reduce((sum, { hours }) => sum + hours, 0) };

  if (doneAt !== null) return { ...answer, state: "done", earliest: doneAt };
  if (last === undefined) return { ...answer, state: "no readings", earliest: null };
  const cold = isCold(last.celsius, counting.minimumC);
  // A single cold reading makes no step yet, and is enough all the same.
  if (voided || (cold && counting.underMinimum === "void")) return { ...answer, state: "void", earliest: null };
  const rate = cold ? 0 : counting.rateAt(last.celsius);
  if (rate <= 0) return { ...answer, state: "paused", earliest: null };
  return { ...answer, state: "running", earliest: instantAfter(last.at, counting.required - progress, rate) };
}
