import type { LengthField } from "#lib/domain/schedule/field";
import type { PlaceText } from "#lib/domain/schedule/position";
import type { Bars, Length, RequirementNumbers } from "#lib/domain/schedule/read-value";
import type { PlanLineSpec } from "#lib/domain/requirement/set";

export const NOTE_CODES = ["merged", "ditto", "formula", "own unit", "from mark", "merged across"] as const;
export interface RowNote {
  /** Column from 0. */
  column: number;
  code: (typeof NOTE_CODES)[number];
  message: string;
}

export interface RowFault {
  /** Column from 0; null where it is about the row. */
  column: number | null;
  /** What is wrong, and what to do next. */
  message: string;
}

/** How one cell was read, for the preview. */
export interface CellRead {
  column: number;
  /** As the file shows it. */
  text: string;
  /** How it is read; empty where nothing stands. */
  shown: string;
  /** Row of the file in which the value is written: another one for merged cells and ditto marks. */
  fromRow: number;
}

export interface RequirementChange extends RequirementNumbers {
  line: PlanLineSpec["line"];
  kind: "quantity" | "wait";
  id: string;
}

/** A length with the place in the file where it is written. */
export interface RowLength extends Length {
  column: number;
  fromRow: number;
}

/** A pile as its row says it, before the requirement set of its type is laid beside it. */
export interface RowPile {
  bent: string;
  row: string;
  mark: string;
  type: string;
  /** Whether bent and row come out of the mark: they follow it when it is changed. */
  bentFromMark: boolean;
  rowFromMark: boolean;
  place: PlaceText | null;
  lengths: Partial<Record<LengthField, RowLength>>;
  bars: Bars | null;
  requirements: RequirementChange[];
  drawing: string;
  words: string;
}

/** One row of the schedule, read. `pile` is null when a fault keeps it from being one. */
export interface ReadRow {
  number: number;
  pile: RowPile | null;
  faults: RowFault[];
  notes: RowNote[];
  reads: CellRead[];
}

/** The parts of a mark: "17-F" is bent 17, row F; of "W2-03-C" the last two parts count. Null when they are not plain. */
export function markParts(mark: string): { bent: string; row: string; before: string } | null {
  const parts = mark.split(/[-.]/);
  const [bent, row] = parts.length > 1 ? parts.slice(-2) : (/^(\d{1,6})([A-Z]{1,4})$/.exec(mark)?.slice(1) ?? []);
  if (!bent || !row || !BENT.test(bent) || !ROW.test(row)) return null;
  return { bent, row, before: mark.slice(0, mark.length - row.length) };
}

/** The forms that a record takes. */
export const BENT = /^[0-9A-Z]{1,6}$/;
export const ROW = /^[0-9A-Z]{1,4}$/;
export const MARK = /^[0-9A-Z][0-9A-Z.-]{0,14}$/;
