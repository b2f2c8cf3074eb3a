import { finiteAbove, notNegative } from "#lib/domain/estimate/amount";

/** Standard gravity, m/s². */
const G = 9.80665;
/** Least value of the two equations, kPa, times Cw. */
const LEAST_KPA = 30;

export interface Placing {
  /** Fresh grout or concrete, kg/m³. */
  densityKgM3: number;
  /** Of the placing at the foot, mm. */
  headMm: number;
  /** Rise, m/h. */
  rateMPerH: number;
  /** Of the mix, °C. */
  celsius: number;
  /** Chemistry coefficient Cc: 1.0, 1.2 or 1.4 by cement and retarder. */
  chemistry: number;
}

/**
 * Lateral pressure on a form of column size by the equation for columns, kPa: Cc·Cw·(7.2 + 785·R/(T + 17.8)), at least 30·Cw and never more
 * than the full liquid head.
 *
 * It holds for concrete of low slump that is vibrated from inside. Fluid grout in a flexible jacket presses with the full head: this is
 * a second opinion beside it, never in its place.
 * @throws RangeError for a density or coefficient that is not more than zero, a negative head or rate, or a temperature at or below −17.8 °C.
 * @source ACI 347R-14, 4.2.2.1, SI equations (read in two public sources that agree, the document itself not opened).
 */
export function columnPressureKpa({ densityKgM3, headMm, rateMPerH, celsius, chemistry }: Placing): number {
  const liquid = (finiteAbove(densityKgM3, 0, "A density") * G * notNegative(headMm, "A head")) / 1e6;
  const weight = weightCoefficient(densityKgM3);
  finiteAbove(celsius, -17.8, "A temperature");
  const worked = finiteAbove(chemistry, 0, "A coefficient") * weight * (7.2 + (785 * notNegative(rateMPerH, "A rate")) / (celsius + 17.8));
  return Math.min(liquid, Math.max(worked, LEAST_KPA * weight));
}

/** Unit weight coefficient Cw. @source ACI 347R-14, table 4.2.2.1a(a). */
export function weightCoefficient(densityKgM3: number): number {
  if (densityKgM3 < 2240) return Math.max(0.8, 0.5 * (1 + densityKgM3 / 2320));
  return densityKgM3 <= 2400 ? 1 : densityKgM3 / 2320;
}
