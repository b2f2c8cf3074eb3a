import { finiteAbove, notNegative } from "#lib/domain/estimate/amount";

export interface JacketRoll {
  insideDiameterMm: number;
  /** Of one layer. */
  thicknessMm: number;
  /** Whole, 1 or more. */
  layers: number;
  overlapMm: number;
}

/**
 * Length of strip for a jacket of n layers, mm: each layer lies on a mean diameter of D + (2k − 1)·t, so L = n·π·(D + n·t) + overlap.
 * @throws RangeError for a diameter or number of layers that is not more than zero, or a negative thickness or overlap.
 * @source Geometry of a rolled strip.
 */
export function jacketLengthMm(roll: JacketRoll): number {
  checkRoll(roll);
  const { insideDiameterMm, thicknessMm, layers, overlapMm } = roll;
  return layers * Math.PI * (insideDiameterMm + layers * thicknessMm) + overlapMm;
}

/**
 * Length of the faces that touch another layer and have to be coated, mm: one for each pair of layers, on the diameter between
 * the two, and the overlap. Throws as `jacketLengthMm` does.
 */
export function contactLengthMm(roll: JacketRoll): number {
  checkRoll(roll);
  const { insideDiameterMm, thicknessMm, layers, overlapMm } = roll;
  let length = overlapMm;
  for (let pair = 1; pair < layers; pair++) length += Math.PI * (insideDiameterMm + 2 * pair * thicknessMm);
  return length;
}

/** Share of the strip that is coated, 0 to 1. Throws as `jacketLengthMm` does. */
export function contactShare(roll: JacketRoll): number {
  return contactLengthMm(roll) / jacketLengthMm(roll);
}

function checkRoll({ insideDiameterMm, thicknessMm, layers, overlapMm }: JacketRoll): void {
  finiteAbove(insideDiameterMm, 0, "An inside diameter");
  notNegative(thicknessMm, "A thickness");
  notNegative(overlapMm, "An overlap");
  if (!(Number.isInteger(layers) && layers >= 1)) throw new RangeError("A jacket has one layer or more.");
}
