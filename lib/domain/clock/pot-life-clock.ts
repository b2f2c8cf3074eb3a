import { MINUTE, type Instant } from "#lib/domain/instant";

/** A mixed batch of resin. */
export interface MixedBatch {
  /** When its mixing ended; null where nobody wrote it. */
  mixedAt: Instant | null;
  /** Temperatures read in the batch, °C. The warmest counts. */
  temperaturesC: readonly number[];
  /** Minutes that it can be worked: one number, or the time at a temperature, null where the data sheet says none. */
  life: number | ((celsius: number) => number | null);
}

/** Until when a batch can be worked. `latest` is null where that cannot be told, `because` of what. */
export type PotLifeClock = { latest: Instant; minutes: number; because: null } | { latest: null; minutes: null; because: string };

/** Work done with a batch: when it ended at a point, or null where nobody wrote it. */
export interface BatchWork {
  line: string;
  endedAt: Instant | null;
}
export type PotLifeVerdict =
  | { verdict: "in time"; leftMinutes: number }
  | { verdict: "past pot life"; overMinutes: number; line: string }
  | { verdict: "cannot tell"; because: string };

function cannotTell(because: string): PotLifeClock & { latest: null } {
  return { latest: null, minutes: null, because };
}

/**
 * The latest instant at which the work with a batch has to end: the end of its mixing and its pot life at the warmest that it was.
 * @throws RangeError for a temperature or instant that is not finite, or a pot life that is not more than nothing.
 * @source The data sheet decides the pot life. That the warmest reading counts is common practice, no source.
 */
export function potLifeClock({ mixedAt, temperaturesC, life }: MixedBatch): PotLifeClock {
  if (mixedAt === null) return cannotTell("nobody wrote when the mixing ended");
  if (!Number.isFinite(mixedAt) || temperaturesC.some((celsius) => !Number.isFinite(celsius))) throw new RangeError("A batch is mixed at an instant and has temperatures that are numbers.");
  if (typeof life === "function" && temperaturesC.length === 0) return cannotTell("no temperature of the batch was read");
  const warmest = Math.max(...temperaturesC);
  const minutes = typeof life === "function" ? life(warmest) : life;
  if (minutes === null) return cannotTell(`the data sheet says no pot life at ${warmest} °C`);
  if (!(minutes > 0 && Number.isFinite(minutes))) throw new RangeError("A pot life is more than nothing.");
  // Down to the millisecond: never later than it lasts. The slack takes off what the arithmetic of minutes leaves behind.
  return { latest: Math.floor(mixedAt + minutes * MINUTE + 1e-4), minutes, because: null };
}

/**
 * Whether all the work with a batch ended inside its pot life, over every point that the batch went into: each of them alone may
 * look fine. Exactly at the end is in time. A single end that is past is enough to say so; a missing one never passes.
 * @throws RangeError as `potLifeClock` does.
 */
export function potLifeVerdict(batch: MixedBatch, work: readonly BatchWork[]): PotLifeVerdict {
  const { latest, because } = potLifeClock(batch);
  if (latest === null) return { verdict: "cannot tell", because };
  const early = work.find(({ endedAt }) => endedAt !== null && batch.mixedAt !== null && endedAt < batch.mixedAt);
  if (early) return { verdict: "cannot tell", because: `the work at point ${early.line} ended before the batch was mixed` };
  const ends = work.flatMap(({ line, endedAt }) => (endedAt === null ? [] : [{ line, endedAt }])).sort((a, b) => b.endedAt - a.endedAt);
  const [last] = ends;
  if (last && last.endedAt > latest) return { verdict: "past pot life", overMinutes: (last.endedAt - latest) / MINUTE, line: last.line };
  const missing = work.find(({ endedAt }) => endedAt === null);
  if (missing) return { verdict: "cannot tell", because: `point ${missing.line} has no time for the end of its work` };
  if (!last) return { verdict: "cannot tell", because: "no work with the batch is on record" };
  return { verdict: "in time", leftMinutes: (latest - last.endedAt) / MINUTE };
}
