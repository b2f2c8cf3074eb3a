import { finite, type Decimal, type DecimalValue } from "#lib/domain/quantity/decimal";

/**
 * What a calibration found, in both forms in use, from the two readings themselves (any one unit), because a percentage
 * alone leaves open which of the two was meant: a wrench that clicks at 65 and delivers 57.85 delivers 11.0 % too little
 * (`deliveredPct` −11.0, as crews say) and shows 12.36 % too much (`indicatedPct` +12.36, as certificates print).
 * `delivered` per `indicated` is the factor that corrects earlier readings.
 * @throws RangeError unless both readings are finite and more than zero.
 */
export function asFound(readings: { indicated: DecimalValue; delivered: DecimalValue }): { deliveredPct: Decimal; indicatedPct: Decimal; factor: Decimal } {
  const indicated = finite(readings.indicated);
  const delivered = finite(readings.delivered);
  if (indicated.lte(0) || delivered.lte(0)) throw new RangeError("Both readings of a calibration have to be more than zero.");
  const share = (of: Decimal, against: Decimal) => of.div(against).minus(1).times(100);
  return { deliveredPct: share(delivered, indicated), indicatedPct: share(indicated, delivered), factor: delivered.div(indicated) };
}
