import Decimal from "decimal.js";
import { HOUR, type Instant } from "#lib/domain/instant";
import type { PhotoWindow } from "#lib/domain/photo/order";
import type { Standing, SubmissionTrail } from "#lib/domain/point/attempt";
import type { OutsidePoint } from "#lib/domain/point/fold";
import { predecessors, upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { PhotoSubject } from "#lib/domain/requirement/set";

export interface WindowFacts {
  lines: readonly PlanLine[];
  standings: ReadonlyMap<string, Standing>;
  outside: readonly OutsidePoint[];
  /** The earliest instant of the clock at a clock point (jacket cure, grout cure), where it is reached. */
  clockDoneAt(line: string): Instant | null;
}

/**
 * The window in which a photo of a subject has to have been taken.
 *
 * From: what the point stands on was let go (a hold point by its release, a witness or record point by the end of its
 * work), a clock was done, and for a second attempt the rejection, reopening or expiry before it. To: work began at the
 * first step that hides this one, as long as its submission stands; until then, when the photo reached the server.
 *
 * @param attempt the attempt that the photo belongs to, from 1.
 * @param beforeSeq log place of the submission that the photo was sent with; releases after it do not move the window.
 *        Infinity for a draft.
 */
export function photoWindow(
  facts: WindowFacts,
  line: PlanLine,
  subject: PhotoSubject,
  { attempt, beforeSeq, receivedAt }: { attempt: number; beforeSeq: number; receivedAt: Instant },
): PhotoWindow {
  const bounds = [...lowerBounds(facts, line, subject, beforeSeq), beganAfter(facts, line, attempt), expiredAt(facts, line, attempt)];
  const lower = bounds.filter((one): one is Instant => one !== null);
  const upper = line.hiddenBy.flatMap((id) => facts.standings.get(id)?.trail?.submission.workBegan ?? []);
  return { from: lower.length > 0 ? Math.max(...lower) : null, to: upper.length > 0 ? Math.min(...upper) : receivedAt };
}

function lowerBounds(facts: WindowFacts, line: PlanLine, subject: PhotoSubject, beforeSeq: number): (Instant | null)[] {
  const { lines } = facts;
  switch (subject.window) {
    case "since lift began": {
      // Specimens are made while the grout is placed, before the lifts are decided: the last hold point upstream is the first lift.
      const firstLift = upstream(lines, line).findLast((id) => lines.find((one) => one.line === id)?.kind === "H");
      return [firstLift === undefined ? null : (trailBefore(facts.standings.get(firstLift), beforeSeq)?.submission.workBegan ?? null)];
    }
    case "last look":
      // Taken last: after the work of every point that the jacket will hide has ended.
      return upstream(lines, line)
        .filter((id) => (lines.find((one) => one.line === id)?.hiddenBy.length ?? 0) > 0)
        .map((id) => trailBefore(facts.standings.get(id), beforeSeq)?.submission.workEnded ?? null);
    case "point":
      return [...predecessors(lines, line).map((id) => letGoAt(facts, id, beforeSeq)), facts.clockDoneAt(line.line)];
  }
}

function beganAfter(facts: WindowFacts, line: PlanLine, attempt: number): Instant | null {
  return facts.standings.get(line.line)?.attempts.find(({ number }) => number === attempt)?.beganAfter ?? null;
}

/** When the first maximum wait from the attempt before ran out, where this one is the re-check that renews it. */
function expiredAt(facts: WindowFacts, line: PlanLine, attempt: number): Instant | null {
  const before = facts.standings.get(line.line)?.attempts.find(({ number }) => number === attempt - 1)?.submissions.findLast((trail) => !takenBack(trail));
  if (!before || (before.decisions.at(-1)?.outcome ?? "release") !== "release") return null;
  const waits = facts.lines.filter(({ notApplicable }) => !notApplicable).flatMap((one) => one.waits.filter(({ kind, from }) => kind === "at most" && from === line.line));
  const ends = waits.map(({ hours }) => before.submission.workEnded + new Decimal(hours).times(HOUR).toNumber());
  return ends.length > 0 ? Math.min(...ends) : null;
}

/**
 * The hold points whose release came after the work that stood on them had begun: stated, for the decider to answer.
 *
 * @param beforeSeq log place of the submission; releases after it are not what the work stood on.
 */
export function startedBeforeRelease(facts: WindowFacts, line: PlanLine, { workBegan, beforeSeq }: { workBegan: Instant; beforeSeq: number }): { line: string; releasedAt: Instant }[] {
  return predecessors(facts.lines, line).flatMap((id) => {
    const kind = facts.lines.find((one) => one.line === id)?.kind ?? facts.outside.find((one) => one.line === id)?.kind;
    const releasedAt = kind === "H" ? letGoAt(facts, id, beforeSeq) : null;
    return releasedAt !== null && workBegan < releasedAt ? [{ line: id, releasedAt }] : [];
  });
}

/**
 * When a point let the next begin, as it stood before a place in the log: a hold point by its first release since it was
 * last refused, so that being confirmed after a doubt or renewed by a re-check moves nobody's window.
 */
function letGoAt(facts: WindowFacts, id: string, beforeSeq: number): Instant | null {
  const own = facts.lines.find((one) => one.line === id);
  const outside = facts.outside.find((one) => one.line === id);
  const standing = facts.standings.get(id) ?? outside?.standing;
  if ((own?.kind ?? outside?.kind) !== "H") return trailBefore(standing, beforeSeq)?.submission.workEnded ?? null;
  let current: Instant | null = null;
  let last: Instant | null = null;
  for (const trail of standing?.attempts.flatMap(({ submissions }) => submissions) ?? []) {
    for (const { outcome, at, seq } of trail.decisions) {
      if (seq >= beforeSeq) continue;
      if (outcome !== "release") current = null;
      // Where several have to release, as at the mock-up, the last of them lets go.
      else last = current = own ? (current ?? at) : at;
    }
  }
  return current ?? last;
}

/** The last submission made before a place in the log that was not taken back. */
function trailBefore(standing: Standing | undefined, beforeSeq: number): SubmissionTrail | null {
  const trails = standing?.attempts.flatMap((attempt) => attempt.submissions) ?? [];
  return trails.findLast((trail) => trail.submission.seq < beforeSeq && !takenBack(trail)) ?? null;
}

function takenBack({ withdrawn, checks }: SubmissionTrail): boolean {
  return withdrawn !== null || checks.some(({ outcome }) => outcome === "sent back");
}
