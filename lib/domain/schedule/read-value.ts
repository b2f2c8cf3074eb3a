import { Decimal } from "#lib/domain/quantity/decimal";
import { parseMeasured, type Measured } from "#lib/domain/quantity/measured";
import { dimensionOf, type Dimension, type Unit } from "#lib/domain/quantity/unit";
import { DecimalText } from "#lib/domain/requirement/rule";
import type { Cell } from "#lib/domain/schedule/grid";
import { bareUnit, type ColumnUnit } from "#lib/domain/schedule/field";
import type { ColumnMapping } from "#lib/domain/schedule/mapping";

/** A length of a pile as it was read. `bare`: its unit is the column's, not its own. */
export interface Length {
  measured: Measured;
  bare: boolean;
}
export type ValueReading<T> = { ok: true; value: T; note: string | null } | { ok: false; message: string };

const UNIT_IN_TEXT = /[^\d\s.,+\-−/()½⅓⅔¼¾⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚]/u;

/**
 * The text to read a number from: what the cell shows where that holds a unit, else the number behind it, which may have
 * more digits. A comma that can mean two things is read as the column says, and refused where it says nothing.
 */
function numberText(cell: Cell, comma: ColumnMapping["comma"]): { text: string; note: string | null } | { message: string } {
  if (cell.number !== null && !(UNIT_IN_TEXT.test(cell.text) && !/^[\d.,+\-−]+e[+\-−]?\d+$/i.test(cell.text))) return { text: cell.number, note: null };
  const { text } = cell;
  const [grouped] = /(?<![\d.,])[1-9]\d{0,2}[.,]\d{3}(?![\d.,])/.exec(text) ?? [];
  if (grouped === undefined || (grouped.includes(".") && comma !== "decimal")) return { text, note: null };
  if (comma === null || grouped.includes(".")) {
    const joined = grouped.replace(/[.,]/, "");
    return { message: `${text} can be read as ${joined} or as ${grouped.replace(",", ".")}. ${comma === null ? "Say in the column what its comma means, or w" : "W"}rite ${joined} without a mark in the file.` };
  }
  return { text: text.replace(grouped, comma === "decimal" ? grouped.replace(",", ".") : grouped.replace(",", "")), note: `${text}: the comma is read as the column says.` };
}

/**
 * Reads a measured cell. Its own unit stands above the column's and is noted where it differs; a bare number in a column of
 * feet and inches is refused, because it may be either.
 */
export function readMeasured(cell: Cell, dimension: Dimension, unit: ColumnUnit | null, comma: ColumnMapping["comma"]): ValueReading<Length> {
  const number = numberText(cell, comma);
  if ("message" in number) return { ok: false, message: number.message };
  const chosen = unit === null ? null : bareUnit(unit);
  const own = parseMeasured(number.text, { dimension });
  const entry = own.ok || own.problem.code !== "unit-missing" || chosen === null ? own : parseMeasured(number.text, { dimension, unit: chosen });
  if (!entry.ok) {
    const feet = entry.problem.code === "unit-missing" && unit === "ft-in";
    return { ok: false, message: feet ? `${cell.text} what? In a column of feet and inches write ${cell.text} ft or ${cell.text} in.` : entry.problem.message };
  }
  const { measured } = entry;
  if (!DecimalText.safeParse(short(measured.number)).success) return { ok: false, message: `${cell.text} is too large. Check the number.` };
  // A format may show a unit with a rounded number: then the file says two things.
  if (cell.number !== null && number.text === cell.text && !new Decimal(cell.number).eq(measured.number)) return { ok: false, message: `The cell shows ${cell.text} and holds ${cell.number}. Write the value with its unit as text.` };
  const bare = !own.ok;
  const differs = !bare && chosen !== null && measured.unit !== chosen && dimension !== "number";
  return { ok: true, value: { measured, bare }, note: differs ? `${cell.text} has a unit of its own; the column is in ${chosen}.` : number.note };
}

/** A number with at most the 12 decimal places that a record keeps. */
export function short(number: string): string {
  return new Decimal(number).toDecimalPlaces(12).toFixed();
}

export interface Bars {
  count: number;
  /** As the drawing names it, such as "#6"; null where only a count is written. */
  size: string | null;
}

/** Most bars of one jacket, as a requirement set allows. */
const MOST_BARS = 60;

/** Reads "6-#6", "6 x #6", "(6) #6", "6 no. 15M" or a bare count. Nothing is guessed from "6-6" or "6/6". */
export function readBars(text: string): ValueReading<Bars> {
  const tidy = text.normalize("NFKC").replace(/[‐‑–—]/g, "-").replace(/\s+/g, " ").trim();
  const [, inBrackets, plain, size] = /^(?:\((\d{1,3})\)|(\d{1,3}))(?: ?(?:-|x|×|no\.?|nos\.?)? ?(#\d{1,2}|\d{1,2}M))?$/iu.exec(tidy) ?? [];
  const count = Number(inBrackets ?? plain ?? Number.NaN);
  if (!Number.isInteger(count)) return { ok: false, message: `${text} is not a count of bars. Write it as 6-#6.` };
  if (count > MOST_BARS) return { ok: false, message: `${count} bars is more than the ${MOST_BARS} that a jacket can have. Check the count.` };
  return { ok: true, value: { count, size: size?.toUpperCase() ?? null }, note: null };
}

/** New numbers for a requirement: one, or the two ends of a range. The unit is null where the requirement has none. */
export interface RequirementNumbers {
  first: Amounted;
  second: Amounted | null;
}
export interface Amounted {
  number: string;
  unit: Unit | null;
}

const BETWEEN = /\s*(?:…|\.{2,3}|\bto\b|–|(?<=\d)\s*-\s*(?=\d+(?:[.,]\d+)?(?!\s*\/|[\d.,])))\s*/iu;

/** Reads one number, or two with "to", a dash or dots between them: "7.0", "65 to 72", "65-72 ft-lb". */
export function readRequirement(cell: Cell, { unit, comma }: Pick<ColumnMapping, "unit" | "comma">): ValueReading<RequirementNumbers> {
  const parts = cell.number === null ? cell.text.split(BETWEEN) : [cell.text];
  if (parts.length > 2) return { ok: false, message: `${cell.text} is more than two numbers. Write one, or the ends of a range as 65 to 72.` };
  const dimension = unit === null ? "number" : dimensionOf(unit === "ft-in" ? "ft" : unit);
  const read = parts.map((text) => readMeasured({ ...cell, text }, dimension, unit, comma));
  const bad = read.find((one) => !one.ok);
  if (bad && !bad.ok) return bad;
  const [first, second] = read.flatMap((one): Amounted[] => (one.ok ? [{ number: one.value.measured.number, unit: unit === null ? null : one.value.measured.unit }] : []));
  if (!first) return { ok: false, message: `${cell.text} is not a number.` };
  return { ok: true, value: { first, second: second ?? null }, note: read.flatMap((one) => (one.ok && one.note ? [one.note] : []))[0] ?? null };
}
