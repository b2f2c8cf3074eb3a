import { finiteAbove, notNegative } from "#lib/domain/estimate/amount";
import { HOUR, type Instant } from "#lib/domain/instant";

/**
 * Heights of the lifts that fill a jacket, mm, from the bottom: the first as the specification gives it, the rest in equal lifts no
 * higher than its maximum. A jacket no higher than the first lift is one lift.
 * @throws RangeError for a height that is not more than zero.
 */
export function liftHeightsMm({ totalMm, firstMm, mostMm }: { totalMm: number; firstMm: number; mostMm: number }): number[] {
  const total = finiteAbove(totalMm, 0, "A height");
  const first = finiteAbove(firstMm, 0, "A first lift");
  const most = finiteAbove(mostMm, 0, "A lift");
  const rest = total - first;
  if (rest <= total * 1e-9) return [total];
  const count = Math.ceil(rest / most - 1e-9);
  return [first, ...Array.from({ length: count }, () => rest / count)];
}

/** One lift as it was placed: its top was reached at `endedAt`. */
export interface PlacedLift {
  heightMm: number;
  endedAt: Instant;
}

/**
 * Head of all grout that has not set at an instant, mm: every lift younger than the set time, with the lifts above it. What lies on
 * grout that has set does not press on the seal. A lift that is being placed counts whole.
 *
 * @param setHours  From the end of a lift to its set, h; for the specification to say.
 * @throws RangeError for a negative height or set time.
 */
export function unsetHeadMm(lifts: readonly PlacedLift[], { setHours, at }: { setHours: number; at: Instant }): number {
  const set = notNegative(setHours, "A set time") * HOUR;
  const lowestSoft = lifts.findIndex(({ endedAt }) => at - endedAt < set);
  if (lowestSoft < 0) return 0;
  return lifts.slice(lowestSoft).reduce((head, { heightMm }) => head + notNegative(heightMm, "A lift"), 0);
}
