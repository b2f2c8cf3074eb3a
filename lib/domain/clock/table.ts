import { dateOrder, isDateAlone, placer, readWritten, settleByOrder, type DateOrder, type WrittenTime } from "#lib/domain/clock/table-time";
import { fromSite } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";

/** Something about a row of a table that the person who sent it should know. */
export interface TableNote {
  /** From 1, as the rows are given; null where it is about the whole table. */
  row: number | null;
  /** From 0; null where it is about the whole row. */
  column: number | null;
  message: string;
}
/** Why nothing of a table is taken. `asks`: the choice that the person can make instead of changing the table. */
export interface TableFault extends TableNote {
  asks: "columns" | "unit" | "zone" | "date order" | null;
}

/** How times without an offset of their own are read. */
export interface TimeChoice {
  /** IANA name of a zone, or one offset all along such as "-04:00"; null where nobody has said it. */
  zone: string | null;
  /** What comes first in 03/04/26; null where nobody has said it. */
  order: DateOrder | null;
}

/** The text of a time with its place in the table. */
export interface TimeCell {
  row: number;
  column: number;
  text: string;
}

/** Faults and notes past this many are only counted. */
const MOST_NAMED = 50;

export function fault(row: number | null, column: number | null, message: string, asks: TableFault["asks"] = null): TableFault {
  return { row, column, message, asks };
}

/** The first of them, and how many more there are. */
export function named<N extends TableNote>(found: readonly N[], rest: (message: string) => N): N[] {
  const more = found.length - MOST_NAMED;
  return more > 0 ? [...found.slice(0, MOST_NAMED), rest(`There are ${more} more of these.`)] : [...found];
}

export function isBlank(row: readonly string[]): boolean {
  return row.every((cell) => cell.trim() === "");
}

/** The text of a time that stands in one cell, or with its date in another. */
export function timeText(row: readonly string[], { date, time }: { date: number | null; time: number }): string {
  return [date === null ? "" : (row[date] ?? ""), row[time] ?? ""].map((part) => part.trim()).filter((part) => part !== "").join(" ");
}

/** Where a table without a head begins with its time: in one cell, or with the date in the first and the time in the second. */
export function timeAtStart(row: readonly string[]): { date: number | null; time: number } | null {
  const [first = "", second = ""] = row;
  if (readWritten(first)) return { date: null, time: 0 };
  return isDateAlone(first) && readWritten(`${first} ${second}`) ? { date: 0, time: 1 } : null;
}

const WITH_DATE = /date.?time|time.?stamp|date.*time/i;
const TIME_WORD = /\btime|time\b|\bhour\b|\bclock\b/i;
const DATE_WORD = /\bdate\b|\bday\b/i;

/** The columns of a head that hold date and time: "Date Time", or "Date" and "Time"; null where there are none, or several. */
export function timeColumns(head: readonly string[]): { date: number | null; time: number } | null {
  const where = (test: RegExp): number[] => head.flatMap((cell, column) => (test.test(cell) ? [column] : []));
  const [both, dates] = [where(WITH_DATE), where(DATE_WORD).filter((column) => !WITH_DATE.test(head[column] ?? ""))];
  const times = where(TIME_WORD).filter((column) => !both.includes(column));
  const found = both.length > 0 ? both : times.length > 0 ? times : dates;
  const [time] = found;
  if (time === undefined || found.length > 1 || (found === times && dates.length > 1)) return null;
  return { date: found === times ? (dates[0] ?? null) : null, time };
}

/** An offset that the head of a column states for all its times: "Date Time, GMT-04:00", "Time (UTC)". */
export function statedOffset(head: string): string | null {
  const [whole, sign = "+", hours = "0", minutes = "00"] = /\b(?:utc|gmt)\s*(?:([+\-−–])\s*(\d{1,2})(?::?(\d{2}))?)?/i.exec(head) ?? [];
  return whole === undefined ? null : `${sign === "+" ? "+" : "-"}${hours.padStart(2, "0")}:${minutes}`;
}

/**
 * Reads the times of a table. Nothing is guessed: a zone that nobody gave, a date that may be two, and a time that the clocks
 * repeat or skip are faults.
 *
 * @param byOrder  Rows follow one another in time, so that where their order leaves one meaning of a repeated time it is taken.
 * @returns an instant for each cell, null where there is a fault about it.
 */
export function readTimes(cells: readonly TimeCell[], { zone, order }: TimeChoice, byOrder: boolean): { instants: (Instant | null)[]; faults: TableFault[] } {
  const written = cells.map(({ text }) => readWritten(text));
  const unread = cells.flatMap(({ row, column, text }, i) => (written[i] ? [] : [fault(row, column, text === "" ? "There is no time in this row." : `${shortened(text)} is not a date and time. Write it as 2026-12-03 06:10.`)]));
  const times = written.filter((time) => time !== null);
  const open = [...zoneFaults(cells, written, zone), ...orderFaults(cells, written, times, order)];
  if (unread.length > 0 || open.length > 0) return { instants: cells.map(() => null), faults: [...open, ...unread] };

  const decided = dateOrder(times);
  const place = placer(zone, decided === "day first" || decided === "month first" ? decided : (order ?? "day first"));
  const placed = times.map(place);
  const settled = settle(placed.map((one) => one?.instants ?? []), byOrder);
  const faults = cells.flatMap(({ row, column, text }, i): TableFault[] => {
    const one = placed[i];
    if (!one) return [fault(row, column, `${shortened(text)} is on a day that no calendar has.`)];
    if (one.instants.length === 0) return [fault(row, column, `${one.local} is skipped in ${zone}, because the clocks go forward. If the clock of the table is never changed, give its one offset.`, "zone")];
    if (settled[i] !== null) return [];
    return [fault(row, column, `${one.local} comes twice in ${zone}, because the clocks go back. Write each such time with its offset, or give the one offset of a clock that is never changed.`, "zone")];
  });
  return { instants: settled, faults };
}

function zoneFaults(cells: readonly TimeCell[], written: readonly (WrittenTime | null)[], zone: string | null): TableFault[] {
  const local = written.findIndex((time) => time?.offsetMinutes === null);
  const cell = cells[local];
  if (!cell) return [];
  if (zone === null) return [fault(cell.row, cell.column, `The times are local and name no zone: ${shortened(cell.text)}. Say which clock they are on: the site's, or one offset such as -04:00.`, "zone")];
  return isZone(zone) ? [] : [fault(null, null, `${shortened(zone)} is not a time zone. Give an offset such as -04:00.`, "zone")];
}

function isZone(zone: string): boolean {
  try {
    return fromSite("2026-01-01T12:00", zone).problem !== "not a time";
  } catch {
    return false;
  }
}

function orderFaults(cells: readonly TimeCell[], written: readonly (WrittenTime | null)[], times: readonly WrittenTime[], order: DateOrder | null): TableFault[] {
  const decided = dateOrder(times);
  if (decided === "either" || (decided === null && order !== null)) return [];
  if (decided === "both") return [fault(null, null, "Some dates have the day first and some the month. Write them all as 2026-12-03.", "date order")];
  if (decided !== null) return order === null || order === decided ? [] : [fault(null, null, `The dates of the table have the ${decided}, and the ${order} was chosen.`, "date order")];
  const cell = cells[written.findIndex((time) => time !== null && time.month === null && time.first !== time.second)];
  return cell ? [fault(cell.row, cell.column, `${shortened(cell.text)} can be two days. Say whether the day or the month comes first.`, "date order")] : [];
}

function settle(series: readonly (readonly Instant[])[], byOrder: boolean): (Instant | null)[] {
  const alone = series.map((candidates) => (candidates.length === 1 ? (candidates[0] ?? null) : null));
  if (!byOrder || series.every(({ length }) => length === 1)) return alone;
  const steps = alone.filter((at) => at !== null).map((at, i, all) => at - (all[i - 1] ?? at)).slice(1);
  const ordered = steps.every((step) => step >= 0) || steps.every((step) => step <= 0);
  if (!ordered || series.some(({ length }) => length === 0)) return alone;
  return settleByOrder(series, !steps.includes(0));
}

export function shortened(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
