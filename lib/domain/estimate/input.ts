/** Sizes outside this band are slips of the pen, and could overflow what is worked out from them. In mm, mL, kg, min or whatever the input is in. */
const SMALLEST = 1e-12;
const LARGEST = 1e12;

/** @throws RangeError unless the value is a size: 1e-12 to 1e12, which also refuses NaN and infinities. */
export function size(value: number, what: string): number {
  if (!(value >= SMALLEST && value <= LARGEST)) throw new RangeError(`${what} has to be a number more than zero.`);
  return value;
}

/** @throws RangeError unless the value is zero or a size up to 1e12. */
export function sizeOrZero(value: number, what: string): number {
  return value === 0 ? 0 : size(value, what);
}

/** @throws RangeError unless the value is a whole number from `least` to 1e6. */
export function count(value: number, least: number, what: string): number {
  if (!(Number.isInteger(value) && value >= least && value <= 1e6)) throw new RangeError(`${what} has to be a whole number, at least ${least}.`);
  return value;
}

/** Two sizes closer than this share of them are the same size, as in comparisons of measured values. Common practice, no source. */
export const SAME_SHARE = 1e-9;

/**
 * How many whole pieces (bags, cartridges, batches) a quantity takes: 25.0045 takes 26, and so does 26.0000000001, which is 26 with
 * what computing left behind.
 * @param pieces  Zero to 1e12.
 * @throws RangeError outside that range.
 */
export function wholePieces(pieces: number): number {
  return Math.ceil(sizeOrZero(pieces, "A quantity") * (1 - SAME_SHARE));
}
