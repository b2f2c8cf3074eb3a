import { SECOND } from "#lib/domain/instant";
import type { CameraReference, CameraSource, DroppedReference } from "#lib/domain/photo/camera-clock";
import { isOffsetInUse } from "#lib/domain/photo/capture-time";
import { DAY, gainOf, LEAST_RATE_SECONDS, median, mediansWithoutEach, RATE_REFERENCES, zoneAndRest } from "#lib/domain/photo/clock-run";
import type { Sample } from "#lib/domain/photo/clock-run";
import type { PhotoLimits } from "#lib/domain/photo/limits";

const RANK: Record<CameraSource, number> = { "phone clock": 0, "GPS time": 1, "clock page": 2 };

export interface Sorted {
  /** By true time; each with at least one sample. */
  readonly runs: readonly (readonly Sample[])[];
  readonly dropped: readonly DroppedReference[];
}

/** Samples in a row whose clock stood alike. */
interface Segment {
  readonly level: number;
  readonly samples: readonly Sample[];
}

type Drop = (sample: { readonly reference: CameraReference }, why: string, stale?: boolean) => void;

/** Sorts a camera's references into runs and says of each that does not count why. */
export function sortReferences(references: readonly CameraReference[], limits: PhotoLimits): Sorted {
  const dropped: DroppedReference[] = [];
  const drop: Drop = ({ reference }, why, stale = false) => void dropped.push({ reference, why, stale });
  const limitMs = limits.driftSeconds * SECOND;

  const moving = withoutStandingTimes(samplesOf(references, drop), limits, drop);
  const zoned = moving.filter(hasZone);
  const runs = segmentsOf(zoned, limitMs, drop)
    .map((samples) => onTheLine(samples, limitMs, drop))
    .map((samples) => withoutOutranked(samples, limits, drop));

  for (const sample of moving.filter((one) => !hasZone(one))) {
    const stale = runs.some((run) => run.length >= 3 && isBehind(sample, median(run.map(({ aheadMs }) => aheadMs)) + limitMs));
    drop(sample, `${ahead(sample.aheadMs)} is no zone from -12:00 to +14:00`, stale);
  }
  return { runs, dropped };
}

function samplesOf(references: readonly CameraReference[], drop: Drop): Sample[] {
  const seen = new Set<string>();
  const samples: Sample[] = [];
  for (const reference of references) {
    const aheadMs = Date.parse(`${reference.wall}Z`) - reference.at;
    const key = `${reference.source} ${reference.wall} ${reference.at}`;
    if (!Number.isFinite(aheadMs)) drop({ reference }, "not a time");
    else if (seen.has(key)) drop({ reference }, "the same exposure as another photo");
    else samples.push({ reference, at: reference.at, aheadMs });
    seen.add(key);
  }
  return samples.sort((a, b) => a.at - b.at || a.aheadMs - b.aheadMs);
}

/** A time that stands still while the camera's goes on is that of an older fix, of photos chosen together, or of a page that was kept. */
function withoutStandingTimes(samples: readonly Sample[], limits: PhotoLimits, drop: Drop): Sample[] {
  const standing = new Set<Sample>();
  for (const source of Object.keys(RANK) as CameraSource[]) {
    const toleranceMs = limits.gpsDeltaSeconds * SECOND;
    // A phone's page notes photos chosen together within a moment of each other, a receiver repeats its fix exactly.
    for (const group of chains(samples.filter(({ reference }) => reference.source === source), ({ at }) => at, () => (source === "phone clock" ? toleranceMs : 0))) {
      const spreadMs = Math.max(...group.map(({ aheadMs }) => aheadMs)) - Math.min(...group.map(({ aheadMs }) => aheadMs));
      if (spreadMs <= toleranceMs) continue;
      for (const sample of group) {
        standing.add(sample);
        drop(sample, `the same ${source} stands over camera times ${seconds(spreadMs)} apart`, source === "GPS time");
      }
    }
  }
  return samples.filter((sample) => !standing.has(sample));
}

function hasZone({ aheadMs }: Sample): boolean {
  return isOffsetInUse(zoneAndRest(aheadMs).zoneMs / SECOND);
}

/**
 * Samples that stand alike, in order of true time. A single one between two that stand alike is dropped, and so is a single one at
 * an end or a step that lies no quarter hour from its neighbours.
 */
function segmentsOf(samples: readonly Sample[], limitMs: number, drop: Drop): (readonly Sample[])[] {
  const levels = chains(samples, ({ aheadMs }) => aheadMs, (a, b) => limitMs + drifted(a, b));
  const sizes = levels.map((level) => level.length);
  const medians = levels.map((level) => median(level.map(({ aheadMs }) => aheadMs)));
  const levelOf = new Map(levels.flatMap((level, i) => level.map((sample) => [sample, i] as const)));
  const size = (level: number) => sizes[level] ?? 0;

  let segments = joined(samples.map((sample) => ({ level: levelOf.get(sample) ?? 0, samples: [sample] })));
  // The rarest go first, so that two wrong ones in a row do not hold each other up.
  for (const rarity of [...new Set(sizes)].sort((a, b) => a - b)) {
    const before = segments;
    const stays = before.filter((segment, i) => {
      const [sample] = segment.samples;
      if (sample === undefined || segment.samples.length > 1 || sample.reference.source === "clock page" || size(segment.level) !== rarity) return true;

      const larger = (one: Segment) => size(one.level) > rarity;
      const [left, right] = [before.slice(0, i).findLast(larger), before.slice(i + 1).find(larger)];
      const nearest = left ?? right;
      if (nearest === undefined) return true;
      const level = medians[nearest.level] ?? 0;
      const awayMs = sample.aheadMs - level;
      const isInside = left !== undefined && right !== undefined && left.level === right.level;
      if (!isInside && Math.abs(zoneAndRest(awayMs).restMs) <= limitMs) return true;

      drop(sample, `${seconds(Math.abs(awayMs))} off the median of its neighbours, ${ahead(level)}`, isBehind(sample, level));
      return false;
    });
    segments = joined(stays);
  }
  return segments.map((segment) => segment.samples);
}

function joined(segments: readonly Segment[]): Segment[] {
  const result: Segment[] = [];
  for (const segment of segments) {
    const last = result.at(-1);
    if (last?.level === segment.level) result[result.length - 1] = { level: last.level, samples: [...last.samples, ...segment.samples] };
    else result.push(segment);
  }
  return result;
}

/** Drops what lies further off the median of the others of its run, with their drift taken out, than a clock drifts. */
function onTheLine(samples: readonly Sample[], limitMs: number, drop: Drop): readonly Sample[] {
  if (samples.length < 3) return samples;

  const lines = linesWithoutEach(samples);
  return samples.filter((sample, i) => {
    if (sample.reference.source === "clock page") return true;
    const line = lines[i] ?? sample.aheadMs;
    if (Math.abs(sample.aheadMs - line) <= limitMs) return true;
    drop(sample, `${seconds(Math.abs(sample.aheadMs - line))} off the median of its neighbours, ${ahead(line)}`, isBehind(sample, line));
    return false;
  });
}

/** What all others say of each sample: their median, with their drift taken out. */
function linesWithoutEach(samples: readonly Sample[]): number[] {
  if (samples.length <= RATE_REFERENCES) {
    return samples.map((sample) => {
      const others = samples.filter((other) => other !== sample);
      const gain = gainOf(others) ?? 0;
      return median(others.map(({ aheadMs, at }) => aheadMs + gain * (sample.at - at)));
    });
  }
  // Of many, one does not turn the rate, and leaving each out in turn would take the square of the time.
  const gain = gainOf(samples) ?? 0;
  const [{ at: start }] = samples as readonly [Sample];
  const medians = mediansWithoutEach(samples.map(({ aheadMs, at }) => aheadMs - gain * (at - start)));
  return samples.map(({ at }, i) => (medians[i] ?? 0) + gain * (at - start));
}

/** Drops a reference that a better kind of the same day contradicts. */
function withoutOutranked(samples: readonly Sample[], limits: PhotoLimits, drop: Drop): readonly Sample[] {
  return samples.filter((sample) => {
    const better = samples
      .filter((other) => RANK[other.reference.source] > RANK[sample.reference.source] && Math.abs(other.at - sample.at) < DAY)
      .sort((a, b) => Math.abs(a.at - sample.at) - Math.abs(b.at - sample.at) || RANK[b.reference.source] - RANK[a.reference.source])[0];
    if (better === undefined) return true;

    const apart = Math.abs(better.aheadMs - sample.aheadMs);
    if (apart <= 2 * limits.cameraReferenceSeconds * SECOND + drifted(sample, better)) return true;
    drop(sample, `${seconds(apart)} off the ${better.reference.source} of the same day`);
    return false;
  });
}

/** How far a clock may run off between two references although nothing is wrong. */
function drifted(a: Sample, b: Sample): number {
  return (LEAST_RATE_SECONDS * SECOND * Math.abs(a.at - b.at)) / DAY;
}

/** Groups of items in order of their values, of which each lies no further from the one before than `gap`. */
function chains<Item>(items: readonly Item[], valueOf: (item: Item) => number, gap: (a: Item, b: Item) => number): Item[][] {
  const groups: Item[][] = [];
  for (const item of [...items].sort((a, b) => valueOf(a) - valueOf(b))) {
    const group = groups.at(-1);
    const before = group?.at(-1);
    if (group !== undefined && before !== undefined && valueOf(item) - valueOf(before) <= gap(before, item)) group.push(item);
    else groups.push([item]);
  }
  return groups;
}

/** A fix is older than the exposure, never newer: by old GPS time the clock seems further ahead than it is. */
function isBehind({ reference, aheadMs }: Sample, level: number): boolean {
  return reference.source === "GPS time" && aheadMs > level;
}

function ahead(ms: number): string {
  return `camera less true time ${seconds(ms)}`;
}

function seconds(ms: number): string {
  return `${Math.round(ms / 100) / 10} s`;
}
