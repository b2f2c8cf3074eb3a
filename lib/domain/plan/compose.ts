import type { Instant } from "#lib/domain/instant";
import { buildPlan, overridesAt, type Override, type PlanLine, type TimedOverride } from "#lib/domain/plan/plan";
import type { PlanLineSpec, RequirementSet } from "#lib/domain/requirement/set";

/** How a changed requirement reaches piles in work: only piles that start later, points not signed yet, or signed points too. */
export const APPLIES = ["piles that start", "open points", "retroactive"] as const;
export type Applies = (typeof APPLIES)[number];

/** How a signed point stands under a later revision. */
export const IMPACT_FINDINGS = ["still meets", "would fail", "needs a value"] as const;
export type ImpactFinding = (typeof IMPACT_FINDINGS)[number];

/** One approved revision as far as composing a plan goes. */
export interface IssuedSet {
  letter: string;
  /** Place in the log of its approval, and the instant of it. */
  seq: number;
  approvedAt: Instant;
  appliesFrom: Instant;
  /** Of the pile's type, or the lines of the project sheet; null where the revision has none. */
  set: Pick<RequirementSet, "lines"> | null;
  /** Line to how its change applies; what is not named applies to open points. */
  answers: ReadonlyMap<string, Applies>;
}

/** What stands signed at a point: its place in the log, and the revision that it names. */
export interface Signed {
  seq: number;
  letter: string;
}

export interface ComposedPlan<R extends IssuedSet = IssuedSet> {
  /** The revision in force when work at the pile began, or now where it has not. */
  base: R;
  lines: PlanLine[];
  /** Line to the revision that it stands under. */
  under: Map<string, R>;
  /** Overrides that hold and that no point uses: reported, never ignored. */
  stray: Override[];
}

/**
 * The plan of a pile in work, line by line. A signed point stays under the revision that it names; an open one moves to
 * the newest that reaches it; a change made retroactive holds from its approval and reaches signed points too. A line that
 * a revision leaves as it was stays where an earlier answer put it.
 *
 * @param revisions in any order; they are taken in the order of their approval.
 * @param begunAt   when work at the pile began; null where it has not.
 * @returns null before any revision has a set for the type.
 */
export function composePlan<R extends IssuedSet>(
  pile: { mark: string; overrides: readonly TimedOverride[] },
  { revisions, signed, begunAt, at }: { revisions: readonly R[]; signed: ReadonlyMap<string, Signed>; begunAt: Instant | null; at: Instant },
): ComposedPlan<R> | null {
  const usable = revisions.filter(({ set }) => set !== null).sort((a, b) => a.seq - b.seq);
  const base = usable.findLast(({ appliesFrom }) => appliesFrom <= (begunAt ?? at)) ?? usable[0];
  if (!base) return null;
  const under = new Map<string, R>();
  for (const line of new Set(usable.flatMap(({ set }) => set?.lines ?? []).map((one) => one.line))) {
    const reached = revisionUnder(line, usable, base, signed.get(line), at);
    if (lineIn(reached, line)) under.set(line, reached);
  }
  const used = new Set<Override>();
  const lines = inOrder(usable, under).map((spec): PlanLine => {
    const overrides = overridesAt(pile.overrides, signed.get(spec.line)?.seq ?? null).filter(({ line }) => line === spec.line);
    const { lines: [built], stray } = buildPlan({ lines: [spec] }, { mark: pile.mark, overrides });
    for (const override of overrides) if (!stray.includes(override)) used.add(override);
    return built as PlanLine;
  });
  const holding = overridesAt(pile.overrides, null);
  return { base, lines, under, stray: holding.filter((one) => one.change.kind !== "jacket" && !used.has(one)) };
}

/** The revision that one line stands under, from the one it was signed under or the one that the pile began with. */
function revisionUnder<R extends IssuedSet>(line: string, usable: readonly R[], base: R, signed: Signed | undefined, at: Instant): R {
  let under = (signed && usable.find(({ letter }) => letter === signed.letter)) ?? base;
  for (let index = usable.indexOf(under) + 1; index < usable.length; index++) {
    const [before, next] = [usable[index - 1], usable[index]];
    if (!before || !next) continue;
    const changed = !sameLine(lineIn(before, line), lineIn(next, line));
    const applies = (changed && next.answers.get(line)) || "open points";
    const inForce = (applies === "retroactive" ? next.approvedAt : next.appliesFrom) <= at;
    if (!inForce || applies === "piles that start") continue;
    // What was signed is never taken out of the plan, and moves only by an answer given after it was signed.
    if (signed && (applies !== "retroactive" || next.seq < signed.seq || !lineIn(next, line))) continue;
    if (changed || under === before || sameLine(lineIn(under, line), lineIn(next, line))) under = next;
  }
  return under;
}

function lineIn({ set }: IssuedSet, line: string): PlanLineSpec | undefined {
  return set?.lines.find((one) => one.line === line);
}

/** Whether two lines ask for the same; both were read through one schema, so their keys stand in one order. */
export function sameLine(a: PlanLineSpec | undefined, b: PlanLineSpec | undefined): boolean {
  return a === b || JSON.stringify(a) === JSON.stringify(b);
}

/**
 * The lines in the order of the newest revision, those that only an older one has behind what they stood behind there, and
 * every line after what it stands on. What a line names and the plan does not hold is read through to what that stood on.
 */
function inOrder(usable: readonly IssuedSet[], under: ReadonlyMap<string, IssuedSet>): PlanLineSpec[] {
  const order: string[] = [];
  for (const { set } of [...usable].reverse()) {
    let behind = -1;
    for (const { line } of set?.lines ?? []) {
      const place = order.indexOf(line);
      if (place === -1) order.splice(++behind, 0, line);
      else behind = place;
    }
  }
  const placed = new Map<string, PlanLineSpec>();
  const visited = new Set<string>();
  const place = (line: string): void => {
    const revision = under.get(line);
    const spec = revision && lineIn(revision, line);
    if (!revision || !spec || visited.has(line)) return;
    visited.add(line);
    const own = within(spec, revision, under);
    own.after.forEach(place);
    placed.set(line, own);
  };
  order.forEach(place);
  return [...placed.values()];
}

/** A line with the names of points that another revision took out, or did not bring in here, read through. */
function within(spec: PlanLineSpec, revision: IssuedSet, under: ReadonlyMap<string, IssuedSet>): PlanLineSpec {
  const gone = (id: string): boolean => !under.has(id) && lineIn(revision, id) !== undefined;
  const standsOn = (ids: readonly string[]): string[] => ids.flatMap((id) => (gone(id) ? standsOn(lineIn(revision, id)?.after ?? []) : [id]));
  return {
    ...spec,
    after: [...new Set(standsOn(spec.after))],
    waits: spec.waits.filter(({ from }) => !gone(from)),
    hiddenBy: spec.hiddenBy.filter((id) => !gone(id)),
  };
}
