import { finite, type Decimal, type DecimalValue } from "#lib/domain/quantity/decimal";

/**
 * How far the mixed share of part B is from the specified one, per cent: ((B/A) ÷ (b/a) − 1) × 100; negative is too little B.
 * Unrounded (to fifty digits), so that −5.00 % exactly stands on a limit of 5 %.
 *
 * Masses against a ratio by mass, or volumes against a ratio by volume: never one against the other. A and B share a unit.
 * @param a,b  The specified parts, such as 100 and 38.
 * @returns null when it cannot be told: no A, a negative B, or a specified part that is not more than zero.
 */
export function ratioErrorPct({ massA, massB, a, b }: { massA: DecimalValue; massB: DecimalValue; a: DecimalValue; b: DecimalValue }): Decimal | null {
  const [mixedA, mixedB, partA, partB] = [finite(massA), finite(massB), finite(a), finite(b)];
  if (mixedA.lte(0) || mixedB.lt(0) || partA.lte(0) || partB.lte(0)) return null;
  return mixedB.times(partA).div(mixedA.times(partB)).minus(1).times(100);
}
