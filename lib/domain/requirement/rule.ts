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
/** Equivalent age at a reference temperature by the Arrhenius function; Q is the activation energy over the gas constant, K. */
const EquivalentAgeRule = z.strictObject({
  form: z.literal("equivalent age"), from: LineId, hours: DecimalText, referenceC: DecimalText, activationK: DecimalText, minimumC: DecimalText.nullable(),
  underMinimum: z.enum(["pause", "restart", "void"]),
});
/** Minutes that mixed resin can be worked: rows of the data sheet, or a time at one temperature that falls by a factor for each 10 °C. */
export const PotLifeSchema = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("table"), rows: z.array(z.strictObject({ celsius: DecimalText, minutes: DecimalText })).min(2).max(40) }),
  z.strictObject({ kind: z.literal("doubling"), referenceC: DecimalText, minutes: DecimalText, factor: DecimalText }),
]);
export type PotLife = z.infer<typeof PotLifeSchema>;
/** The work of this point has to end inside the pot life of the batch mixed at another, at the warmest of the temperatures named there. */
const PotLifeRule = z.strictObject({ form: z.literal("pot life"), from: LineId, temperatures: z.array(Words).min(1), life: PotLifeSchema });
/** Something a person states to be so; the photo subject shows it where one is named. */
const StatementRule = z.strictObject({ form: z.literal("statement"), photo: z.string().nullable() });
/** Recorded without a limit. */
const RecordedRule = z.strictObject({ form: z.literal("recorded"), unit: UnitText.nullable() });

const SingleRule = z.discriminatedUnion("form", [
  MinRule, MaxRule, RangeRule, NominalRule, ExactRule, CountRule, GradeRule, RatioRule, ElapsedRule, CureRule, MaturityRule,
  EquivalentAgeRule, PotLifeRule, StatementRule, RecordedRule,
]);
export type SingleRule = z.infer<typeof SingleRule>;

/** Several rules on one value: every one has to hold, or one is enough. */
const AllOfRule = z.strictObject({ form: z.literal("all of"), rules: z.array(SingleRule).min(2) });
const AnyOfRule = z.strictObject({ form: z.literal("any of"), rules: z.array(SingleRule).min(2) });
const ItemRule = z.discriminatedUnion("form", [...SingleRule.options, AllOfRule, AnyOfRule]);
export type ItemRule = z.infer<typeof ItemRule>;

/** Instead of all of them, `n` are checked, and the sample is accepted with at most `accept` that fail. */
const SampleSchema = z.strictObject({ n: z.int().min(1).max(200), accept: z.int().min(0).max(200) });
/** One value for each bar, bolt, ring or lift. `count` null: as many as there are, at least one. `sample` null: every one of them. */
const EachRule = z.strictObject({ form: z.literal("each"), of: Words, count: z.int().min(1).max(200).nullable(), sample: SampleSchema.nullable().default(null), rule: ItemRule });

export const RuleSchema = z.discriminatedUnion("form", [...ItemRule.options, EachRule]).superRefine((rule, context) => {
  if (rule.form === "each" && rule.sample && (rule.count === null || rule.sample.n > rule.count || rule.sample.accept >= rule.sample.n)) {
    context.addIssue({ code: "custom", message: "A sample is part of a known number, and accepts fewer than it checks." });
  }
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
    case "pot life":
      return potLifeFaults(rule.life);
    default:
      return [];
  }
}

/** Hotter is never longer, and every time is more than nothing. */
function potLifeFaults(life: PotLife): string[] {
  if (life.kind === "doubling") {
    return new Decimal(life.minutes).gt(0) && new Decimal(life.factor).gte(1) ? [] : ["A pot life is more than nothing, and falls with warmth by a factor of at least 1."];
  }
  const rows = [...life.rows].sort((a, b) => new Decimal(a.celsius).cmp(b.celsius));
  const sound = rows.every(({ celsius, minutes }, i) => {
    const before = rows[i - 1];
    return new Decimal(minutes).gt(0) && (!before || (new Decimal(celsius).gt(before.celsius) && new Decimal(minutes).lte(before.minutes)));
  });
  return sound ? [] : ["A table of pot lives names each temperature once, and is never longer when it is warmer."];
}

/** The rule that each single value has to meet. */
export function itemRule(rule: Rule): ItemRule {
  return rule.form === "each" ? rule.rule : rule;
}
