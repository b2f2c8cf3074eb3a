/** Largest lot that is worked out. */
export const LARGEST_LOT = 10_000;

const GUARD = 1e-9;

export interface Sampling {
  /** In the lot, 1 to 10 000. */
  lot: number;
  /** Bad ones in it. */
  bad: number;
  /** Checked, drawn without putting back. */
  checked: number;
  /** The sample is accepted with at most so many bad ones. */
  accept: number;
}

/**
 * Chance that a sample is accepted, 0 to 1: the hypergeometric distribution, Σ C(D, k)·C(N − D, n − k) / C(N, n) for k from 0 to c. Counted in whole
 * numbers and divided once, so that it is right to the last digits of a number.
 *
 * @throws RangeError for numbers that are not whole, a lot outside 1 to 10 000, or more bad or checked ones than the lot has.
 * @source The hypergeometric distribution. Which sample is enough is the specification's to say: no table of a standard is copied here.
 */
export function acceptProbability(sampling: Sampling): number {
  checkSampling(sampling);
  return share(acceptedDraws(sampling), choose(sampling.lot, sampling.checked));
}

/** Chance that a sample finds none of the bad ones, 0 to 1: C(N − D, n) / C(N, n). @throws RangeError as `acceptProbability` does. */
export function missProbability(sampling: Omit<Sampling, "accept">): number {
  return acceptProbability({ ...sampling, accept: 0 });
}

/**
 * The smallest sample that finds at least one of the bad ones with a chance of `detect` or more.
 * @param detect  0 to 1; 1 asks for certainty.
 * @returns null where there are no bad ones to find.
 * @throws RangeError as `acceptProbability` does, and for a chance outside 0 to 1.
 */
export function smallestSample({ lot, bad, detect }: { lot: number; bad: number; detect: number }): number | null {
  checkSampling({ lot, bad, checked: 0, accept: 0 });
  if (!(detect >= 0 && detect <= 1)) throw new RangeError("A chance lies between 0 and 1.");
  if (bad === 0) return null;
  const certain = lot - bad + 1;
  const mayMiss = (1 - detect) * (1 + GUARD);
  let missed = 1;
  for (let checked = 0; checked < certain; checked++) {
    if (missed <= mayMiss) return checked;
    missed *= (lot - bad - checked) / (lot - checked);
  }
  return certain;
}

/**
 * The chance of acceptance over the number of bad ones, from none to the whole lot: the curve that says what a sample cannot show.
 * @param points  About how many points, 2 or more; a small lot has one for each number.
 * @throws RangeError as `acceptProbability` does, and for a number of points that is not whole or under 2.
 */
export function acceptCurve({ lot, checked, accept }: Omit<Sampling, "bad">, points = 40): { bad: number; chance: number }[] {
  checkSampling({ lot, bad: 0, checked, accept });
  if (!(Number.isInteger(points) && points >= 2)) throw new RangeError("A curve has two points or more.");
  const step = Math.max(1, Math.ceil(lot / points));
  const bads = [...Array.from({ length: Math.ceil(lot / step) }, (_, index) => index * step), lot];
  const draws = choose(lot, checked);
  return bads.map((bad) => ({ bad, chance: share(acceptedDraws({ lot, bad, checked, accept }), draws) }));
}

function checkSampling({ lot, bad, checked, accept }: Sampling): void {
  if (![lot, bad, checked, accept].every((number) => Number.isInteger(number) && number >= 0)) throw new RangeError("A sample is counted in whole numbers.");
  if (lot < 1 || lot > LARGEST_LOT) throw new RangeError(`A lot has 1 to ${LARGEST_LOT}.`);
  if (bad > lot || checked > lot) throw new RangeError("There are no more bad or checked ones than the lot has.");
}

/** How many of all draws are accepted; each next number of bad ones follows from the one before. */
function acceptedDraws({ lot, bad, checked, accept }: Sampling): bigint {
  const good = lot - bad;
  const least = Math.max(0, checked - good);
  const most = Math.min(accept, bad, checked);
  if (least > most) return 0n;
  let draws = choose(bad, least) * choose(good, checked - least);
  let sum = draws;
  for (let found = least; found < most; found++) {
    draws = (draws * BigInt((bad - found) * (checked - found))) / BigInt((found + 1) * (good - checked + found + 1));
    sum += draws;
  }
  return sum;
}

function choose(n: number, k: number): bigint {
  let ways = 1n;
  for (let taken = 1; taken <= Math.min(k, n - k); taken++) ways = (ways * BigInt(n - taken + 1)) / BigInt(taken);
  return ways;
}

/** Bits that the quotient of two long whole numbers is worked out to: twice what a number has, so that what is cut off never changes its rounding. */
const BITS = 120;

function share(part: bigint, whole: bigint): number {
  if (part === 0n) return 0;
  const shift = Math.max(0, bits(whole) - bits(part) + BITS);
  return Number((part << BigInt(shift)) / whole) * 2 ** -shift;
}

function bits(number: bigint): number {
  return number.toString(16).length * 4;
}
