import { z } from "zod";
import { Decimal } from "#lib/domain/quantity/decimal";
import { UNIT_SYMBOLS } from "#lib/domain/quantity/unit";

/** A number as the specification writes it; kept as text so that no limit is ever rounded. */
export const DecimalText = z.string().regex(/^-?\d{1,12}(\.\d{1,12})?$/, "Write a plain decimal number, such as 7.0.");

const UnitText = z.enum(UNIT_SYMBOLS);
const LineId = z.string().regex(/^P?\d{1,2}[a-z]?$/);
const Words = z.string().min(1).max(400);

const MinRule = z.strictObject({ form: z.literal("min"), limit: DecimalText, unit: UnitText, inclusive: z.boolean() });
const MaxRule = z.strictObject({ form: z.literal("max"), limit: DecimalText, unit: UnitText, inclusive: z.boolean() });
const RangeRule = z.strictObject({
  form: z.literal("range"),
  min: DecimalText,
  max: DecimalText,
  unit: UnitText,
  inclusiveMin: z.boolean(),
  inclusiveMax: z.boolean(),
});
const NominalRule = z.strictObject({
  form: z.literal("nominal"),
  nominal: DecimalText,
  plus: DecimalText,
  minus: DecimalText,
  unit: UnitText,
});
/** The entry has to be this word: a pile mark, a bar size, a kind of seal. */
const ExactRule = z.strictObject({ form: z.literal("exact"), value: Words });
const CountRule = z.strictObject({ form: z.literal("count"), exactly: z.int().min(0).nullable(), atLeast: z.int().min(0).nullable() });
/**
 * A visual grade. Each chain lists grades from least to most; two grades that share no chain cannot be compared.
 */
const GradeRule = z.strictObject({ form: z.literal("grade"), atLeast: Words, chains: z.array(z.array(Words).min(1)).min(1) });
/** Parts A to B with a tolerance on B/A, in per cent; `basis` keeps mass and volume apart. */
const RatioRule = z.strictObject({
  form: z.literal("ratio"),
  a: DecimalText,
  b: DecimalText,
  tolerancePct: DecimalText,
  basis: z.enum(["mass", "volume"]),
});
/** Hours between an event at another point and an event at this one. */
const ElapsedRule = z.strictObject({
  form: z.literal("elapsed"),
  from: z.strictObject({ line: LineId, event: z.enum(["began", "ended"]) }),
  to: z.enum(["began", "ended"]),
  atLeastHours: DecimalText.nullable(),
  atMostHours: DecimalText.nullable(),
});
/** Temperature-dependent elapsed time: hours at a reference temperature, counted only above a minimum. */
const CureRule = z.strictObject({
  form: z.literal("cure"),
  from: LineId,
  hours: DecimalText,
  referenceC: DecimalText,
  minimumC: DecimalText.nullable(),
  underMinimum: z.enum(["pause", "restart", "void"]),
});
/** Temperature-time factor of Nurse and Saul, in degree-hours above a datum. */
const MaturityRule = z.strictObject({ form: z.literal("maturity"), from: LineId, degreeHours: DecimalText, datumC: DecimalText });
/** Something a person states to be so; the photo subject shows it where one is named. */
const StatementRule = z.strictObject({ form: z.literal("statement"), photo: z.string().nullable() });
/** Recorded without a limit. */
const RecordedRule = z.strictObject({ form: z.literal("recorded"), unit: UnitText.nullable() });

const SingleRule = z.discriminatedUnion("form", [
  MinRule, MaxRule, RangeRule, NominalRule, ExactRule, CountRule, GradeRule, RatioRule, ElapsedRule, CureRule, MaturityRule,
  StatementRule, RecordedRule,
]);
export type SingleRule = z.infer<typeof SingleRule>;

/** Several rules on one value: every one has to hold, or one is enough. */
const AllOfRule = z.strictObject({ form: z.literal("all of"), rules: z.array(SingleRule).min(2) });
const AnyOfRule = z.strictObject({ form: z.literal("any of"), rules: z.array(SingleRule).min(2) });
const ItemRule = z.discriminatedUnion("form", [...SingleRule.options, AllOfRule, AnyOfRule]);
export type ItemRule = z.infer<typeof ItemRule>;

/** One value for each bar, bolt, ring or lift. `count` null: as many as there are, at least one. */
const EachRule = z.strictObject({ form: z.literal("each"), of: Words, count: z.int().min(1).max(200).nullable(), rule: ItemRule });

export const RuleSchema = z.discriminatedUnion("form", [...ItemRule.options, EachRule]).superRefine((rule, context) => {
  const item = rule.form === "each" ? rule.rule : rule;
  const singles = item.form === "all of" || item.form === "any of" ? item.rules : [item];
  for (const message of singles.flatMap(ruleFaults)) context.addIssue({ code: "custom", message });
});
export type Rule = z.infer<typeof RuleSchema>;

/** What makes a rule one that nothing, or everything, would meet. */
function ruleFaults(rule: SingleRule): string[] {
  const less = (a: string, b: string): boolean => new Decimal(a).lt(b);
  switch (rule.form) {
    case "range":
      return less(rule.max, rule.min) ? ["The range ends before it begins."] : [];
    case "nominal":
      return less(rule.plus, "0") || less(rule.minus, "0") ? ["A tolerance is not negative."] : [];
    case "count":
      return (rule.exactly === null) === (rule.atLeast === null) ? ["A count is either exact or a least one."] : [];
    case "grade":
      return rule.chains.some((chain) => chain.includes(rule.atLeast)) ? [] : [`${rule.atLeast} stands in no chain of grades.`];
    case "ratio":
      return !less("0", rule.a) || !less("0", rule.b) || less(rule.tolerancePct, "0") ? ["Both parts of a ratio are more than nothing, and its tolerance is not negative."] : [];
    case "elapsed":
      return rule.atLeastHours === null && rule.atMostHours === null ? ["An elapsed time has a least or a most."] : [];
    default:
      return [];
  }
}

/** The rule that each single value has to meet. */
export function itemRule(rule: Rule): ItemRule {
  return rule.form === "each" ? rule.rule : rule;
}
