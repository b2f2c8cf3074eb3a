import { finiteAbove } from "#lib/domain/estimate/amount";

/** Bond design holds between so many bar diameters of embedment. @source ACI 318-19, 17.3.3, from memory. */
const LEAST_DIAMETERS = 4;
const MOST_DIAMETERS = 20;

/**
 * Whether a bar's embedment lies where the usual bond design holds, 4 to 20 diameters. Outside it the engineer has another basis, or
 * none: it is no verdict on the bar.
 * @throws RangeError for a length that is not more than zero.
 * @source ACI 318-19, 17.3.3, from memory.
 */
export function bondDesignHolds({ barMm, embedmentMm }: { barMm: number; embedmentMm: number }): { diameters: number; holds: boolean } {
  const diameters = finiteAbove(embedmentMm, 0, "An embedment") / finiteAbove(barMm, 0, "A bar's diameter");
  return { diameters, holds: diameters >= LEAST_DIAMETERS * (1 - 1e-9) && diameters <= MOST_DIAMETERS * (1 + 1e-9) };
}

/**
 * Basic bond strength of a single adhesive anchor, N: Nba = λa·τ·π·da·hef. Arithmetic on a bond stress that the engineer gives.
 * @param bondMpa  Characteristic bond stress τ, MPa.
 * @throws RangeError for a value that is not more than zero.
 * @source ACI 318-19, equation 17.6.5.2.1.
 */
export function basicBondN({ barMm, embedmentMm, bondMpa, lightweight = 1 }: { barMm: number; embedmentMm: number; bondMpa: number; lightweight?: number }): number {
  return finiteAbove(lightweight, 0, "A factor") * finiteAbove(bondMpa, 0, "A bond stress") * Math.PI * finiteAbove(barMm, 0, "A bar's diameter") * finiteAbove(embedmentMm, 0, "An embedment");
}

/**
 * Distance at which a neighbour or an edge begins to weaken an adhesive anchor, mm: cNa = 10·da·√(τuncr / 7.6 MPa).
 * @param uncrackedBondMpa  Characteristic bond stress in uncracked concrete, MPa.
 * @source ACI 318-19, equation 17.6.5.1.2b (1100 psi is 7.6 MPa).
 */
export function bondReachMm({ barMm, uncrackedBondMpa }: { barMm: number; uncrackedBondMpa: number }): number {
  return 10 * finiteAbove(barMm, 0, "A bar's diameter") * Math.sqrt(finiteAbove(uncrackedBondMpa, 0, "A bond stress") / (1100 * 0.00689475729));
}
