import { finite, type Decimal, type DecimalValue } from "#lib/domain/quantity/decimal";

/**
 * Embedment of a bar: its length less what stands out of the hole, in the unit of the two (SI in, SI out).
 * @returns null when it cannot be told: a negative length or projection, or more standing out than the bar is long.
 */
export function embedment(barLengthSi: DecimalValue, projectionSi: DecimalValue): Decimal | null {
  const length = finite(barLengthSi);
  const projection = finite(projectionSi);
  if (length.lt(0) || projection.lt(0) || projection.gt(length)) return null;
  return length.minus(projection);
}
