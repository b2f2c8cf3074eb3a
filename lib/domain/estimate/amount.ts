/** Relative slack in "reached" and in rounding up, the same as in comparing measured values. */
const GUARD = 1e-9;

/** @throws RangeError unless the number is finite and more than the floor. */
export function finiteAbove(value: number, floor: number, name: string): number {
  if (!(value > floor && Number.isFinite(value))) throw new RangeError(`${name} has to be more than ${floor}.`);
  return value;
}

/** @throws RangeError unless the number is finite and not negative. */
export function notNegative(value: number, name: string): number {
  if (!(value >= 0 && Number.isFinite(value))) throw new RangeError(`${name} has to be zero or more.`);
  return value;
}

/**
 * Whole pieces that are needed: rounded up, with a guard of 1e-9 so that what a sum leaves in its last digit is no piece.
 * @throws RangeError unless the number is finite and not negative.
 */
export function wholePieces(value: number): number {
  notNegative(value, "A number of pieces");
  return Math.max(0, Math.ceil(value - Math.max(1, value) * GUARD));
}

/** What waste adds: 10 % is 1.10. @throws RangeError for a negative share. */
export function withWaste(wastePct: number): number {
  return 1 + notNegative(wastePct, "Waste") / 100;
}
