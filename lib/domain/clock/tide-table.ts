import { fault, isBlank, named, readTimes, shortened, statedOffset, timeAtStart, timeColumns, timeText, type TableFault, type TableNote, type TimeChoice } from "#lib/domain/clock/table";
import { LONGEST_TURN_HOURS } from "#lib/domain/clock/tide";
import { HOUR, type Instant } from "#lib/domain/instant";
import { Decimal } from "#lib/domain/quantity/decimal";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi } from "#lib/domain/quantity/unit";

/** A high or low water as a record keeps it; the height in m, a plain decimal with at most four places. */
export interface TideRow {
  at: Instant;
  heightM: string;
  turn: "high" | "low";
}
export interface TideChoice extends TimeChoice {
  /** The unit of bare heights, where the head does not say it. */
  unit: "m" | "ft" | null;
}
/** All of a table or nothing: with a fault there are no waters. */
export interface TideTable {
  /** Ascending, high and low by turns. */
  waters: TideRow[];
  faults: TableFault[];
  notes: TableNote[];
}

/** Ten years of four waters a day. */
const MOST_ROWS = 15_000;
/** No tide stands outside of this above a datum of tables, m. Common practice, no source. */
const [LOWEST_M, HIGHEST_M] = [-10, 25];
const PLACES = 4;

interface Columns {
  headRow: number;
  date: number | null;
  time: number;
  height: number;
  turn: number | null;
}

const HEIGHT_HEAD = /height|level|\bpred|water|\(\s*(?:m|ft)\s*\)|^(?:m|ft)$/i;
const TURN_HEAD = /high.*low|low.*high|\bh\W?l\b|\btype\b|\bturn\b|\btide\b|\bkind\b/i;

/**
 * Reads a table of high and low waters, pasted or from a file: time (or date and time), height, and where the table says it high
 * or low; without a head the columns stand in this order. What is not said is worked out by comparing each height with its
 * neighbours. A time that the clocks repeat or skip is asked for, never settled.
 *
 * @param rows  Cells as a CSV reader gives them, blank rows included so that rows keep their numbers. Ascending in time.
 */
export function readTideTable(rows: readonly (readonly string[])[], choice: TideChoice): TideTable {
  const columns = findColumns(rows);
  if ("message" in columns) return nothing([columns]);
  const data = rows.map((cells, i) => ({ row: i + 1, cells })).filter(({ row, cells }) => row > columns.headRow && !isBlank(cells));
  if (data.length > MOST_ROWS) return nothing([fault(null, null, `The table has more than ${MOST_ROWS} rows. Keep the months of the work only.`)]);
  if (data.length < 2) return nothing([fault(null, null, "A tide table has two rows or more.")]);

  const head = columns.headRow === 0 ? [] : (rows[columns.headRow - 1] ?? []);
  const unit = unitOf(head[columns.height] ?? "", columns, choice.unit);
  if (typeof unit === "object" && unit !== null) return nothing([unit]);
  const stated = statedOffset(head[columns.time] ?? "");
  const times = readTimes(data.map(({ row, cells }) => ({ row, column: columns.time, text: timeText(cells, columns) })), { ...choice, zone: stated ?? choice.zone }, false);
  const heights = data.map(({ row, cells }) => readHeight(row, columns.height, (cells[columns.height] ?? "").trim(), unit));
  const said = data.map(({ row, cells }) => (columns.turn === null ? null : readTurn(row, columns.turn, (cells[columns.turn] ?? "").trim())));
  const faults = [...times.faults, ...firstUnitFault(heights), ...said.filter((one) => typeof one === "object" && one !== null)];
  if (faults.length > 0) return nothing(faults);

  const read = data.map(({ row }, i): RowRead => ({ row, at: times.instants[i] ?? 0, height: heights[i] as Decimal, said: said[i] as RowRead["said"] }));
  const contradictions = [...orderFaults(read, columns), ...turnFaults(read, columns)];
  if (contradictions.length > 0) return nothing(contradictions);
  const waters = read.map((one, i): TideRow => ({ at: one.at, heightM: one.height.toDecimalPlaces(PLACES).plus(0).toFixed(), turn: turnOf(read, i) ?? "high" }));
  return { waters, faults: [], notes: [...statedNotes(stated, columns, choice), ...missingNotes(read)] };
}

interface RowRead {
  row: number;
  at: Instant;
  height: Decimal;
  said: TideRow["turn"] | null;
}

function nothing(faults: TableFault[]): TideTable {
  return { waters: [], faults: named(faults, (message) => fault(null, null, message)), notes: [] };
}

function findColumns(rows: readonly (readonly string[])[]): Columns | TableFault {
  const first = rows.findIndex((row) => !isBlank(row));
  const top = rows[first] ?? [];
  const bare = timeAtStart(top);
  const last = (cells: readonly string[], after: number): number | null => (cells.length > after && rows.some((row) => (row[after] ?? "").trim() !== "") ? after : null);
  if (bare) return { headRow: 0, ...bare, height: bare.time + 1, turn: last(top, bare.time + 2) };
  const when = timeColumns(top);
  const free = top.flatMap((cell, column) => (column === when?.time || column === when?.date ? [] : [{ cell, column }]));
  const turn = free.find(({ cell }) => TURN_HEAD.test(cell))?.column ?? null;
  const heights = free.filter(({ cell, column }) => column !== turn && HEIGHT_HEAD.test(cell));
  const [height] = heights;
  if (when && height && heights.length === 1) return { headRow: first + 1, ...when, height: height.column, turn };
  return fault(first < 0 ? null : first + 1, null, "The columns are not found. Head them Time, Height and High or low, or leave the head out and keep that order.", "columns");
}

function unitOf(head: string, { headRow, height }: Columns, given: TideChoice["unit"]): TideChoice["unit"] | TableFault {
  const [, word] = /(?:^|[\s(_[,])(m|ft|metres?|meters?|feet)(?=[)\],;\s]|$)/i.exec(head) ?? [];
  const own = word === undefined ? null : word.toLowerCase().startsWith("m") ? "m" : "ft";
  if (own !== null && given !== null && own !== given) return fault(headRow, height, `The head says ${own}, and ${given} was chosen. Choose what is right.`, "unit");
  return own ?? given;
}

function readHeight(row: number, column: number, text: string, unit: TideChoice["unit"]): Decimal | TableFault {
  const entry = parseMeasured(text, { dimension: "length", ...(unit ? { unit } : {}) });
  if (!entry.ok) return fault(row, column, entry.problem.code === "unit-missing" ? `${text} what? Give m or ft.` : entry.problem.message, entry.problem.code === "unit-missing" ? "unit" : null);
  const metres = fromSi(entry.measured.si, "m");
  if (metres.lt(LOWEST_M) || metres.gt(HIGHEST_M)) return fault(row, column, `${shortened(text)} is no height of a tide. Check the number and its unit.`);
  return metres;
}

/** One missing unit is missing everywhere. */
function firstUnitFault(heights: readonly (Decimal | TableFault)[]): TableFault[] {
  const faults = heights.filter((one): one is TableFault => "message" in one);
  const [missing] = faults.filter(({ asks }) => asks === "unit");
  return [...(missing ? [missing] : []), ...faults.filter(({ asks }) => asks !== "unit")];
}

function readTurn(row: number, column: number, text: string): TideRow["turn"] | TableFault | null {
  if (text === "") return null;
  if (/^(?:h|hw|high(?: water| tide)?)$/i.test(text)) return "high";
  if (/^(?:l|lw|low(?: water| tide)?)$/i.test(text)) return "low";
  return fault(row, column, `${shortened(text)} is neither high nor low. Write high or low.`);
}

function orderFaults(rows: readonly RowRead[], { time }: Columns): TableFault[] {
  return rows.flatMap(({ row, at }, i) => {
    const before = rows[i - 1];
    return before && at <= before.at ? [fault(row, time, `Row ${row} is not later than row ${before.row}. Put the rows in order of time, each once.`)] : [];
  });
}

/** High or low by comparison with the neighbours; null where it is neither. */
function turnOf(rows: readonly RowRead[], i: number): TideRow["turn"] | null {
  const own = rows[i]?.height;
  const beside = [rows[i - 1], rows[i + 1]].flatMap((one) => (one ? [one.height] : []));
  if (own && beside.every((other) => own.gt(other))) return "high";
  return own && beside.every((other) => own.lt(other)) ? "low" : null;
}

function turnFaults(rows: readonly RowRead[], { height, turn }: Columns): TableFault[] {
  return rows.flatMap(({ row, said }, i): TableFault[] => {
    const found = turnOf(rows, i);
    if (found === null) return [fault(row, height, `Row ${row} is neither higher nor lower than both rows beside it. A row is missing, or a height is wrong.`)];
    if (said !== null && said !== found) return [fault(row, turn, `Row ${row} says ${said}, and its height is the ${found}er one. Check the row.`)];
    return [];
  });
}

function statedNotes(stated: string | null, { headRow, time }: Columns, { zone }: TideChoice): TableNote[] {
  return stated !== null && zone !== null ? [{ row: headRow, column: time, message: `The head says that times are at ${stated}. They are read so.` }] : [];
}

/** Where days are missing the table is kept, and nothing is said about them. */
function missingNotes(rows: readonly RowRead[]): TableNote[] {
  const found = rows.flatMap(({ row, at }, i): TableNote[] => {
    const before = rows[i - 1];
    return before && at - before.at > LONGEST_TURN_HOURS * HOUR ? [{ row, column: null, message: `Rows are missing before row ${row}. Nothing can be told about the time between.` }] : [];
  });
  return named(found, (message) => ({ row: null, column: null, message }));
}
