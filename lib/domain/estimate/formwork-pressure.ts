import { finiteAbove, notNegative } from "#lib/domain/estimate/amount";

/** Exact by definition: mm of a foot, kg of a pound, and kPa of a pound-force on a square foot. */
const MM_PER_FT = 304.8;
const KG_PER_LB = 0.45359237;
const KPA_PER_PSF = (KG_PER_LB * 9.80665) / (MM_PER_FT / 1_000) ** 2 / 1_000;
const KG_M3_PER_PCF = KG_PER_LB / (MM_PER_FT / 1_000) ** 3;

/** Least value of the equations, psf, times Cw. */
const LEAST_PSF = 600;
/** Walls up to this height and slower than this rate follow the equation of columns; faster than the second rate they press as a liquid. */
const LOW_WALL_FT = 14;
const SLOW_FT_H = 7;
const FAST_FT_H = 15;
/** What pumping in from the base adds to the liquid head. */
const PUMPED = 1.25;

export interface Placing {
  /** Fresh grout or concrete, kg/m³. */
  densityKgM3: number;
  /** Of the placing at the foot, mm. */
  headMm: number;
  /** Rise, m/h. */
  rateMPerH: number;
  /** Of the mix, °C, above −17.8 (0 °F). */
  celsius: number;
  /** Chemistry coefficient Cc: 1.0, 1.2 or 1.4 by cement and retarder. */
  chemistry: number;
  /** A column has no side over 2 m (6.5 ft), so that a jacket is one. */
  element?: "column" | "wall";
  pumpedFromBase?: boolean;
}

export interface FormworkPressure {
  kpa: number;
  governs: "the equation" | "the least value" | "the liquid head" | "the liquid head and a quarter";
}

/**
 * Lateral pressure on a form, kPa. Columns, and walls under 7 ft/h up to 14 ft high: Cc·Cw·(150 + 9000·R/T) psf. Other walls up to 15 ft/h:
 * Cc·Cw·(150 + 43 400/T + 2800·R/T) psf. Either at least 600·Cw psf, and never more than the full liquid head. Faster walls: the liquid head.
 * Pumped in from the base: the liquid head and a quarter. R in ft/h, T in °F: worked in the units of the equations, since the SI ones are rounded apart
 * from them by up to 5 %.
 *
 * The equations hold for concrete of slump up to 7 in (175 mm) that is vibrated from inside no deeper than 4 ft (1.2 m). Fluid grout in a flexible jacket
 * presses with the full head: this is a second opinion beside it, never in its place.
 * @throws RangeError for a density or coefficient that is not more than zero, a negative head or rate, or a temperature at or below 0 °F.
 * @source ACI 347R-14, 4.2.2.1 and 4.2.2.4 (read in two public sources that agree, the document itself not opened).
 */
export function formworkPressureKpa({ densityKgM3, headMm, rateMPerH, celsius, chemistry, element = "column", pumpedFromBase = false }: Placing): FormworkPressure {
  const pcf = finiteAbove(densityKgM3, 0, "A density") / KG_M3_PER_PCF;
  const headFt = notNegative(headMm, "A head") / MM_PER_FT;
  const rateFtH = (notNegative(rateMPerH, "A rate") * 1_000) / MM_PER_FT;
  const fahrenheit = finiteAbove(1.8 * celsius + 32, 0, "A temperature in °F");
  const coefficient = finiteAbove(chemistry, 0, "A coefficient") * weightCoefficient(densityKgM3);
  const liquid = pcf * headFt;

  if (pumpedFromBase) return { kpa: liquid * PUMPED * KPA_PER_PSF, governs: "the liquid head and a quarter" };
  if (element === "wall" && rateFtH > FAST_FT_H) return { kpa: liquid * KPA_PER_PSF, governs: "the liquid head" };
  const asColumn = element === "column" || (rateFtH < SLOW_FT_H && headFt <= LOW_WALL_FT);
  const worked = coefficient * (150 + (asColumn ? 9_000 * rateFtH : 43_400 + 2_800 * rateFtH) / fahrenheit);
  const least = LEAST_PSF * weightCoefficient(densityKgM3);
  const psf = Math.min(liquid, Math.max(worked, least));
  return { kpa: psf * KPA_PER_PSF, governs: psf === liquid ? "the liquid head" : psf === least ? "the least value" : "the equation" };
}

/**
 * Unit weight coefficient Cw: 0.5·(1 + w/145) and at least 0.80 under 140 lb/ft³, 1 up to 150, w/145 above.
 * @source ACI 347R-14, table 4.2.2.1a(a).
 */
function weightCoefficient(densityKgM3: number): number {
  const pcf = densityKgM3 / KG_M3_PER_PCF;
  if (pcf < 140 * (1 - 1e-9)) return Math.max(0.8, 0.5 * (1 + pcf / 145));
  return pcf <= 150 * (1 + 1e-9) ? 1 : pcf / 145;
}
