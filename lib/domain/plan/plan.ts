import { z } from "zod";
import { DecimalText, RuleSchema, type Rule } from "#lib/domain/requirement/rule";
import {
  LineIdSchema,
  type PlanLineSpec,
  type Quantity,
  type RequirementSet,
  type Revision,
  type Wait,
} from "#lib/domain/requirement/set";

/** What of the jacket a pile's own drawing can change: inches, or a count. */
export const JACKET_FIELDS = ["insideDiameterIn", "heightIn", "layers", "spacerRings", "tieSets", "clamps", "bars"] as const;

/** A requirement that differs on one pile, with the drawing that says so. */
export const OverrideSchema = z.strictObject({
  line: LineIdSchema,
  change: z.discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("quantity"), quantity: z.string().min(1), rule: RuleSchema }),
    z.strictObject({ kind: z.literal("wait"), from: LineIdSchema, hours: DecimalText }),
    z.strictObject({ kind: z.literal("jacket"), field: z.enum(JACKET_FIELDS), value: DecimalText }),
  ]),
  drawing: z.string().min(1).max(120),
  words: z.string().min(1).max(400),
});
export type Override = z.infer<typeof OverrideSchema>;

interface OverrideNote {
  drawing: string;
  words: string;
}

export interface PlanQuantity extends Quantity {
  /** The pile's own requirement stands in place of the type's `was`; null where the type's holds. */
  override: (OverrideNote & { was: Rule }) | null;
}

export interface PlanWait extends Wait {
  override: (OverrideNote & { was: string }) | null;
}

export interface PlanLine extends Omit<PlanLineSpec, "quantities" | "waits"> {
  quantities: PlanQuantity[];
  waits: PlanWait[];
}

export interface Plan {
  lines: PlanLine[];
  /** Overrides that name nothing in the plan: reported, never ignored. */
  stray: Override[];
}

/** A pile's override with its place in the log: it holds for what is signed after it, and until it is taken back. */
export interface TimedOverride {
  override: Override;
  fromSeq: number;
  untilSeq: number | null;
}

/** The overrides that hold for what was signed at a place in the log; null: for what is not signed yet. */
export function overridesAt(timed: readonly TimedOverride[], seq: number | null): Override[] {
  const place = seq ?? Number.POSITIVE_INFINITY;
  return timed.filter(({ fromSeq, untilSeq }) => fromSeq <= place && (untilSeq === null || untilSeq > place)).map(({ override }) => override);
}

/** The jacket of a pile: its type's, with what its own drawings change. */
export function jacketOf(set: RequirementSet, overrides: readonly Override[]): RequirementSet["jacket"] {
  const own = overrides.flatMap(({ change }) => (change.kind === "jacket" ? [[change.field, change.field.endsWith("In") ? change.value : Number(change.value)] as const] : []));
  return { ...set.jacket, ...Object.fromEntries(own) };
}

/** The requirement set of a pile type, or null when the revision has none for it. */
export function requirementSet(revision: Revision, type: string): RequirementSet | null {
  return revision.sets.find((set) => set.type === type) ?? null;
}

/**
 * Builds the inspection and test plan of one pile: the lines of its type's requirement set, with the pile's mark
 * written where a rule asks for it and the pile's own overrides laid over them. Lines that do not apply stay in
 * the plan with their stated reason.
 */
export function buildPlan(set: Pick<RequirementSet, "lines">, pile: { mark: string; overrides: readonly Override[] }): Plan {
  const unused = new Set(pile.overrides.filter(({ change }) => change.kind !== "jacket"));
  const take = (wanted: (one: Override) => boolean): Override | undefined => {
    const found = pile.overrides.find(wanted);
    if (found) unused.delete(found);
    return found;
  };
  const lines = set.lines.map((line): PlanLine => ({
    ...line,
    waits: line.waits.map((wait): PlanWait => {
      const found = take(({ line: at, change }) => at === line.line && change.kind === "wait" && change.from === wait.from);
      if (found?.change.kind !== "wait") return { ...wait, override: null };
      return { ...wait, hours: found.change.hours, override: { drawing: found.drawing, words: found.words, was: wait.hours } };
    }),
    quantities: line.quantities.map((quantity): PlanQuantity => {
      const rule = withMark(quantity.rule, pile.mark);
      const found = take(({ line: at, change }) => at === line.line && change.kind === "quantity" && change.quantity === quantity.id);
      if (found?.change.kind !== "quantity") return { ...quantity, rule, override: null };
      return { ...quantity, rule: withMark(found.change.rule, pile.mark), override: { drawing: found.drawing, words: found.words, was: rule } };
    }),
  }));
  return { lines, stray: [...unused] };
}

/** A set is written once for a type, so a rule that asks for the pile's own mark says `{mark}`. */
function withMark(rule: Rule, mark: string): Rule {
  return rule.form === "exact" ? { ...rule, value: rule.value.replace("{mark}", mark) } : rule;
}

/** A quantity with the bar, bolt or ring that is meant: "Embedment, bar 4". */
export function itemName({ name, rule }: Pick<PlanQuantity, "name" | "rule">, item: number | null): string {
  return item === null ? name : `${name}, ${rule.form === "each" ? rule.of : "item"} ${item}`;
}

/**
 * The points a line stands on. A point that is not applicable passes its own predecessors on (a timber pile's
 * spacers wait for the connectors and the survey, because it has no bars in resin).
 */
export function predecessors(lines: readonly PlanLine[], line: PlanLine): string[] {
  const found = line.after.flatMap((id) => {
    const before = lines.find((one) => one.line === id);
    return before?.notApplicable ? predecessors(lines, before) : [id];
  });
  return [...new Set(found)];
}

/** Every point a line stands on, directly or through others, in plan order; points outside the sheet come first. */
export function upstream(lines: readonly PlanLine[], line: PlanLine): string[] {
  const found = new Set<string>();
  const visit = (id: string): void => {
    if (found.has(id)) return;
    found.add(id);
    const before = lines.find((one) => one.line === id);
    if (before) predecessors(lines, before).forEach(visit);
  };
  predecessors(lines, line).forEach(visit);
  const position = (id: string): number => lines.findIndex((one) => one.line === id);
  return [...found].sort((a, b) => position(a) - position(b));
}

/** Every point that stands on this one, directly or through others, in plan order. */
export function downstream(lines: readonly PlanLine[], line: PlanLine): string[] {
  return lines.filter((one) => !one.notApplicable && upstream(lines, one).includes(line.line)).map((one) => one.line);
}

/**
 * The revision a pile is built under: the one in force when its work began, or for a pile not started the one in
 * force now. Null before any revision applies.
 *
 * @param revisions in any order; `appliesFrom` is an instant.
 */
export function revisionInForce<R extends { appliesFrom: number }>(revisions: readonly R[], at: number): R | null {
  return revisions.filter((one) => one.appliesFrom <= at).sort((a, b) => b.appliesFrom - a.appliesFrom)[0] ?? null;
}
