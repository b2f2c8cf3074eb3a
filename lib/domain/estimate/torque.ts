import { asFound } from "#lib/domain/quantity/as-found";
import { judge, type Judgement, type Limits } from "#lib/domain/quantity/compare";
import { finite, type Decimal, type DecimalValue } from "#lib/domain/quantity/decimal";

/** What a calibration found: the wrench clicked at `indicated` and delivered `delivered`, in any one unit. */
export interface CalibrationReadings {
  indicated: DecimalValue;
  delivered: DecimalValue;
}

/**
 * The torque that a reading stood for, in the unit of the reading: reading × delivered ÷ indicated. It takes the error found at one
 * setting to be the same share everywhere; common practice, no source.
 * @throws RangeError for a negative reading, or calibration readings that are not more than zero.
 */
export function trueTorque(reading: DecimalValue, found: CalibrationReadings): Decimal {
  const value = finite(reading);
  if (value.lt(0)) throw new RangeError("A torque cannot be negative.");
  return value.times(asFound(found).factor);
}

/**
 * A reading judged again by what it stood for, unrounded.
 * @param uncertaintySi  Of the calibration, N·m, zero or more; zero when it is not known.
 * @throws RangeError as `trueTorque` and `judge` do.
 */
export function rejudgedTorque({ readingSi, found, uncertaintySi, min, max }: { readingSi: DecimalValue; found: CalibrationReadings; uncertaintySi: DecimalValue } & Limits): Judgement & { trueSi: Decimal } {
  const trueSi = trueTorque(readingSi, found);
  return { trueSi, ...judge({ valueSi: trueSi, uncertaintySi, min, max }) };
}
