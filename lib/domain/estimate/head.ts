import { finiteAbove, notNegative, wholePieces } from "#lib/domain/estimate/amount";

/** Standard gravity, m/s². Exact by definition: with it 135 lb/ft³ weigh 135 lbf/ft³. */
const G = 9.80665;
/** Sea water, kg/m³; 64 lb/ft³ in round numbers. Common practice, no source. */
const SEA_WATER_KG_M3 = 1025;
const GUARD = 1e-9;
/** More ties than any jacket has: a slip of unit and no row of ties. */
const MOST_TIES = 1_000;

/** Weight of a fluid, N/mm³: what 1 kg/m³ weighs is g × 1e-9 N/mm³. @throws RangeError for a density that is not more than zero. */
function unitWeight(densityKgM3: number): number {
  return finiteAbove(densityKgM3, 0, "A density") * G * 1e-9;
}

/** MPa. @throws RangeError for a pressure that is not finite. */
function megapascals(pressureKpa: number): number {
  if (!Number.isFinite(pressureKpa)) throw new RangeError("A pressure has to be a finite number.");
  return pressureKpa / 1_000;
}

/**
 * Pressure at the foot of a head of grout that has not set, kPa: p = γ·h of all of it, not of the last lift. Where water stands outside
 * up to some height over the foot, its pressure is taken off: with water as high as the grout that leaves (γ − γw)·h.
 *
 * @param headMm   Head of unset grout, mm, zero or more.
 * @param waterMm  Water outside over the foot, mm, at its lowest while the grout is soft; 0 in the dry.
 * @returns kPa; negative where the water outside presses harder.
 * @throws RangeError for a negative head, or a density that is not more than zero.
 */
export function footPressureKpa(
  headMm: number,
  { groutKgM3, waterMm = 0, waterKgM3 = SEA_WATER_KG_M3 }: { groutKgM3: number; waterMm?: number; waterKgM3?: number },
): number {
  const inside = unitWeight(groutKgM3) * notNegative(headMm, "A head");
  const outside = unitWeight(waterKgM3) * notNegative(waterMm, "A depth of water");
  return (inside - outside) * 1_000;
}

/** Force on the bottom seal, N: the pressure on the annulus. @throws RangeError for a pressure that is not finite, or an annulus that is not more than zero. */
export function sealForceN(pressureKpa: number, annulusMm2: number): number {
  return megapascals(pressureKpa) * finiteAbove(annulusMm2, 0, "An annulus");
}

/** Hoop force of a jacket for each mm of its height, N/mm: p·r. @throws RangeError for a pressure that is not finite, or a diameter that is not more than zero. */
export function hoopForceNPerMm(pressureKpa: number, insideDiameterMm: number): number {
  return (megapascals(pressureKpa) * finiteAbove(insideDiameterMm, 0, "An inside diameter")) / 2;
}

/** Hoop stress of a cured jacket, MPa: p·r over all its layers. @throws RangeError as `hoopForceNPerMm` does, and for layers that are not more than nothing. */
export function hoopStressMpa(pressureKpa: number, { insideDiameterMm, layers, thicknessMm }: { insideDiameterMm: number; layers: number; thicknessMm: number }): number {
  return hoopForceNPerMm(pressureKpa, insideDiameterMm) / (finiteAbove(layers, 0, "A number of layers") * finiteAbove(thicknessMm, 0, "A thickness"));
}

/** A jacket that has not cured, with the grout in it. */
export interface SoftJacket {
  groutKgM3: number;
  insideDiameterMm: number;
}

export interface Ties {
  spacingMm: number;
  /** What one tie carries by its rating, N. */
  ratingN: number;
  /** The rating is divided by this: 1 or more. */
  factor: number;
}

/**
 * Load of each tie of a jacket that has not cured, N, from the bottom up to the head: the pressure halfway up its strip, on half a spacing above
 * and below it, T = γ·z̄·r·s. The bottom tie has z̄ = head − s/2; the strip of the top tie ends at the head. Together they carry γ·r·h²/2.
 * @returns none for no head.
 * @throws RangeError for a negative head, a size that is not more than zero, or more than a thousand ties.
 */
export function tieLoadsN(headMm: number, { groutKgM3, insideDiameterMm, spacingMm }: SoftJacket & Pick<Ties, "spacingMm">): number[] {
  const perMm = unitWeight(groutKgM3) * (finiteAbove(insideDiameterMm, 0, "An inside diameter") / 2);
  const spacing = finiteAbove(spacingMm, 0, "A tie spacing");
  const ties = notNegative(headMm, "A head") / spacing;
  if (ties > MOST_TIES) throw new RangeError(`A jacket has no more than ${MOST_TIES} ties.`);
  return Array.from({ length: wholePieces(ties) }, (_, index) => {
    const foot = index * spacing;
    const strip = Math.min(spacing, headMm - foot);
    return perMm * (headMm - foot - strip / 2) * strip;
  });
}

/** Load of the bottom tie, the highest of all, N. A head lower than the spacing loads it with all of the grout. @throws RangeError as `tieLoadsN` does. */
export function tieLoadN(headMm: number, jacket: SoftJacket & Pick<Ties, "spacingMm">): number {
  return tieLoadsN(headMm, jacket)[0] ?? 0;
}

/** What one tie may carry, N: its rating over the factor. @throws RangeError for a rating that is not more than zero, or a factor under 1. */
export function tieAllowedN({ ratingN, factor }: Pick<Ties, "ratingN" | "factor">): number {
  if (!(factor >= 1 && Number.isFinite(factor))) throw new RangeError("A factor on a tie is 1 or more.");
  return finiteAbove(ratingN, 0, "A tie's rating") / factor;
}

/**
 * Whether the ties carry a head of unset grout on a jacket that has not cured. Exactly what a tie may carry is carried.
 * @throws RangeError as `tieLoadN` and `tieAllowedN` do.
 */
export function tiesCarry(headMm: number, ties: Ties, jacket: SoftJacket): { loadN: number; allowedN: number; carries: boolean; because: string } {
  const loadN = tieLoadN(headMm, { ...jacket, spacingMm: ties.spacingMm });
  const allowedN = tieAllowedN(ties);
  const carries = loadN <= allowedN * (1 + GUARD);
  return { loadN, allowedN, carries, because: carries ? "" : "The ties cannot carry this lift: a cured jacket is required." };
}

/**
 * The highest head of unset grout that ties carry on a jacket that has not cured, mm.
 * @throws RangeError as `tieLoadN` and `tieAllowedN` do.
 */
export function tieHeadLimitMm(ties: Ties, { groutKgM3, insideDiameterMm }: SoftJacket): number {
  const allowed = tieAllowedN(ties);
  const spacing = finiteAbove(ties.spacingMm, 0, "A tie spacing");
  const perMm = unitWeight(groutKgM3) * (finiteAbove(insideDiameterMm, 0, "An inside diameter") / 2);
  // Under one spacing the load is γ·r·h²/2; above it, γ·r·s·(h − s/2).
  const low = Math.sqrt((2 * allowed) / perMm);
  return low <= spacing ? low : allowed / (perMm * spacing) + spacing / 2;
}
