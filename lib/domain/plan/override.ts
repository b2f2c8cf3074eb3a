import type { JACKET_FIELDS, Override } from "#lib/domain/plan/plan";
import { DecimalText, type ItemRule, type Rule } from "#lib/domain/requirement/rule";
import type { PlanLineSpec } from "#lib/domain/requirement/set";

/** The facts of a jacket, as a person reads them. */
export const JACKET_WORDS: Record<(typeof JACKET_FIELDS)[number], string> = {
  insideDiameterIn: "Inside diameter, in", heightIn: "Height, in", layers: "Layers", spacerRings: "Spacer rings", tieSets: "Tie sets", clamps: "Clamps", bars: "Bars",
};

/** A requirement of a type that a pile's own drawing can change, by its numbers. */
export interface Overridable {
  line: string;
  lineName: string;
  /** Id of the quantity, or of the point that a wait runs from. */
  id: string;
  kind: "quantity" | "wait";
  name: string;
  rule: Rule | null;
  hours: string | null;
  /** Whether it has a second number: the upper end of a range. */
  two: boolean;
}

/** Everything at a type's points that is a limit in numbers. What is worked out or only stated stays the type's. */
export function overridable(lines: readonly PlanLineSpec[]): Overridable[] {
  return lines.flatMap(({ line, name: lineName, quantities, waits }): Overridable[] => [
    ...quantities.flatMap(({ id, name, rule }): Overridable[] => {
      const item = rule.form === "each" ? rule.rule : rule;
      return NUMBERED.has(item.form) ? [{ line, lineName, id, kind: "quantity", name, rule, hours: null, two: item.form === "range" }] : [];
    }),
    ...waits.map(({ from, name, hours }): Overridable => ({ line, lineName, id: from, kind: "wait", name, rule: null, hours, two: false })),
  ]);
}

const NUMBERED: ReadonlySet<ItemRule["form"]> = new Set(["min", "max", "range", "nominal", "count", "elapsed", "cure", "maturity"]);

/** What of a pile an override changes: two with one key cannot both hold. */
export function overrideKey({ line, change }: Pick<Override, "line" | "change">): string {
  switch (change.kind) {
    case "quantity":
      return `${line} quantity ${change.quantity}`;
    case "wait":
      return `${line} wait ${change.from}`;
    case "jacket":
      return `jacket ${change.field}`;
  }
}

/**
 * The override that puts new numbers in place of a type's: the form of the rule stays.
 *
 * @param first  the limit, the lower end of a range, the nominal value or the hours, as plain decimal text.
 * @param second the upper end of a range; not read for other rules.
 * @returns the change, or why it cannot be made.
 */
export function overrideWith({ kind, id, rule, two }: Overridable, first: string, second: string): Override["change"] | string {
  if (!DecimalText.safeParse(first).success || (two && !DecimalText.safeParse(second).success)) return "Write a plain decimal number, such as 7.0.";
  if (kind === "wait") return { kind: "wait", from: id, hours: first };
  if (two && Number(first) > Number(second)) return "The range ends before it begins.";
  if (!rule) return "This requirement has no numbers.";
  const item = changedItem(rule.form === "each" ? rule.rule : rule, first, second);
  if (!item) return "Give a whole number.";
  return { kind: "quantity", quantity: id, rule: rule.form === "each" ? { ...rule, rule: item } : item };
}

function changedItem(rule: ItemRule, first: string, second: string): ItemRule | null {
  switch (rule.form) {
    case "min":
    case "max":
      return { ...rule, limit: first };
    case "range":
      return { ...rule, min: first, max: second };
    case "nominal":
      return { ...rule, nominal: first };
    case "count": {
      const count = Number(first);
      if (!Number.isInteger(count) || count < 0) return null;
      return rule.exactly === null ? { ...rule, atLeast: count } : { ...rule, exactly: count };
    }
    case "elapsed":
      return rule.atLeastHours === null ? { ...rule, atMostHours: first } : { ...rule, atLeastHours: first };
    case "cure":
      return { ...rule, hours: first };
    case "maturity":
      return { ...rule, degreeHours: first };
    default:
      return rule;
  }
}
