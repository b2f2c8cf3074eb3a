import { formatSi, shownNumber, withUnit } from "#lib/domain/quantity/measured";
import { fromSi, toSi, type Unit } from "#lib/domain/quantity/unit";
import type { Amount } from "#lib/domain/requirement/set";

/** A number that was worked out: unrounded in SI, with the unit in which the requirement set writes such numbers. */
export interface Figure {
  si: number;
  unit: Unit;
}

/** A part of an estimate: worked out, or why it cannot be. */
export type Part<T> = ({ known: true } & T) | { known: false; because: string };

export const known = <T>(values: T): { known: true } & T => ({ known: true, ...values });
export const unknown = (because: string): { known: false; because: string } => ({ known: false, because });

/** What the set writes, as a figure. */
export function figureOf({ value, unit }: Amount): Figure {
  return { si: toSi(value, unit).toNumber(), unit };
}

export const inches = (value: string): Figure => figureOf({ value, unit: "in" });

/** Places after the point that a crew or an estimator reads in each unit. */
const PLACES: Partial<Record<Unit, number>> = {
  in: 2, mm: 0, ft: 2, m: 3, mil: 0, "µm": 0, "in²": 1, "cm²": 0, "ft²": 2, "m²": 2, "in³": 2, "ft³": 2, L: 1, mL: 0, kg: 3, lb: 2, g: 0,
  "°C": 1, "°F": 0, psi: 2, kPa: 2, MPa: 2, lbf: 1, N: 0, kN: 2, "lb/ft³": 0, "kg/m³": 0, "kg/L": 2, "kg/min": 2, h: 1, min: 1, "in/h": 1, "mm/h": 0, "%": 1,
};

/** The unit of the other system that a crew member needs beside the first. */
const BESIDE: Partial<Record<Unit, Unit>> = {
  in: "mm", ft: "m", mil: "µm", "in²": "cm²", "ft²": "m²", "in³": "mL", "ft³": "L", lb: "kg", kg: "lb", "°C": "°F", psi: "kPa", lbf: "N", "lb/ft³": "kg/m³", "in/h": "mm/h",
  mm: "in", m: "ft", "µm": "mil", "cm²": "in²", "m²": "ft²", mL: "in³", L: "ft³", "°F": "°C", kPa: "psi", MPa: "psi", N: "lbf", kN: "lbf", "kg/m³": "lb/ft³", "mm/h": "in/h",
};

/** "159.86 in": rounded for reading only; nothing is ever judged by what is shown. */
export function shown({ si, unit }: Figure, places = PLACES[unit] ?? 2): string {
  return withUnit(shownDigits({ si, unit }, places), unit);
}

/** A number that the set writes, with no more digits than it has: "3.5 in". */
export function written({ si, unit }: Figure): string {
  return formatSi(si, unit);
}

/** The digits of `written` alone. */
export function writtenDigits({ si, unit }: Figure): string {
  return formatSi(si, unit).split(" ")[0] ?? "";
}

/** The digits alone, for a column whose head says the unit. */
export function shownDigits({ si, unit }: Figure, places = PLACES[unit] ?? 2): string {
  return shownNumber(fromSi(si, unit), places);
}

/** The same in the other system: "4061 mm". */
export function shownBeside({ si, unit }: Figure): string {
  const other = BESIDE[unit];
  return other === undefined ? "" : shown({ si, unit: other });
}

/** The number in its own unit, unrounded. */
export function inUnit({ si, unit }: Figure): number {
  return fromSi(si, unit).toNumber();
}

/** "31.2 °C": how warm the resin may be for one batch, in a column. */
export function oneBatchWords({ oneBatchUpToC, oneBatchThroughout }: { oneBatchUpToC: number | null; oneBatchThroughout: boolean }): string {
  if (oneBatchUpToC !== null) return `${oneBatchUpToC.toFixed(1)} °C`;
  return oneBatchThroughout ? "all of the data sheet" : "never";
}
