import Decimal from "decimal.js";
import { HOUR, type Instant } from "#lib/domain/instant";
import { currentAttempt, letsGoUndecided, releasedSince, standing, type Standing } from "#lib/domain/point/attempt";
import type { PointEvent } from "#lib/domain/point/history";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { predecessors, type PlanLine, type PlanWait } from "#lib/domain/plan/plan";

/** Why work may not begin at a point. */
export type Block =
  | { code: "predecessor"; line: string; state: PointState }
  | { code: "expired"; line: string; wait: PlanWait; ranOutAt: Instant }
  | { code: "too soon"; line: string; wait: PlanWait; notBefore: Instant };

/** A wait between two points that is running or has run out. */
export interface RunningWait {
  wait: PlanWait;
  /** The point that the wait is written at: the one that has to begin or be released. */
  at: string;
  since: Instant;
  until: Instant;
  over: boolean;
}

export interface PointStatus {
  line: string;
  state: PointState;
  /** Number of the attempt that stands, or that a new submission would open. */
  attempt: number;
  standing: Standing;
  /** Empty when work may begin here as far as the other points go. */
  blocks: Block[];
  /** Whether work may begin now. */
  mayBegin: boolean;
  /**
   * Whether a submission may be made now: where work may begin, and where the time to begin it has run out since, for
   * work that began in time. When the work began is then for the submission to say: see `workBlocks`.
   */
  maySend: boolean;
  /** Whether the points after this one may begin as far as this one goes. */
  letsGo: boolean;
  /** The instant at which this state changes by itself, or null. */
  holdsUntil: Instant | null;
  /** "At most" waits that started here and are not yet met. */
  runningWaits: RunningWait[];
  /** Log place of the last break upstream, or of a revision that reached back here, that this point has to be decided after; 0 for none. */
  doubtSeq: number;
}

/** A point on another sheet that this one stands on. */
export type OutsidePoint = Pick<PointStatus, "line" | "state" | "letsGo" | "doubtSeq" | "standing"> & { kind: PointKind; register: boolean };

export interface SheetFacts {
  lines: readonly PlanLine[];
  /** Records of all points of the sheet, ascending by `seq`. */
  events: readonly PointEvent[];
  outside: readonly OutsidePoint[];
  /** Registers that stand in for submissions at the project's continuous points. */
  registers: { instruments: boolean; lots: boolean };
  /** The pile was taken out of scope: what was released stays so, and nothing more is done. */
  outOfScope: boolean;
  at: Instant;
}

/**
 * Folds the records of one sheet into the state of every point at an instant. Nothing of it is stored as truth.
 *
 * - A hold point lets the next begin when it is released and current; a witness point when it is released, or inside
 *   one resin batch when it is submitted with no value that fails; a record point when it is submitted with no value
 *   that fails.
 * - A rejection, a reopening, or taking back what had let others begin puts everything that stands on the point in doubt,
 *   until it is decided again.
 * - When a maximum wait has run out the first of its two points shows expired and only the second is blocked.
 */
export function foldSheet(facts: SheetFacts): Map<string, PointStatus> {
  const folded = new Map<string, PointStatus>();
  const standings = new Map(
    facts.lines.map((line) => [line.line, standing(line, facts.events.filter((event) => event.line === line.line))]),
  );
  const waits = facts.lines.flatMap((line) => runningWaits(line, standings, facts.at));
  for (const line of facts.lines) {
    const own = standings.get(line.line);
    // The access check is renewed with every shift, as long as work that needs it is left.
    const renewed = line.gate === "is the gate" && facts.lines.some((one) => one.gate === "under the gate" && !one.notApplicable && !standings.get(one.line)?.released);
    if (own) folded.set(line.line, foldPoint(line, own, renewed, facts, folded, waits));
  }
  return folded;
}

function foldPoint(
  line: PlanLine,
  own: Standing,
  renewed: boolean,
  facts: SheetFacts,
  folded: ReadonlyMap<string, PointStatus>,
  waits: readonly RunningWait[],
): PointStatus {
  const before = predecessors(facts.lines, line);
  const doubtSeq = Math.max(own.shakenSeq, ...before.map((id) => breakBehind(id, facts, folded)));
  const started = waits.filter(({ wait, over, at }) => wait.kind === "at most" && wait.from === line.line && (over || at !== line.line));
  const common = { line: line.line, standing: own, attempt: currentAttempt(own), doubtSeq, runningWaits: started };
  if (line.notApplicable) {
    return { ...common, state: "not applicable", blocks: [], mayBegin: false, maySend: false, letsGo: true, holdsUntil: null };
  }
  if (line.register) {
    const kept = facts.registers[line.register];
    return { ...common, state: kept ? "released" : "open", blocks: [], mayBegin: false, maySend: false, letsGo: kept, holdsUntil: null };
  }
  if (facts.outOfScope && !own.released) {
    return { ...common, state: "out of scope", blocks: [], mayBegin: false, maySend: false, letsGo: false, holdsUntil: null };
  }
  const blocks = blocksOf(line, before, facts, folded, waits);
  const expired = started.find((wait) => wait.over);
  const inDoubt = doubtSeq > seqOf(own) && !decidedSince(line, own, doubtSeq);
  const state = stateOf(own, { blocked: blocks.length > 0, inDoubt, expired: Boolean(expired) });
  const attempt = own.trail && state !== "expired" ? own.attempts.length : currentAttempt(own);
  const free = ["open", "not open", "rejected", "expired"].includes(state) || (state === "released" && renewed);
  return {
    ...common,
    standing: line.release.all ? { ...own, releasedBy: releasedSince(own, doubtSeq) } : own,
    attempt,
    state,
    blocks,
    mayBegin: blocks.length === 0 && free,
    maySend: blocks.every((block) => block.code === "expired" && block.wait.until === "began") && free,
    letsGo: letsGo(line, own, state),
    holdsUntil: earliest([
      ...waits.filter(({ wait, at, over }) => wait.kind === "at most" && !over && [wait.from, at].includes(line.line)).map(({ until }) => until),
      ...blocks.flatMap((block) => (block.code === "too soon" ? [block.notBefore] : [])),
    ]),
  };
}

/**
 * Why work that began at an instant may not be sent: what stands in the way now, with the waits that run to or from the
 * beginning of the work held against that instant, since a submission is made when the work is done.
 *
 * @returns empty when nothing stands in the way.
 */
export function workBlocks(facts: SheetFacts, line: string, workBegan: Instant): Block[] {
  const atWork = (block: Block): boolean => block.code === "too soon" || (block.code === "expired" && block.wait.until === "began");
  const blocks = (at: Instant): Block[] => foldSheet({ ...facts, at }).get(line)?.blocks ?? [];
  return [...blocks(facts.at).filter((block) => !atWork(block)), ...blocks(workBegan).filter(atWork)];
}

/** Whether the point was decided after something that it stands on was taken back; by everybody, where all are needed. */
function decidedSince(line: PlanLine, own: Standing, seq: number): boolean {
  if (!line.release.all) return own.lastDecisionSeq > seq;
  const again = releasedSince(own, seq);
  return line.release.roles.every((role) => again.includes(role));
}

function seqOf(own: Standing): number {
  return own.trail?.submission.seq ?? Number.POSITIVE_INFINITY;
}

function stateOf(own: Standing, now: { blocked: boolean; inDoubt: boolean; expired: boolean }): PointState {
  if (!own.trail) {
    if (own.refusal?.outcome === "reject") return "rejected";
    return now.blocked ? "not open" : "open";
  }
  if (now.inDoubt) return "in doubt";
  if (now.expired) return "expired";
  if (own.released) return "released";
  return own.checked ? "QC checked" : "submitted";
}

function letsGo(line: PlanLine, own: Standing, state: PointState): boolean {
  if (state === "in doubt") return false;
  if (own.released) return true;
  return line.kind === "R" && own.trail !== null && letsGoUndecided(line, own.trail);
}

/** A batch point lets go inside its batch as soon as it is submitted with no value that fails. */
function letsGoInBatch(line: PlanLine, before: PlanLine | undefined, status: PointStatus): boolean {
  if (!line.batch || before?.batch !== line.batch || status.state === "in doubt") return false;
  return status.standing.trail !== null && letsGoUndecided(before, status.standing.trail);
}

function blocksOf(
  line: PlanLine,
  before: readonly string[],
  facts: SheetFacts,
  folded: ReadonlyMap<string, PointStatus>,
  waits: readonly RunningWait[],
): Block[] {
  const unmet = before.flatMap((id): Block[] => {
    const status = folded.get(id);
    if (status) {
      const open = status.letsGo || letsGoInBatch(line, facts.lines.find((one) => one.line === id), status);
      return open ? [] : [{ code: "predecessor", line: id, state: status.state }];
    }
    const outside = facts.outside.find((one) => one.line === id);
    if (outside?.letsGo) return [];
    return [{ code: "predecessor", line: id, state: outside?.state ?? "not open" }];
  });
  const timed = waits.filter((one) => one.at === line.line).flatMap(({ wait, until, over }): Block[] => {
    if (wait.kind === "at least") return over ? [] : [{ code: "too soon", line: wait.from, wait, notBefore: until }];
    return over ? [{ code: "expired", line: wait.from, wait, ranOutAt: until }] : [];
  });
  return [...unmet, ...timed];
}

function breakBehind(id: string, facts: SheetFacts, folded: ReadonlyMap<string, PointStatus>): number {
  const status = folded.get(id);
  if (status) return Math.max(status.standing.brokenSeq, status.doubtSeq);
  const outside = facts.outside.find((one) => one.line === id);
  return outside ? Math.max(outside.standing.brokenSeq, outside.doubtSeq) : 0;
}

/** The waits written at a point, as far as the point they start from has ended its work and this one has not met them. */
function runningWaits(line: PlanLine, standings: ReadonlyMap<string, Standing>, at: Instant): RunningWait[] {
  if (line.notApplicable) return [];
  return line.waits.flatMap((wait): RunningWait[] => {
    const since = standings.get(wait.from)?.trail?.submission.workEnded;
    const own = standings.get(line.line);
    if (since === undefined || !own) return [];
    const until = since + new Decimal(wait.hours).times(HOUR).toNumber();
    if (wait.kind === "at most" && metBy(own, wait.until, until)) return [];
    return [{ wait, at: line.line, since, until, over: wait.kind === "at most" ? at > until : at >= until }];
  });
}

/** A refused attempt does not meet it for the next one: its work begins anew. */
function metBy(own: Standing, event: PlanWait["until"], until: Instant): boolean {
  return own.released || (event === "began" && own.trail !== null && own.trail.submission.workBegan <= until);
}

function earliest(instants: readonly Instant[]): Instant | null {
  return instants.length > 0 ? Math.min(...instants) : null;
}
