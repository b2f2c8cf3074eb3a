import type { SingleRule } from "#lib/domain/requirement/rule";

type Form = SingleRule["form"];
type FieldKind = "number" | "whole" | "words" | "unit" | "choice" | "line" | "quantity" | "photo" | "rows";

/** One thing that a person writes of a rule. */
export interface RuleField {
  name: string;
  label: string;
  kind: FieldKind;
  /** Each pile type has its own; otherwise one serves all types of the row. */
  own: boolean;
  optional?: boolean;
  options?: readonly { value: string; label: string }[];
  hint?: string;
}

const own = (name: string, label: string, kind: FieldKind = "number", more: Partial<RuleField> = {}): RuleField => ({ name, label, kind, own: true, ...more });
const shared = (name: string, label: string, kind: FieldKind, more: Partial<RuleField> = {}): RuleField => ({ name, label, kind, own: false, ...more });
const choice = (name: string, label: string, ...values: string[]): RuleField => shared(name, label, "choice", { options: values.map((value) => ({ value, label: value })) });

const UNIT = shared("unit", "unit", "unit");
const AT_LIMIT = [{ value: "true", label: "meets" }, { value: "false", label: "fails" }];
const atLimit = (name: string, label: string): RuleField => shared(name, label, "choice", { options: AT_LIMIT });
const FROM = shared("from", "from the end of point", "line");
const UNDER_MINIMUM = choice("underMinimum", "under the minimum", "pause", "restart", "void");
const EVENTS = ["began", "ended"];

/** What each form of rule is written with, and its short name. Numbers that differ by type are `own`. */
export const RULE_FIELDS: Record<Form, { short: string; fields: readonly RuleField[] }> = {
  min: { short: "min", fields: [own("limit", "at least"), UNIT, atLimit("inclusive", "at the limit")] },
  max: { short: "max", fields: [own("limit", "at most"), UNIT, atLimit("inclusive", "at the limit")] },
  range: { short: "range", fields: [own("min", "from"), own("max", "to"), UNIT, atLimit("inclusiveMin", "at the lower limit"), atLimit("inclusiveMax", "at the upper limit")] },
  nominal: { short: "± about", fields: [own("nominal", "about"), own("plus", "plus"), own("minus", "minus"), UNIT] },
  exact: { short: "exact", fields: [own("value", "the word", "words", { hint: "{mark} stands for the pile's own mark." })] },
  count: { short: "count", fields: [own("number", "number", "whole"), choice("counted", "counted", "exactly", "at least")] },
  grade: { short: "grade ≥", fields: [own("atLeast", "grade", "words"), shared("chains", "grades, least first", "rows", { hint: "One scale on each line, its grades between commas." })] },
  ratio: { short: "ratio ±", fields: [own("a", "parts A"), own("b", "parts B"), own("tolerancePct", "± % of B/A"), choice("basis", "by", "mass", "volume"), shared("sourceA", "A is measured as", "quantity"), shared("sourceB", "B is measured as", "quantity")] },
  elapsed: {
    short: "elapsed ≥",
    fields: [own("atLeastHours", "at least, h", "number", { optional: true }), own("atMostHours", "at most, h", "number", { optional: true }), shared("fromLine", "from point", "line"), choice("fromEvent", "where work", ...EVENTS), choice("to", "until work here", ...EVENTS)],
  },
  cure: { short: "T-elapsed ≥", fields: [own("hours", "hours"), own("referenceC", "at °C"), own("minimumC", "not under °C", "number", { optional: true }), FROM, UNDER_MINIMUM] },
  maturity: { short: "maturity ≥", fields: [own("degreeHours", "°C·h"), own("datumC", "above °C"), FROM] },
  "equivalent age": { short: "equivalent age ≥", fields: [own("hours", "hours"), own("referenceC", "at °C"), own("activationK", "Q, K"), own("minimumC", "not under °C", "number", { optional: true }), FROM, UNDER_MINIMUM] },
  "pot life": {
    short: "pot life",
    fields: [shared("from", "batch mixed at point", "line"), shared("temperatures", "temperatures of it", "words", { hint: "Ids of the quantities read there, between commas." }), shared("life", "pot life", "rows", { hint: "Each line °C: min. Or one line: min at °C, factor for each 10 °C." })],
  },
  statement: { short: "yes, with photo", fields: [shared("photo", "shown by photo", "photo", { optional: true })] },
  recorded: { short: "recorded", fields: [shared("unit", "unit", "unit", { optional: true })] },
};

export const RULE_FORMS = Object.keys(RULE_FIELDS) as Form[];

export function isRuleForm(form: string | undefined): form is Form {
  return form !== undefined && RULE_FORMS.some((one) => one === form);
}

/** A rule as the texts of its fields. */
export function fieldsOfRule(rule: SingleRule): Record<string, string> {
  switch (rule.form) {
    case "count":
      return { number: `${rule.exactly ?? rule.atLeast ?? ""}`, counted: rule.exactly === null ? "at least" : "exactly" };
    case "grade":
      return { atLeast: rule.atLeast, chains: rule.chains.map((chain) => chain.join(", ")).join("\n") };
    case "elapsed":
      return { fromLine: rule.from.line, fromEvent: rule.from.event, to: rule.to, atLeastHours: rule.atLeastHours ?? "", atMostHours: rule.atMostHours ?? "" };
    case "pot life":
      return { from: rule.from, temperatures: rule.temperatures.join(", "), life: lifeText(rule.life) };
    default: {
      const { form: _form, ...rest } = rule;
      return Object.fromEntries(Object.entries(rest).map(([name, value]) => [name, value === null ? "" : String(value)]));
    }
  }
}

/** The rule that the texts say, not yet checked: `RuleSchema` says what is wrong with it. */
export function ruleOfFields(form: Form, text: Record<string, string>): unknown {
  const of = (name: string): string => (text[name] ?? "").trim().replace(/^[−–]/, "-");
  const orNull = (name: string): string | null => of(name) || null;
  switch (form) {
    case "count":
      return { form, exactly: of("counted") === "exactly" ? whole(of("number")) : null, atLeast: of("counted") === "at least" ? whole(of("number")) : null };
    case "grade":
      return { form, atLeast: of("atLeast"), chains: rows(of("chains")).map((row) => list(row)) };
    case "elapsed":
      return { form, from: { line: of("fromLine"), event: of("fromEvent") }, to: of("to"), atLeastHours: orNull("atLeastHours"), atMostHours: orNull("atMostHours") };
    case "pot life":
      return { form, from: of("from"), temperatures: list(of("temperatures")), life: lifeOf(of("life")) };
    case "ratio":
      return { form, a: of("a"), b: of("b"), tolerancePct: of("tolerancePct"), basis: of("basis") };
    default:
      return {
        form,
        ...Object.fromEntries(RULE_FIELDS[form].fields.map(({ name, optional, options }) => [name, options === AT_LIMIT ? of(name) === "true" : optional ? orNull(name) : of(name)])),
      };
  }
}

function whole(text: string): number | string {
  return /^\d{1,4}$/.test(text) ? Number(text) : text;
}

function list(text: string): string[] {
  return text.split(",").map((word) => word.trim()).filter(Boolean);
}

function rows(text: string): string[] {
  return text.split(/\r?\n/).map((row) => row.trim()).filter(Boolean);
}

type PotLife = Extract<SingleRule, { form: "pot life" }>["life"];

/** A table as "5: 160" on each line, a doubling as "40 min at 25, factor 2". */
export function lifeText(life: PotLife): string {
  return life.kind === "table" ? life.rows.map(({ celsius, minutes }) => `${celsius}: ${minutes}`).join("\n") : `${life.minutes} min at ${life.referenceC}, factor ${life.factor}`;
}

/** What such a text says, not yet checked. */
export function lifeOf(text: string): unknown {
  const doubling = /^(\S+)\s*min\s+at\s+(\S+?)\s*(?:°C)?\s*,\s*factor\s+(\S+)$/.exec(text.trim());
  if (doubling) return { kind: "doubling", minutes: doubling[1], referenceC: doubling[2], factor: doubling[3] };
  return {
    kind: "table",
    rows: rows(text).map((row) => {
      const [celsius = "", minutes = ""] = row.split(":").map((part) => part.replace(/°C|min/g, "").trim());
      return { celsius: celsius.replace(/^[−–]/, "-"), minutes };
    }),
  };
}
