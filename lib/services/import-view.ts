import { overridable } from "#lib/domain/plan/override";
import { leftOut, sortRows } from "#lib/domain/schedule/data-row";
import { cellAt, type Grid, type GridRow } from "#lib/domain/schedule/grid";
import { columnOf } from "#lib/domain/schedule/mapping";
import type { Question } from "#lib/domain/schedule/question";
import type { ReadRow } from "#lib/domain/schedule/row";
import type { RequirementSet } from "#lib/domain/requirement/set";
import type { ScheduleReading } from "#lib/services/read-schedule";

/** Rows of the file that are shown before the columns are known. */
const SAMPLE = 8;
/** Rows shown at once when all are asked for. */
export const PAGE_ROWS = 200;

/** A requirement of a type that a column can change. */
export interface RequirementOption {
  value: string;
  label: string;
}

/** Everything at the points of the types that a column of numbers can change, once for all types. */
export function requirementOptions(sets: readonly RequirementSet[]): RequirementOption[] {
  const options = new Map<string, string>();
  for (const set of sets) {
    for (const { line, kind, id, name } of overridable(set.lines)) options.set(`requirement|${line}|${kind}|${id}`, `${line}, ${name}`);
  }
  return [...options].map(([value, label]) => ({ value, label }));
}

/** The first rows of the file as they stand, with the one that heads the columns. */
export function sampleRows({ draft: { grid, mapping } }: ScheduleReading): GridRow[] {
  const header = grid.rows.filter(({ number }) => number === mapping.headerRow);
  return [...header, ...grid.rows.filter(({ number }) => number >= mapping.firstRow).slice(0, SAMPLE)];
}

/** One line of the table of rows: a row of the file as it is and as it is read, or a break over rows that are ready. */
export type TableLine = { kind: "row"; row: GridRow; read: ReadRow; numbers: number[]; stops: boolean; columns: ReadonlySet<number> } | { kind: "break"; from: number; to: number; count: number };

export interface RowsView {
  lines: TableLine[];
  /** Pages of all rows; null where only those that matter are shown. */
  pages: { page: number; of: number } | null;
  /** What was left out or read in a way of its own, with how often. */
  readSo: { count: number; words: string }[];
}

/**
 * The rows to look at: those that need a person with the row before and after, and the first and last; or a page of all.
 * @param page  from 1; null for those that matter.
 */
export function rowsView(reading: ScheduleReading, page: number | null): RowsView {
  const { draft, rows, run } = reading;
  const read = rows ?? [];
  const flags = new Map<number, number[]>();
  run?.questions.forEach(({ question }, index) => question.rows.forEach((row) => flags.set(row, [...(flags.get(row) ?? []), index + 1])));
  const stops = new Set(run?.aside.map(({ row }) => row));
  const columns = new Map<number, Set<number>>();
  for (const { question, answer } of run?.questions ?? []) {
    if (answer !== null || question.column === null) continue;
    for (const row of question.rows) columns.set(row, new Set([...(columns.get(row) ?? []), question.column]));
  }
  const rowAt = new Map(draft.grid.rows.map((row) => [row.number, row]));
  const line = (one: ReadRow): TableLine[] => {
    const row = rowAt.get(one.number);
    return row ? [{ kind: "row", row, read: one, numbers: flags.get(one.number) ?? [], stops: stops.has(one.number), columns: new Set([...(columns.get(one.number) ?? []), ...one.faults.flatMap(({ column }) => (column === null ? [] : [column]))]) }] : [];
  };
  if (page !== null) {
    const of = Math.max(1, Math.ceil(read.length / PAGE_ROWS));
    const shown = Math.min(Math.max(1, page), of);
    return { lines: read.slice((shown - 1) * PAGE_ROWS, shown * PAGE_ROWS).flatMap(line), pages: { page: shown, of }, readSo: readSo(reading) };
  }
  const wanted = new Set<number>([0, 1, read.length - 1]);
  read.forEach(({ number }, index) => {
    if (stops.has(number) || flags.has(number)) for (const near of [index - 1, index, index + 1]) wanted.add(near);
  });
  const lines: TableLine[] = [];
  let skipped: ReadRow[] = [];
  const closeBreak = (): void => {
    const [first, last] = [skipped[0], skipped.at(-1)];
    if (first && last) lines.push({ kind: "break", from: first.number, to: last.number, count: skipped.length });
    skipped = [];
  };
  read.forEach((one, index) => {
    if (!wanted.has(index)) return void skipped.push(one);
    closeBreak();
    lines.push(...line(one));
  });
  closeBreak();
  return { lines: lines.slice(0, PAGE_ROWS), pages: null, readSo: readSo(reading) };
}

const NOTE_WORDS: Record<ReadRow["notes"][number]["code"], string> = {
  merged: "merged cells, read downward",
  ditto: "ditto marks, read as the value above",
  formula: "formulas, their last value taken",
  "own unit": "cells with a unit of their own",
  "from mark": "bents read out of the mark",
  "merged across": "cells merged across columns, read in their first",
};

function readSo({ draft, rows }: ScheduleReading): RowsView["readSo"] {
  const counts = new Map<string, number>();
  for (const { notes } of rows ?? []) for (const { code } of notes) counts.set(NOTE_WORDS[code], (counts.get(NOTE_WORDS[code]) ?? 0) + 1);
  return [
    ...[...counts].map(([words, count]) => ({ count, words })),
    ...leftOut(draft.grid, draft.mapping).map((words) => ({ count: 0, words })),
    ...draft.grid.notes.map((words) => ({ count: 0, words })),
  ];
}

/** How a cell of a row is drawn: as the file has it in ink, and below it how it was read where that says more. */
export function cellView(row: GridRow, read: ReadRow, column: number): { text: string; shown: string; taken: boolean } {
  const found = read.reads.find((one) => one.column === column);
  const text = cellAt(row, column).text;
  const shown = found?.shown ?? "";
  return { text, shown: shown === text ? "" : shown, taken: found !== undefined && found.fromRow !== row.number };
}

/** Questions in the order of the file with their number, those without an answer first. */
export function openQuestions({ run }: ScheduleReading): { number: number; question: Question; answer: string | null }[] {
  const numbered = run?.questions.map((one, index) => ({ number: index + 1, ...one })) ?? [];
  return numbered.sort((a, b) => Number(a.answer !== null) - Number(b.answer !== null) || a.number - b.number);
}

/** Rows with a fault that no answer mends: what is wrong, to be mended in the file or left aside. */
export function faultyRows({ rows }: ScheduleReading): ReadRow[] {
  return rows?.filter(({ faults }) => faults.length > 0) ?? [];
}

/** How many rows hold piles, and how many columns are read. */
export function fileCounts(grid: Grid, mapping: ScheduleReading["draft"]["mapping"]): { piles: number; columns: number; read: number } {
  const piles = sortRows(grid, mapping).filter(({ kind }) => kind === "pile").length;
  return { piles: columnOf(mapping, "mark") === null ? 0 : piles, columns: grid.columns.length, read: mapping.columns.filter(({ field }) => field !== "leave out").length };
}
