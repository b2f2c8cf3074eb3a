import { finiteAbove, notNegative, wholePieces, withWaste } from "#lib/domain/estimate/amount";

const MM3_PER_L = 1e6;
const GUARD = 1e-9;

export interface Annulus {
  insideDiameterMm: number;
  pileAreaMm2: number;
  /** Bars that stand in the grout, a whole number. */
  bars: number;
  barAreaMm2: number;
  /** Share of the pile's area that is lost, 0 to 1: it adds grout. */
  lost?: number;
}

/**
 * Area between jacket and pile, mm²: π/4·D² − pile − bars.
 * @throws RangeError for a size that is not finite or negative, bars that are not whole, a loss outside 0 to 1, or a pile that does not go in.
 */
export function annulusMm2({ insideDiameterMm, pileAreaMm2, bars, barAreaMm2, lost = 0 }: Annulus): number {
  if (!(lost >= 0 && lost <= 1)) throw new RangeError("A loss lies between nothing and all.");
  if (!Number.isInteger(bars)) throw new RangeError("Bars are counted in whole numbers.");
  const pile = finiteAbove(pileAreaMm2, 0, "A pile's area") * (1 - lost);
  const steel = notNegative(bars, "A number of bars") * notNegative(barAreaMm2, "A bar's area");
  const area = (Math.PI / 4) * finiteAbove(insideDiameterMm, 0, "An inside diameter") ** 2 - pile - steel;
  if (area <= 0) throw new RangeError("The jacket is smaller than what stands in it.");
  return finiteAbove(area, 0, "An annulus");
}

/**
 * Grout of an annulus over a height, L, as worked out and without waste.
 * @throws RangeError for an annulus that is not more than zero, or a negative height.
 */
export function groutL(annulus: number, heightMm: number): number {
  return notNegative((finiteAbove(annulus, 0, "An annulus") * notNegative(heightMm, "A height")) / MM3_PER_L, "A volume");
}

export interface Bagged {
  /** Liters of grout that one bag gives, as its label says. */
  bagYieldL: number;
  wastePct: number;
}

/**
 * Bags for a pile: what is worked out with waste, divided by the yield of a bag and rounded up.
 * @throws RangeError for a yield that is not more than zero, or a negative amount.
 */
export function bags(volumeL: number, { bagYieldL, wastePct }: Bagged): { exact: number; whole: number } {
  const exact = (notNegative(volumeL, "A volume") * withWaste(wastePct)) / finiteAbove(bagYieldL, 0, "A bag's yield");
  return { exact, whole: wholePieces(exact) };
}

/**
 * Bags for each lift of a pour, and for the pile. A lift takes parts of bags, told to a tenth: an opened bag goes on into the next lift, so that only the
 * whole pile is rounded up.
 * @throws RangeError as `groutL` and `bags` do.
 */
export function bagsByLift(annulus: number, heightsMm: readonly number[], mix: Bagged): { lifts: number[]; exact: number; whole: number } {
  const lifts = heightsMm.map((height) => bags(groutL(annulus, height), mix).exact);
  const pile = bags(groutL(annulus, heightsMm.reduce((sum, height) => sum + height, 0)), mix);
  return { lifts, ...pile };
}

export type TakeVerdict = "inside the band" | "low: void or short" | "high: leak or bulge";

/**
 * Grout placed over grout worked out, and where that lies against the project's band: one of the few checks on grout that nobody
 * sees. The ends of the band belong to it.
 * @throws RangeError for a negative number of bags, a yield or a volume that is not more than zero, or a band that is not finite, is negative or ends before
 *   it begins.
 */
export function groutTake(
  { bagsPlaced, bagYieldL, volumeL }: { bagsPlaced: number; bagYieldL: number; volumeL: number },
  band: { min: number; max: number },
): { ratio: number; verdict: TakeVerdict } {
  if (notNegative(band.max, "A band") < notNegative(band.min, "A band")) throw new RangeError("The band ends before it begins.");
  const placed = notNegative(bagsPlaced, "A number of bags") * finiteAbove(bagYieldL, 0, "A bag's yield");
  const ratio = notNegative(placed / finiteAbove(volumeL, 0, "A volume"), "A grout take");
  if (ratio < band.min * (1 - GUARD)) return { ratio, verdict: "low: void or short" };
  return { ratio, verdict: ratio > band.max * (1 + GUARD) ? "high: leak or bulge" : "inside the band" };
}
