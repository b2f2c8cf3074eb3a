import type { Instant } from "#lib/domain/instant";
import type { PhotoWindow } from "#lib/domain/photo/order";
import type { Standing, SubmissionTrail } from "#lib/domain/point/attempt";
import type { OutsidePoint } from "#lib/domain/point/fold";
import { predecessors, upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { PointKind } from "#lib/domain/point/state";
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
 * work), a clock was done, and for a second attempt what ended the one before. To: work began at the first step that
 * hides this one; until then, when the photo reached the server.
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
  const lower = [...lowerBounds(facts, line, subject, beforeSeq), beganAfter(facts, line, attempt)].filter((one): one is Instant => one !== null);
  const upper = line.hiddenBy.flatMap((id) => facts.standings.get(id)?.trail?.submission.workBegan ?? []);
  return { from: lower.length > 0 ? Math.max(...lower) : null, to: upper.length > 0 ? Math.min(...upper) : receivedAt };
}

function lowerBounds(facts: WindowFacts, line: PlanLine, subject: PhotoSubject, beforeSeq: number): (Instant | null)[] {
  const sheet = facts.lines.find((one) => one.line === line.line) ? facts.lines : [];
  if (subject.window === "since lift began") {
    // Specimens are made while the grout is placed, before the lifts are decided.
    const firstLift = upstream(sheet, line).map((id) => facts.standings.get(id)?.trail?.submission.workBegan);
    return [firstLift.at(firstLiftIndex(sheet, line)) ?? null];
  }
  if (subject.window === "last look") {
    // Taken last: after the work of every point that the jacket will hide has ended.
    const ended = upstream(sheet, line)
      .filter((id) => (sheet.find((one) => one.line === id)?.hiddenBy.length ?? 0) > 0)
      .map((id) => trailBefore(facts.standings.get(id), beforeSeq)?.submission.workEnded ?? null);
    return ended;
  }
  const clock = facts.clockDoneAt(line.line);
  return [...predecessors(sheet, line).map((id) => letGoAt(facts, id, beforeSeq)), clock];
}

/** Index in the upstream points of the second hold point of the grout: the first lift, from which specimens may be made. */
function firstLiftIndex(lines: readonly PlanLine[], line: PlanLine): number {
  const before = upstream(lines, line);
  return before.findLastIndex((id) => lines.find((one) => one.line === id)?.kind === "H");
}

function beganAfter(facts: WindowFacts, line: PlanLine, attempt: number): Instant | null {
  return facts.standings.get(line.line)?.attempts.find(({ number }) => number === attempt)?.beganAfter ?? null;
}

/** When a point let the next begin, as it stood before a place in the log. */
function letGoAt(facts: WindowFacts, id: string, beforeSeq: number): Instant | null {
  const own = facts.lines.find((one) => one.line === id);
  const outside = facts.outside.find((one) => one.line === id);
  const kind: PointKind | undefined = own?.kind ?? outside?.kind;
  const trail = trailBefore(facts.standings.get(id) ?? outside?.standing, beforeSeq);
  if (!trail || !kind) return null;
  if (kind !== "H") return trail.submission.workEnded;
  return trail.decisions.filter(({ outcome, seq }) => outcome === "release" && seq < beforeSeq).at(-1)?.at ?? null;
}

/** The last submission made before a place in the log that was not withdrawn. */
function trailBefore(standing: Standing | undefined, beforeSeq: number): SubmissionTrail | null {
  const trails = standing?.attempts.flatMap((attempt) => attempt.submissions) ?? [];
  return trails.filter(({ submission, withdrawn }) => submission.seq < beforeSeq && !withdrawn).at(-1) ?? null;
}
