import { finiteAbove, notNegative, wholePieces } from "#lib/domain/estimate/amount";
import { judge } from "#lib/domain/quantity/compare";
import { Decimal } from "#lib/domain/quantity/decimal";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";

const MM3_PER_ML = 1000;

export interface AnchorHole {
  /** mm, each more than zero. */
  holeDiameterMm: number;
  barDiameterMm: number;
  depthMm: number;
}

/**
 * Resin that fills the gap round a bar in its hole, mL: π/4·(hole² − bar²)·depth. The end of the hole past the bar is left out.
 * @returns null when the bar does not go into the hole: it cannot be told.
 * @throws RangeError for a size that is not more than zero.
 */
export function holeVolumeMl({ holeDiameterMm, barDiameterMm, depthMm }: AnchorHole): number | null {
  const hole = finiteAbove(holeDiameterMm, 0, "The diameter of a hole");
  const bar = finiteAbove(barDiameterMm, 0, "The diameter of a bar");
  const depth = finiteAbove(depthMm, 0, "The depth of a hole");
  return bar < hole ? ((Math.PI / 4) * (hole ** 2 - bar ** 2) * depth) / MM3_PER_ML : null;
}

/**
 * Resin for several holes, mL, and the cartridges it takes.
 * @param volumeMl  One hole's, mL, more than zero.
 * @param wasteShare  What is lost, as a share of what the holes hold, zero or more: 0.25 for 25 %.
 * @param cartridgeMl  What can be used of one cartridge, mL, more than zero.
 * @throws RangeError outside those ranges, or for no hole.
 */
export function holesResin({ volumeMl, holes, wasteShare, cartridgeMl }: { volumeMl: number; holes: number; wasteShare: number; cartridgeMl: number }): { netMl: number; totalMl: number; cartridges: number } {
  if (!(Number.isInteger(holes) && holes >= 1)) throw new RangeError("There is one hole or more.");
  const netMl = finiteAbove(volumeMl, 0, "The volume of a hole") * holes;
  const totalMl = netMl * (1 + notNegative(wasteShare, "A share of waste"));
  return { netMl, totalMl, cartridges: wholePieces(totalMl / finiteAbove(cartridgeMl, 0, "A cartridge")) };
}

export interface Injected {
  verdict: ValueVerdict;
  /** What is missing, mL; null where nothing is known to be. */
  shortMl: number | null;
  because: string | null;
}

/**
 * The resin injected into one hole against what its gap holds: less than that means air in the hole, or less depth than was drilled for.
 * @param injectedMl  Measured, mL, zero or more; null when it was not measured.
 * @param uncertaintyMl  Of that measurement, mL, zero or more; zero when it is not known.
 * @param volumeMl  What the gap holds, mL, more than zero; null when it cannot be told.
 * @throws RangeError outside those ranges.
 */
export function injectedAgainstVolume({ injectedMl, uncertaintyMl, volumeMl }: { injectedMl: number | null; uncertaintyMl: number; volumeMl: number | null }): Injected {
  if (injectedMl === null) return { verdict: "not measured", shortMl: null, because: "The resin that went in was not measured." };
  const injected = notNegative(injectedMl, "The resin that went in");
  const uncertainty = notNegative(uncertaintyMl, "An uncertainty");
  if (volumeMl === null) return { verdict: "cannot tell", shortMl: null, because: "What the hole holds is not known." };

  // Litre, millilitre or cubic metre: the comparison needs one unit, not which.
  const { verdict, beyond } = judge({ valueSi: injected, uncertaintySi: uncertainty, min: { si: new Decimal(finiteAbove(volumeMl, 0, "What a hole holds")), inclusive: true } });
  return beyond ? { verdict, shortMl: beyond.si.toNumber(), because: "Less went in than the hole holds: air, or less depth." } : { verdict, shortMl: null, because: null };
}
