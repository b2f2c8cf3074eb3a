import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { RunningWait } from "#lib/domain/point/fold";
import { mayNotDecide, needsCheck } from "#lib/domain/point/may";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { downstream, predecessors, type PlanLine } from "#lib/domain/plan/plan";
import { isClockRule, worstAtPoint } from "#lib/domain/requirement/judge-point";
import { itemRule } from "#lib/domain/requirement/rule";
import type { Role } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { listPiles, listPointRows, type Pile, type PointRow } from "#lib/db/pile";
import { listMembers, type Project } from "#lib/db/project";
import { standingSubmission, type Standing } from "#lib/services/decide-point";
import { exceptionsOf, type Exception } from "#lib/services/exceptions";
import { likenessTasks, type LikenessTask } from "#lib/services/likeness-view";
import { clockOf, loadCommon, loadSheet, type Common, type Sheet } from "#lib/services/sheet";

export interface RoundPoint {
  /** Null for a point of the project sheet. */
  mark: string | null;
  line: string;
  name: string;
  kind: PointKind;
  state: PointState;
}

export interface RoundRow extends RoundPoint {
  /** What is asked of this person: a decision, or the QC manager's own check. */
  task: "decide" | "check";
  attempt: number;
  sentBy: string;
  sentAt: Instant;
  photos: number;
  /** The point that hides the work as soon as this one is released; null where nothing is covered up next. */
  coveredBy: string | null;
  /** The first of the waits that run while this waits; past ones stay until somebody mends them. */
  limit: { until: Instant; words: string } | null;
  exceptions: Exception[];
}

/** The same thing said of one or more points of a pile. */
export interface RoundNote {
  mark: string | null;
  lines: string[];
  state: PointState;
  words: string;
}

export interface RoundView {
  /** What waits for this person, the most irreversible first. */
  yours: RoundRow[];
  /** Points in doubt whose decision is this person's: decided before, and something they stand on was taken back. */
  review: RoundNote[];
  /** What stands still for other reasons. No answer is wanted. */
  others: RoundNote[];
  /** Photos that are alike, of which one stands in a release that this person may decide. */
  alike: LikenessTask[];
  /** Piles of which nothing is open any more and which the owner may accept; empty for anybody else. */
  toAccept: { mark: string; pileId: string }[];
}

/** States in which a point can ask something of somebody, or is worth knowing about. */
const ALIVE: ReadonlySet<PointState> = new Set(["submitted", "QC checked", "in doubt", "rejected", "expired"]);

/**
 * What waits for one person over a whole project. The projection says which sheets to read; what is shown is folded
 * from the records at `at`.
 */
export async function roundView(tx: Tx, project: Project, member: Member, at: Instant): Promise<RoundView> {
  const [rows, piles, members] = await Promise.all([listPointRows(tx, project.id), listPiles(tx, project.id), listMembers(tx, project.id)]);
  const names = new Map(members.map(({ personId, name }) => [personId, name]));
  const view: RoundView = { yours: [], review: [], others: [], alike: can(member, "answer likeness", project.id) ? await likenessTasks(tx, project, member, at) : [], toAccept: member.roles.includes("owner") ? acceptablePiles(piles, rows) : [] };
  const common = await loadCommon(tx, project);
  const clocked = clockLines(common);
  const ids = [project.id, ...piles.map(({ id }) => id)].filter((id) => rows.some((row) => row.sheet === id && mayBeAlive(row, clocked, at)));
  for (const id of ids) {
    const sheet = await loadSheet(tx, project, id, at, common);
    for (const line of sheet.lines) await sortIn(tx, sheet, line, member, names, view);
  }
  view.yours.sort(mostIrreversibleFirst);
  return view;
}

/** Adds a note, to the same words about the same pile where they stand already. */
function note(notes: RoundNote[], { mark, line, state }: RoundPoint, words: string): void {
  const same = notes.find((one) => one.mark === mark && one.state === state && one.words === words);
  if (same) same.lines.push(line);
  else notes.push({ mark, lines: [line], state, words });
}

function mayBeAlive({ state, holdsUntil, mayBegin, line }: PointRow, clocked: ReadonlySet<string>, at: Instant): boolean {
  return ALIVE.has(state) || (mayBegin && clocked.has(line)) || (holdsUntil !== null && holdsUntil <= at);
}

/** The points at which a cure or maturity clock runs, in any requirement set. */
function clockLines({ revisions }: Common): ReadonlySet<string> {
  const lines = revisions.flatMap(({ revision }) => revision.sets.flatMap((set) => set.lines));
  return new Set(lines.filter(({ quantities }) => quantities.some(({ rule }) => isClockRule(itemRule(rule)))).map(({ line }) => line));
}

/** The piles whose every point is released or does not apply, and which are not accepted. */
export function acceptablePiles(piles: readonly Pile[], rows: readonly PointRow[]): { mark: string; pileId: string }[] {
  return piles
    .filter(({ id, state }) => state !== "accepted" && everyPointDone(rows.filter(({ sheet }) => sheet === id)))
    .map(({ id, mark }) => ({ mark, pileId: id }));
}

function everyPointDone(rows: readonly PointRow[]): boolean {
  return rows.length > 0 && rows.every(({ state }) => state === "released" || state === "not applicable");
}

async function sortIn(tx: Tx, sheet: Sheet, line: PlanLine, member: Member, names: ReadonlyMap<string, string>, view: RoundView): Promise<void> {
  const status = sheet.folded.get(line.line);
  if (!status) return;
  const point: RoundPoint = { mark: sheet.pile?.mark ?? null, line: line.line, name: line.name, kind: line.kind, state: status.state };
  const { state, standing } = status;
  if (state === "rejected") {
    const codes = sheet.history.decisions.findLast((one) => one.line === line.line)?.codes.join(", ") ?? "";
    note(view.others, point, `rejected${codes ? `: ${codes}` : ""}; attempt ${status.attempt} is awaited`);
    return;
  }
  const expired = status.runningWaits.find(({ over }) => over);
  if (state === "expired" && standing.released && expired) {
    note(view.others, point, `${expired.wait.name} ended ${formatWhen(expired.until, sheet.project.zone, { short: true })}: a re-check is awaited`);
    return;
  }
  const stopped = clockNote(sheet, line, state);
  if (stopped) note(view.others, point, stopped);
  if (!standing.trail || (standing.released && state !== "in doubt")) return;
  const submission = await standingSubmission(tx, sheet, line.line);
  if (!submission) return;
  const task = taskOf(submission, member);
  if (state === "in doubt") {
    if (task === "decide") note(view.review, point, doubtWords(sheet, line));
    else note(view.others, point, `${doubtWords(sheet, line)}; decided by ${deciders(submission)}`);
  } else if (task) view.yours.push(rowOf(sheet, submission, point, task, names));
  else note(view.others, point, `with the ${deciders(submission)}`);
}

/** What a member is asked for at a point where something stands submitted; null where it is somebody else's. */
export function taskOf({ line, status, judged, submission }: Standing, member: Member): RoundRow["task"] | null {
  const { standing } = status;
  const worst = worstAtPoint(judged);
  const named = rolesThatDecide(line, worst, standing.releasedBy);
  // Whoever stands in for the named role, where the named person sent it, holds none of the line's roles.
  const standsIn = !(worst === "fails" && line.release.whenFails.length > 0) && !line.release.roles.some((role) => member.roles.includes(role));
  if (mayNotDecide(line, standing, member, worst) === null && (standsIn || named.some((role) => member.roles.includes(role)))) return "decide";
  const checks = needsCheck(line, standing) && !standing.checked && member.roles.includes("QC manager") && submission.by !== member.personId;
  return checks ? "check" : null;
}

/** Who decides what stands: whom the line names for a failing value, else its roles, less those that have released already. */
function rolesThatDecide(line: PlanLine, worst: Parameters<typeof mayNotDecide>[3], releasedBy: readonly Role[]): readonly Role[] {
  if (worst === "fails" && line.release.whenFails.length > 0) return line.release.whenFails;
  return line.release.all ? line.release.roles.filter((role) => !releasedBy.includes(role)) : line.release.roles;
}

function deciders({ line, status, judged }: Standing): string {
  const worst = worstAtPoint(judged);
  return rolesThatDecide(line, worst, status.standing.releasedBy).join(line.release.all ? " and " : " or ");
}

/** The points upstream that were taken back and not decided since, as the reason for the doubt. */
export function doubtWords(sheet: Sheet, line: PlanLine): string {
  const status = sheet.folded.get(line.line);
  const reached = sheet.history.events.find((event) => event.type === "requirement changed" && event.seq === status?.doubtSeq);
  if (reached?.type === "requirement changed") return `revision ${reached.letter} reaches back${reached.line === line.line ? "" : ` to point ${reached.line}`}: ${reached.finding === "would fail" ? "a value would fail" : "it needs a value"}`;
  const broken = [...sheet.folded.values()].find(({ standing }) => standing.brokenSeq > 0 && standing.brokenSeq === status?.doubtSeq);
  const source = broken?.line ?? sheet.outside.find(({ standing }) => standing.brokenSeq > 0 && standing.brokenSeq === status?.doubtSeq)?.line;
  if (source === undefined) return "something it stands on was taken back";
  const act = sheet.history.decisions.findLast((one) => one.line === source && one.outcome !== "release");
  if (act) return `point ${source} was ${act.outcome === "reopen" ? "reopened" : "rejected"}${act.codes.length > 0 ? `: ${act.codes.join(", ")}` : ""}`;
  return `point ${source} was taken back`;
}

function clockNote(sheet: Sheet, line: PlanLine, state: PointState): string | null {
  if (state !== "open") return null;
  const clock = clockOf(sheet, line);
  if (!clock || clock.state === "done" || clock.state === "running") return null;
  const amount = `${Math.round(clock.progress * 100) / 100} of ${clock.required} ${clock.form === "maturity" ? "°C·h" : "h"}`;
  return clock.state === "no readings" ? "the clock has no temperature yet" : `the clock is ${clock.state} at ${amount}`;
}

function rowOf(sheet: Sheet, standing: Standing, point: RoundPoint, task: RoundRow["task"], names: ReadonlyMap<string, string>): RoundRow {
  const { line, submission, photos, status } = standing;
  const wait = firstWait(sheet, line);
  const unchecked = task === "decide" && needsCheck(line, status.standing) && !status.standing.checked;
  return {
    ...point,
    task,
    attempt: submission.attempt,
    sentBy: names.get(submission.by) ?? submission.by,
    sentAt: Date.parse(submission.receivedAt),
    photos: photos.length,
    coveredBy: coveringLine(sheet.lines, line),
    limit: wait && { until: wait.until, words: wait.wait.name },
    exceptions: [...exceptionsOf(standing), ...(unchecked ? [{ hand: "doubt", words: "not checked by the QC manager yet" } as const] : [])],
  };
}

/** The wait that runs out first among those that end at this point or at one that stands on it: a late decision here loses it. */
export function firstWait(sheet: Sheet, line: PlanLine): RunningWait | null {
  const behind = new Set([line.line, ...downstream(sheet.lines, line)]);
  const running = [...sheet.folded.values()].flatMap(({ runningWaits }) => runningWaits).filter(({ wait, at }) => wait.kind === "at most" && behind.has(at));
  return running.sort((a, b) => a.until - b.until)[0] ?? null;
}

/** The point whose work hides something and which only a hold point's release lets begin; null for any other. */
export function coveringLine(lines: readonly PlanLine[], line: PlanLine): string | null {
  if (line.kind !== "H") return null;
  const hides = new Set(lines.filter(({ notApplicable }) => !notApplicable).flatMap(({ hiddenBy }) => hiddenBy));
  return lines.find((one) => hides.has(one.line) && !one.notApplicable && predecessors(lines, one).includes(line.line))?.line ?? null;
}

/** What is covered up next cannot be looked at again; then what runs out first; then what has waited longest. */
export function mostIrreversibleFirst(a: Pick<RoundRow, "coveredBy" | "limit" | "sentAt">, b: Pick<RoundRow, "coveredBy" | "limit" | "sentAt">): number {
  const never = Number.MAX_SAFE_INTEGER;
  return (
    Number(a.coveredBy === null) - Number(b.coveredBy === null) ||
    (a.limit?.until ?? never) - (b.limit?.until ?? never) ||
    a.sentAt - b.sentAt
  );
}
