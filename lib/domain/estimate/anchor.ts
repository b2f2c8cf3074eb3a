import { finiteAbove } from "#lib/domain/estimate/amount";

/** Bond design holds between so many bar diameters of embedment. @source ACI 318-19, 17.3.3, from memory. */
const LEAST_DIAMETERS = 4;
const MOST_DIAMETERS = 20;
/**
 * Least spacing and edge distance of post-installed anchors in bar diameters, where the report on the product sets no other.
 * @source ACI 318-19, tables 17.9.2(a) and 17.9.2(b), from memory.
 */
const APART_DIAMETERS = 6;
/** The bond stress to which cNa is scaled, MPa: 1100 psi. */
const SCALE_MPA = 1100 * 0.006894757293168;
const GUARD = 1e-9;

/**
 * Least characteristic bond stress of qualified adhesives, MPa, where no product has been chosen: 200 and 650 psi outdoors in dry to saturated concrete,
 * 300 and 1000 psi indoors in dry concrete. Earthquake and sustained tension reduce them; that is the engineer's.
 * @source ACI 318-19, table 17.6.5.2.5 (read in a design guide that quotes it).
 */
export const LEAST_BOND_MPA = {
  outdoors: { cracked: 200 * 0.006894757293168, uncracked: 650 * 0.006894757293168 },
  indoors: { cracked: 300 * 0.006894757293168, uncracked: 1000 * 0.006894757293168 },
} as const;

/**
 * Whether a bar's embedment lies where the usual bond design holds, 4 to 20 diameters. Outside it the engineer has another basis, or
 * none: it is no verdict on the bar.
 * @throws RangeError for a length that is not more than zero.
 * @source ACI 318-19, 17.3.3, from memory.
 */
export function bondDesignHolds({ barMm, embedmentMm }: { barMm: number; embedmentMm: number }): { diameters: number; holds: boolean } {
  const diameters = inDiameters(embedmentMm, barMm, "An embedment");
  return { diameters, holds: reaches(diameters, LEAST_DIAMETERS) && diameters <= MOST_DIAMETERS * (1 + GUARD) };
}

export interface Apart {
  diameters: number;
  leastMm: number;
  reached: boolean;
}

/**
 * Spacing and edge distance of a bar in a hole, in its diameters, against the least of 6 that holds for either where the report on the product sets no
 * other. Under it the engineer has that report, or none: it is no verdict on the bar.
 * @param spacingMm,edgeMm  From the middle of the bar; null where it is not known.
 * @returns null for what is not known.
 * @throws RangeError for a length that is not more than zero.
 * @source ACI 318-19, tables 17.9.2(a) and 17.9.2(b), from memory.
 */
export function barsApart({ barMm, spacingMm, edgeMm }: { barMm: number; spacingMm: number | null; edgeMm: number | null }): { spacing: Apart | null; edge: Apart | null } {
  const apart = (lengthMm: number | null, name: string): Apart | null => {
    if (lengthMm === null) return null;
    const diameters = inDiameters(lengthMm, barMm, name);
    return { diameters, leastMm: APART_DIAMETERS * barMm, reached: reaches(diameters, APART_DIAMETERS) };
  };
  return { spacing: apart(spacingMm, "A spacing"), edge: apart(edgeMm, "An edge distance") };
}

/**
 * Basic bond strength of a single adhesive anchor, N: Nba = λa·τ·π·da·hef. Arithmetic on a bond stress that the engineer gives; without edges,
 * neighbours or a strength reduction.
 * @param bondMpa  Characteristic bond stress τ, MPa.
 * @param lightweight  λa, more than 0; 1 for normal concrete.
 * @throws RangeError for a value that is not more than zero.
 * @source ACI 318-19, equation 17.6.5.2.1 (read in a design guide that quotes it).
 */
export function basicBondN({ barMm, embedmentMm, bondMpa, lightweight = 1 }: { barMm: number; embedmentMm: number; bondMpa: number; lightweight?: number }): number {
  const bonded = Math.PI * finiteAbove(barMm, 0, "A bar's diameter") * finiteAbove(embedmentMm, 0, "An embedment");
  return finiteAbove(lightweight, 0, "A factor") * finiteAbove(bondMpa, 0, "A bond stress") * bonded;
}

/**
 * Distance at which an edge, and half the distance at which a neighbour, begins to weaken an adhesive anchor, mm: cNa = 10·da·√(τuncr / 1100 psi).
 * @param uncrackedBondMpa  Characteristic bond stress in uncracked concrete, MPa.
 * @throws RangeError for a value that is not more than zero.
 * @source ACI 318-19, equation 17.6.5.1.2b (read in a design guide that quotes it).
 */
export function bondReachMm({ barMm, uncrackedBondMpa }: { barMm: number; uncrackedBondMpa: number }): number {
  return 10 * finiteAbove(barMm, 0, "A bar's diameter") * Math.sqrt(finiteAbove(uncrackedBondMpa, 0, "A bond stress") / SCALE_MPA);
}

function inDiameters(lengthMm: number, barMm: number, name: string): number {
  return finiteAbove(lengthMm, 0, name) / finiteAbove(barMm, 0, "A bar's diameter");
}

function reaches(diameters: number, least: number): boolean {
  return diameters >= least * (1 - GUARD);
}
