import { unknown, type Part } from "#lib/domain/estimate/figure";
import { groutPart, headPart, tiePart, type GroutPart, type HeadPart, type TiePart } from "#lib/domain/estimate/grout-estimate";
import {
  barPart, coatPart, cutPart, holePart, resinPart, sectionPart, spacerPart, type BarPart, type CoatPart, type CutPart, type HolePart, type ResinPart, type SectionPart, type SpacerPart,
} from "#lib/domain/estimate/jacket-estimate";
import { buildPlan, jacketOf, type Override } from "#lib/domain/plan/plan";
import { itemRule } from "#lib/domain/requirement/rule";
import type { RequirementSet } from "#lib/domain/requirement/set";

/** Everything that follows from the design of one pile's jacket. A part that cannot be worked out says why. */
export interface PileEstimate {
  type: string;
  name: string;
  core: RequirementSet["core"];
  section: Part<SectionPart>;
  spacer: Part<SpacerPart>;
  /** Spacers of the whole jacket; null where the plan does not count them in rings. */
  spacers: number | null;
  bars: Part<BarPart>;
  holes: Part<HolePart>;
  cut: Part<CutPart>;
  coat: Part<CoatPart>;
  resin: Part<ResinPart>;
  grout: Part<GroutPart>;
  head: Part<HeadPart>;
  ties: Part<TiePart>;
  tieSets: number;
  clamps: number;
  /** The strength that the plan asks of the grout, as it writes it: two strengths are two mixes. */
  strength: string | null;
}

const PARTS = ["section", "spacer", "bars", "holes", "cut", "coat", "resin", "grout", "head", "ties"] as const satisfies (keyof PileEstimate)[];
export type EstimatePart = (typeof PARTS)[number];

/**
 * Works out a pile from its requirement set with the pile's own drawings laid over it: section, spacer, bars, holes, jacket, coat, resin,
 * grout, heads and ties. Arithmetic on what the set says; nobody's design.
 *
 * @param found  What the section-loss survey of the pile found: the share of its area that is lost, 0 to 1, or null where nothing is known.
 *   Lost section takes grout; nothing else follows from it here.
 * @returns every part worked out unrounded, or with the reason why it is not.
 */
export function pileEstimate(set: RequirementSet, overrides: readonly Override[], found: { areaLost: number | null } = { areaLost: null }): PileEstimate {
  const jacket = jacketOf(set, overrides);
  const common = { type: set.type, name: set.name, core: set.core, strength: strengthOf(set), spacers: spacersOf(set, overrides, jacket.spacerRings), tieSets: jacket.tieSets, clamps: jacket.clamps };
  const { design } = set;
  if (!design) {
    const nothing = unknown(`The requirement set of type ${set.type} says nothing to work quantities out from.`);
    return { ...common, ...(Object.fromEntries(PARTS.map((part) => [part, nothing])) as Record<EstimatePart, typeof nothing>) };
  }
  const section = sectionPart(design);
  const bars = barPart(design, jacket);
  const cut = cutPart(design, jacket);
  const coat = coatPart(cut);
  const grout = groutPart(design, jacket, section, bars, found.areaLost);
  return {
    ...common, section, spacer: spacerPart(design, jacket, section), bars, holes: holePart(design, bars), cut, coat, resin: resinPart(design, coat), grout,
    head: headPart(design, grout, cut), ties: tiePart(design, grout),
  };
}

/** Spacers in all rings, as the pile's own plan counts them. */
function spacersOf(set: RequirementSet, overrides: readonly Override[], rings: number): number | null {
  const perRing = buildPlan(set, { mark: "", overrides }).lines.flatMap(({ quantities }) => quantities).flatMap(({ rule }) =>
    rule.form === "each" && rule.of === "ring" && rule.rule.form === "count" ? (rule.rule.exactly ?? rule.rule.atLeast ?? []) : [],
  );
  return perRing.length === 1 && perRing[0] !== undefined ? perRing[0] * rings : null;
}

function strengthOf({ lines }: RequirementSet): string | null {
  const [rule] = lines.flatMap(({ quantities }) => quantities).flatMap((quantity) => (quantity.id === "strength" ? itemRule(quantity.rule) : []));
  return rule?.form === "min" ? `${rule.limit} ${rule.unit}` : null;
}

const PART_NAMES: Record<EstimatePart, string> = {
  section: "Section", spacer: "Spacers", bars: "Bars", holes: "Resin for bars", cut: "Jacket cut", coat: "Coat", resin: "Jacket resin", grout: "Grout", head: "Head and pressure", ties: "Ties",
};

/** Reasons that state a fact of the design rather than something missing. */
const NOT_ASKED: readonly string[] = ["No bar is set in a hole.", "No bars stand in this jacket.", "The design has no spacer."];

/** What could not be worked out, one line for each reason, with the parts that it stops. */
export function notWorkedOut(estimate: PileEstimate): { parts: string[]; because: string }[] {
  const reasons = new Map<string, string[]>();
  for (const name of PARTS) {
    const part = estimate[name];
    if (part.known || NOT_ASKED.includes(part.because)) continue;
    reasons.set(part.because, [...(reasons.get(part.because) ?? []), PART_NAMES[name]]);
  }
  return [...reasons].map(([because, parts]) => ({ parts, because }));
}
