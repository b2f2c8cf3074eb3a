import { HOUR, type Instant } from "#lib/domain/instant";
import type { PlanLine, PlanQuantity } from "#lib/domain/plan/plan";
import { itemRule, type ItemRule } from "#lib/domain/requirement/rule";
import { airC, waterM } from "#seed/calendar";
import type { Rand } from "#seed/photo/random";

/** What the usual values of a point hang on. */
export interface Circumstance {
  began: Instant;
  ended: Instant;
  core: "H" | "square" | "round";
  rand: Rand;
}

const FEET_IN_METRE = 3.280_84;
const text = (number: number, places: number, unit: string): string => `${number.toFixed(places)} ${unit}`;

/** What is usually found where the rule alone does not say it, by line and quantity, or by quantity. */
const USUAL: Record<string, (now: Circumstance) => string> = {
  water: ({ began }) => text(waterM(began) * FEET_IN_METRE, 1, "ft"),
  wind: ({ rand }) => text(rand.between(4, 15), 0, "kn"),
  wave: ({ rand }) => text(rand.between(0.1, 0.8), 1, "ft"),
  "2.top": ({ rand }) => text(3.9 + rand.between(-0.15, 0.15), 2, "ft"),
  "2.bottom": ({ rand }) => text(0.35 + rand.between(-0.15, 0.15), 2, "ft"),
  zone: ({ rand, core }) => text({ H: 54, square: 60, round: 48 }[core] + rand.whole(1, 8) / 2, 1, "in"),
  residual: ({ rand }) => text(rand.between(0, 1.5), 1, "%"),
  salt: ({ rand }) => text(rand.between(1, 3.6), 1, "µg/cm²"),
  profile: ({ rand }) => text(rand.between(2.4, 3.6), 1, "mil"),
  amplitude: ({ rand }) => text(rand.between(0.28, 0.38), 2, "in"),
  probe: ({ rand }) => text(rand.between(0.05, 0.19), 2, "in"),
  thickness: ({ rand }) => text(rand.between(0.372, 0.428), 3, "in"),
  delaminated: ({ rand }) => text(rand.between(0, 1.4), 1, "ft²"),
  "bar-loss": ({ rand }) => text(rand.whole(3, 11), 0, "%"),
  "5.left": ({ rand }) => text(rand.whole(89, 96), 0, "%"),
  "5.diameter": ({ rand }) => text(rand.between(12.1, 12.8), 1, "in"),
  borers: ({ rand }) => `${rand.whole(0, 3)} old holes`,
  "6.diameter": ({ rand, core }) => text((core === "H" ? 1 : 0.88) + rand.between(0, 0.02), 3, "in"),
  "6.depth": ({ rand, core }) => text((core === "H" ? 7.25 : 6.25) + rand.between(0.06, 0.5), 2, "in"),
  passes: ({ rand }) => String(rand.whole(2, 3)),
  base: ({ began, rand }) => text(Math.max(airC(began), 7) + rand.between(-1, 1), 1, "°C"),
  "bar-length": ({ core }) => (core === "H" ? "40.0 in" : "24.0 in"),
  projection: ({ rand, core }) => text((core === "H" ? 33 : 18) - rand.between(0.15, 0.6), 1, "in"),
  torque: ({ rand }) => text(rand.between(66.5, 70.4), 1, "ft·lbf"),
  retorque: ({ began, ended }) => text(Math.max(13, Math.floor((ended - began) / HOUR) - 1), 0, "h"),
  "10.size": ({ rand, core }) => text({ H: 3.5, square: 3, round: 2.5 }[core] + rand.between(-0.05, 0.05), 2, "in"),
  "12.height": ({ rand, core }) => text({ H: 42, square: 48, round: 36 }[core] + rand.between(-0.12, 0.12), 2, "in"),
  "12.length": ({ rand, core }) => text({ H: 160, square: 187.1, round: 129.6 }[core] + rand.between(0.05, 0.4), 1, "in"),
  air: ({ began, rand }) => text(airC(began) + rand.between(0, 0.6), 1, "°C"),
  humidity: ({ rand }) => text(rand.whole(52, 66), 0, "%"),
  surface: ({ began, rand }) => text(airC(began) + rand.between(-0.6, 0.4), 1, "°C"),
  "part-a": ({ rand }) => text(rand.between(15.5, 17.5), 1, "°C"),
  "part-b": ({ rand }) => text(rand.between(15.5, 17.5), 1, "°C"),
  "mass-a": ({ rand, core }) => text({ H: 1013, square: 1350, round: 720 }[core] + rand.whole(-4, 4), 0, "g"),
  "mass-b": ({ rand, core }) => text({ H: 385, square: 513, round: 273.6 }[core] + rand.whole(-2, 2), 0, "g"),
  mixed: ({ rand }) => text(rand.whole(4, 6), 0, "min"),
  share: ({ rand }) => text(rand.between(54, 60), 1, "%"),
  "14.film": ({ rand }) => text(rand.whole(18, 22), 0, "mil"),
  overlap: ({ rand, core }) => text({ H: 8, square: 10, round: 8 }[core] + rand.between(0.1, 0.5), 1, "in"),
  gap: ({ rand, core }) => text({ H: 3.5, square: 3.2, round: 2.6 }[core] + rand.between(-0.25, 0.25), 2, "in"),
  "15.diameter": ({ rand, core }) => text({ H: 24, square: 28, round: 19 }[core] + rand.between(-0.1, 0.1), 2, "in"),
  spacing: ({ rand }) => text(rand.between(7.9, 8.8), 1, "in"),
  seam: ({ rand }) => text(rand.between(0.01, 0.05), 2, "in"),
  "18.width": ({ rand }) => text(rand.between(2.2, 2.7), 1, "in"),
  held: ({ rand }) => text(rand.whole(30, 35), 0, "min"),
  drop: ({ rand }) => text(rand.between(0, 0.15), 2, "in"),
  "19.height": ({ rand, core }) => text((core === "square" ? 3.5 : 3) + rand.between(-0.25, 0.25), 2, "in"),
  "19.water": ({ rand }) => text(3.75 + rand.between(-0.15, 0.15), 2, "qt"),
  flow: ({ rand }) => text(rand.between(22, 28), 1, "s"),
  grout: ({ began, rand }) => text(Math.max(airC(began) + 4, 13) + rand.between(0, 2), 1, "°C"),
  set: ({ rand }) => text(4 + rand.whole(0, 2) / 4, 2, "h"),
  "20.height": ({ rand, core }) => text({ H: 19.5, square: 22.2, round: 16.5 }[core] + rand.between(-0.6, 0.6), 1, "in"),
  rate: ({ rand, core }) => text((core === "round" ? 14 : 19) + rand.between(-3, 3), 1, "in/h"),
  shift: ({ rand }) => text(rand.between(0, 0.12), 2, "in"),
  level: ({ rand }) => text(rand.between(0, 0.15), 2, "in"),
  take: ({ rand }) => rand.between(1.01, 1.1).toFixed(3),
  hollow: ({ rand }) => text(rand.between(0, 5), 1, "in²"),
  void: ({ rand }) => text(rand.between(0, 1.8), 1, "in²"),
  "seal-width": ({ rand }) => text(rand.between(4.2, 5), 1, "in"),
  "24.film": ({ rand }) => text(rand.whole(14, 18), 0, "mil"),
  strength: ({ rand }) => text(rand.whole(618, 664) * 10, 0, "psi"),
  "26.top": ({ rand }) => text(3.9 + rand.between(-0.1, 0.1), 2, "ft"),
  "26.diameter": ({ rand, core }) => text({ H: 24.3, square: 28.4, round: 19.3 }[core] + rand.between(-0.1, 0.1), 1, "in"),
};

/** A value as it is usually typed at a quantity of a point. */
export function usualValue({ line }: PlanLine, quantity: PlanQuantity, now: Circumstance): string {
  const usual = USUAL[`${line}.${quantity.id}`] ?? USUAL[quantity.id];
  return usual ? usual(now) : byRule(itemRule(quantity.rule), `${quantity.id} of point ${line}`);
}

/** Words, counts and statements follow from the rule; a number without a usual value is an oversight. */
function byRule(rule: ItemRule, what: string): string {
  switch (rule.form) {
    case "exact":
      return rule.value;
    case "count":
      return String(rule.exactly ?? rule.atLeast ?? 0);
    case "grade":
      return rule.atLeast;
    case "statement":
      return "yes";
    default:
      throw new Error(`There is no usual value for ${what}.`);
  }
}
