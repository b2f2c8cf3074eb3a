import type { Instant } from "#lib/domain/instant";
import type { Checked, Decided, PointEvent, Submitted, Withdrawn } from "#lib/domain/point/history";
import type { PlanLineSpec, Role } from "#lib/domain/requirement/set";

/** What of a plan line decides how its records are read. */
type Line = Pick<PlanLineSpec, "kind" | "gate" | "batch" | "release">;

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
  /** The rejection or reopening before this one: its photos have to be later. Null for the first, and for a re-check. */
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
  /** Log place of the last revision that reached back here and is not met as it stands; 0 for none. */
  shakenSeq: number;
}

/** What stood when a re-check, or the next shift's access check, was sent on top of it. */
type Under = Pick<Standing, "trail" | "checked" | "released" | "release" | "releasedBy">;
interface Reading extends Standing {
  under: Under | null;
}

const NOTHING = { trail: null, checked: false, released: false, release: null, releasedBy: [] } as const;

/**
 * Reads the records of one point in log order into numbered attempts and what stands now.
 *
 * A rejection or reopening ends an attempt. A withdrawal or a return by the QC manager does not: the next
 * submission belongs to the same attempt. A submission on top of one that stands (a re-check after expiry, the next
 * shift's access check) opens a new attempt; when it is taken back, what was there before stands again. So it does
 * when the next shift's access check is refused, which says nothing about the shift before.
 *
 * @param events records of this point only, ascending by `seq`.
 */
export function standing(line: Line, events: readonly PointEvent[]): Standing {
  const reading: Reading = {
    attempts: [{ number: 1, submissions: [], beganAfter: null }],
    ...NOTHING,
    releasedBy: [],
    refusal: null,
    sentBack: null,
    lastDecisionSeq: 0,
    brokenSeq: 0,
    shakenSeq: 0,
    under: null,
  };
  for (const event of events) apply(line, reading, event);
  const { under: _under, ...state } = reading;
  return state;
}

function apply(line: Line, state: Reading, event: PointEvent): void {
  if (event.type === "submitted") return applySubmission(state, event);
  if (event.type === "requirement changed") {
    if (state.trail) Object.assign(state, { shakenSeq: event.seq, brokenSeq: event.seq });
    return;
  }
  const found = state.attempts.flatMap((attempt) => attempt.submissions).find((trail) => trail.submission.submissionId === event.submissionId);
  if (!found) return;
  switch (event.type) {
    case "withdrawn":
      found.withdrawn = event;
      if (state.trail === found) takeBack(line, state, event.seq);
      return;
    case "checked":
      found.checks.push(event);
      if (state.trail !== found) return;
      if (event.outcome === "checked") {
        state.checked = true;
        return;
      }
      takeBack(line, state, event.seq);
      state.sentBack = event;
      return;
    case "decided":
      found.decisions.push(event);
      if (state.trail !== found) return;
      state.lastDecisionSeq = event.seq;
      if (event.outcome === "release") return applyRelease(line, state, event);
      if (line.gate === "is the gate" && !state.released && state.under?.released) Object.assign(state, state.under, { under: null });
      else Object.assign(state, NOTHING, { releasedBy: [], refusal: event, brokenSeq: event.seq, under: null });
      openAttempt(state, event.at);
  }
}

function applySubmission(state: Reading, event: Submitted): void {
  if (state.trail) {
    const { trail, checked, released, release, releasedBy } = state;
    if (standsInLastAttempt(state)) openAttempt(state, null);
    state.under = { trail, checked, released, release, releasedBy };
  }
  const trail: SubmissionTrail = { submission: event, withdrawn: null, checks: [], decisions: [] };
  state.attempts.at(-1)?.submissions.push(trail);
  Object.assign(state, NOTHING, { trail, releasedBy: [], refusal: null, sentBack: null });
}

/** A submission withdrawn or sent back. It breaks what stands on the point only where it had let others begin. */
function takeBack(line: Line, state: Reading, seq: number): void {
  if (state.under) {
    Object.assign(state, state.under, { under: null });
    return;
  }
  const letOthersBegin = state.released || (state.trail !== null && letsGoUndecided(line, state.trail));
  Object.assign(state, NOTHING, { releasedBy: [], under: null }, letOthersBegin ? { brokenSeq: seq } : {});
}

/**
 * Whether a submission lets others begin before it is decided: at a record point when no value fails, save where the
 * system itself releases what meets. Inside a resin batch a witness point lets the batch go on likewise.
 */
export function letsGoUndecided(line: Pick<Line, "kind" | "batch" | "release">, { submission }: SubmissionTrail): boolean {
  if (submission.worst === "fails") return false;
  return (line.kind === "R" && !line.release.automatic) || line.batch !== null;
}

function applyRelease(line: Line, state: Reading, event: Decided): void {
  if (event.role) state.releasedBy = [...new Set([...state.releasedBy, event.role])];
  state.released = !line.release.all || line.release.roles.every((role) => state.releasedBy.includes(role));
  if (state.released) Object.assign(state, { release: event, under: null });
}

function openAttempt(state: Standing, beganAfter: Instant | null): void {
  state.attempts.push({ number: state.attempts.length + 1, submissions: [], beganAfter });
}

/** Whether what stands belongs to the last attempt; not so after a re-check was taken back. */
function standsInLastAttempt({ attempts, trail }: Standing): boolean {
  return trail !== null && (attempts.at(-1)?.submissions.includes(trail) ?? false);
}

/** The attempt that a new submission would belong to. */
export function currentAttempt(state: Standing): number {
  return standsInLastAttempt(state) ? state.attempts.length + 1 : state.attempts.length;
}

/**
 * The roles whose release counts where all of several are needed: those given after a break upstream.
 *
 * @param sinceSeq log place of the last break; 0 for none.
 */
export function releasedSince({ trail }: Standing, sinceSeq: number): Role[] {
  const given = trail?.decisions.flatMap(({ outcome, role, seq }) => (outcome === "release" && role && seq > sinceSeq ? [role] : [])) ?? [];
  return [...new Set(given)];
}
