import { Decimal } from "#lib/domain/quantity/decimal";
import { formatSi } from "#lib/domain/quantity/measured";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";

/** What a check comes to: the number first, then what it is held against. */
export interface CheckResult {
  verdict: ValueVerdict | null;
  words: string;
  notes: string[];
}

export interface SamplingCheck extends CheckResult {
  lot: number;
  bad: number;
  chance: number;
  curve: { bad: number; chance: number }[];
}

export interface StrengthCheck extends CheckResult {
  rows: { test: number; mean: string; average: string }[];
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A length in both its units: "42 in (1067 mm)". */
export function inchesOf(mm: number): string {
  const m = new Decimal(mm).div(1_000);
  return `${formatSi(m, "in", 2)} (${formatSi(m, "mm", 0)})`;
}
