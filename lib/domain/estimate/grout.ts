import { finiteAbove, notNegative, wholePieces, withWaste } from "#lib/domain/estimate/amount";

const MM3_PER_L = 1e6;

export interface Annulus {
  insideDiameterMm: number;
  pileAreaMm2: number;
  /** Bars that stand in the grout. */
  bars: number;
  barAreaMm2: number;
  /** Share of the pile's area that is lost, 0 to 1: it adds grout. */
  lost?: number;
}

/**
 * Area between jacket and pile, mm²: π/4·D² − pile − bars.
 * @throws RangeError for a size that is not finite or negative, a loss outside 0 to 1, or a pile that does not go in.
 */
export function annulusMm2({ insideDiameterMm, pileAreaMm2, bars, barAreaMm2, lost = 0 }: Annulus): number {
  if (!(lost >= 0 && lost <= 1)) throw new RangeError("A loss lies between nothing and all.");
  const pile = finiteAbove(pileAreaMm2, 0, "A pile's area") * (1 - lost);
  const area = (Math.PI / 4) * finiteAbove(insideDiameterMm, 0, "An inside diameter") ** 2 - pile - notNegative(bars, "A number of bars") * notNegative(barAreaMm2, "A bar's area");
  if (area <= 0) throw new RangeError("The jacket is smaller than what stands in it.");
  return area;
}

/** Grout of an annulus over a height, L, as worked out and without waste. Throws as `annulusMm2` does. */
export function groutL(annulus: number, heightMm: number): number {
  return (finiteAbove(annulus, 0, "An annulus") * notNegative(heightMm, "A height")) / MM3_PER_L;
}

/**
 * Bags for a pile: what is worked out with waste, divided by the yield of a bag and rounded up.
 * @throws RangeError for a yield that is not more than zero, or a negative amount.
 */
export function bags(volumeL: number, { bagYieldL, wastePct }: { bagYieldL: number; wastePct: number }): { exact: number; whole: number } {
  const exact = (notNegative(volumeL, "A volume") * withWaste(wastePct)) / finiteAbove(bagYieldL, 0, "A bag's yield");
  return { exact, whole: wholePieces(exact) };
}

export type TakeVerdict = "inside the band" | "low: void or short" | "high: leak or bulge";

/**
 * Grout placed over grout worked out, and where that lies against the project's band: one of the few checks on grout that nobody
 * sees. The ends of the band belong to it.
 * @throws RangeError for bags, a yield or a volume that is not more than zero, or a band that ends before it begins.
 */
export function groutTake(
  { bagsPlaced, bagYieldL, volumeL }: { bagsPlaced: number; bagYieldL: number; volumeL: number },
  band: { min: number; max: number },
): { ratio: number; verdict: TakeVerdict } {
  if (!(band.min <= band.max)) throw new RangeError("The band ends before it begins.");
  const ratio = (notNegative(bagsPlaced, "A number of bags") * finiteAbove(bagYieldL, 0, "A bag's yield")) / finiteAbove(volumeL, 0, "A volume");
  if (ratio < band.min * (1 - 1e-9)) return { ratio, verdict: "low: void or short" };
  return { ratio, verdict: ratio > band.max * (1 + 1e-9) ? "high: leak or bulge" : "inside the band" };
}
