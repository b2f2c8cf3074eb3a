import { fault, isBlank, named, readTimes, shortened, statedOffset, timeAtStart, timeColumns, timeText, type TableFault, type TableNote, type TimeChoice } from "#lib/domain/clock/table";
import type { Instant } from "#lib/domain/instant";
import { Decimal } from "#lib/domain/quantity/decimal";
import { readNumber } from "#lib/domain/quantity/number-text";
import { fromSi, toSi } from "#lib/domain/quantity/unit";

/** A temperature of a logger as a record keeps it. */
export interface LoggerReading {
  at: Instant;
  /** °C, a plain decimal with at most four places, rounded down so that nothing reads warmer than it was. */
  celsius: string;
}
export type LoggerUnit = "°C" | "°F";
/** Where a file's columns are, from 0. `headRow` is the row of its head from 1, or null where it has none. */
export interface LoggerColumns {
  headRow: number | null;
  /** The column of the date where the time stands in another one. */
  date: number | null;
  time: number;
  temperature: number;
}
export interface LoggerChoice extends TimeChoice {
  /** The unit of bare numbers, where the head does not say it. */
  unit: LoggerUnit | null;
  /** Null: the columns are found by their heads. */
  columns: LoggerColumns | null;
}
/** All of a file or nothing: with a fault there are no readings. Notes say what was left out or read in a way that one should know. */
export interface LoggerFile {
  /** Ascending, each instant once. */
  readings: LoggerReading[];
  faults: TableFault[];
  notes: TableNote[];
}

/** Rows that one file may have: a logger that reads every minute fills them in ten weeks. Common practice, no source. */
const MOST_ROWS = 100_000;
/** The head stands within the first rows: facts about the logger may come before it. */
const HEAD_WITHIN = 60;
/** Outside of this, °C, a logger at a pile is broken or read in the wrong unit. Common practice, no source. */
const [COLDEST_C, WARMEST_C] = [-40, 90];
const PLACES = 4;

const TEMPERATURE_HEAD = /temp|celsius|fahrenheit|(?:°|\bdeg)\s*[cf]\b/i;
const OTHER_HEAD = /dew|humid|\brh\b|wet.?bulb|%/i;

/**
 * Reads the rows of a temperature logger's file. A time needs an offset, a head that states one, or a zone; a temperature needs
 * its unit in the cell, in the head or given; a date such as 03/04/26 needs another row that decides it, or an answer. A row at
 * which the sensor read nothing is noted and left out, which leaves a gap.
 *
 * @param rows  Cells as a CSV reader gives them, blank rows included so that rows keep their numbers.
 */
export function readLoggerFile(rows: readonly (readonly string[])[], choice: LoggerChoice): LoggerFile {
  const columns = choice.columns ?? findColumns(rows);
  if ("message" in columns) return nothing([columns]);
  const data = rows.map((cells, i) => ({ row: i + 1, cells })).filter(({ row, cells }) => row > (columns.headRow ?? 0) && !isBlank(cells));
  if (data.length > MOST_ROWS) return nothing([fault(null, null, `The file has more than ${MOST_ROWS} rows. Send the part of it that is about this work.`)]);

  const head = columns.headRow === null ? [] : (rows[columns.headRow - 1] ?? []);
  const unit = unitOf(head[columns.temperature] ?? "", columns, choice.unit);
  if (typeof unit === "object" && unit !== null) return nothing([unit]);
  const stated = statedOffset(head[columns.time] ?? "");
  const notes: TableNote[] = stated !== null && choice.zone !== null ? [{ row: columns.headRow, column: columns.time, message: `The head says that times are at ${stated}. They are read so.` }] : [];
  const times = readTimes(data.map(({ row, cells }) => ({ row, column: columns.time, text: timeText(cells, columns) })), { ...choice, zone: stated ?? choice.zone }, true);

  const read = rememberedCells(unit);
  const values = data.map(({ cells }) => read((cells[columns.temperature] ?? "").trim()));
  const faults = [...times.faults, ...valueFaults(data, values, columns.temperature)];
  data.forEach(({ row, cells }, i) => {
    if (values[i]?.kind === "none") notes.push({ row, column: columns.temperature, message: `${shortened((cells[columns.temperature] ?? "").trim()) || "Nothing"} stands for the temperature. The row is left out.` });
  });
  const rowsRead = data.flatMap(({ row }, i): RowRead[] => {
    const [at, value] = [times.instants[i] ?? null, values[i]];
    return at !== null && value?.kind === "read" ? [{ row, at, celsius: value.celsius }] : [];
  });
  return finished(rowsRead, faults, notes, columns.temperature);
}

interface RowRead extends LoggerReading {
  row: number;
}

function nothing(faults: TableFault[], notes: TableNote[] = []): LoggerFile {
  return { readings: [], faults: named(faults, (message) => fault(null, null, message)), notes: named(notes, (message) => ({ row: null, column: null, message })) };
}

function finished(rows: readonly RowRead[], faults: TableFault[], notes: TableNote[], column: number): LoggerFile {
  const sorted = [...rows].sort((a, b) => a.at - b.at || a.row - b.row);
  const [ascends, descends] = [1, -1].map((way) => rows.every(({ at }, i) => i === 0 || way * (at - (rows[i - 1]?.at ?? at)) >= 0));
  if (!ascends && !descends) notes.push({ row: null, column: null, message: "The rows are not in order of time. They are read as their times say." });
  const readings: LoggerReading[] = [];
  let before: RowRead | undefined;
  for (const one of sorted) {
    if (before?.at === one.at && before.celsius !== one.celsius) faults.push(fault(one.row, column, `Rows ${before.row} and ${one.row} have one time and two temperatures. Leave the one in that is right.`));
    else if (before?.at === one.at) notes.push({ row: one.row, column, message: `Row ${one.row} repeats row ${before.row}.` });
    else readings.push({ at: one.at, celsius: one.celsius });
    before = one;
  }
  if (readings.length === 0 && faults.length === 0) faults.push(fault(null, null, "No row holds a temperature."));
  return faults.length > 0 ? nothing(faults, notes) : { ...nothing([], notes), readings };
}

function findColumns(rows: readonly (readonly string[])[]): LoggerColumns | TableFault {
  const ask = (message: string): TableFault => fault(null, null, message, "columns");
  for (const [i, head] of rows.slice(0, HEAD_WITHIN).entries()) {
    const when = timeColumns(head);
    const found = head.flatMap((cell, column) => (TEMPERATURE_HEAD.test(plainHead(cell)) && !OTHER_HEAD.test(cell) && column !== when?.time ? [column] : []));
    const [temperature] = found;
    if (when && temperature !== undefined && found.length === 1) return { headRow: i + 1, ...when, temperature };
    if (when && found.length > 1) return fault(i + 1, null, `Several columns hold temperatures: ${found.map((column) => shortened(head[column] ?? "")).join("; ")}. Say which one it is.`, "columns");
  }
  const first = rows.findIndex((row) => !isBlank(row));
  const when = timeAtStart(rows[first] ?? []);
  return when ? { headRow: null, ...when, temperature: when.time + 1 } : ask("No row names the columns of time and temperature, and the first row does not begin with a time. Say which columns they are.");
}

function plainHead(text: string): string {
  return text.replace(/º/g, "°").normalize("NFKC");
}

/** The unit that a head names; a fault where it is not the one that was given. */
function unitOf(head: string, columns: LoggerColumns, given: LoggerUnit | null): LoggerUnit | null | TableFault {
  const plain = plainHead(head);
  const [, sign, word, letter] = /(?:°|\bdeg(?:rees)?\.?)\s*([CF])\b|(celsius|fahrenheit)|(?:^|[\s_([,;/])([CF])(?=[)\],;\s]|$)/.exec(plain.replace(/celsius|fahrenheit/i, (found) => found.toLowerCase())) ?? [];
  const initial = (sign ?? word ?? letter)?.charAt(0).toUpperCase();
  const named = initial === undefined ? null : initial === "C" ? "°C" : "°F";
  if (named !== null && given !== null && named !== given) return fault(columns.headRow, columns.temperature, `The head says ${named}, and ${given} was chosen. Choose what is right.`, "unit");
  return named ?? given;
}

type CellRead = { kind: "read"; celsius: string } | { kind: "none" } | { kind: "fault"; message: string } | { kind: "no unit"; number: string };

const CELL = /^([+-]?[\d.,]+(?:e[+-]?\d+)?)\s*(?:(?:°|deg\.?)?\s*([CF]))?$/i;

/** Loggers repeat their temperatures: each text is read once. */
function rememberedCells(unit: LoggerUnit | null): (text: string) => CellRead {
  const known = new Map<string, CellRead>();
  return (text) => {
    const read = known.get(text) ?? readCell(text, unit);
    known.set(text, read);
    return read;
  };
}

function readCell(text: string, unit: LoggerUnit | null): CellRead {
  const tidy = plainHead(text).replace(/[−–]/g, "-").trim();
  // ERR, OL, --- and the like: the sensor had nothing to say.
  if (!/\p{Nd}/u.test(tidy)) return { kind: "none" };
  const [whole, number = "", letter] = CELL.exec(tidy) ?? [];
  const read = whole === undefined ? { fault: "not-a-number" as const } : readNumber(number);
  if ("fault" in read) return { kind: "fault", message: read.fault === "ambiguous" ? `${text} can be two numbers. Write it with a point and no mark between thousands.` : `${shortened(text)} is not a temperature that can be read.` };
  const own = letter === undefined ? unit : letter.toUpperCase() === "C" ? "°C" : "°F";
  if (own === null) return { kind: "no unit", number };
  const celsius = own === "°C" ? read.number : fromSi(toSi(read.number, "°F"), "°C");
  if (celsius.lt(COLDEST_C) || celsius.gt(WARMEST_C)) return { kind: "fault", message: `${shortened(number)} ${own} is outside of ${COLDEST_C} to ${WARMEST_C} °C. Check the unit, and leave out what the sensor did not read.` };
  return { kind: "read", celsius: celsius.toDecimalPlaces(PLACES, Decimal.ROUND_FLOOR).plus(0).toFixed() };
}

function valueFaults(data: readonly { row: number }[], values: readonly CellRead[], column: number): TableFault[] {
  const bare = values.findIndex(({ kind }) => kind === "no unit");
  const value = values[bare];
  const missing = value?.kind === "no unit" ? [fault(data[bare]?.row ?? null, column, `${value.number} what? Give °F or °C.`, "unit")] : [];
  return [...missing, ...values.flatMap((one, i) => (one.kind === "fault" ? [fault(data[i]?.row ?? null, column, one.message)] : []))];
}
