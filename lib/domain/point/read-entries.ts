import { fieldName } from "#lib/domain/point/missing";
import type { Entry, Reason } from "#lib/domain/point/value";
import { itemName, type PlanLine, type PlanQuantity } from "#lib/domain/plan/plan";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { dimensionOf, UNIT_SYMBOLS, type Unit } from "#lib/domain/quantity/unit";
import { itemRule } from "#lib/domain/requirement/rule";
import type { Fault } from "#lib/domain/refusal";

/** A value as it came from a form or the API: text as typed, the unit chosen beside it, and the instrument named. */
export interface RawValue {
  quantity: string;
  item: number | null;
  text: string;
  unit: string | null;
  instrumentId: string | null;
  /** The person was asked about the unit and confirmed it. */
  unitConfirmed: boolean;
  /** Why it is missing, or sent although it fails. */
  reason: string;
}

export type EntryKind = { kind: "measured"; unit: Unit } | { kind: "count" | "words" | "stated" | "derived" };

/** What kind of entry a quantity asks for; a measured one with the unit that its field starts with. */
export function entryKind(quantity: PlanQuantity): EntryKind {
  if (quantity.derived) return { kind: "derived" };
  const rule = itemRule(quantity.rule);
  const first = rule.form === "all of" || rule.form === "any of" ? rule.rules[0] : rule;
  switch (first?.form) {
    case "min":
    case "max":
    case "range":
    case "nominal":
      return { kind: "measured", unit: first.unit };
    case "recorded":
      return first.unit === null ? { kind: "words" } : { kind: "measured", unit: first.unit };
    case "count":
      return { kind: "count" };
    case "statement":
      return { kind: "stated" };
    default:
      return { kind: "words" };
  }
}

export interface ReadEntries {
  entries: Entry[];
  reasons: Reason[];
  unitConfirmed: Set<string>;
  faults: Fault[];
}

/** Turns what was typed into entries. An empty text is no entry; one that cannot be read is a fault at its field and loses nothing. */
export function readEntries(line: PlanLine, raw: readonly RawValue[]): ReadEntries {
  const read: ReadEntries = { entries: [], reasons: [], unitConfirmed: new Set(), faults: [] };
  for (const value of raw) {
    const quantity = line.quantities.find(({ id }) => id === value.quantity);
    const field = fieldName.value(value.quantity, value.item);
    if (!quantity) {
      read.faults.push({ field, message: `Point ${line.line} does not measure ${value.quantity}.` });
      continue;
    }
    const place = placeFault(quantity, value.item);
    if (place) {
      read.faults.push({ field, message: `${quantity.name}: ${place}` });
      continue;
    }
    if (value.reason.trim()) read.reasons.push({ quantity: value.quantity, item: value.item, words: value.reason.trim() });
    if (value.unitConfirmed) read.unitConfirmed.add(field);
    const text = value.text.trim();
    if (text === "") continue;
    const entry = readEntry(quantity, value, text);
    if (typeof entry === "string") read.faults.push({ field, message: `${itemName(quantity, value.item)}: ${entry}` });
    else if (read.entries.some((one) => one.quantity === entry.quantity && one.item === entry.item)) read.faults.push({ field, message: `${itemName(quantity, value.item)} is given twice.` });
    else read.entries.push(entry);
  }
  return read;
}

/** Why there is no such bar, bolt or ring; null where there is. An entry without an item serves all of them. */
function placeFault({ rule }: PlanQuantity, item: number | null): string | null {
  if (item === null) return null;
  if (rule.form !== "each") return "there is one value, and it has no number.";
  return rule.count !== null && item > rule.count ? `there is no ${rule.of} ${item}, only ${rule.count}.` : null;
}

function readEntry(quantity: PlanQuantity, { item, unit, instrumentId }: RawValue, text: string): Entry | string {
  const asked = entryKind(quantity);
  switch (asked.kind) {
    case "measured": {
      const chosen = UNIT_SYMBOLS.find((one) => one === unit);
      if (unit && !chosen) return `${unit} is not a unit that is known here.`;
      const parsed = parseMeasured(text, { dimension: dimensionOf(asked.unit), ...(chosen ? { unit: chosen } : {}) });
      return parsed.ok ? { kind: "measured", quantity: quantity.id, item, measured: parsed.measured, instrumentId } : parsed.problem.message;
    }
    case "count":
      return /^\d{1,5}$/.test(text) ? { kind: "count", quantity: quantity.id, item, count: Number(text) } : `${text.slice(0, 40)} is not a count. Type a whole number, such as 6.`;
    case "stated":
      return text === "yes" || text === "no" ? { kind: "stated", quantity: quantity.id, item, yes: text === "yes" } : "answer yes or no.";
    case "words":
      return { kind: "words", quantity: quantity.id, item, words: text.slice(0, 2_000) };
    case "derived":
      return "is worked out and cannot be typed.";
  }
}
