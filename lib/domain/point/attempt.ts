import type { Instant } from "#lib/domain/instant";
import type { Checked, Decided, PointEvent, Submitted, Withdrawn } from "#lib/domain/point/history";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Role } from "#lib/domain/requirement/set";

/** One submission with all that was done about it. */
export interface SubmissionTrail {
  submission: Submitted;
  withdrawn: Withdrawn | null;
  checks: Checked[];
  decisions: Decided[];
}

/** A numbered try at a point: it ends with a rejection, a reopening or a re-check after expiry. */
export interface Attempt {
  number: number;
  submissions: SubmissionTrail[];
  /** What ended the attempt before this one: photos of this one have to be later. Null for the first. */
  beganAfter: Instant | null;
}

/** What stands at a point, read from its own records alone. */
export interface Standing {
  attempts: Attempt[];
  /** The submission that counts now; null when there is none, or it was withdrawn, sent back, rejected or reopened. */
  trail: SubmissionTrail | null;
  checked: boolean;
  released: boolean;
  /** The decision that released it, the last one where several are needed. */
  release: Decided | null;
  /** Roles that have released where all of several are needed. */
  releasedBy: Role[];
  /** The last rejection or reopening, until a new submission stands. */
  refusal: Decided | null;
  sentBack: Checked | null;
  /** Log place of the last decision taken here; 0 for none. */
  lastDecisionSeq: number;
  /** Log place of the last time that something which let others begin was taken back here; 0 for never. */
  brokenSeq: number;
}

/**
 * Reads the records of one point in log order into numbered attempts and what stands now.
 *
 * A rejection or reopening ends an attempt. A withdrawal or a return by the QC manager does not: the next
 * submission belongs to the same attempt. A submission on top of a released one (a re-check after expiry, the next
 * shift's access check) opens a new attempt.
 *
 * @param events records of this point only, ascending by `seq`.
 */
export function standing(line: PlanLine, events: readonly PointEvent[]): Standing {
  const state: Standing = {
    attempts: [{ number: 1, submissions: [], beganAfter: null }],
    trail: null,
    checked: false,
    released: false,
    release: null,
    releasedBy: [],
    refusal: null,
    sentBack: null,
    lastDecisionSeq: 0,
    brokenSeq: 0,
  };
  for (const event of events) apply(line, state, event);
  return state;
}

function apply(line: PlanLine, state: Standing, event: PointEvent): void {
  const found = state.attempts.flatMap((attempt) => attempt.submissions).find((trail) => trail.submission.submissionId === event.submissionId);
  switch (event.type) {
    case "submitted": {
      if (state.released) openAttempt(state, event.at);
      const trail: SubmissionTrail = { submission: event, withdrawn: null, checks: [], decisions: [] };
      state.attempts.at(-1)?.submissions.push(trail);
      Object.assign(state, { trail, checked: false, released: false, release: null, releasedBy: [], refusal: null, sentBack: null });
      return;
    }
    case "withdrawn": {
      if (!found) return;
      found.withdrawn = event;
      if (state.trail === found) Object.assign(state, { trail: null, checked: false, brokenSeq: event.seq });
      return;
    }
    case "checked": {
      if (!found) return;
      found.checks.push(event);
      if (state.trail !== found) return;
      if (event.outcome === "checked") state.checked = true;
      else Object.assign(state, { trail: null, checked: false, sentBack: event, brokenSeq: event.seq });
      return;
    }
    case "decided": {
      if (!found) return;
      found.decisions.push(event);
      state.lastDecisionSeq = event.seq;
      if (event.outcome === "release") return applyRelease(line, state, event);
      Object.assign(state, { trail: null, checked: false, released: false, release: null, releasedBy: [], refusal: event, brokenSeq: event.seq });
      openAttempt(state, event.at);
    }
  }
}

function applyRelease(line: PlanLine, state: Standing, event: Decided): void {
  if (event.role) state.releasedBy = [...new Set([...state.releasedBy, event.role])];
  state.released = !line.release.all || line.release.roles.every((role) => state.releasedBy.includes(role));
  if (state.released) state.release = event;
}

function openAttempt(state: Standing, at: Instant): void {
  state.attempts.push({ number: state.attempts.length + 1, submissions: [], beganAfter: at });
}

/** The attempt that a new submission would belong to. */
export function currentAttempt(state: Standing): number {
  return state.released ? state.attempts.length + 1 : state.attempts.length;
}
