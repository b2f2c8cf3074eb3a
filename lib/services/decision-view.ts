import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { mayNotDecide, needsCheck } from "#lib/domain/point/may";
import { REASON_CODES } from "#lib/domain/point/history";
import type { Question } from "#lib/domain/point/question";
import { releaseBlockWords, type ReleaseBlock } from "#lib/domain/point/release";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { downstream, upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { JudgedValue } from "#lib/domain/requirement/judge-point";
import { worstOf } from "#lib/domain/requirement/judge";
import type { Tx } from "#lib/db/client";
import { listDocuments } from "#lib/db/evidence";
import type { Check, Decision } from "#lib/db/point-record";
import { listMembers } from "#lib/db/project";
import { blocksOf, standingSubmission, type Standing } from "#lib/services/decide-point";
import { decisionSequence, type DecisionSequence } from "#lib/services/decision-sequence";
import { decisionValues, type DecisionValue } from "#lib/services/decision-values";
import type { PhotoView } from "#lib/services/evidence";
import { groupBy, questionWords, valueName } from "#lib/services/exceptions";
import { photoWords, type PhotoWords } from "#lib/services/photo-words";
import { coveringLine, doubtWords, firstWait } from "#lib/services/round-view";
import { getLine, type Sheet } from "#lib/services/sheet";
import { dayWords } from "#lib/services/words";

export interface DecisionPhoto extends PhotoWords {
  /** "Bar with tape 4" */
  label: string;
  at: Instant | null;
  uncertaintyMs: number;
  /** What the camera wrote, where it was not on the site's time. */
  cameraAt: Instant | null;
  windowFrom: Instant | null;
  windowTo: Instant;
  /** The window is closed by work that hides this point, not only by the receipt of the photo. */
  windowClosed: boolean;
  /** Numbers of the questions that stand against it. */
  numbers: number[];
  /** Sent with the attempt before as well. */
  again: boolean;
}

/** The same flag on all photos of one camera in one attempt: one answer may serve them all. */
export interface QuestionGroup {
  number: number;
  code: string;
  words: string;
  camera: string;
  items: { photo: string | null; label: string; measured: string; limit: string }[];
}

export interface StampView {
  kind: "released" | "rejected" | "reopened" | "checked" | "sent back" | "withdrawn";
  /** The name, or "the system". */
  who: string;
  lines: string[];
  serverAttested: boolean;
}

export interface AttemptView {
  number: number;
  submissions: { id: string; words: string; stamps: StampView[] }[];
}

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
    change: standing && before ? changeOf(standing, before) : null,
    sequence: await decisionSequence(tx, sheet, line, member),
    history: historyOf(sheet, line, names),
    may: mayOf(sheet, standing, member),
    blocks: standing ? lastingBlocks(sheet, standing, member).map(releaseBlockWords) : [],
    standsOnIt: downstream(sheet.lines, line).filter((id) => sheet.folded.get(id)?.standing.trail),
  };
}

/** What stands; where nothing does, the last that was sent, so that a rejected point still shows what was rejected. */
function shownSubmission(sheet: Sheet, lineId: string): string | undefined {
  const { standing } = getLine(sheet, lineId).status;
  const last = standing.attempts.flatMap(({ submissions }) => submissions).filter(({ withdrawn }) => !withdrawn).at(-1);
  return standing.trail?.submission.submissionId ?? last?.submission.submissionId;
}

async function attemptBefore(tx: Tx, sheet: Sheet, { line, submission, status }: Standing): Promise<Standing | null> {
  const earlier = status.standing.attempts.filter(({ number }) => number < submission.attempt).flatMap(({ submissions }) => submissions).filter(({ withdrawn }) => !withdrawn);
  const last = earlier.at(-1)?.submission.submissionId;
  return last === undefined ? null : standingSubmission(tx, sheet, line.line, last);
}

// ---- the person -----------------------------------------------------------------------------------------------------

function mayOf(sheet: Sheet, standing: Standing | null, member: Member): DecisionView["may"] {
  const none = { notDecide: "Nothing stands submitted at this point.", check: false, sendBack: false, reopen: false };
  if (!standing?.status.standing.trail) return none;
  const { line, status, judged, submission } = standing;
  const reason = can(member, "decide point", sheet.project.id)
    ? mayNotDecide(line, status.standing, member, worstOf(judged.map(({ verdict }) => verdict)))
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
    revision: submission.revision.letter,
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

// ---- photos and what they ask ---------------------------------------------------------------------------------------

function photoViews(sheet: Sheet, line: PlanLine, { photos }: Standing, groups: readonly QuestionGroup[], before: Standing | null): DecisionPhoto[] {
  const labels = photoLabels(line, photos);
  const place = (subject: string): number => line.photos.findIndex(({ id }) => id === subject);
  const ordered = [...photos].sort((a, b) => place(a.subject) - place(b.subject) || a.photo.seq - b.photo.seq);
  return ordered.map((view): DecisionPhoto => ({
    ...photoWords(view, sheet.project.zone),
    label: labels.get(view.photo.id) ?? view.subject,
    at: view.derived.instant ?? view.derived.hypotheses[0] ?? null,
    uncertaintyMs: (view.derived.uncertaintySeconds ?? 0) * 1_000,
    cameraAt: cameraInstant(view, sheet.project.zone),
    windowFrom: view.window.from,
    windowTo: view.window.to,
    windowClosed: view.window.to !== view.photo.receivedAt,
    numbers: groups.filter(({ items }) => items.some(({ photo }) => photo === view.sha256)).map(({ number }) => number),
    again: before?.submission.photos.some(({ sha256 }) => sha256 === view.sha256) ?? false,
  }));
}

/** What the camera's clock showed, read as if it had been on the site's time; null where it was. */
function cameraInstant({ derived }: PhotoView, zone: string): Instant | null {
  const { instant, cameraOffsetSeconds } = derived;
  if (instant === null || cameraOffsetSeconds === null) return null;
  const site = offsetSeconds(siteTime(instant, zone).offset);
  return cameraOffsetSeconds === site ? null : instant + (cameraOffsetSeconds - site) * 1_000;
}

function offsetSeconds(offset: string): number {
  const [, sign = "+", hours = "0", minutes = "0"] = /^([+-])(\d{2}):(\d{2})/.exec(offset) ?? [];
  return (sign === "-" ? -1 : 1) * (Number(hours) * 3_600 + Number(minutes) * 60);
}

/** "Bar with tape 4", or the subject alone where one photo shows it; by photo id. */
function photoLabels(line: PlanLine, photos: readonly PhotoView[]): Map<string, string> {
  return new Map(
    groupBy(photos, ({ subject }) => subject).flatMap(([subject, same]) => {
      const name = line.photos.find(({ id }) => id === subject)?.name ?? subject;
      return same.map(({ photo }, index): [string, string] => [photo.id, same.length === 1 ? name : `${name} ${index + 1}`]);
    }),
  );
}

function questionGroups(line: PlanLine, { questions, photos }: Standing, zone: string): QuestionGroup[] {
  const labels = photoLabels(line, photos);
  const viewOf = ({ photo }: Question): PhotoView | undefined => photos.find(({ sha256 }) => sha256 === photo);
  return groupBy(questions, (question) => JSON.stringify([question.code, cameraOf(viewOf(question))])).map(([, same], index): QuestionGroup => {
    const [first] = same;
    const words = new Set(same.map((question) => questionWords(line, question)));
    const subjects = new Set(same.map((question) => viewOf(question)?.subject));
    const [only = ""] = words;
    return {
      number: index + 1,
      code: first!.code,
      words: words.size === 1 ? only : only.slice(only.indexOf(": ") + 2),
      camera: subjects.has(undefined) ? "" : cameraOf(viewOf(first!)),
      items: same.map((question) => ({
        photo: question.photo,
        label: labels.get(viewOf(question)?.photo.id ?? "") ?? "",
        measured: onSite(question.measured, zone),
        limit: onSite(question.limit, zone),
      })),
    };
  });
}

/** Flags are raised without a zone, so their instants are written in UTC; the reader's clock is the site's. */
function onSite(text: string, zone: string): string {
  return text.replace(/\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d+)?Z/g, (utc) => formatWhen(Date.parse(utc), zone, { seconds: true })).replace(/-(\d{2}:\d{2})\b/g, "−$1");
}

function cameraOf(view: PhotoView | undefined): string {
  const { make, model, serial } = view?.photo.claims.camera ?? { make: null, model: null, serial: null };
  return [make, model, serial].filter(Boolean).join(" ") || "camera not named";
}

// ---- what was done --------------------------------------------------------------------------------------------------

function historyOf(sheet: Sheet, line: PlanLine, names: ReadonlyMap<string, string>): AttemptView[] {
  const { standing } = getLine(sheet, line.line).status;
  const named = (id: string): string => names.get(id) ?? id;
  const { zone } = sheet.project;
  return standing.attempts
    .filter(({ submissions }) => submissions.length > 0)
    .map(({ number, submissions }) => ({
      number,
      submissions: submissions.map(({ submission, withdrawn }) => {
        const id = submission.submissionId;
        const taken = withdrawn && sheet.history.withdrawals.find((one) => one.submissionId === id);
        return {
          id,
          words: `sent by ${named(submission.by)} ${formatWhen(submission.at, zone)}`,
          stamps: [
            ...sheet.history.checks.filter((one) => one.submissionId === id).map((one) => checkStamp(one, named, zone)),
            ...(taken ? [{ kind: "withdrawn" as const, who: named(taken.by), lines: [taken.words, named(taken.by), formatWhen(taken.at, zone)], serverAttested: false }] : []),
            ...sheet.history.decisions.filter((one) => one.submissionId === id).map((one) => decisionStamp(one, named, zone)),
          ],
        };
      }),
    }));
}

function checkStamp({ outcome, codes, words, by, at }: Check, named: (id: string) => string, zone: string): StampView {
  return { kind: outcome, who: named(by), lines: [...reasonLines(codes, words), named(by), formatWhen(at, zone)], serverAttested: false };
}

function decisionStamp(decision: Decision, named: (id: string) => string, zone: string): StampView {
  const { outcome, by, organisation, seenAs, observedOn, codes, words, decidedAt, attestation, answers } = decision;
  const kind = { release: "released", reject: "rejected", reopen: "reopened" } as const;
  const seen = by === null ? [] : [`${seenAs}, observed ${dayWords(observedOn)}`];
  const given = answers.length > 0 ? [`${answers.length} flag${answers.length === 1 ? "" : "s"} answered`] : [];
  return {
    kind: kind[outcome],
    who: by === null ? "the system" : named(by),
    lines: [...reasonLines(codes, words), by === null ? "by the system" : `${named(by)}, ${organisation}`, formatWhen(Date.parse(decidedAt), zone), ...seen, ...given],
    serverAttested: attestation === "server-attested",
  };
}

function reasonLines(codes: readonly (keyof typeof REASON_CODES)[], words: string): string[] {
  return [...codes.map((code) => `${code} ${REASON_CODES[code]}`), ...(words ? [words] : [])];
}
