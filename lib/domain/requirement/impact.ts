import { HOUR, type Instant } from "#lib/domain/instant";
import type { ImpactFinding } from "#lib/domain/plan/compose";
import type { PlanLine, PlanQuantity, PlanWait } from "#lib/domain/plan/plan";
import type { Entry } from "#lib/domain/point/value";
import { Decimal } from "#lib/domain/quantity/decimal";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import { waitId } from "#lib/domain/requirement/difference";
import { worstOf } from "#lib/domain/requirement/judge";
import { judgePoint, worstAtPoint, type JudgedValue, type PointFacts } from "#lib/domain/requirement/judge-point";

/** What stands signed at a point, as far as a later revision is held against it. */
export interface SignedPoint {
  entries: readonly Entry[];
  /** Photos sent, each by its subject; documents and lots by their use. */
  photos: readonly string[];
  documents: readonly string[];
  lots: readonly string[];
  /** Null where it is submitted and not released. */
  releasedAt: Instant | null;
}

export interface PointImpact {
  finding: ImpactFinding;
  /** Every value that the changed line judges by another rule than the one that it was signed under. */
  values: JudgedValue[];
  /** What else would fail or is missing, each in words: a wait, a photo, a document, a lot, a release. */
  words: string[];
}

/**
 * How a signed point stands under a changed line. Nothing that the change leaves as it was is looked at: a value that was
 * released although it failed does not fail anew. A pile's own requirement stands in place of the type's on both sides.
 *
 * @param was the line that the point stands under, with the pile's own requirements; `now` the changed one, likewise.
 * @returns "needs a value" where something is asked for that was never taken, or cannot be judged; "would fail" goes before it.
 */
export function impactOf({ was, now }: { was: PlanLine; now: PlanLine }, signed: SignedPoint, facts: PointFacts): PointImpact {
  const changed = new Set(now.quantities.filter((quantity) => !sameQuantity(was.quantities.find(({ id }) => id === quantity.id), quantity)).map(({ id }) => id));
  const values = judgePoint(now, signed.entries, facts).filter(({ quantity }) => changed.has(quantity.id));
  const waits = now.waits.filter((wait) => !sameWait(was.waits.find((one) => waitId(one) === waitId(wait)), wait)).map((wait) => judgeWait(wait, signed, facts));
  const missing = missingParts(was, now, signed);
  const worst = worstOf([worstAtPoint(values), ...waits.map(({ verdict }) => verdict), missing.length > 0 ? "not measured" : null]);
  return { finding: findingOf(worst), values, words: [...waits.filter(({ verdict }) => verdict !== "meets").map(({ words }) => words), ...missing] };
}

function findingOf(worst: ValueVerdict | null): ImpactFinding {
  if (worst === "fails") return "would fail";
  return worst === "cannot tell" || worst === "not measured" ? "needs a value" : "still meets";
}

/** How one value stands under the changed rule. */
export function findingOfValue({ verdict }: Pick<JudgedValue, "verdict">): ImpactFinding {
  return findingOf(verdict);
}

function sameQuantity(was: PlanQuantity | undefined, now: PlanQuantity): boolean {
  return was !== undefined && JSON.stringify([was.rule, was.derived]) === JSON.stringify([now.rule, now.derived]);
}

function sameWait(was: PlanWait | undefined, now: PlanWait): boolean {
  return was !== undefined && was.hours === now.hours && was.until === now.until;
}

function judgeWait({ kind, from, hours, until, name }: PlanWait, { releasedAt }: SignedPoint, facts: PointFacts): { verdict: ValueVerdict; words: string } {
  const since = facts.workAt(from, "ended");
  const reached = kind === "at most" && until === "released" ? releasedAt : facts.workBegan;
  if (since === null || reached === null) return { verdict: "cannot tell", words: `${name}: ${since === null ? `point ${from} has no time for its work` : "it is not released"}` };
  const waited = new Decimal(reached - since).div(HOUR);
  const meets = kind === "at most" ? waited.lte(hours) : waited.gte(hours);
  return { verdict: meets ? "meets" : "fails", words: `${name}: ${waited.toDecimalPlaces(2).toString()} h, needs ${kind} ${hours} h` };
}

/** What the changed line asks for beyond what the signed one did, and was not sent. */
function missingParts(was: PlanLine, now: PlanLine, { photos, documents, lots, releasedAt }: SignedPoint): string[] {
  return [
    ...now.photos.flatMap(({ id, name, count }) => {
      const asked = was.photos.find((one) => one.id === id)?.count ?? 0;
      const sent = photos.filter((subject) => subject === id).length;
      return count > asked && sent < count ? [`${name}: ${sent} of ${count} photos`] : [];
    }),
    ...now.documents.filter(({ id, required }) => required && !was.documents.some((one) => one.id === id && one.required) && !documents.includes(id)).map(({ name }) => `${name} is not on file`),
    ...now.lots.filter(({ id }) => !was.lots.some((one) => one.id === id) && !lots.includes(id)).map(({ name }) => `${name}: no lot is named`),
    ...(now.kind === "H" && was.kind !== "H" && releasedAt === null ? ["it has no written release"] : []),
  ];
}
