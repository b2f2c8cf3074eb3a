const DECIMAL = /^\d{1,10}(?:\.\d{1,25})?(?:e-\d{1,2})?$/;
const FRACTION = /^(\d{1,10})\/(\d{1,10})$/;
const LARGEST = 0xffff_ffff; // unsigned 32 bits: both parts of a fraction are exact in a double

/**
 * Reads the numbers of a field that stores fractions, written as decimals ("12 13 5.25") or as the fractions themselves
 * ("12/1 13/1 21/4").
 *
 * @returns Exactly `count` numbers, 0…4 294 967 295, exact to the last bit that a double holds; or null: another number of
 * them, a sign, a zero denominator (also as "NaN" or "Infinity") or anything past 32 bits.
 */
export function parseRationals(text: string, count: number): readonly number[] | null {
  const numbers = text.split(" ").map(parseRational);
  return numbers.length === count && numbers.every((number) => number !== null) ? numbers : null;
}

function parseRational(text: string): number | null {
  const [, numerator, denominator] = (FRACTION.exec(text) ?? []).map(Number);
  if (numerator !== undefined && denominator !== undefined) {
    return denominator === 0 || numerator > LARGEST || denominator > LARGEST ? null : numerator / denominator;
  }
  return DECIMAL.test(text) && Number(text) <= LARGEST ? Number(text) : null;
}
