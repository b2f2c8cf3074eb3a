import { writeProjectLines, writeSet } from "#lib/domain/plan/catalogue";
import type { SpecificationNumbers } from "#lib/domain/plan/specification";
import { unitOfRule } from "#lib/domain/requirement/instrument";
import type { Rule } from "#lib/domain/requirement/rule";
import type { PlanLineSpec, RequirementSet } from "#lib/domain/requirement/set";

/** What has to be known of a pile type before its points can be written. */
export type TypeFacts = Pick<RequirementSet, "type" | "name" | "core" | "coreWidthIn" | "jacket">;

/**
 * A set with the catalogue's points in their order, their kinds, photos, lots and roles, and without a number of any
 * specification: every limit is only recorded until somebody writes one, and no point waits.
 */
export function bareSet(facts: TypeFacts): RequirementSet {
  const set = writeSet({ ...BARE, ...facts, jacket: { ...facts.jacket, bars: Math.max(1, facts.jacket.bars), clamps: Math.max(1, facts.jacket.clamps), spacerRings: Math.max(1, facts.jacket.spacerRings) } });
  return { ...set, jacket: facts.jacket, lines: set.lines.map((line) => bareLine(line, facts)) };
}

/** The project sheet's points, with one submittal still to be named. */
export function bareProjectLines(): PlanLineSpec[] {
  return writeProjectLines({ submittals: ["Inspection and test plan"], hollowMaxIn2: "1" }).map((line) => bareLine(line, null));
}

function bareLine(line: PlanLineSpec, facts: TypeFacts | null): PlanLineSpec {
  return { ...line, waits: [], quantities: line.quantities.map((quantity) => ({ ...quantity, rule: bareRule(quantity.rule, countOf(facts, line.line, quantity.id)) })) };
}

/** Numbers that the jacket itself gives are kept: they are counted, not specified. */
function countOf(facts: TypeFacts | null, line: string, id: string): number | null {
  if (!facts) return null;
  const { bars, clamps, spacerRings, layers, tieSets } = facts.jacket;
  const counted: Record<string, number> = { "6 count": bars, "7 bars": bars, "8 clamps": clamps, "8 lags": clamps, "10 rings": spacerRings, "15 layers": layers, "16 sets": tieSets };
  return counted[`${line} ${id}`] ?? null;
}

function bareRule(rule: Rule, count: number | null): Rule {
  if (rule.form === "each") return { ...rule, count: null, rule: { form: "recorded", unit: unitOfRule(rule) } };
  if (rule.form === "statement" || (rule.form === "exact" && rule.value === "{mark}")) return rule;
  if (rule.form === "count" && count !== null) return { form: "count", exactly: rule.exactly === null ? null : count, atLeast: rule.exactly === null ? count : null };
  return { form: "recorded", unit: unitOfRule(rule) };
}

/** Stands where a number is asked for, and is taken out again. */
const ONE = "1";
const BARE: Omit<SpecificationNumbers, keyof TypeFacts> = {
  notApplicable: {}, design: null,
  tolerances: { heightIn: ONE, diameterIn: ONE, cutLengthIn: ONE, overlapIn: ONE },
  access: { waterMaxFt: ONE, windMaxKn: ONE, waveMaxFt: ONE },
  cleaning: { zoneMinIn: ONE, residualMaxPct: ONE, toCoverUpHours: ONE },
  preparation: { quantities: [], toCoverUpHours: ONE },
  survey: { quantities: [], photos: [] },
  holes: { diameterMinIn: ONE, diameterMaxIn: ONE, depthMinIn: ONE, cleaningPasses: 1, toResinHours: ONE },
  bars: { size: ONE, embedmentMinIn: ONE, baseMinC: ONE, baseMaxC: ONE },
  clamps: { boltsEach: 1, torqueMin: ONE, torqueMax: ONE, retorqueHours: ONE },
  spacers: { perRing: 1, sizeIn: ONE, toleranceIn: ONE },
  resin: { a: ONE, b: ONE, tolerancePct: ONE, partMinC: ONE, partMaxC: ONE, mixMinMin: ONE, dewMarginK: ONE, life: { kind: "doubling", minutes: ONE, referenceC: ONE, factor: ONE } },
  coat: { sharePct: ONE, filmMinMil: ONE, filmMaxMil: ONE },
  wrap: { gapMinIn: ONE },
  ties: { spacingMaxIn: ONE, seamGapMaxIn: ONE, screws: 1 },
  cure: { hours: ONE, referenceC: ONE, minimumC: ONE, underMinimum: "pause" },
  seal: { kind: ONE, widthMinIn: ONE, heldMin: ONE, dropMaxIn: ONE, toLiftHours: ONE },
  firstLift: { minIn: ONE, maxIn: ONE, waterQt: ONE, waterToleranceQt: ONE, flowMinS: ONE, flowMaxS: ONE, groutMinC: ONE, groutMaxC: ONE, setHours: ONE },
  lifts: { heightMaxIn: ONE, rateMaxInH: ONE, shiftMaxIn: ONE },
  topOff: { levelToleranceIn: ONE, takeMin: ONE, takeMax: ONE, specimens: 1 },
  strip: { degreeHours: ONE, datumC: ONE, hollowMaxIn2: ONE, voidMaxIn2: ONE },
  topCoat: { sealWidthMinIn: ONE, filmMinMil: ONE, filmMaxMil: ONE },
  strength: { psi: ONE, afterHours: ONE },
};
