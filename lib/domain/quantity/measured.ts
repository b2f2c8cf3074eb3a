import { z } from "zod";
import { Decimal, plain, type DecimalValue } from "#lib/domain/quantity/decimal";
import { readNumber, VULGAR_FRACTIONS, type NumberFault, type TypedNumber } from "#lib/domain/quantity/number-text";
import {
  differenceFromSi, differenceToSi, dimensionOf, fromSi, parseUnit, toSi, UNIT_SYMBOLS, unitsOf, type Dimension, type Unit,
} from "#lib/domain/quantity/unit";

/** Longest entry that is read, in characters. */
const LONGEST_ENTRY = 60;
/** A decimal in its one plain form: no exponent, no needless zeros, no negative zero. */
const DecimalText = z
  .string()
  .max(120, { abort: true })
  .regex(/^(?!-0$)-?(?:0|[1-9]\d*)(?:\.\d*[1-9])?$/, { abort: true, error: "Write a plain decimal number, such as 6.4." });

/**
 * A measured value as a record keeps it: `text` as typed, `number` the decimal in `unit`, `si` the same in SI, `resolution`
 * the smallest step that the typing shows, in SI (0.47 m shows 0.01 m; 18 1/2 in shows half an inch).
 * The SI value has to be the one that follows from number and unit, so that no two readings of a record exist.
 */
export const MeasuredSchema = z
  .strictObject({
    text: z.string().min(1).max(LONGEST_ENTRY),
    number: DecimalText,
    unit: z.enum(UNIT_SYMBOLS),
    si: DecimalText,
    resolution: DecimalText,
  })
  .refine(({ number, unit, si }) => plain(toSi(number, unit)) === si, "The SI value does not follow from the number and its unit.")
  .refine(({ resolution }) => new Decimal(resolution).gt(0), "The resolution has to be more than zero.");
export type Measured = z.infer<typeof MeasuredSchema>;

export interface EntryProblem {
  code: "empty" | "not-a-number" | "unit-missing" | "unit-unknown" | "wrong-dimension" | "ambiguous" | "out-of-range" | "too-precise";
  /** For the person at the field: what is wrong, and what to do next. */
  message: string;
  suggestions?: Unit[];
}
export type EntryResult = { ok: true; measured: Measured } | { ok: false; problem: EntryProblem };

/**
 * Reads what a person typed into a field for one kind of quantity.
 *
 * Reads 18 1/2 in, 18-1/2", 1'-6 1/2", 6', 470 mm, 0,47 m, 1 200 mm, −2.5 °C, 53.6F, 1e3 and the like; feet with inches are
 * kept in inches. A unit in the text wins over `unit`, the one chosen beside the field, because the text is what the person
 * wrote; with neither, nothing is guessed. The number has at most 15 digits and 12 decimal places and is not beyond ±1e15.
 * Nothing is thrown: a text that cannot be read gives the problem.
 */
export function parseMeasured(text: string, { dimension, unit: chosen }: { dimension: Dimension; unit?: Unit }): EntryResult {
  const typed = text.trim();
  if (typed.length > LONGEST_ENTRY) return refuse("not-a-number", "That is too long for a measured value. Type the number and its unit only, such as 6.4 in.");
  const tidy = normal(typed);
  if (tidy === "") return refuse("empty", "Nothing is typed. Give the measured value.");
  if (/[^\P{Nd}0-9]/u.test(tidy)) return refuse("not-a-number", "These digits cannot be read. Type the digits 0 to 9.");

  // "12 ft2" is an area, not twelve feet two.
  const feet = /ft\^?[23]$/i.test(tidy) ? null : FEET_AND_INCHES.exec(tidy);
  if (feet) return feetAndInches(typed, feet, dimension);

  const [head, tail] = split(tidy);
  if (head === "" || /^0[xob]/i.test(tidy) || /^[_\d]/.test(tail)) return faulty("not-a-number", typed);
  const read = readNumber(head);
  if ("fault" in read) return faulty(read.fault, typed);

  const unit = unitFor(head, tail, dimension, chosen);
  return typeof unit === "string" ? measuredOf(typed, read, unit) : { ok: false, problem: unit };
}

/** The unit that goes with the number, or why there is none. */
function unitFor(head: string, tail: string, dimension: Dimension, chosen: Unit | undefined): Unit | EntryProblem {
  const suggestions = offered(dimension);
  // "12°" in a field for temperatures leaves open which degrees.
  const open = tail === "" || (/^(?:°|deg\.?)$/iu.test(tail) && dimension.startsWith("temperature"));
  const unit = open ? (chosen ?? (dimension === "number" ? "1" : null)) : parseUnit(tail, dimension);
  if (unit === null && open) return { code: "unit-missing", message: `${head}${tail} what? Give ${listed(suggestions)}.`, suggestions };
  if (unit === null) return { code: "unit-unknown", message: `${shortened(tail)} is not a unit that is known here. Give ${listed(suggestions)}.`, suggestions };
  if (dimensionOf(unit) !== dimension) {
    return { code: "wrong-dimension", message: `${unit} measures ${named(dimensionOf(unit))}, and ${named(dimension)} is asked for. Give ${listed(suggestions)}.`, suggestions };
  }
  return unit;
}

const FEET_AND_INCHES = new RegExp(
  `^([+\\-−]?)(\\d[\\d.,]*) ?(?:'|ft\\.?|feet|foot)( ?[-−+]* ?)([\\d${VULGAR_FRACTIONS}][\\d${VULGAR_FRACTIONS} .,/-]*)(?:"|ins?\\.?|inch|inches)?$`,
  "iu",
);

function feetAndInches(typed: string, [, sign, feetText = "", joint = "", inchText = ""]: RegExpExecArray, dimension: Dimension): EntryResult {
  if (dimension !== "length") {
    return refuse("wrong-dimension", `Feet and inches measure a length, and ${named(dimension)} is asked for. Give ${listed(offered(dimension))}.`, offered(dimension));
  }
  // "1' -6" may mean six inches or six inches less: only a hyphen that cannot be a sign joins feet and inches.
  if (!["", " ", "-", "- ", " - "].includes(joint)) return refuse("ambiguous", `${shortened(typed)} can be read in two ways. Write feet and inches as 1'-6", with the sign in front of the feet.`);
  if (!/^\d{1,6}$/.test(feetText)) return refuse("not-a-number", `${feetText} feet with inches is not clear. Write whole feet before the inches, such as 1'-6 1/2".`);

  const inches = readNumber(inchText.trim());
  if ("fault" in inches) return faulty(inches.fault, typed);
  if (inches.number.gte(12)) return refuse("out-of-range", `${inchText.trim()} inches after feet is a foot or more. Write inches below 12, or inches alone.`);
  const total = new Decimal(feetText).times(12).plus(inches.number);
  const number = (sign === "-" || sign === "−") && !total.isZero() ? total.negated() : total;
  return measuredOf(typed, { number, step: inches.step }, "in");
}

function measuredOf(text: string, { number, step }: TypedNumber, unit: Unit): EntryResult {
  const si = toSi(number, unit);
  if (dimensionOf(unit) === "temperature" && si.isNegative()) return refuse("out-of-range", `${shortened(text)} is colder than anything can be. Check the number and its unit.`);
  return { ok: true, measured: { text, number: plain(number), unit, si: plain(si), resolution: plain(differenceToSi(step, unit)) } };
}

/** One form for the signs that keyboards put in by themselves: curly quotes, primes, special spaces and long hyphens. */
function normal(text: string): string {
  return text
    .replace(/\s+/gu, " ")
    .replace(/[‘’′]/gu, "'")
    .replace(/[“”″]|''/gu, '"')
    .replace(/[‐‑–]/gu, "-")
    .replace(/⁄/gu, "/");
}

const HEAD = new RegExp(`^[+\\-−]?[\\d.,/ ${VULGAR_FRACTIONS}-]*(?:(?<=\\d\\.?)e[+\\-−]?\\d+)?`, "iu");

/** The number in front and what follows it. */
function split(text: string): [head: string, tail: string] {
  const prefix = HEAD.exec(text)?.[0] ?? "";
  const head = prefix.replace(/[ -]+$/, "");
  return [/[\d¼-¾⅓-⅞]/u.test(head) ? head : "", text.slice(prefix.length).trim()];
}

/** A number beside its unit as they are shown: "6.4 in", "12°", and a count without any unit. */
export function withUnit(number: string, unit: Unit): string {
  if (unit === "1") return number;
  return unit === "°" ? `${number}°` : `${number} ${unit}`;
}

/** The digits of a number as they are shown: a plain point, no thousands separators, and "−" for a negative number. */
export function shownNumber(number: DecimalValue, places: number): string {
  const text = new Decimal(number).toFixed(places);
  return /^-[0.]+$/.test(text) ? text.slice(1) : text.replace("-", "−");
}

/**
 * Shows an SI value in a unit, with the unit, without trailing zeros: "64.905 ft·lbf".
 * Rounds to `decimals` places; without that to three places, or to three digits where the number is smaller.
 * Only for showing: whether a value meets a limit is never read off what is shown.
 */
export function formatSi(si: DecimalValue, unit: Unit, decimals?: number): string {
  const number = fromSi(si, unit);
  const places = decimals ?? Math.max(3, 2 - number.e);
  return withUnit(shownNumber(number, number.toDecimalPlaces(places).decimalPlaces()), unit);
}

/** Places shown of a fraction without a finite decimal, such as 1/3 in; an entry in decimals has at most 12. */
const FRACTION_PLACES = 6;
const MOST_ENTRY_PLACES = 12;

/**
 * Shows an entry in its own unit with the decimals it was given with: "7.0 in" for 7.0 and "18.5 in" for 18 1/2.
 * Parsed again it gives the same number, except for fractions without a finite decimal, which show six places.
 */
export function formatMeasured({ number: text, unit, resolution }: Pick<Measured, "number" | "unit" | "resolution">): string {
  const number = new Decimal(text);
  const step = differenceFromSi(resolution, unit);
  const typedPlaces = /^(?:0\.0*1|10*)$/.test(plain(step)) ? step.decimalPlaces() : 0;
  const places = Math.max(number.decimalPlaces(), typedPlaces);
  return withUnit(shownNumber(number, places > MOST_ENTRY_PLACES ? FRACTION_PLACES : places), unit);
}

function faulty(fault: NumberFault, text: string): EntryResult {
  return { ok: false, problem: problemOf(fault, text) };
}

function problemOf(code: NumberFault, text: string): EntryProblem {
  const what = shortened(text);
  const messages: Record<NumberFault, string> = {
    "not-a-number": `${what} is not a number. Type digits, such as 6.4.`,
    ambiguous: `${what} can be read in two ways. Write 1200 for twelve hundred, or 1.2 for one and two tenths.`,
    "out-of-range": `${what} is too large for a measured value. Check the number.`,
    "too-precise": `${what} has more digits than can be measured. Give at most 15 digits, 12 of them after the point.`,
  };
  return { code, message: messages[code] };
}

function refuse(code: EntryProblem["code"], message: string, suggestions?: Unit[]): EntryResult {
  return { ok: false, problem: suggestions ? { code, message, suggestions } : { code, message } };
}

function shortened(text: string): string {
  return text.length > 24 ? `${text.slice(0, 24)}…` : text;
}

/** The units a person is likely to want: the first five of the dimension. */
function offered(dimension: Dimension): Unit[] {
  return unitsOf(dimension).slice(0, 5);
}

function listed(units: readonly Unit[]): string {
  if (units[0] === "1") return "a plain number";
  return units.length < 2 ? units.join("") : `${units.slice(0, -1).join(", ")} or ${units.at(-1)}`;
}

function named(dimension: Dimension): string {
  return `${/^[aeiou]/.test(dimension) ? "an" : "a"} ${dimension}`;
}
