import type { Unit } from "#lib/domain/quantity/unit";
import type { LengthField } from "#lib/domain/schedule/field";

/** What an answer does to the rows that it is about. */
export type Effect =
  | { kind: "keep" }
  | { kind: "leave out"; rows: number[] }
  | { kind: "stop" }
  | { kind: "mark"; row: number; mark: string }
  | { kind: "type"; rows: number[]; type: string }
  | { kind: "unit"; rows: number[]; field: LengthField; unit: Unit }
  | { kind: "place"; rows: number[]; as: "swapped" | "other side" | "none" };

export interface ProposedAnswer {
  id: string;
  label: string;
  effect: Effect;
}

export const QUESTION_CODES = ["mark twice", "mark of another bent", "place twice", "length", "column unit", "far", "near", "type", "requirement"] as const;

/** Something about a row, or several alike, that only a person can settle. The id stays the same while the doubt does. */
export interface Question {
  id: string;
  code: (typeof QUESTION_CODES)[number];
  /** The first of `rows`, numbered as in the file. */
  row: number;
  rows: number[];
  /** Column from 0, where the doubt is about one. */
  column: number | null;
  message: string;
  detail: string;
  answers: ProposedAnswer[];
}

export function keep(label: string): ProposedAnswer {
  return { id: "keep", label, effect: { kind: "keep" } };
}
export function leaveOut(rows: number[]): ProposedAnswer {
  return { id: "leave-out", label: rows.length === 1 ? "leave the row out" : `leave the ${rows.length} rows out`, effect: { kind: "leave out", rows } };
}
export const STOP: ProposedAnswer = { id: "stop", label: "stop, the file is wrong", effect: { kind: "stop" } };

/** "row 44", "rows 44 and 45", "rows 44, 45, 46 and 12 more". */
export function rowWords(rows: readonly number[]): string {
  if (rows.length < 3) return `row${rows.length === 1 ? "" : "s"} ${rows.join(" and ")}`;
  return rows.length === 3 ? `rows ${rows[0]}, ${rows[1]} and ${rows[2]}` : `rows ${rows.slice(0, 3).join(", ")} and ${rows.length - 3} more`;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
