import type { Instant } from "#lib/domain/instant";
import { HOUR, MINUTE, SECOND } from "#lib/domain/instant";
import type { CameraReference, ClockReading, ClockRun } from "#lib/domain/photo/camera-clock";
import type { PhotoLimits } from "#lib/domain/photo/limits";

/** A reference with its numbers worked out. */
export interface Sample {
  readonly reference: CameraReference;
  readonly at: Instant;
  /** What the clock showed, read as UTC, less the true time. Milliseconds. */
  readonly aheadMs: number;
}

export const DAY = 24 * HOUR;

/** Zones are whole quarter hours; what is left of a difference is drift. Milliseconds. */
export const QUARTER_HOUR = 15 * MINUTE;

/** A camera's clock may run off by this much a day although nothing showed it: a cheap crystal out of the warm. Seconds a day. Common practice, no source. */
export const LEAST_RATE_SECONDS = 5;

/** How much wider a clock is taken that fewer than three photos show, ± seconds: nothing checks it. Common practice, no source. */
export const FEW_SECONDS = 10;

/** A phone's page notes the time when the person has accepted the picture, so it may lie this far after the exposure, seconds. Common practice, no source. */
export const PHONE_DELAY_SECONDS = 30;

/** References closer together than this tell no rate: their own errors of some seconds would make one up. */
const RATE_SPAN = DAY;

/** No clock of a camera runs off faster: what looks like it is a wrong reference. Milliseconds in a millisecond, 20 s a day. Common practice, no source. */
const MOST_GAIN = (20 * SECOND) / DAY;

/** Pairs grow with the square of the references; so many spread over the run tell the rate as well, and no single one turns it. */
export const RATE_REFERENCES = 32;

/** The nearest whole quarter hour and what is left, milliseconds; never −0. */
export function zoneAndRest(aheadMs: number): { readonly zoneMs: number; readonly restMs: number } {
  const zoneMs = Math.round(aheadMs / QUARTER_HOUR) * QUARTER_HOUR;
  return { zoneMs: zoneMs === 0 ? 0 : zoneMs, restMs: aheadMs - zoneMs };
}

export function median(values: readonly number[]): number {
  return middleOf([...values].sort((a, b) => a - b));
}

/** The median of each list that one of the values is left out of, in their order. */
export function mediansWithoutEach(values: readonly number[]): number[] {
  const order = [...values.keys()].sort((a, b) => (values[a] ?? 0) - (values[b] ?? 0));
  const sorted = order.map((i) => values[i] ?? 0);
  const medians = new Array<number>(values.length).fill(0);
  const rest = sorted.length - 1;
  // Behind the one that is left out everything moves up by a place.
  const at = (place: number, left: number): number => sorted[place < left ? place : place + 1] ?? 0;
  for (const [left, i] of order.entries()) {
    const middle = Math.floor(rest / 2);
    medians[i] = rest % 2 === 1 ? at(middle, left) : (at(middle - 1, left) + at(middle, left)) / 2;
  }
  return medians;
}

function middleOf(sorted: readonly number[]): number {
  const middle = Math.floor(sorted.length / 2);
  const [low = 0, high = 0] = sorted.length % 2 === 1 ? [sorted[middle], sorted[middle]] : [sorted[middle - 1], sorted[middle]];
  return (low + high) / 2;
}

/**
 * Milliseconds that the clock gains in a millisecond: the median over pairs of references at least a day apart, which one wrong
 * reference cannot turn. Null without such a pair, and where it comes out faster than a clock runs off.
 *
 * @source P. K. Sen, Estimates of the regression coefficient based on Kendall's tau, 1968 (from memory).
 */
export function gainOf(samples: readonly Sample[]): number | null {
  const step = Math.max(1, Math.ceil(samples.length / RATE_REFERENCES));
  const some = samples.filter((_, i) => i % step === 0 || i === samples.length - 1);
  const slopes = some.flatMap((a, i) => some.slice(i + 1).filter((b) => b.at - a.at >= RATE_SPAN).map((b) => (b.aheadMs - a.aheadMs) / (b.at - a.at)));
  const gain = slopes.length === 0 ? null : median(slopes);
  return gain === null || Math.abs(gain) > MOST_GAIN ? null : gain;
}

/** Makes a run of samples in order of true time, at least one. */
export function clockRun(
  samples: readonly Sample[],
  { limits, minimum, fewest }: { readonly limits: PhotoLimits; readonly minimum: number; readonly fewest: number },
): ClockRun {
  const { zoneMs, restMs } = zoneAndRest(median(samples.map(({ aheadMs }) => aheadMs)));
  const gain = gainOf(samples);
  const count = new Set(samples.map(({ reference }) => reference.wall)).size;
  const hasPage = samples.some(({ reference }) => reference.source === "clock page");
  const few = count < fewest ? FEW_SECONDS : 0;

  return {
    references: samples.map(({ reference }) => reference),
    aheadSeconds: samples.map(({ aheadMs }) => aheadMs / SECOND),
    goodToSeconds: samples.map((sample, i) => ownSeconds(sample, samples, limits) + scatterMs(samples, i) / SECOND + few),
    zoneSeconds: zoneMs / SECOND,
    restSeconds: restMs / SECOND,
    gainPerDaySeconds: gain === null ? null : (gain * DAY) / SECOND,
    firm: count >= minimum && (count >= fewest || hasPage),
  };
}

/** What a reference is good for by its source; a phone's clock as much as a better one that agrees with it on the same day. */
function ownSeconds(sample: Sample, samples: readonly Sample[], limits: PhotoLimits): number {
  if (sample.reference.source !== "phone clock") return limits.cameraReferenceSeconds;
  const backed = samples.some(({ reference, at }) => reference.source !== "phone clock" && Math.abs(at - sample.at) < DAY);
  return Math.max(limits.cameraReferenceSeconds, backed ? 0 : PHONE_DELAY_SECONDS);
}

/** How far a reference lies from what its neighbours say without it: its own error, theirs, or uneven drift. */
function scatterMs(samples: readonly Sample[], i: number): number {
  const [own, before, after] = [samples[i], samples[i - 1], samples[i + 1]];
  if (own === undefined) return 0;
  if (before !== undefined && after !== undefined) return Math.abs(own.aheadMs - between(before, after, own.at));

  const next = after ?? before;
  const second = after === undefined ? samples[i - 2] : samples[i + 2];
  if (next === undefined) return 0;
  const held = Math.abs(own.aheadMs - next.aheadMs);
  return second === undefined ? held : Math.min(held, Math.abs(own.aheadMs - between(second, next, own.at)));
}

function between(a: { readonly at: Instant; readonly aheadMs: number }, b: { readonly at: Instant; readonly aheadMs: number }, at: Instant): number {
  return b.at === a.at ? (a.aheadMs + b.aheadMs) / 2 : a.aheadMs + ((b.aheadMs - a.aheadMs) * (at - a.at)) / (b.at - a.at);
}

/** When a wall time (read as UTC) was by this run. */
export function runReading(run: ClockRun, wallMs: Instant): ClockReading {
  // The difference hangs on the true time that is looked for; it changes by seconds a day, so a few rounds settle it.
  let found = stateAt(run, wallMs - (run.zoneSeconds + run.restSeconds) * SECOND);
  for (let round = 0; round < 3; round += 1) found = stateAt(run, wallMs - found.aheadMs);

  const aheadMs = Math.round(found.aheadMs);
  return {
    at: wallMs - aheadMs,
    uncertaintySeconds: tenthsUp(found.goodToSeconds),
    zoneSeconds: run.zoneSeconds,
    restSeconds: aheadMs / SECOND - run.zoneSeconds,
    firm: run.firm,
  };
}

/** Uncertainties are shown to a tenth of a second and never made smaller by it. */
function tenthsUp(seconds: number): number {
  return Math.ceil(seconds * 10 - 1e-6) / 10;
}

function stateAt(run: ClockRun, at: Instant): { readonly aheadMs: number; readonly goodToSeconds: number } {
  const known = (i: number) => ({ at: run.references[i]?.at ?? 0, aheadMs: (run.aheadSeconds[i] ?? 0) * SECOND, goodToSeconds: run.goodToSeconds[i] ?? 0 });
  const next = run.references.findIndex((reference) => reference.at >= at);
  if (next > 0) {
    const [a, b] = [known(next - 1), known(next)];
    return { aheadMs: between(a, b, at), goodToSeconds: Math.max(a.goodToSeconds, b.goodToSeconds) };
  }

  const end = known(next === 0 ? 0 : run.references.length - 1);
  const days = Math.abs(at - end.at) / DAY;
  const rate = Math.max(LEAST_RATE_SECONDS, Math.abs(run.gainPerDaySeconds ?? 0));
  return { aheadMs: end.aheadMs, goodToSeconds: end.goodToSeconds + rate * days };
}
