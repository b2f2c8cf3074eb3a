import { z } from "zod";
import { Decimal, plain } from "#lib/domain/quantity/decimal";

/** What is known of a cell that holds a formula: its last value was kept in the file, none was, or the formula is only text. */
export const FORMULAS = ["none", "value taken", "no value", "text"] as const;

const CellSchema = z.strictObject({
  /** As the file shows it, trimmed. */
  text: z.string(),
  /** The number behind the shown one, where the cell holds a number: shown digits may be rounded. As `cellNumber` writes it. */
  number: z.string().nullable(),
  formula: z.enum(FORMULAS),
  /** The cell whose value stands here because both are merged; row as in the file, column from 0. */
  merged: z.strictObject({ row: z.int(), column: z.int() }).nullable(),
  date: z.boolean(),
});
export type Cell = z.infer<typeof CellSchema>;

const GridRowSchema = z.strictObject({
  /** As the file numbers it, from 1. */
  number: z.int().min(1),
  hidden: z.boolean(),
  /** From the first column on; null where nothing stands. */
  cells: z.array(CellSchema.nullable()),
});
export type GridRow = z.infer<typeof GridRowSchema>;

/** The cells of a schedule as they stand in its file, before anybody says what they mean. Rows without a cell are left away. */
export const GridSchema = z.strictObject({
  sheetName: z.string(),
  sheetNames: z.array(z.string()),
  columns: z.array(z.strictObject({ letter: z.string(), hidden: z.boolean() })),
  rows: z.array(GridRowSchema),
  /** How the file was read, where it left a choice. */
  notes: z.array(z.string()),
});
export type Grid = z.infer<typeof GridSchema>;

/** A file read into its cells, or why it cannot be, in words for the person who sent it. */
export type GridReading = { ok: true; grid: Grid } | { ok: false; message: string };

/** The most that is read of one sheet: rows, columns and filled cells. Common practice, no source. */
export const MOST = { rows: 20_000, columns: 200, cells: 500_000 } as const;

/** Why a table of this size is not read; null when it is. */
export function tooLarge(size: { rows: number; columns: number; cells: number }): string | null {
  for (const what of ["rows", "columns", "cells"] as const) {
    if (size[what] > MOST[what]) return `The sheet has more than ${shown(MOST[what])} ${what}. Send the part with the piles only.`;
  }
  return null;
}

function shown(count: number): string {
  return String(count).replace(/\B(?=(?:\d{3})+$)/g, " ");
}

const EMPTY: Cell = { text: "", number: null, formula: "none", merged: null, date: false };

/** Digits that a spreadsheet keeps of a number, and decimal places that a record keeps. */
const KEPT = { digits: 15, places: 12 } as const;

/** The digits of a number that a file keeps in binary, as a person would write them: 0.1 + 0.2 is 0.3. Finite numbers only. */
export function cellNumber(value: number): string {
  return plain(new Decimal(value.toPrecision(KEPT.digits)).toDecimalPlaces(KEPT.places));
}

export function textCell(text: string): Cell | null {
  return text === "" ? null : { ...EMPTY, text };
}

export function cellAt(row: GridRow, column: number): Cell {
  return row.cells[column] ?? EMPTY;
}

/** The letters over a column: 0 is A, 25 is Z, 26 is AA. */
export function columnLetter(column: number): string {
  const last = String.fromCharCode(65 + (column % 26));
  return column < 26 ? last : columnLetter(Math.floor(column / 26) - 1) + last;
}
