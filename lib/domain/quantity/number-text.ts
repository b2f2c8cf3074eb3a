import { Decimal } from "#lib/domain/quantity/decimal";

/** A number as it was typed, with the smallest step that the typing shows: 0.01 for 0.47, 1/2 for 18 1/2, 1 for 470. */
export interface TypedNumber {
  number: Decimal;
  step: Decimal;
}
export type NumberFault = "not-a-number" | "ambiguous" | "out-of-range" | "too-precise";

/** No site measurement comes near these: past them an entry is a slip of the hand. Common practice, no source. */
const LARGEST = new Decimal("1e15");
const MOST_DIGITS = 15;
const MOST_PLACES = 12;
const LARGEST_DENOMINATOR = 1_000;
/** Significant digits kept of a fraction without a finite decimal, such as 1/3. */
const FRACTION_DIGITS = 20;

const VULGAR: Readonly<Record<string, string>> = {
  "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
  "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
};
export const VULGAR_FRACTIONS = Object.keys(VULGAR).join("");
const VULGAR_PATTERN = new RegExp(`[${VULGAR_FRACTIONS}]`, "gu");

const FRACTION = /^(?:(\d+)(?: | - |- |-))?(\d+)\/(\d+)$/;
const SIGN = /^[+\-−]/;

/**
 * Reads digits with a decimal point or a decimal comma, groups of three, a power of ten, or a fraction.
 *
 * A comma before exactly three digits ("1,200") may be either a decimal comma or a thousands separator: "ambiguous".
 * Where only one reading is left ("0,470", "1,200.5", "1.200,5", "1,200,300") that one is taken. A single point is always
 * a decimal point.
 */
export function readNumber(text: string): TypedNumber | { fault: NumberFault } {
  const negative = /^[-−]/.test(text);
  const digits = text.replace(SIGN, "").replace(VULGAR_PATTERN, (sign) => ` ${VULGAR[sign] ?? sign}`).replace(/ {2,}/g, " ").trim();
  const read = FRACTION.test(digits) ? readFraction(digits) : readDecimal(digits);
  if ("fault" in read) return read;
  if (read.number.gt(LARGEST) || read.step.gt(LARGEST)) return { fault: "out-of-range" };
  // A negative zero is a zero: "-0.0" must not be kept as another value than "0.0".
  return negative && !read.number.isZero() ? { number: read.number.negated(), step: read.step } : read;
}

function readFraction(text: string): TypedNumber | { fault: NumberFault } {
  const [, whole, top, bottom] = FRACTION.exec(text) ?? [];
  if (top === undefined || bottom === undefined) return { fault: "not-a-number" };
  if (text.replace(/\D/g, "").length > MOST_DIGITS) return { fault: "too-precise" };
  const denominator = new Decimal(bottom);
  if (denominator.isZero()) return { fault: "not-a-number" };
  if (denominator.gt(LARGEST_DENOMINATOR)) return { fault: "too-precise" };
  // "18 5/4" is a slip, not nineteen and a quarter.
  if (whole !== undefined && denominator.lte(top)) return { fault: "not-a-number" };

  const number = new Decimal(top).div(denominator).plus(whole ?? 0).toSignificantDigits(FRACTION_DIGITS);
  return { number, step: new Decimal(1).div(denominator) };
}

function readDecimal(text: string): TypedNumber | { fault: NumberFault } {
  const [, mantissa = "", exponent = "0"] = /^(.*?)(?:e([+\-−]?\d+))?$/i.exec(text) ?? [];
  const plain = withDecimalPoint(mantissa);
  if (plain === null || /[\s,].*e/i.test(text)) return { fault: "not-a-number" };
  if (plain === "ambiguous") return { fault: "ambiguous" };
  const digits = plain.replace(/^[0.]+/, "").replace(".", "");
  if (digits.length > MOST_DIGITS) return { fault: /^\d{16,}(?:\.|$)/.test(plain.replace(/^0+/, "")) ? "out-of-range" : "too-precise" };

  // Four digits say as much as four hundred here: both limits are passed long before.
  const power = Math.max(-9999, Math.min(9999, Number(exponent.replace("−", "-"))));
  const places = (plain.split(".")[1] ?? "").length - power;
  if (places > MOST_PLACES) return { fault: "too-precise" };
  return { number: new Decimal(`${plain}e${power}`), step: new Decimal(`1e${-places}`) };
}

function withDecimalPoint(text: string): string | "ambiguous" | null {
  if (/^(?:\d+\.?\d*|\.\d+)$/.test(text)) return text;
  if (/^[1-9]\d{0,2},\d{3}$/.test(text)) return "ambiguous";
  if (/^\d*,\d+$/.test(text)) return text.replace(",", ".");
  if (/^[1-9]\d{0,2}(?: \d{3})+(?:[.,]\d+)?$/.test(text)) return text.replaceAll(" ", "").replace(",", ".");
  if (/^[1-9]\d{0,2}(?:(?:,\d{3})+\.\d+|(?:,\d{3}){2,})$/.test(text)) return text.replaceAll(",", "");
  if (/^[1-9]\d{0,2}(?:(?:\.\d{3})+,\d+|(?:\.\d{3}){2,})$/.test(text)) return text.replaceAll(".", "").replace(",", ".");
  return null;
}
