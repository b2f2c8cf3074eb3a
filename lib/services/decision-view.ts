import { worstAtPoint } from "#lib/domain/requirement/judge-point";
import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { mayNotDecide, needsCheck } from "#lib/domain/point/may";
import { releaseBlockWords, type ReleaseBlock } from "#lib/domain/point/release";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { downstream, upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { JudgedValue } from "#lib/domain/requirement/judge-point";
import type { Tx } from "#lib/db/client";
import { listDocuments } from "#lib/db/evidence";
import { listMembers } from "#lib/db/project";
import { blocksOf, standingSubmission, type Standing } from "#lib/services/decide-point";
import { historyOf, type AttemptView } from "#lib/services/decision-history";
import { photoViews, questionGroups, type DecisionPhoto, type QuestionGroup } from "#lib/services/decision-photos";
import { decisionSequence, type DecisionSequence } from "#lib/services/decision-sequence";
import { decisionValues, type DecisionValue } from "#lib/services/decision-values";
import { valueName } from "#lib/services/exceptions";
import { coveringLine, doubtWords, firstWait } from "#lib/services/round-view";
import { getLine, revisionOf, type Sheet } from "#lib/services/sheet";
import { dayWords } from "#lib/services/words";

export interface DecisionView {
  line: string;
  name: string;
  kind: PointKind;
  state: PointState;
  attempt: number;
  notApplicable: string | null;
  /** Who decides it, in words. */
  decidedBy: string;
  /** Why it is in doubt; null where it is not. */
  doubt: string | null;
  coveredBy: { line: string; name: string } | null;
  limit: { until: Instant; words: string; over: boolean } | null;
  submission: {
    id: string;
    sent: string;
    work: string;
    words: string;
    checked: string | null;
    revision: string;
    lots: { name: string; words: string; bad: boolean }[];
    documents: { id: string; title: string }[];
  } | null;
  values: DecisionValue[];
  /** For the last look: the values of the points that the jacket will hide, the nearest to a limit of each. */
  behind: DecisionValue[];
  photos: DecisionPhoto[];
  questions: QuestionGroup[];
  /** What a photo minimum needs, for saying before the signature whether the answers leave enough. */
  needs: { subject: string; name: string; count: number }[];
  /** What the plan line says of a release on evidence alone, in words. */
  evidenceOnly: string;
  /** What changed since the attempt before; null at a first attempt. */
  change: { attempt: number; values: { name: string; before: string; now: string }[]; photosNew: number; photosAgain: number } | null;
  sequence: DecisionSequence | null;
  history: AttemptView[];
  may: {
    /** Why this person does not decide what stands; null when they do. */
    notDecide: string | null;
    check: boolean;
    sendBack: boolean;
    reopen: boolean;
  };
  /** What blocks a release whatever is answered here. */
  blocks: string[];
  /** Points that a reopening would put in doubt. */
  standsOnIt: string[];
}

/** One point as its decider, its QC manager or any reader sees it. */
export async function decisionView(tx: Tx, sheet: Sheet, lineId: string, member: Member): Promise<DecisionView> {
  const { line, status } = getLine(sheet, lineId);
  const names = new Map((await listMembers(tx, sheet.project.id)).map((one) => [one.personId, one.name]));
  const standing = await standingSubmission(tx, sheet, lineId, shownSubmission(sheet, lineId));
  const before = standing && (await attemptBefore(tx, sheet, standing));
  const groups = standing ? questionGroups(line, standing, sheet.project.zone) : [];
  const wait = firstWait(sheet, line);
  const covering = sheet.lines.find((one) => one.line === coveringLine(sheet.lines, line));
  return {
    line: line.line,
    name: line.name,
    kind: line.kind,
    state: status.state,
    attempt: standing?.submission.attempt ?? status.attempt,
    notApplicable: line.notApplicable,
    decidedBy: line.release.roles.join(line.release.all ? " and " : " or "),
    doubt: status.state === "in doubt" ? doubtWords(sheet, line) : null,
    coveredBy: covering ? { line: covering.line, name: covering.name } : null,
    limit: wait && { until: wait.until, words: wait.wait.name, over: wait.over },
    submission: standing && (await submissionView(tx, sheet, line, standing, names)),
    values: standing ? decisionValues(standing, sheet, before?.judged) : [],
    behind: standing ? await valuesBehind(tx, sheet, line) : [],
    photos: standing ? photoViews(sheet, line, standing, groups, before) : [],
    questions: groups,
    needs: line.photos.map(({ id, name, count }) => ({ subject: id, name, count })),
    evidenceOnly: evidenceWords(line),
    change: standing && before ? changeOf(standing, before) : null,
    sequence: await decisionSequence(tx, sheet, line),
    history: historyOf(sheet, line, names),
    may: mayOf(sheet, standing, member),
    blocks: standing ? lastingBlocks(sheet, standing, member).map(releaseBlockWords) : [],
    standsOnIt: downstream(sheet.lines, line).filter((id) => sheet.folded.get(id)?.standing.trail),
  };
}

function evidenceWords({ evidenceOnly }: PlanLine): string {
  if (evidenceOnly === null) return "Not released on evidence alone.";
  return evidenceOnly.photos === 0 ? "May be released on evidence alone." : `May be released on evidence alone with ${evidenceOnly.photos} photo${evidenceOnly.photos === 1 ? "" : "s"} in order.`;
}

/** What stands; where nothing does, the last that was sent, so that a rejected point still shows what was rejected. */
function shownSubmission(sheet: Sheet, lineId: string): string | undefined {
  const { standing } = getLine(sheet, lineId).status;
  const last = standing.attempts.flatMap(({ submissions }) => submissions).filter(({ withdrawn }) => !withdrawn).at(-1);
  return standing.trail?.submission.submissionId ?? last?.submission.submissionId;
}

/** The revision that a submission was made under, and the one that it is held against now where a later one reached back. */
function revisionWords(sheet: Sheet, { line }: PlanLine, letter: string): string {
  const now = revisionOf(sheet, line).letter;
  return now === letter ? letter : `${letter}, held against ${now}`;
}

async function attemptBefore(tx: Tx, sheet: Sheet, { line, submission, status }: Standing): Promise<Standing | null> {
  const earlier = status.standing.attempts.filter(({ number }) => number < submission.attempt).flatMap(({ submissions }) => submissions).filter(({ withdrawn }) => !withdrawn);
  const last = earlier.at(-1)?.submission.submissionId;
  return last === undefined ? null : standingSubmission(tx, sheet, line.line, last);
}

// ---- the person -----------------------------------------------------------------------------------------------------

function mayOf(sheet: Sheet, standing: Standing | null, member: Member): DecisionView["may"] {
  if (!standing?.status.standing.trail) {
    const notDecide = standing ? `Attempt ${standing.status.attempt} is awaited.` : "Nothing stands submitted at this point.";
    return { notDecide, check: false, sendBack: false, reopen: false };
  }
  const { line, status, judged, submission } = standing;
  const reason = can(member, "decide point", sheet.project.id)
    ? mayNotDecide(line, status.standing, member, worstAtPoint(judged))
    : `This point is decided by: ${line.release.roles.join(line.release.all ? " and " : " or ")}.`;
  const mayCheck = can(member, "check submission", sheet.project.id) && needsCheck(line, status.standing) && !status.standing.released && submission.by !== member.personId;
  const released = status.standing.released && ["released", "expired"].includes(status.state);
  return {
    notDecide: reason ?? (released ? `Point ${line.line} is ${status.state}.` : null),
    check: mayCheck && !status.standing.checked,
    sendBack: mayCheck,
    reopen: reason === null && released,
  };
}

/** The blocks that no answer to a flag lifts: those that stay with every question answered in the point's favour. */
function lastingBlocks(sheet: Sheet, standing: Standing, member: Member): ReleaseBlock[] {
  const answers = standing.questions.map(({ photo, code }) => ({ photo, code, answer: "seen" as const, words: "" }));
  return blocksOf(sheet, standing, member, answers);
}

// ---- what was sent --------------------------------------------------------------------------------------------------

async function submissionView(tx: Tx, sheet: Sheet, line: PlanLine, { submission, status }: Standing, names: ReadonlyMap<string, string>): Promise<DecisionView["submission"]> {
  const { zone } = sheet.project;
  const when = (text: string): string => formatWhen(Date.parse(text), zone, { short: true });
  const named = (id: string): string => names.get(id) ?? id;
  const check = sheet.history.checks.findLast((one) => one.submissionId === submission.id && one.outcome === "checked");
  const documents = await listDocuments(tx, sheet.id, line.line);
  const day = siteTime(Date.parse(submission.workEnded), zone).date;
  return {
    id: submission.id,
    sent: `sent by ${named(submission.by)} ${when(submission.receivedAt)}`,
    work: `${when(submission.workBegan)} to ${when(submission.workEnded)}`,
    words: submission.words,
    checked: check && status.standing.checked ? `checked by ${named(check.by)} ${formatWhen(check.at, zone, { short: true })}` : null,
    revision: revisionWords(sheet, line, submission.revision.letter),
    lots: submission.lots.map(({ use, lotId }) => {
      const lot = sheet.lots.find(({ id }) => id === lotId);
      const expired = lot?.expiresOn !== undefined && lot.expiresOn !== null && lot.expiresOn < day;
      const expiry = lot?.expiresOn ? `${expired ? "expired" : "good to"} ${dayWords(lot.expiresOn)}` : "no expiry stated";
      const certificate = lot?.certificate ? `certificate ${lot.certificate}` : "no certificate";
      return {
        name: line.lots.find(({ id }) => id === use)?.name ?? use,
        words: lot ? `${lot.number}, ${expiry}, ${certificate}` : "not in the register",
        bad: expired || !lot || lot.certificate === "",
      };
    }),
    documents: documents.filter(({ id }) => submission.documents.some((one) => one.id === id)).map(({ id, title }) => ({ id, title })),
  };
}

async function valuesBehind(tx: Tx, sheet: Sheet, line: PlanLine): Promise<DecisionValue[]> {
  if (!line.photos.some(({ window }) => window === "last look")) return [];
  const hidden = upstream(sheet.lines, line).filter((id) => (sheet.lines.find((one) => one.line === id)?.hiddenBy.length ?? 0) > 0);
  const found: DecisionValue[] = [];
  for (const id of hidden) {
    const standing = await standingSubmission(tx, sheet, id);
    if (standing) found.push(...decisionValues(standing, sheet).filter(({ verdict, mark }) => verdict !== null || mark !== null));
  }
  return found.filter(({ drawn, verdict, mark }) => drawn !== null || mark !== null || verdict !== "meets");
}

function changeOf(now: Standing, before: Standing): NonNullable<DecisionView["change"]> {
  const again = now.submission.photos.filter(({ sha256 }) => before.submission.photos.some((one) => one.sha256 === sha256)).length;
  const words = (value: JudgedValue | undefined): string => value?.measured || "not measured";
  return {
    attempt: before.submission.attempt,
    values: now.judged.flatMap((value) => {
      const earlier = before.judged.find((one) => one.quantity.id === value.quantity.id && one.item === value.item);
      return words(earlier) === words(value) ? [] : [{ name: valueName(value), before: words(earlier), now: words(value) }];
    }),
    photosNew: now.submission.photos.length - again,
    photosAgain: again,
  };
}
