import { parse, type Options } from "csv-parse/sync";
import { columnLetter, MOST, textCell, tooLarge, type Cell, type GridReading } from "#lib/domain/schedule/grid";

const DELIMITERS = ["\t", ";", ","] as const;
const NAMES: Record<(typeof DELIMITERS)[number], string> = { "\t": "tabs", ";": "semicolons", ",": "commas" };
/** Rows that the delimiter is told from. */
const LOOKED_AT = 100;
/** Longest row that is read, characters. */
const LONGEST_ROW = 100_000;

const OPTIONS = { relax_column_count: true, relax_quotes: true, skip_empty_lines: false, max_record_size: LONGEST_ROW, bom: true } satisfies Options;

/**
 * Reads comma-, semicolon- or tab-separated text, with quotes as in RFC 4180 and bare inch marks left as they are. The
 * delimiter is the one that cuts most rows into equally many cells. Rows are numbered as a spreadsheet would show them.
 */
export function readSeparated(text: string, name: string, note: string | null): GridReading {
  const delimiter = delimiterOf(text);
  let records: string[][];
  try {
    records = parse(text, { ...OPTIONS, delimiter, to: MOST.rows + 1 });
  } catch (error) {
    return { ok: false, message: brokenWords(error) };
  }
  const rows = records.map((record, index) => ({ number: index + 1, hidden: false, cells: trimmed(record.map(cellOf)) })).filter(({ cells }) => cells.length > 0);
  const width = Math.max(0, ...rows.map(({ cells }) => cells.length));
  const large = tooLarge({ rows: records.length, columns: width, cells: rows.reduce((sum, { cells }) => sum + cells.length, 0) });
  if (large) return { ok: false, message: large };
  if (rows.length === 0) return { ok: false, message: "There is nothing in it. Send the schedule with its rows." };
  return {
    ok: true,
    grid: {
      sheetName: name, sheetNames: [name], columns: Array.from({ length: width }, (_, index) => ({ letter: columnLetter(index), hidden: false })), rows,
      notes: [...(width > 1 ? [`Cells are separated by ${NAMES[delimiter]}.`] : []), ...(note === null ? [] : [note])],
    },
  };
}

function delimiterOf(text: string): (typeof DELIMITERS)[number] {
  const shares = DELIMITERS.map((delimiter) => ({ delimiter, share: evenShare(text, delimiter) }));
  const best = shares.reduce((a, b) => (b.share > a.share ? b : a));
  return best.share > 0 ? best.delimiter : ",";
}

/** The share of the rows that a delimiter cuts into the most usual number of cells, two or more; zero where it cuts none. */
function evenShare(text: string, delimiter: string): number {
  let records: string[][];
  try {
    records = parse(text, { ...OPTIONS, delimiter, to: LOOKED_AT });
  } catch {
    return 0;
  }
  const filled = records.filter((record) => record.some((cell) => cell.trim() !== ""));
  const counts = new Map<number, number>();
  for (const { length } of filled) if (length > 1) counts.set(length, (counts.get(length) ?? 0) + 1);
  return filled.length === 0 ? 0 : Math.max(0, ...counts.values()) / filled.length;
}

/** A number with its sign, or feet and inches with it, is no formula. */
const SIGNED = /^\+\s*[\d.][\d\s.,'"’”′″/¼½¾⅛⅜⅝⅞-]*(?:ft|in|mm|cm|m|°)?\.?$/iu;

/** Text that a spreadsheet would run as a formula; a formula is never run here. */
export function looksLikeFormula(text: string): boolean {
  return /^[=@+]/.test(text) && !SIGNED.test(text);
}

function cellOf(raw: string): Cell | null {
  const text = raw.trim();
  const cell = textCell(text);
  return cell && looksLikeFormula(text) ? { ...cell, formula: "text" } : cell;
}

/** Without the empty cells at the end. */
export function trimmed<C>(cells: (C | null)[]): (C | null)[] {
  const last = cells.findLastIndex((cell) => cell !== null);
  return cells.slice(0, last + 1);
}

function brokenWords(error: unknown): string {
  const { code, lines } = error as { code?: unknown; lines?: unknown };
  const line = typeof lines === "number" ? ` near line ${lines}` : "";
  if (code === "CSV_QUOTE_NOT_CLOSED") return `A quotation mark is opened${line} and never closed. Close it, or write inch marks inside the cell as in.`;
  if (code === "CSV_MAX_RECORD_SIZE") return `A row${line} is longer than ${LONGEST_ROW / 1000} 000 characters. A quotation mark is likely not closed.`;
  return `The rows cannot be told apart${line}. Save the schedule as CSV or XLSX again.`;
}
