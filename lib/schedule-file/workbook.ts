import * as xlsx from "@e965/xlsx";
import { cellNumber, columnLetter, MOST, tooLarge, type Cell, type GridReading, type GridRow } from "#lib/domain/schedule/grid";
import { openWorkbook } from "#lib/schedule-file/archive";
import { looksLikeFormula, trimmed } from "#lib/schedule-file/separated";

/**
 * Reads one sheet of an XLSX workbook: the named one, else the first visible sheet with something in it. Formulas are never
 * worked out: the value that the file keeps beside a formula is taken and marked, and one without a value stays without.
 */
export function readWorkbook(bytes: Uint8Array, wanted: string | null): GridReading {
  const opened = openWorkbook(bytes);
  if (!opened.ok) return opened;
  let book: xlsx.WorkBook;
  try {
    // One row more than is allowed shows that there are too many.
    book = xlsx.read(opened.workbook, { type: "array", dense: true, cellFormula: true, cellNF: true, cellStyles: true, cellHTML: false, sheetRows: MOST.rows + 1 });
  } catch {
    return { ok: false, message: "The workbook cannot be read. Save it again as XLSX." };
  }
  const visible = book.SheetNames.filter((_, index) => !book.Workbook?.Sheets?.[index]?.Hidden);
  const name = wanted ?? visible.find((one) => rowsOf(book.Sheets[one]).some((row) => row?.length)) ?? null;
  const sheet = name !== null && visible.includes(name) ? book.Sheets[name] : undefined;
  if (!sheet || name === null) return { ok: false, message: wanted === null ? "No visible sheet of the workbook has anything in it." : `The workbook has no visible sheet ${wanted}.` };
  const hiddenSheets = book.SheetNames.filter((one) => !visible.includes(one));
  return sheetGrid(sheet, name, visible, hiddenSheets.length === 0 ? [] : [`Hidden in the workbook and not offered: ${hiddenSheets.join(", ")}.`]);
}

function rowsOf(sheet: xlsx.WorkSheet | undefined): (xlsx.CellObject[] | undefined)[] {
  return (sheet?.["!data"] ?? []) as (xlsx.CellObject[] | undefined)[];
}

function sheetGrid(sheet: xlsx.WorkSheet, sheetName: string, sheetNames: string[], notes: string[]): GridReading {
  const merged = mergedCells(sheet["!merges"] ?? []);
  let [width, filled] = [0, 0];
  const rows: GridRow[] = [];
  const source = rowsOf(sheet);
  const count = Math.max(source.length, ...merged.keys());
  for (let number = 1; number <= Math.min(count, MOST.rows + 1); number += 1) {
    const cells: (Cell | null)[] = [];
    // Sparse rows: only cells that the file has are looked at.
    source[number - 1]?.forEach((cell, column) => void (cells[column] = cellOf(cell)));
    merged.get(number)?.forEach((origin, column) => void (cells[column] = { text: "", number: null, formula: "none", merged: origin, date: false }));
    const kept = trimmed(Array.from(cells, (cell) => cell ?? null));
    if (kept.length > 0) rows.push({ number, hidden: sheet["!rows"]?.[number - 1]?.hidden === true, cells: kept });
    width = Math.max(width, kept.length);
    filled += kept.length;
    if (width > MOST.columns || filled > MOST.cells) break;
  }
  const large = tooLarge({ rows: rows.at(-1)?.number ?? 0, columns: width, cells: filled });
  if (large) return { ok: false, message: large };
  const columns = Array.from({ length: width }, (_, index) => ({ letter: columnLetter(index), hidden: sheet["!cols"]?.[index]?.hidden === true }));
  return { ok: true, grid: { sheetName, sheetNames, columns, rows, notes } };
}

/** For each covered cell the first one of its range, by row from 1 and column from 0. Ranges past what is read are cut. */
function mergedCells(ranges: readonly xlsx.Range[]): Map<number, Map<number, NonNullable<Cell["merged"]>>> {
  const covered = new Map<number, Map<number, NonNullable<Cell["merged"]>>>();
  let left: number = MOST.cells;
  for (const { s, e } of ranges) {
    for (let row = s.r; row <= Math.min(e.r, MOST.rows); row += 1) {
      for (let column = s.c; column <= Math.min(e.c, MOST.columns) && left > 0; column += 1, left -= 1) {
        // The first column of a range is read downward; the others belong to the cell beside them.
        if (row === s.r && column === s.c) continue;
        const cells = covered.get(row + 1) ?? new Map<number, NonNullable<Cell["merged"]>>();
        covered.set(row + 1, cells.set(column, { row: s.r + 1, column: s.c }));
      }
    }
  }
  return covered;
}

function cellOf(cell: xlsx.CellObject): Cell | null {
  const formula = cell.f === undefined && cell.F === undefined ? "none" : cell.v === undefined || cell.v === "" ? "no value" : "value taken";
  const text = (cell.w ?? (cell.v === undefined ? "" : String(cell.v))).trim();
  if (text === "" && formula !== "no value") return null;
  const number = cell.t === "n" && typeof cell.v === "number" && Number.isFinite(cell.v) ? cellNumber(cell.v) : null;
  const date = cell.t === "d" || (cell.t === "n" && typeof cell.z === "string" && xlsx.SSF.is_date(cell.z));
  return { text: formula === "no value" ? "" : text, number, formula: formula === "none" && cell.t === "s" && looksLikeFormula(text) ? "text" : formula, merged: null, date };
}
