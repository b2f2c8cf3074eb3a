import { itemRule, type ItemRule, type PotLife, type Rule } from "#lib/domain/requirement/rule";

/** A requirement as it is shown beside a value: "≥ 7.0 in", "65 … 72 ft·lbf", "100 : 38 by mass, ± 3 %". */
export function requirementWords(rule: Rule): string {
  return ruleWords(rule, false);
}

/** The same with every row of a data sheet, where two requirements are held against each other. */
export function wholeRequirementWords(rule: Rule): string {
  return ruleWords(rule, true);
}

function ruleWords(rule: Rule, whole: boolean): string {
  const sample = rule.form === "each" ? rule.sample : null;
  const words = itemWords(itemRule(rule), whole);
  return sample ? `${words}, ${sample.n} checked, at most ${sample.accept} failing` : words;
}

function itemWords(rule: ItemRule, whole: boolean): string {
  switch (rule.form) {
    case "min":
      return `${rule.inclusive ? "≥" : ">"} ${amount(rule.limit, rule.unit)}`;
    case "max":
      return `${rule.inclusive ? "≤" : "<"} ${amount(rule.limit, rule.unit)}`;
    case "range":
      return `${rule.inclusiveMin ? "" : "over "}${rule.min} … ${rule.inclusiveMax ? "" : "under "}${amount(rule.max, rule.unit)}`;
    case "nominal":
      return rule.plus === rule.minus
        ? `${amount(rule.nominal, rule.unit)} ± ${rule.plus}`
        : `${amount(rule.nominal, rule.unit)} + ${rule.plus} − ${rule.minus}`;
    case "exact":
      return rule.value;
    case "count":
      return rule.exactly !== null ? `${rule.exactly}` : `≥ ${rule.atLeast ?? 0}`;
    case "grade":
      return `${rule.atLeast} or better`;
    case "ratio":
      return `${rule.a} : ${rule.b} by ${rule.basis}, ± ${rule.tolerancePct} %`;
    case "elapsed":
      return elapsedWords(rule);
    case "cure":
      return `${rule.hours} h at ${rule.referenceC} °C${rule.minimumC === null ? "" : `, ${UNDER_MINIMUM[rule.underMinimum]} under ${rule.minimumC} °C`}`;
    case "maturity":
      return `${rule.degreeHours} °C·h above ${rule.datumC} °C`;
    case "equivalent age":
      return `${rule.hours} h of equivalent age at ${rule.referenceC} °C${rule.minimumC === null ? "" : `, ${UNDER_MINIMUM[rule.underMinimum]} under ${rule.minimumC} °C`}`;
    case "pot life":
      return `inside the pot life from point ${rule.from}, ${whole ? lifeWords(rule.life) : shortLifeWords(rule.life)}`;
    case "statement":
      return "stated";
    case "recorded":
      return "recorded";
    case "all of":
      return rule.rules.map((one) => itemWords(one, whole)).join(" and ");
    case "any of":
      return rule.rules.map((one) => itemWords(one, whole)).join(" or ");
  }
}

const UNDER_MINIMUM = { pause: "paused", restart: "begun again", void: "void" } as const;

function lifeWords(life: PotLife): string {
  if (life.kind === "doubling") return `${life.minutes} min at ${life.referenceC} °C, divided by ${life.factor} for each 10 °C more`;
  return life.rows.map(({ celsius, minutes }) => `${minutes} min at ${celsius} °C`).join(", ");
}

function shortLifeWords(life: PotLife): string {
  const [first, last] = life.kind === "table" ? [life.rows[0], life.rows.at(-1)] : [];
  return first && last ? `${first.minutes} min at ${first.celsius} °C to ${last.minutes} min at ${last.celsius} °C` : lifeWords(life);
}

function elapsedWords({ from, to, atLeastHours, atMostHours }: Extract<ItemRule, { form: "elapsed" }>): string {
  const limits = [atLeastHours && `≥ ${atLeastHours} h`, atMostHours && `≤ ${atMostHours} h`].filter(Boolean).join(", ");
  return `${limits} from the ${from.event === "began" ? "beginning" : "end"} of point ${from.line} to the ${to === "began" ? "beginning" : "end"} of this`;
}

function amount(number: string, unit: string): string {
  return unit === "1" ? number : `${number} ${unit}`;
}
