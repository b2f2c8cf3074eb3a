import { contactShare, jacketLengthMm, type JacketRoll } from "#lib/domain/estimate/jacket-length";
import { Decimal } from "#lib/domain/quantity/decimal";
import { dimensionOf, fromSi, toSi, type Unit } from "#lib/domain/quantity/unit";
import { itemRule, type ItemRule, type Rule } from "#lib/domain/requirement/rule";
import type { Amount, FOLLOWED, PlanLineSpec, Quantity, RequirementSet } from "#lib/domain/requirement/set";

export type Followed = (typeof FOLLOWED)[number];

/** What limits follow from; a whole set serves, and so does a set with only the lines that follow. */
export type FollowingSet = Pick<RequirementSet, "type" | "jacket" | "design" | "lines">;

/** A limit that the design moved. */
export interface Moved {
  type: string;
  line: string;
  lineName: string;
  quantity: string;
  name: string;
  by: Followed;
  was: Rule;
  now: Rule;
}

/** A limit that should follow from the design and cannot: it stays as it is written. */
export interface NotFollowing {
  type: string;
  line: string;
  because: string;
}

/** How each limit comes about, for who reads it. */
export const FOLLOW_WORDS: Record<Followed, string> = {
  "jacket length": "L = nπ(D + nt) + overlap",
  overlap: "the overlap of the sheet's design",
  "contact share": "(faces that touch another layer + overlap) ÷ L",
};

/** Places after the point in which a limit that was worked out is written: 0.01 in and 0.1 %, other units as fine. */
const PLACES: Partial<Record<Unit, number>> = { in: 2, "%": 1, mm: 1, cm: 2, ft: 3, m: 4, mil: 0, "µm": 0 };

/**
 * Writes the limits that follow from a set's design: jacket length L = nπ(D + nt) + overlap, the overlap itself, and the share of the
 * strip that touches another layer. D in inches and n are the jacket's, t and overlap the sheet's; limits are in the unit of their
 * rule, rounded half up to 0.01 in or 0.1 %. A limit that already stands there keeps its text.
 *
 * @returns the set with those limits, what moved, and what should follow and cannot, with the reason.
 * @source Geometry of a rolled strip; the rounding is common practice, no source.
 */
export function followDesign<S extends FollowingSet>(set: S): { set: S; moved: Moved[]; notFollowing: NotFollowing[] } {
  const moved: Moved[] = [];
  const notFollowing: NotFollowing[] = [];
  const lines = set.lines.map((line): PlanLineSpec => {
    const quantities = line.quantities.map((one): Quantity => {
      if (!one.follows) return one;
      const limit = limitFrom(set, one.follows, one.rule);
      if (typeof limit === "string") {
        notFollowing.push({ type: set.type, line: line.line, because: `${one.name} follows from the design, and ${limit}.` });
        return one;
      }
      const now = withLimit(one.rule, limit.value);
      if (!now) return one;
      moved.push({ type: set.type, line: line.line, lineName: line.name, quantity: one.id, name: one.name, by: one.follows, was: one.rule, now });
      return { ...one, rule: now };
    });
    return { ...line, quantities };
  });
  return { set: { ...set, lines }, moved, notFollowing };
}

/** The limit by the design, in the unit of the rule, or why there is none. */
function limitFrom({ type, jacket, design }: FollowingSet, by: Followed, rule: Rule): Amount | string {
  const item = itemRule(rule);
  if (item.form !== "min") return "only a rule of form min can follow";
  const { unit } = item;
  const wanted = by === "contact share" ? "share" : "length";
  if (dimensionOf(unit) !== wanted) return `its unit ${unit} measures no ${wanted}`;
  const sheet = design?.sheet;
  if (!sheet) return `type ${type} has no sheet on file: give thickness and overlap`;
  if (by === "overlap" && sheet.overlap.unit === unit) return sheet.overlap;
  const roll = rollOf(jacket, sheet);
  if (!roll) return `the sheet or the jacket of type ${type} has a dimension that is none`;
  if (by === "overlap") return written(fromSi(toSi(sheet.overlap.value, sheet.overlap.unit), unit), unit);
  if (by === "jacket length") return written(fromSi(new Decimal(jacketLengthMm(roll)).div(1000), unit), unit);
  return written(fromSi(new Decimal(contactShare(roll)), unit), unit);
}

function rollOf({ insideDiameterIn, layers }: RequirementSet["jacket"], { thickness, overlap }: { thickness: Amount; overlap: Amount }): JacketRoll | null {
  const amounts = [{ value: insideDiameterIn, unit: "in" as const }, thickness, overlap];
  if (amounts.some(({ unit }) => dimensionOf(unit) !== "length")) return null;
  const [insideDiameterMm = 0, thicknessMm = 0, overlapMm = 0] = amounts.map(({ value, unit }) => toSi(value, unit).times(1000).toNumber());
  return insideDiameterMm > 0 && thicknessMm >= 0 && overlapMm >= 0 ? { insideDiameterMm, thicknessMm, layers, overlapMm } : null;
}

function written(value: Decimal, unit: Unit): Amount {
  const places = PLACES[unit] ?? 2;
  return { value: value.toDecimalPlaces(places, Decimal.ROUND_HALF_UP).toFixed(places), unit };
}

/** The rule with another limit; null where it already stands there. */
function withLimit(rule: Rule, limit: string): Rule | null {
  const item = itemRule(rule);
  if (item.form !== "min" || new Decimal(item.limit).eq(limit)) return null;
  const now: ItemRule = { ...item, limit };
  return rule.form === "each" ? { ...rule, rule: now } : now;
}
