import { cellAt, columnLetter, type Cell, type Grid, type GridRow } from "#lib/domain/schedule/grid";
import { columnOf, headerKey, headerRow, typeKey, type Mapping } from "#lib/domain/schedule/mapping";

/** What a row of the file is: a pile, or something that stands between and around them. */
export type RowKind = "pile" | "title" | "header" | "total" | "hidden" | "blank";

export interface SortedRow {
  row: GridRow;
  kind: RowKind;
}

/** "TOTAL", "Sub-total bent 17", "180 piles". Common practice, no source. */
const TOTAL = /^(?:(?:grand|sub)[ -]*)?totals?\b|^\d+ (?:piles?|pcs|pieces|nos?\.?|each|ea)\b/iu;

/**
 * Tells the piles of a sheet from its titles, its header (also where it is written again on another page), its totals,
 * its hidden rows and those with nothing of their own in a column that is read. A total is a row whose mark is a total or missing, with "total" or a count of piles in a cell.
 */
export function sortRows(grid: Grid, mapping: Mapping): SortedRow[] {
  const mark = columnOf(mapping, "mark");
  const header = headerRow(grid, mapping);
  const again = header && rowKey(header);
  return grid.rows.map((row): SortedRow => {
    if (row.number < mapping.firstRow) return { row, kind: row.number === mapping.headerRow ? "header" : "title" };
    if (row.hidden && mapping.hiddenRows === "leave out") return { row, kind: "hidden" };
    if (again !== null && rowKey(row) === again) return { row, kind: "header" };
    if (isTotal(row, mark)) return { row, kind: "total" };
    const filled = mapping.columns.some(({ field }, column) => field !== "leave out" && (cellAt(row, column).text !== "" || cellAt(row, column).formula === "no value"));
    return { row, kind: filled ? "pile" : "blank" };
  });
}

function isTotal(row: GridRow, mark: number | null): boolean {
  const markText = mark === null ? "" : cellAt(row, mark).text;
  return (markText === "" || TOTAL.test(markText)) && row.cells.some((cell) => cell !== null && TOTAL.test(cell.text));
}

function rowKey(row: GridRow): string {
  return row.cells.map((cell) => headerKey(cell?.text ?? "")).join("\t").trimEnd();
}

/** "DO", "do.", "ditto", quotes and dashes with a quote: the value above. A dash alone is no value. */
const DITTO = /^(?:d[o°]\.?|ditto|dto\.?|["“”″〃]|''|,,|[-–—]+ *["″”〃] *[-–—]+)$/iu;

export function isDitto(text: string): boolean {
  return DITTO.test(text);
}

/** Where the value of a cell comes from: the cell itself, the first of the merged cells, or the one above a ditto mark. */
export interface Source {
  cell: Cell;
  /** Row of the file in which the value itself is written. */
  row: number;
  how: "written" | "merged" | "ditto";
}
/** Null where a ditto mark has nothing above it. */
export type SourceRow = { row: GridRow; sources: (Source | null)[] };

/**
 * Finds where each value of the piles' rows is written, reading merged cells downward and ditto marks upward, over totals,
 * headers and blank rows. Cells merged across columns hold a value in their first column only.
 */
export function findSources(grid: Grid, mapping: Mapping): SourceRow[] {
  const rowAt = new Map(grid.rows.map((row) => [row.number, row]));
  const above: (Source | null)[] = grid.columns.map(() => null);
  return sortRows(grid, mapping).flatMap(({ row, kind }) => {
    if (kind !== "pile") return [];
    const sources = grid.columns.map((_, column): Source | null => {
      const source = sourceOf(row, column, rowAt, above[column] ?? null);
      above[column] = source;
      return source;
    });
    return [{ row, sources }];
  });
}

function sourceOf(row: GridRow, column: number, rowAt: ReadonlyMap<number, GridRow>, above: Source | null): Source | null {
  const cell = cellAt(row, column);
  const origin = cell.merged?.column === column ? rowAt.get(cell.merged.row) : undefined;
  const written = origin ? cellAt(origin, column) : cell;
  if (isDitto(written.text)) return above && (above.cell.text !== "" || above.cell.formula === "no value") ? { ...above, how: "ditto" } : null;
  return { cell: written, row: origin?.number ?? row.number, how: origin ? "merged" : "written" };
}

/** The distinct words of the type column, in the order in which they come; empty when no column is the type. */
export function typeWords(grid: Grid, mapping: Mapping): string[] {
  const column = columnOf(mapping, "type");
  if (column === null) return [];
  const words = findSources(grid, mapping).map(({ sources }) => typeKey(sources[column]?.cell.text ?? ""));
  return [...new Set(words)].filter((word) => word !== "");
}

/** What is left out of the file before rows are read, in words. */
export function leftOut(grid: Grid, mapping: Mapping): string[] {
  const sorted = sortRows(grid, mapping);
  const rows = (kind: RowKind): GridRow[] => sorted.filter((one) => one.kind === kind).map(({ row }) => row);
  const header = headerRow(grid, mapping);
  const say = (kind: RowKind, words: string): string[] => {
    const found = rows(kind);
    return found.length === 0 ? [] : [`${found.length === 1 ? "Row" : "Rows"} ${listed(found)}: ${words}.`];
  };
  return [
    ...say("title", "above the piles, left out"),
    ...say("total", "totals, left out"),
    ...say("hidden", "hidden in the file, left out"),
    ...grid.columns.flatMap(({ hidden }, column) => {
      if (!hidden || mapping.columns[column]?.field !== "leave out") return [];
      const name = header ? cellAt(header, column).text : "";
      return [`Column ${columnLetter(column)}${name === "" ? "" : `, ${name}`}: hidden in the file, left out.`];
    }),
  ];
}

function listed(rows: readonly GridRow[]): string {
  const numbers = rows.map(({ number }) => number);
  const shown = numbers.slice(0, 6).join(", ");
  return numbers.length > 6 ? `${shown} and ${numbers.length - 6} more` : shown;
}
