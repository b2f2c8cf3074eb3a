import { Decimal as Base } from "decimal.js";

/**
 * The decimals that measured numbers are computed with. Fifty digits keep every product of an entry (at most 20 digits)
 * and a conversion factor (at most 17) exact, and leave guard digits where a factor divides without end (°F, psi, km/h).
 * Rounding is to the nearest, halves away from zero, the way a person rounds on paper.
 */
export const Decimal = Base.clone({ precision: 50, rounding: Base.ROUND_HALF_UP, defaults: true });
export type Decimal = Base;
/** Whatever can be read as a decimal: text as records keep it, a whole number from the code, or a Decimal. */
export type DecimalValue = Base.Value;

/**
 * Reads a number for computing with.
 * @throws RangeError when it is NaN or infinite: neither is ever a measured number.
 */
export function finite(value: DecimalValue): Decimal {
  const number = new Decimal(value);
  if (!number.isFinite()) throw new RangeError(`${number.toString()} is not a number that can be measured.`);
  return number;
}

/** The number in plain digits, never with an exponent. */
export function plain(value: Decimal): string {
  return new Decimal(value).toFixed();
}
