import { Decimal } from "decimal.js";

/** A dimension line asked for with the values as they are written: decimal strings in one unit. */
export interface Dimension {
  value: string | null;
  uncertainty?: string | undefined;
  min?: string | undefined;
  max?: string | undefined;
  unit: string;
}

export interface DimensionScale {
  /** The line does not start at zero, so it shows a break at its left end. */
  broken: boolean;
  /** Where a number stands along the line, from 0 at the left to 1 at the right. */
  place(number: number): number;
}

const LEFT_END = 0.02;
const NEAREST = 0.3; // the smallest number drawn on a broken line, clear of the break
const FARTHEST = 0.86; // leaves room for a word at the right

/** Scales a line to the numbers on it. Starts at zero when that costs no more than half of the line. */
export function dimensionScale(numbers: readonly number[]): DimensionScale {
  const least = Math.min(...numbers);
  const most = Math.max(...numbers);
  if (least >= 0 && most > 0 && least <= most / 2) {
    return { broken: false, place: (number) => LEFT_END + (number / most) * (FARTHEST - LEFT_END) };
  }
  const spread = most - least || Math.abs(most) / 10 || 1;
  const start = most === least ? least - spread / 2 : least;
  return { broken: true, place: (number) => NEAREST + ((number - start) / spread) * (FARTHEST - NEAREST) };
}

/** The numbers a line has to show: value with its whisker, and the limits. */
export function drawnNumbers({ value, uncertainty, min, max }: Dimension): number[] {
  const half = uncertainty === undefined ? 0 : Number(uncertainty);
  const measured = value === null ? [] : [Number(value) - half, Number(value), Number(value) + half];
  const limits = [min, max].filter((limit) => limit !== undefined).map(Number);
  return [...measured, ...limits].filter(Number.isFinite);
}

/** How far the value lies outside its limits, written with as many decimals as the finer of the two; null inside them. */
export function shortfall({ value, min, max }: Dimension): { amount: string; side: "short" | "over"; limit: string } | null {
  if (value === null) return null;
  const outside = (limit: string, side: "short" | "over") => ({
    amount: new Decimal(limit).minus(value).abs().toFixed(Math.max(new Decimal(limit).decimalPlaces(), new Decimal(value).decimalPlaces())),
    side,
    limit,
  });
  if (min !== undefined && new Decimal(value).lt(min)) return outside(min, "short");
  if (max !== undefined && new Decimal(value).gt(max)) return outside(max, "over");
  return null;
}

/** The requirement as it stands in a drawing: "≥ 7.0", "65 … 72". */
export function limitWords({ min, max }: Dimension): string {
  if (min !== undefined && max !== undefined) return min === max ? min : `${min} … ${max}`;
  if (min !== undefined) return `≥ ${min}`;
  return max !== undefined ? `≤ ${max}` : "";
}

/** The line as a sentence: "Needs at least 7.0 in, measured 6.4, 0.6 short". */
export function dimensionSentence(dimension: Dimension, verdict: string): string {
  const { value, uncertainty, min, max, unit } = dimension;
  const needs =
    min !== undefined && max !== undefined
      ? min === max ? `Needs exactly ${min} ${unit}` : `Needs ${min} to ${max} ${unit}`
      : min !== undefined ? `Needs at least ${min} ${unit}`
      : max !== undefined ? `Needs at most ${max} ${unit}`
      : `No limit, in ${unit}`;
  if (value === null) return `${needs}, ${verdict}`;
  const outside = shortfall(dimension);
  const measured = `measured ${value}${uncertainty === undefined ? "" : ` ± ${uncertainty}`}`;
  const result = outside ? `${outside.amount} ${outside.side}` : verdict === "meets" ? null : verdict;
  return [needs, measured, result].filter(Boolean).join(", ");
}
