import { Decimal } from "#lib/domain/quantity/decimal";
import type { Limits } from "#lib/domain/quantity/compare";
import { differenceToSi, toSi, type Unit } from "#lib/domain/quantity/unit";
import type { ItemRule } from "#lib/domain/requirement/rule";

export interface RuleLimits extends Limits {
  unit: Unit;
}

/**
 * The limits in SI that a rule sets on a number; null for rules that judge words, counts or statements.
 * Limits of a temperature difference (K, F°) are differences; an elapsed rule is in seconds, a pot life rule in seconds left of it; a ratio rule limits the
 * ratio's error as a share of one.
 */
export function limitsOf(rule: ItemRule): RuleLimits | null {
  switch (rule.form) {
    case "min":
      return { min: { si: toSi(rule.limit, rule.unit), inclusive: rule.inclusive }, unit: rule.unit };
    case "max":
      return { max: { si: toSi(rule.limit, rule.unit), inclusive: rule.inclusive }, unit: rule.unit };
    case "range":
      return {
        min: { si: toSi(rule.min, rule.unit), inclusive: rule.inclusiveMin },
        max: { si: toSi(rule.max, rule.unit), inclusive: rule.inclusiveMax },
        unit: rule.unit,
      };
    case "nominal": {
      const nominal = toSi(rule.nominal, rule.unit);
      return {
        min: { si: nominal.minus(differenceToSi(rule.minus, rule.unit)), inclusive: true },
        max: { si: nominal.plus(differenceToSi(rule.plus, rule.unit)), inclusive: true },
        unit: rule.unit,
      };
    }
    case "ratio": {
      const tolerance = new Decimal(rule.tolerancePct).div(100);
      return { min: { si: tolerance.negated(), inclusive: true }, max: { si: tolerance, inclusive: true }, unit: "%" };
    }
    case "elapsed":
      return {
        ...(rule.atLeastHours === null ? {} : { min: { si: toSi(rule.atLeastHours, "h"), inclusive: true } }),
        ...(rule.atMostHours === null ? {} : { max: { si: toSi(rule.atMostHours, "h"), inclusive: true } }),
        unit: "h",
      };
    case "cure":
    case "equivalent age":
      return { min: { si: toSi(rule.hours, "h"), inclusive: true }, unit: "h" };
    case "maturity":
      return { min: { si: toSi(rule.degreeHours, "°C·h"), inclusive: true }, unit: "°C·h" };
    case "pot life":
      return { min: { si: new Decimal(0), inclusive: true }, unit: "min" };
    default:
      return null;
  }
}
