import { fromSite } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";

/** A date and time as a table writes it, before its zone and the order of day and month are settled. */
export interface WrittenTime {
  /** Year, month and day; or the two numbers of "03/04/26" in `first` and `second`, with the month still open. */
  year: number;
  month: number | null;
  day: number | null;
  first: number;
  second: number;
  /** Since midnight, ms. */
  sinceMidnight: number;
  /** Minutes east of UTC, where the table writes an offset; null where it does not. */
  offsetMinutes: number | null;
}
export type DateOrder = "day first" | "month first";

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
const YEAR_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?!\d)/;
const YEAR_LAST = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})(?!\d)/;
const MONTH_NAMED = /^(?:(\d{1,2})[-\s]+([a-z]{3,9})\.?|([a-z]{3,9})\.?\s+(\d{1,2}),?)[-\s]+(\d{4}|\d{2})(?!\d)/i;
const TIME = /^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?(?:\s*([ap])\.?m\.?)?(?:\s*(z|utc|gmt|(?:utc|gmt)?[+-]\d{1,2}(?::?\d{2})?))?$/i;

/** Reads a date with its time; null where it is not one. What day and month are may stay open. */
export function readWritten(text: string): WrittenTime | null {
  const tidy = text.normalize("NFKC").replace(/[−–]/g, "-").trim();
  const date = readDate(tidy);
  if (!date) return null;
  const time = readTime(tidy.slice(date.length).replace(/^(?:[Tt]|[\s,]+)/, ""));
  return time && { ...date.date, ...time };
}

/** Whether a text is a date without a time, as in tables with a column for each. */
export function isDateAlone(text: string): boolean {
  const tidy = text.normalize("NFKC").replace(/[−–]/g, "-").trim();
  return readDate(tidy)?.length === tidy.length;
}

type DateParts = Pick<WrittenTime, "year" | "month" | "day" | "first" | "second">;

function readDate(text: string): { date: DateParts; length: number } | null {
  const [whole, year, , month, day] = YEAR_FIRST.exec(text) ?? [];
  if (whole !== undefined) return { date: known(Number(year), Number(month), Number(day)), length: whole.length };
  const [numbers, first, , second, late] = YEAR_LAST.exec(text) ?? [];
  if (numbers !== undefined) return { date: { year: fullYear(late), month: null, day: null, first: Number(first), second: Number(second) }, length: numbers.length };
  const [named, dayBefore, monthAfter, monthBefore, dayAfter, named4] = MONTH_NAMED.exec(text) ?? [];
  const name = (monthAfter ?? monthBefore ?? "").toLowerCase();
  const number = MONTHS.indexOf(name.slice(0, 3)) + 1;
  return named !== undefined && number > 0 ? { date: known(fullYear(named4), number, Number(dayBefore ?? dayAfter)), length: named.length } : null;
}

function known(year: number, month: number, day: number): DateParts {
  return { year, month, day, first: day, second: month };
}

/** Two digits are a year of this century: no logger is older. */
function fullYear(text = ""): number {
  return text.length === 2 ? 2000 + Number(text) : Number(text);
}

function readTime(text: string): Pick<WrittenTime, "sinceMidnight" | "offsetMinutes"> | null {
  const [whole, hourText, minuteText, secondText = "0", fraction = "", half, zone] = TIME.exec(text) ?? [];
  if (whole === undefined) return null;
  const hour = hourOf(Number(hourText), half?.toLowerCase());
  const [minute, second] = [Number(minuteText), Number(secondText)];
  const offsetMinutes = zone === undefined ? null : readOffset(zone);
  if (hour === null || minute > 59 || second > 59 || (zone !== undefined && offsetMinutes === null)) return null;
  return { sinceMidnight: hour * HOUR + minute * MINUTE + second * 1000 + Math.floor(Number(`0.${fraction || 0}`) * 1000 + 1e-6), offsetMinutes };
}

function hourOf(hour: number, half: string | undefined): number | null {
  if (half === undefined) return hour < 24 ? hour : null;
  if (hour < 1 || hour > 12) return null;
  return (hour % 12) + (half === "p" ? 12 : 0);
}

/** Minutes east of UTC of "Z", "-04:00", "+0530", "GMT-4"; null where it is none, or beyond 18 hours. */
export function readOffset(text: string): number | null {
  const [whole, sign, hours = "0", minutes = "0"] = /^(?:z|(?:utc|gmt)?(?:([+-])(\d{1,2}?):?(\d{2})?)?)$/i.exec(text.normalize("NFKC").replace(/[−–]/g, "-").trim()) ?? [];
  if (!whole || Number(minutes) > 59) return null;
  const size = Number(hours) * 60 + Number(minutes);
  return size > 18 * 60 ? null : (sign === "-" ? -size : size) + 0;
}

/**
 * What the dates of a table decide about 03/04/26: an order where a number over 12 shows it, "either" where no date depends on
 * it, "both" where some need one and some the other, null where nothing decides.
 */
export function dateOrder(times: readonly WrittenTime[]): DateOrder | "either" | "both" | null {
  const open = times.filter(({ month, first, second }) => month === null && first !== second);
  if (open.length === 0) return "either";
  const dayFirst = open.some(({ first }) => first > 12);
  const monthFirst = open.some(({ second }) => second > 12);
  if (dayFirst && monthFirst) return "both";
  return dayFirst ? "day first" : monthFirst ? "month first" : null;
}

/** The day in milliseconds since 1970 as if it were in UTC, with its text; null for a day that no calendar has. */
function dayOf({ year, month, day, first, second }: WrittenTime, order: DateOrder): { text: string; ms: number } | null {
  const [m, d] = month !== null && day !== null ? [month, day] : order === "day first" ? [second, first] : [first, second];
  const date = new Date(Date.UTC(year, m - 1, d));
  if (year < 1970 || date.getUTCMonth() !== m - 1 || date.getUTCDate() !== d) return null;
  return { text: date.toISOString().slice(0, 10), ms: date.getTime() };
}

/** The instants that a written time can mean: one, two where the clocks repeat it, none where they skip it; null for no such day. */
export type Placed = { instants: Instant[]; local: string } | null;

/**
 * Places times on a clock. Most days keep one offset, which is looked up once for each; on the others every minute is.
 *
 * @param zone  IANA name, or a fixed offset such as "-04:00"; null only where every time has an offset of its own.
 * @throws RangeError for a zone that does not exist.
 */
export function placer(zone: string | null, order: DateOrder): (time: WrittenTime) => Placed {
  const steady = new Map<string, number | null>();
  const minutes = new Map<string, Instant[]>();
  const offsetOn = (text: string, ms: number, where: string): number | null => {
    const before = steady.get(text);
    if (before !== undefined) return before;
    const next = new Date(ms + 24 * HOUR).toISOString().slice(0, 10);
    const [start, end] = [fromSite(`${text}T00:00`, where).instants, fromSite(`${next}T00:00`, where).instants];
    const one = start.length === 1 && end.length === 1 && (end[0] ?? 0) - (start[0] ?? 0) === 24 * HOUR ? ms - (start[0] ?? 0) : null;
    steady.set(text, one);
    return one;
  };
  return (time) => {
    const day = dayOf(time, order);
    if (!day) return null;
    const clock = new Date(day.ms + time.sinceMidnight).toISOString();
    const local = clock.slice(0, 16).replace("T", " ");
    if (time.offsetMinutes !== null) return { instants: [day.ms + time.sinceMidnight - time.offsetMinutes * MINUTE], local };
    if (zone === null) return { instants: [], local };
    const offset = offsetOn(day.text, day.ms, zone);
    if (offset !== null) return { instants: [day.ms + time.sinceMidnight - offset], local };
    const minute = clock.slice(0, 16);
    const starts = minutes.get(minute) ?? fromSite(minute, zone).instants;
    minutes.set(minute, starts);
    return { instants: starts.map((at) => at + (time.sinceMidnight % MINUTE)), local };
  };
}

/**
 * Settles times that the clocks repeat by the order of the series, which runs forward or backward throughout: null for one that
 * can be either, and for all of them where the order fits nowhere.
 * @param strict  No two rows of the series have the same time.
 */
export function settleByOrder(series: readonly (readonly Instant[])[], strict: boolean): (Instant | null)[] {
  // A logger may list its newest row first.
  const backward = (series[0]?.[0] ?? 0) > (series.at(-1)?.[0] ?? 0);
  const ordered = backward ? [...series].reverse() : [...series];
  const early = pushed(ordered, (candidates, bound) => candidates.find((at) => (strict ? at > bound : at >= bound)), Number.NEGATIVE_INFINITY);
  const late = pushed([...ordered].reverse(), (candidates, bound) => candidates.findLast((at) => (strict ? at < bound : at <= bound)), Number.POSITIVE_INFINITY).reverse();
  const fits = early.every((at) => at !== undefined);
  const settled = early.map((at, i) => (fits && at !== undefined && at === late[i] ? at : null));
  return backward ? settled.reverse() : settled;
}

/** For each row the first of its times that the rows before allow. */
function pushed(series: readonly (readonly Instant[])[], choose: (candidates: readonly Instant[], bound: Instant) => Instant | undefined, start: Instant): (Instant | undefined)[] {
  let bound = start;
  return series.map((candidates) => {
    const found = choose(candidates, bound);
    bound = found ?? bound;
    return found;
  });
}
