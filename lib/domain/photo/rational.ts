/** A fraction as a metadata field stores it. Both parts are whole numbers of at most 32 bits, so they are exact in a double. */
export interface Rational {
  readonly numerator: number;
  readonly denominator: number;
}

const RATIONAL = /^(\d{1,10})\/(\d{1,10})$/;
const LARGEST = 0xffff_ffff; // unsigned 32 bits

/**
 * Reads fractions written "12/1 13/1 5/1".
 *
 * @returns Exactly `count` fractions, or null: another number of them, a sign, a zero denominator or anything past 32 bits.
 */
export function parseRationals(text: string, count: number): readonly Rational[] | null {
  const parts = text.split(" ");
  if (parts.length !== count) return null;

  const rationals: Rational[] = [];
  for (const part of parts) {
    const match = RATIONAL.exec(part);
    if (match === null) return null;
    const numerator = Number(match[1]);
    const denominator = Number(match[2]);
    if (denominator === 0 || numerator > LARGEST || denominator > LARGEST) return null;
    rationals.push({ numerator, denominator });
  }
  return rationals;
}

/** The fraction as a number: exact to the last bit that a double holds. */
export function rationalValue({ numerator, denominator }: Rational): number {
  return numerator / denominator;
}
