/** Fractions of a tape measure, in sixteenths. Pressed one after the other they add up: ½, ¼ and ⅛ are 7/8. */
export const FRACTION_KEYS = { "½": 8, "¼": 4, "⅛": 2, "1⁄16": 1 } as const;
export type FractionKey = keyof typeof FRACTION_KEYS;
export const DIGIT_KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0", "."] as const;
export type Key = (typeof DIGIT_KEYS)[number] | FractionKey | "del";

const KEYED = /^(\d*)(?: ?(\d{1,2})\/(2|4|8|16))?$/;
const LONGEST = 12;

/**
 * The text of a value after a key: digits, one decimal point, or whole numbers with sixteenths in lowest terms. A key that would
 * make something that is no number changes nothing.
 */
export function keyed(text: string, key: Key): string {
  const fraction = KEYED.exec(text.trim());
  if (key === "del") return fraction?.[2] ? (fraction[1] ?? "") : text.trim().slice(0, -1);
  if (key in FRACTION_KEYS) return fraction ? withSixteenths(fraction, FRACTION_KEYS[key as FractionKey]) : text;
  if (fraction?.[2] || text.length >= LONGEST) return text;
  if (key === ".") return text.includes(".") ? text : `${text || "0"}.`;
  return text === "0" ? key : text + key;
}

function withSixteenths([, whole = "", numerator, denominator]: RegExpExecArray, more: number): string {
  const before = numerator && denominator ? (Number(numerator) * 16) / Number(denominator) : 0;
  const total = before + more;
  const left = total % 16;
  const wholes = Number(whole || "0") + Math.floor(total / 16);
  const front = wholes === 0 ? "" : String(wholes);
  if (left === 0) return front || "0";
  const divisor = [8, 4, 2, 1].find((one) => left % one === 0) ?? 1;
  return `${front}${front && " "}${left / divisor}/${16 / divisor}`;
}
