import type { Fault } from "#lib/domain/refusal";
import { fieldsOfRule, isRuleForm, RULE_FIELDS, ruleOfFields, type RuleField } from "#lib/domain/requirement/rule-field";
import { itemRule, RuleSchema, type Rule, type SingleRule } from "#lib/domain/requirement/rule";
import { QuantitySchema, WORKED_OUT_BY, type PlanLineSpec, type Quantity } from "#lib/domain/requirement/set";

/** A quantity of a point on the types that ask for it in the same form: one row of the table, one form. */
export interface QuantityRow {
  id: string;
  name: string;
  /** Types in the order of the sets. */
  types: string[];
  of: Record<string, Quantity>;
}

/** The quantities of one point, side by side: types whose rule differs in more than its own numbers have rows of their own. */
export function quantityRows(lines: readonly { type: string; line: PlanLineSpec }[]): QuantityRow[] {
  const rows = new Map<string, QuantityRow>();
  const order: string[] = [];
  for (const { type, line } of lines) {
    let before = -1;
    for (const quantity of line.quantities) {
      const key = rowKey(quantity);
      const row = rows.get(key) ?? { id: quantity.id, name: quantity.name, types: [], of: {} };
      row.types.push(type);
      row.of[type] = quantity;
      rows.set(key, row);
      // A row that only a later type has stands behind the one it follows there.
      if (!order.includes(key)) order.splice(before < 0 ? order.length : before + 1, 0, key);
      before = order.indexOf(key);
    }
  }
  return order.flatMap((key) => rows.get(key) ?? []);
}

function rowKey({ rule, ...quantity }: Quantity): string {
  const item = itemRule(rule);
  const shared = item.form === "all of" || item.form === "any of" ? JSON.stringify(item) : sharedText(item);
  return JSON.stringify([quantity, shared, rule.form === "each" ? [rule.of, rule.sample === null] : null]);
}

function sharedText(item: SingleRule): string {
  const text = fieldsOfRule(item);
  return JSON.stringify([item.form, RULE_FIELDS[item.form].fields.filter(({ own }) => !own).map(({ name }) => text[name] ?? "")]);
}

export type Values = Record<string, string>;

/** The name of a field: what a type has of its own carries its letter. */
export function fieldName({ name, own }: Pick<RuleField, "name" | "own">, type: string): string {
  return own ? `${name}-${type}` : name;
}

/** A row as the texts of its form. */
export function valuesOfRow({ id, types, of }: QuantityRow): Values {
  const first = of[types[0] ?? ""];
  if (!first) return {};
  const values: Values = {
    id, name: first.name, hint: first.hint ?? "", instrument: first.instrument ?? "",
    accuracyValue: first.accuracy?.value ?? "", accuracyKind: first.accuracy?.kind ?? "per cent", follows: first.follows ?? "", form: itemRule(first.rule).form,
    many: first.rule.form === "each" ? "each" : "one", of: first.rule.form === "each" ? first.rule.of : "",
    sourceA: first.derived?.from[0] ?? "", sourceB: first.derived?.from[1] ?? "",
  };
  for (const type of types) {
    const rule = of[type]?.rule;
    if (!rule) continue;
    const item = itemRule(rule);
    if (item.form !== "all of" && item.form !== "any of") {
      const text = fieldsOfRule(item);
      for (const field of RULE_FIELDS[item.form].fields) values[fieldName(field, type)] ??= text[field.name] ?? "";
    }
    values[`count-${type}`] = rule.form === "each" ? `${rule.count ?? ""}` : "";
    values[`sampleN-${type}`] = rule.form === "each" ? `${rule.sample?.n ?? ""}` : "";
    values[`sampleAccept-${type}`] = rule.form === "each" ? `${rule.sample?.accept ?? ""}` : "";
  }
  return values;
}

/** An id of its own, from the words of a name. */
export function idFromName(name: string, taken: readonly string[]): string {
  const base = name.toLowerCase().normalize("NFKD").replace(/[^a-z0-9]+/g, "-").replace(/^[^a-z]+|-+$/g, "").slice(0, 30) || "item";
  for (let n = 1; ; n++) {
    const id = n === 1 ? base : `${base}-${n}`;
    if (!taken.includes(id)) return id;
  }
}

/** The rule that the form says for one type; null where it says none that holds. For the value that is tried while writing. */
export function ruleOfValues(values: Values, type: string): Rule | null {
  const read = readRule(values, type);
  return "rule" in read ? read.rule : null;
}

/**
 * Reads the form of a quantity for its types. What it asks for is either right for all of them, or every fault names its field.
 *
 * @param before the quantity of each type as it stands; null where it is new.
 */
export function readQuantity(values: Values, before: Readonly<Record<string, Quantity | null>>): { quantities: Record<string, Quantity> } | { faults: Fault[] } {
  const faults: Fault[] = [];
  const quantities: Record<string, Quantity> = {};
  const text = (name: string): string => (values[name] ?? "").trim();
  if (text("name") === "") faults.push({ field: "name", message: "Give the quantity a name." });
  const accuracy = text("accuracyValue") === "" ? null : { kind: text("accuracyKind"), value: text("accuracyValue") };
  if (accuracy && text("instrument") === "") faults.push({ field: "instrument", message: "An accuracy is asked of an instrument: name its class." });
  for (const [type, was] of Object.entries(before)) {
    const read = isKept(values, was) ? { rule: was.rule } : readRule(values, type);
    if ("faults" in read) {
      faults.push(...read.faults);
      continue;
    }
    const { rule } = read;
    const made = QuantitySchema.safeParse({
      id: text("id"), name: text("name"), hint: text("hint") || null, instrument: text("instrument") || null, accuracy, rule,
      derived: derivedFor(rule, was, values), follows: text("follows") || null,
    });
    if (made.success) quantities[type] = made.data;
    else faults.push(...made.error.issues.map(({ path, message }) => ({ field: path[0] === "accuracy" ? "accuracyValue" : String(path[0] ?? "form"), message })));
  }
  return faults.length > 0 ? { faults: unique(faults) } : { quantities };
}

/** A rule made of several is not written in fields: it is kept as it stands. */
function isKept(values: Values, was: Quantity | null): was is Quantity {
  return was !== null && (values.form === "all of" || values.form === "any of") && itemRule(was.rule).form === values.form;
}

function readRule(values: Values, type: string): { rule: Rule } | { faults: Fault[] } {
  const form = values.form;
  if (!isRuleForm(form)) return { faults: [{ field: "form", message: "Choose the form of the rule." }] };
  const { fields } = RULE_FIELDS[form];
  const text = Object.fromEntries(fields.map((field) => [field.name, values[fieldName(field, type)] ?? ""]));
  const missing = fields.filter((field) => !field.optional && (text[field.name] ?? "").trim() === "");
  if (missing.length > 0) {
    return { faults: missing.map((field) => ({ field: fieldName(field, type), message: `${field.own ? `Type ${type}: ` : ""}give ${field.label === "unit" ? "the unit" : `“${field.label}”`}.` })) };
  }
  const item = ruleOfFields(form, text);
  const each = values.many === "each";
  const whole = (name: string): number | null => ((values[name] ?? "").trim() === "" ? null : Number(values[name]));
  const sample = whole(`sampleN-${type}`) === null ? null : { n: whole(`sampleN-${type}`), accept: whole(`sampleAccept-${type}`) ?? 0 };
  const read = RuleSchema.safeParse(each ? { form: "each", of: (values.of ?? "").trim(), count: whole(`count-${type}`), sample, rule: item } : item);
  if (read.success) return { rule: read.data };
  return {
    faults: read.error.issues.map(({ path, message }) => {
      const named = path.filter((part) => typeof part === "string");
      const own = fields.find(({ name }) => named.includes(name)) ?? (named.includes("exactly") || named.includes("atLeast") ? fields.find(({ kind }) => kind === "whole") : undefined);
      if (own) return { field: fieldName(own, type), message: `${own.own ? `Type ${type}: ` : ""}${plainly(message, own)}` };
      if (each && named[0] === "of") return { field: "of", message: "Say of what there is one each: bar, bolt, face." };
      if (each && (named[0] === "count" || named[0] === "sample" || path.length === 0)) return { field: named[0] === "count" ? `count-${type}` : `sampleN-${type}`, message: `Type ${type}: ${message}` };
      const main = fields[0];
      return { field: main ? fieldName(main, type) : "form", message: `${main?.own ? `Type ${type}: ` : ""}${message}` };
    }),
  };
}

function plainly(message: string, { kind, label }: RuleField): string {
  if (kind === "whole") return "give a whole number.";
  return /^(Invalid|Too)/.test(message) ? `“${label}” cannot be read.` : message;
}

/** A rule on what the tool works out names how; what was worked out otherwise stays so. */
function derivedFor(rule: Rule, was: Quantity | null, values: Values): Quantity["derived"] {
  const formula = WORKED_OUT_BY[itemRule(rule).form];
  if (formula) return { formula, from: formula === "ratio error" ? [values.sourceA, values.sourceB].flatMap((one) => (one ? [one] : [])) : [] };
  const before = was?.derived ?? null;
  return before && Object.values(WORKED_OUT_BY).includes(before.formula) ? null : before;
}

function unique(faults: readonly Fault[]): Fault[] {
  return faults.filter((one, index) => faults.findIndex(({ field, message }) => field === one.field && message === one.message) === index);
}
