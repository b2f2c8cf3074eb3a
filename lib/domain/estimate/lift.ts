import { finiteAbove, notNegative, wholePieces } from "#lib/domain/estimate/amount";
import { HOUR, type Instant } from "#lib/domain/instant";

const GUARD = 1e-9;
const MM_PER_M = 1_000;
/** More lifts than any jacket has: a slip of unit and no plan. */
const MOST_LIFTS = 1_000;

/**
 * Heights of the lifts that fill a jacket, mm, from the bottom: the first as the specification gives it, the rest in equal lifts no
 * higher than its maximum. A jacket no higher than the first lift is one lift.
 * @throws RangeError for a height that is not more than zero, a first lift over the maximum, or more than a thousand lifts.
 */
export function liftHeightsMm({ totalMm, firstMm, mostMm }: { totalMm: number; firstMm: number; mostMm: number }): number[] {
  const total = finiteAbove(totalMm, 0, "A height");
  const first = finiteAbove(firstMm, 0, "A first lift");
  const most = finiteAbove(mostMm, 0, "A lift");
  if (first > most * (1 + GUARD)) throw new RangeError("The first lift is higher than a lift may be.");
  const rest = total - first;
  if (rest <= total * GUARD) return [total];
  if (rest / most > MOST_LIFTS) throw new RangeError(`A jacket is filled in no more than ${MOST_LIFTS} lifts.`);
  const count = Math.max(1, wholePieces(rest / most));
  return [first, ...Array.from({ length: count }, () => rest / count)];
}

/** One lift as it was placed, or is planned to be. */
export interface PlacedLift {
  heightMm: number;
  beganAt: Instant;
  /** When its top was reached. */
  endedAt: Instant;
}

/**
 * Head of all grout that has not set at an instant, mm: every lift younger than the set time, with the lifts above it. What lies on
 * grout that has set does not press on the seal. A lift that is being placed counts whole; one that has not begun, not at all.
 *
 * @param lifts     From the bottom, one after the other.
 * @param setHours  From the end of a lift to its set, h, zero or more; for the specification to say.
 * @throws RangeError for a negative height or set time, an instant that is not finite, or lifts that do not follow one another.
 */
export function unsetHeadMm(lifts: readonly PlacedLift[], { setHours, at }: { setHours: number; at: Instant }): number {
  const set = notNegative(setHours, "A set time") * HOUR;
  finiteInstant(at);
  checkOrder(lifts);
  const begun = lifts.filter(({ beganAt }) => beganAt <= at);
  const lowestSoft = begun.findIndex(({ endedAt }) => at - endedAt < set);
  return lowestSoft < 0 ? 0 : begun.slice(lowestSoft).reduce((head, { heightMm }) => head + heightMm, 0);
}

/**
 * What each lift makes of the head of unset grout, mm: the most of it while the lift is placed, and what is left of that at its end. A lift
 * below may set in between; the most is what seal and ties have to bear.
 * @throws RangeError as `unsetHeadMm` does.
 */
export function headsByLiftMm(lifts: readonly PlacedLift[], setHours: number): { mostMm: number; endMm: number }[] {
  return lifts.map(({ beganAt, endedAt }, index) => {
    const placed = lifts.slice(0, index + 1);
    return { mostMm: unsetHeadMm(placed, { setHours, at: beganAt }), endMm: unsetHeadMm(placed, { setHours, at: endedAt }) };
  });
}

/**
 * How fast the grout rose in a lift, m/h.
 * @returns null for a lift that ended when it began: nothing can be told of its rate.
 * @throws RangeError for a negative height, an instant that is not finite, or a lift that ended before it began.
 */
export function riseMPerH(lift: PlacedLift): number | null {
  checkOrder([lift]);
  const hours = (lift.endedAt - lift.beganAt) / HOUR;
  return hours === 0 ? null : lift.heightMm / MM_PER_M / hours;
}

/**
 * The waits between the lifts of a pour, h, and which of them left a cold joint: longer than the specification lets a lift stand before the
 * next one goes on it. A wait that lasts exactly so long is in time.
 *
 * @param mostHours  The longest wait, h, zero or more; for the specification to say.
 * @returns one for each lift but the first.
 * @throws RangeError as `unsetHeadMm` does.
 */
export function waitsBetween(lifts: readonly PlacedLift[], mostHours: number): { hours: number; coldJoint: boolean }[] {
  notNegative(mostHours, "A longest wait");
  checkOrder(lifts);
  return lifts.slice(1).map(({ beganAt }, index) => {
    const hours = (beganAt - (lifts[index]?.endedAt ?? beganAt)) / HOUR;
    return { hours, coldJoint: hours > mostHours * (1 + GUARD) };
  });
}

function checkOrder(lifts: readonly PlacedLift[]): void {
  let last = -Infinity;
  for (const { heightMm, beganAt, endedAt } of lifts) {
    notNegative(heightMm, "A lift");
    if (finiteInstant(beganAt) < last) throw new RangeError("A lift begins when the one below it has ended.");
    if (finiteInstant(endedAt) < beganAt) throw new RangeError("A lift ends after it begins.");
    last = endedAt;
  }
}

function finiteInstant(at: Instant): Instant {
  if (!Number.isFinite(at)) throw new RangeError("An instant is a number of milliseconds.");
  return at;
}
