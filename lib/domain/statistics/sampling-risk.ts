import { Decimal } from "#lib/domain/quantity/decimal";

/** Largest lot that is worked out. */
export const LARGEST_LOT = 10_000;

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
 * Chance that a sample is accepted, 0 to 1: the hypergeometric distribution, Σ C(D, k)·C(N − D, n − k) / C(N, n) for k to c, exact to the
 * digits of a number. With `accept` 0 it is the chance that the sample finds none of the bad ones.
 *
 * @throws RangeError for numbers that are not whole, a lot outside 1 to 10 000, or more bad or checked ones than the lot has.
 * @source The hypergeometric distribution. Which sample is enough is the specification's to say: no table of a standard is copied here.
 */
export function acceptProbability({ lot, bad, checked, accept }: Sampling): number {
  checkSampling({ lot, bad, checked, accept });
  const most = Math.min(accept, bad, checked);
  const total = new Decimal(logChoose(lot, checked));
  let sum = 0;
  for (let found = Math.max(0, checked - (lot - bad)); found <= most; found++) {
    sum += total.negated().plus(logChoose(bad, found)).plus(logChoose(lot - bad, checked - found)).exp().toNumber();
  }
  return Math.min(1, sum);
}

/**
 * The smallest sample that finds at least one of the bad ones with a chance of `detect` or more.
 * @param detect  0 to 1.
 * @returns null where there are no bad ones to find.
 * @throws RangeError as `acceptProbability` does.
 */
export function smallestSample({ lot, bad, detect }: { lot: number; bad: number; detect: number }): number | null {
  checkSampling({ lot, bad, checked: 0, accept: 0 });
  if (!(detect >= 0 && detect <= 1)) throw new RangeError("A chance lies between 0 and 1.");
  if (bad === 0) return null;
  let missed = 1;
  for (let checked = 0; checked <= lot; checked++) {
    if (1 - missed >= detect - 1e-12) return checked;
    missed *= Math.max(0, lot - bad - checked) / (lot - checked);
  }
  return lot;
}

/** The chance of acceptance for each number of bad ones, from none on: the curve that says what a sample cannot show. */
export function acceptCurve({ lot, checked, accept }: Omit<Sampling, "bad">, points = 40): { bad: number; chance: number }[] {
  const step = Math.max(1, Math.ceil(lot / points));
  const bads = Array.from({ length: Math.floor(lot / step) + 1 }, (_, index) => index * step);
  return bads.map((bad) => ({ bad, chance: acceptProbability({ lot, bad, checked, accept }) }));
}

function checkSampling({ lot, bad, checked, accept }: Sampling): void {
  if (![lot, bad, checked, accept].every((number) => Number.isInteger(number) && number >= 0)) throw new RangeError("A sample is counted in whole numbers.");
  if (lot < 1 || lot > LARGEST_LOT) throw new RangeError(`A lot has 1 to ${LARGEST_LOT}.`);
  if (bad > lot || checked > lot) throw new RangeError("There are no more bad or checked ones than the lot has.");
}

/** Digits in which logarithms are added: their differences lose as many as a lot has. */
const Wide = Decimal.clone({ precision: 40 });
const factorials: Decimal[] = [new Wide(0)];

function logFactorial(n: number): Decimal {
  for (let next = factorials.length; next <= n; next++) factorials.push((factorials[next - 1] ?? new Wide(0)).plus(new Wide(next).ln()));
  return factorials[n] ?? new Wide(0);
}

function logChoose(n: number, k: number): Decimal {
  return logFactorial(n).minus(logFactorial(k)).minus(logFactorial(n - k));
}
