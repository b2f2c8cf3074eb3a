import { finiteAbove, notNegative } from "#lib/domain/estimate/amount";

/** Standard gravity, m/s². Exact by definition. */
const G = 9.80665;

/** Weight of a fluid, N/mm³: what 1 kg/m³ weighs is g × 1e-9 N/mm³. @throws RangeError for a density that is not more than zero. */
function unitWeight(densityKgM3: number): number {
  return finiteAbove(densityKgM3, 0, "A density") * G * 1e-9;
}

/**
 * Pressure at the foot of a head of grout that has not set, kPa: p = γ·h of all of it, not of the last lift. Where water stands outside
 * up to some height over the foot, its pressure is taken off.
 *
 * @param headMm   Head of unset grout, mm, zero or more.
 * @param waterMm  Water outside over the foot, mm; 0 in the dry.
 * @returns kPa; negative where the water outside presses harder.
 * @throws RangeError for a negative head, or a density that is not more than zero.
 */
export function footPressureKpa(headMm: number, { groutKgM3, waterMm = 0, waterKgM3 = 1025 }: { groutKgM3: number; waterMm?: number; waterKgM3?: number }): number {
  const inside = unitWeight(groutKgM3) * notNegative(headMm, "A head");
  const outside = unitWeight(waterKgM3) * notNegative(waterMm, "A depth of water");
  return (inside - outside) * 1_000;
}

/** Force on the bottom seal, N: the pressure on the annulus. @throws RangeError for an annulus that is not more than zero. */
export function sealForceN(pressureKpa: number, annulusMm2: number): number {
  return (pressureKpa / 1_000) * finiteAbove(annulusMm2, 0, "An annulus");
}

/** Hoop force of a jacket for each mm of its height, N/mm: p·r. */
export function hoopForceNPerMm(pressureKpa: number, insideDiameterMm: number): number {
  return ((pressureKpa / 1_000) * finiteAbove(insideDiameterMm, 0, "An inside diameter")) / 2;
}

/** Hoop stress of a cured jacket, MPa: p·r over all its layers. */
export function hoopStressMpa(pressureKpa: number, { insideDiameterMm, layers, thicknessMm }: { insideDiameterMm: number; layers: number; thicknessMm: number }): number {
  return hoopForceNPerMm(pressureKpa, insideDiameterMm) / (finiteAbove(layers, 0, "A number of layers") * finiteAbove(thicknessMm, 0, "A thickness"));
}

export interface Ties {
  spacingMm: number;
  /** What one tie carries by its rating, N. */
  ratingN: number;
  /** The rating is divided by this: 1 or more. */
  factor: number;
}

/**
 * Load of the bottom tie of a jacket that has not cured, N: the pressure halfway up its spacing, on the strip of half a spacing above
 * and below it, T = γ·z̄·r·s with z̄ = head − s/2.
 * A head lower than the spacing loads the tie with all of it.
 * @throws RangeError for a negative head, or a size that is not more than zero.
 */
export function tieLoadN(headMm: number, { groutKgM3, insideDiameterMm, spacingMm }: { groutKgM3: number; insideDiameterMm: number; spacingMm: number }): number {
  const weight = unitWeight(groutKgM3);
  const radius = finiteAbove(insideDiameterMm, 0, "An inside diameter") / 2;
  const spacing = Math.min(finiteAbove(spacingMm, 0, "A tie spacing"), notNegative(headMm, "A head"));
  return weight * (headMm - spacing / 2) * radius * spacing;
}

/** What one tie may carry, N: its rating over the factor. @throws RangeError for a rating that is not more than zero, or a factor under 1. */
export function tieAllowedN({ ratingN, factor }: Ties): number {
  if (!(factor >= 1 && Number.isFinite(factor))) throw new RangeError("A factor on a tie is 1 or more.");
  return finiteAbove(ratingN, 0, "A tie's rating") / factor;
}

/**
 * The highest head of unset grout that ties carry on a jacket that has not cured, mm.
 * @throws RangeError as `tieLoadN` and `tieAllowedN` do.
 */
export function tieHeadLimitMm(ties: Ties, { groutKgM3, insideDiameterMm }: { groutKgM3: number; insideDiameterMm: number }): number {
  const allowed = tieAllowedN(ties);
  const perMm = unitWeight(groutKgM3) * (finiteAbove(insideDiameterMm, 0, "An inside diameter") / 2);
  // Under one spacing the load is γ·r·h²/2; above it, γ·r·s·(h − s/2).
  const low = Math.sqrt((2 * allowed) / perMm);
  return low <= ties.spacingMm ? low : allowed / (perMm * ties.spacingMm) + ties.spacingMm / 2;
}
