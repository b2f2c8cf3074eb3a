import { siteTime } from "#lib/domain/clock/site-time";
import type { Member } from "#lib/domain/access/member";
import type { Instant } from "#lib/domain/instant";
import type { Outcome, ReasonCode, SeenAs } from "#lib/domain/point/history";
import { decidingRole, mayNotDecide } from "#lib/domain/point/may";
import { photoCounts, questionsOf, type Question, type SupplyMark } from "#lib/domain/point/question";
import { releaseBlocks, releaseBlockWords, type ReleaseBlock } from "#lib/domain/point/release";
import type { PointStatus } from "#lib/domain/point/fold";
import { startedBeforeRelease } from "#lib/domain/point/window";
import type { PlanLine } from "#lib/domain/plan/plan";
import { judgePoint, type JudgedValue, worstAtPoint } from "#lib/domain/requirement/judge-point";
import { markLimit } from "#lib/domain/requirement/instrument";
import { lotMark } from "#lib/domain/requirement/lot";
import { DomainError, type Fault } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import { listPhotos } from "#lib/db/evidence";
import { fileRecord } from "#lib/db/journal";
import type { Submission } from "#lib/db/point-record";
import type { Answer } from "#lib/records/kind";
import { inProject, type Asking } from "#lib/services/ask";
import { confirmPassword } from "#lib/services/sign-in";
import { clockQuestions } from "#lib/services/clock-question";
import { secondsWriter, windowFacts, type PhotoView } from "#lib/services/evidence";
import { reasonFaults } from "#lib/services/reason-fault";
import { photosOfPoint } from "#lib/services/point-photos";
import { refreshAfter } from "#lib/services/refresh";
import { getLine, loadSheet, pointFacts, type Sheet } from "#lib/services/sheet";

/** What stands submitted at a point, judged as it is now: what the decider sees, and what the decision is held against. */
export interface Standing {
  line: PlanLine;
  status: PointStatus;
  submission: Submission;
  judged: JudgedValue[];
  photos: PhotoView[];
  questions: Question[];
}

/** Judges the submission that stands at a point, or the one given; null when there is none. */
export async function standingSubmission(tx: Tx, sheet: Sheet, lineId: string, submissionId?: string): Promise<Standing | null> {
  const { line, status } = getLine(sheet, lineId);
  const id = submissionId ?? status.standing.trail?.submission.submissionId;
  const submission = id === undefined ? undefined : sheet.history.submissions.get(id);
  if (!submission) return null;
  const work = { began: Date.parse(submission.workBegan), ended: Date.parse(submission.workEnded) };
  const judged = judgePoint(line, submission.entries, pointFacts(sheet, line.line, work));
  const sent = new Map(submission.photos.map((photo) => [photo.id, photo]));
  const onFile = (await listPhotos(tx, sheet.id, line.line)).filter(({ id: photoId }) => sent.has(photoId));
  const photos = await photosOfPoint(tx, sheet, line, onFile, { attempt: submission.attempt, beforeSeq: submission.seq });
  const marks = judged.flatMap(({ quantity, instrument, mark }) => (mark ? [{ quantity: quantity.name, instrument: instrument?.mark ?? "", mark, limit: markLimit(mark, quantity) }] : []));
  const questions = [...questionsOf(photos, [...marks, ...lotMarks(sheet, line, submission)]), ...sequenceQuestions(sheet, line, submission), ...clockQuestions(sheet, line, submission)];
  return { line, status, submission, judged, photos, questions };
}

function lotMarks({ lots, project }: Sheet, line: PlanLine, { lots: used, workEnded }: Submission): SupplyMark[] {
  const day = siteTime(Date.parse(workEnded), project.zone).date;
  return used.flatMap(({ use, lotId }): SupplyMark[] => {
    const lot = lots.find(({ id }) => id === lotId);
    const mark = lot && lotMark(lot, day);
    if (!lot || !mark) return [];
    return [{ quantity: line.lots.find(({ id }) => id === use)?.name ?? use, instrument: `lot ${lot.number}`, mark, limit: lot.expiresOn === null ? "certificate on file" : `certificate on file, used before ${lot.expiresOn}` }];
  });
}

/** Work that began before what it stands on was released is stated, so that the decider answers it. */
function sequenceQuestions(sheet: Sheet, line: PlanLine, { workBegan, seq }: Submission): Question[] {
  const began = Date.parse(workBegan);
  const when = secondsWriter(sheet.project.zone);
  return startedBeforeRelease(windowFacts(sheet), line, { workBegan: began, beforeSeq: seq }).map(({ line: before, releasedAt }) => ({
    photo: null, code: `SEQ ${before}`, title: `Work began before point ${before} was released`, measured: `work began ${when(began)}`, limit: `point ${before} released ${when(releasedAt)}`,
  }));
}

/** What blocks a release of what stands, for this member and with these answers. */
export function blocksOf(sheet: Sheet, { line, status, judged, photos, questions }: Standing, member: Member, answers: readonly Answer[]): ReleaseBlock[] {
  const { lines, folded, outside } = sheet;
  const worst = worstAtPoint(judged);
  return releaseBlocks({ line, lines, status, folded, outside, worst, photos, questions, answers }, member);
}

export interface DecideInput {
  id: string;
  sheet: string;
  line: string;
  submissionId: string;
  outcome: Outcome;
  seenAs: SeenAs;
  /** Day of the observation, YYYY-MM-DD on site. */
  observedOn: string;
  codes: ReasonCode[];
  words: string;
  answers: Answer[];
  password: string;
}

export interface DecisionReceipt {
  id: string;
  digest: string;
  seq: number;
}

/** Releases, rejects or reopens a point. The decision names the submission, every photo and every answer, and is signed. */
export async function decidePoint(asking: Asking, input: DecideInput): Promise<DecisionReceipt> {
  await confirmPassword(asking, input.password);
  return inProject(asking, "decide point", async (tx, member, at) => {
    const sheet = await loadSheet(tx, asking.project, input.sheet, at);
    const before = sheet.history.decisions.find(({ id }) => id === input.id);
    if (before && before.by === member.personId) return { id: before.id, digest: before.digest, seq: before.seq };
    const standing = await standingSubmission(tx, sheet, input.line);
    if (!standing || standing.submission.id !== input.submissionId) {
      throw new DomainError("conflict", "This submission does not stand any more. Load the point again and decide what stands now.");
    }
    const worst = worstAtPoint(standing.judged);
    refuseUnlessAllowed(sheet, standing, member, input, at);
    const role = decidingRole(standing.line, member, worst) ?? "inspector";
    const { submission, questions } = standing;
    const { seq, digest } = await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: {
        kind: "decision",
        id: input.id,
        sheet: sheet.id,
        line: input.line,
        attempt: submission.attempt,
        submissionId: submission.id,
        submissionDigest: submission.digest,
        outcome: input.outcome,
        by: member.personId,
        role,
        organisation: member.organisation,
        seenAs: input.seenAs,
        observedOn: input.observedOn,
        codes: input.outcome === "release" ? [] : input.codes,
        words: input.words.trim(),
        photos: submission.photos.map(({ sha256 }) => sha256),
        answers: input.answers.filter((answer) => questions.some(({ photo, code }) => photo === answer.photo && code === answer.code)),
        attestation: "server-attested",
        decidedAt: new Date(at).toISOString(),
      },
    });
    await refreshAfter(tx, asking.project, sheet, at);
    return { id: input.id, digest, seq };
  });
}

function refuseUnlessAllowed(sheet: Sheet, standing: Standing, member: Member, input: DecideInput, at: Instant): void {
  const { line, status, judged } = standing;
  const person = mayNotDecide(line, status.standing, member, worstAtPoint(judged));
  if (person) throw new DomainError("not-allowed", person);
  const faults: Fault[] = [];
  const today = siteTime(at, sheet.project.zone).date;
  if (input.observedOn > today) faults.push({ field: "observedOn", message: "The date of observation lies in the future." });
  if (input.outcome === "release" && input.seenAs === "evidence only") faults.push(...evidenceFaults(standing, input.answers));
  if (input.outcome !== "release") faults.push(...reasonFaults(input.codes, input.words));
  if (faults.length > 0) throw new DomainError("invalid", "The decision is not complete.", faults);

  if (input.outcome === "reopen" && status.state !== "released" && status.state !== "expired" && status.state !== "in doubt") {
    throw new DomainError("conflict", `Only a released point can be reopened; point ${line.line} is ${status.state}.`);
  }
  if (input.outcome === "reject" && status.standing.released && status.state !== "in doubt") throw new DomainError("conflict", `Point ${line.line} is released. Reopen it, with the reason.`);
  if (input.outcome === "release") {
    if (status.state === "released") throw new DomainError("conflict", `Point ${line.line} is released already.`);
    const role = decidingRole(line, member, worstAtPoint(judged));
    if (line.release.all && role && status.standing.releasedBy.includes(role)) {
      throw new DomainError("conflict", `You have released point ${line.line}. It waits for: ${line.release.roles.filter((one) => !status.standing.releasedBy.includes(one)).join(", ")}.`);
    }
    const blocks = blocksOf(sheet, standing, member, input.answers);
    if (blocks.length > 0) {
      throw new DomainError("blocked", "This point cannot be released yet.", blocks.map((block) => ({ field: blockField(block), message: releaseBlockWords(block) })));
    }
  }
}

/** Whether the plan line lets the point go on evidence alone, and whether there is enough of it. */
function evidenceFaults({ line, photos }: Standing, answers: readonly Answer[]): Fault[] {
  if (line.evidenceOnly === null) return [{ field: "seenAs", message: `Point ${line.line} is not released on evidence alone. See it in person, or send a delegate.` }];
  const counting = photos.filter((photo) => photoCounts(photo, answers, line.kind === "H")).length;
  const { photos: wanted } = line.evidenceOnly;
  if (counting >= wanted) return [];
  return [{ field: "seenAs", message: `Point ${line.line} is released on evidence alone with ${wanted} photo${wanted === 1 ? "" : "s"} in order; ${counting} count${counting === 1 ? "s" : ""}.` }];
}

function blockField(block: ReleaseBlock): string | null {
  return block.kind === "questions" ? "answers" : null;
}
