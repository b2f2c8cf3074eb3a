import { columnLetter, textCell, type Cell, type Grid } from "#lib/domain/schedule/grid";
import { typeWords } from "#lib/domain/schedule/data-row";
import { mappingFaults, type Mapping } from "#lib/domain/schedule/mapping";
import { proposeMapping } from "#lib/domain/schedule/propose";
import { readRows } from "#lib/domain/schedule/read-rows";
import type { ReadRow } from "#lib/domain/schedule/row";
import { writeRevision } from "#seed/specification";

/** The requirement sets of three types: H (24 in by 42 in, 6 #6), C (28 in by 48 in, 8 #5) and T (19 in by 36 in, 4 #5). */
export const SETS = writeRevision("B").sets;

export type Given = string | Partial<Cell> | null;

/** A sheet of cells: text as typed, or a cell with more to it. Rows are numbered from 1; null leaves a row away. */
export function sheet(rows: readonly (readonly Given[] | null)[], hiddenColumns: readonly number[] = []): Grid {
  const width = Math.max(...rows.map((row) => row?.length ?? 0));
  return {
    sheetName: "Piles", sheetNames: ["Piles"], notes: [],
    columns: Array.from({ length: width }, (_, index) => ({ letter: columnLetter(index), hidden: hiddenColumns.includes(index) })),
    rows: rows.flatMap((row, index) => (row ? [{ number: index + 1, hidden: false, cells: row.map(cellOf) }] : [])),
  };
}

function cellOf(given: Given): Cell | null {
  if (given === null || typeof given === "string") return textCell(given ?? "");
  return { text: "", number: null, formula: "none", merged: null, date: false, ...given };
}

export function proposed(grid: Grid, changes: Partial<Mapping> = {}): Mapping {
  return { ...proposeMapping(grid, {}, SETS), ...changes };
}

export function faultsOf(grid: Grid, mapping: Mapping): string[] {
  return mappingFaults(grid, mapping, typeWords(grid, mapping), SETS).map(({ message }) => message);
}

/** Reads a sheet with the mapping that is proposed for it, which has to be without faults. */
export function readSheet(rows: readonly (readonly Given[] | null)[], changes: Partial<Mapping> = {}): ReadRow[] {
  const grid = sheet(rows);
  const mapping = proposed(grid, changes);
  const faults = faultsOf(grid, mapping);
  if (faults.length > 0) throw new Error(faults.join(" "));
  return readRows(grid, mapping);
}
