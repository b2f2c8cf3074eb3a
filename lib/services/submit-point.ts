import { formatWhen } from "#lib/domain/clock/site-time";
import { readEntryTime } from "#lib/domain/clock/entry-time";
import type { Member } from "#lib/domain/access/member";
import type { Instant } from "#lib/domain/instant";
import { gateStands } from "#lib/domain/point/gate";
import { submittingRole } from "#lib/domain/point/may";
import { fieldName, missingFrom } from "#lib/domain/point/missing";
import { readEntries, type RawValue, type ReadEntries } from "#lib/domain/point/read-entries";
import { currentAttempt } from "#lib/domain/point/attempt";
import { workBlocks, type Block, type PointStatus } from "#lib/domain/point/fold";
import type { PlanLine } from "#lib/domain/plan/plan";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { judgePoint, type JudgedValue } from "#lib/domain/requirement/judge-point";
import { worstOf } from "#lib/domain/requirement/judge";
import type { Tx } from "#lib/db/client";
import { listDocuments, listPhotos, type DocumentOnFile, type Photo } from "#lib/db/evidence";
import { fileRecord } from "#lib/db/journal";
import { deleteDraft } from "#lib/db/draft";
import type { RecordOf } from "#lib/records/kind";
import { inProject, type Asking } from "#lib/services/ask";
import { releaseAutomatically } from "#lib/services/release-automatically";
import { refreshAfter } from "#lib/services/refresh";
import { clockOf, getLine, loadSheet, pointFacts, type Sheet } from "#lib/services/sheet";

/** What a submission is made of as it comes from a form or the API; also what a draft keeps. */
export interface RawSubmission {
  workBegan: string;
  workEnded: string;
  values: RawValue[];
  lots: { use: string; lotId: string }[];
  /** Photos received for the point that are not to be sent with it. They stay on file. */
  setAside: string[];
  words: string;
}

export interface SubmitInput extends RawSubmission {
  /** Made where it is written, so that sending twice is one submission. */
  id: string;
  sheet: string;
  line: string;
}

export interface SubmissionReceipt {
  id: string;
  digest: string;
  seq: number;
  attempt: number;
}

/** A submission as read and judged, before it is sent: the same for the form's list of what is missing and for sending. */
export interface PreparedSubmission {
  workBegan: Instant | null;
  workEnded: Instant | null;
  read: ReadEntries;
  judged: JudgedValue[];
  photos: Photo[];
  documents: DocumentOnFile[];
  faults: Fault[];
}

/** Reads and judges what was typed for a point, with the photos and documents received for it since its last submission. */
export async function prepareSubmission(tx: Tx, sheet: Sheet, line: PlanLine, raw: RawSubmission): Promise<PreparedSubmission> {
  const began = readEntryTime(raw.workBegan, sheet.project.zone);
  const ended = readEntryTime(raw.workEnded, sheet.project.zone);
  const workBegan = began.ok ? began.instant : null;
  const workEnded = ended.ok ? ended.instant : null;
  const read = readEntries(line, raw.values);
  const judged = judgePoint(line, read.entries, pointFacts(sheet, line.line, { began: workBegan, ended: workEnded }));
  const photos = (await unsentPhotos(tx, sheet, line)).filter(({ id }) => !raw.setAside.includes(id));
  const documents = await unsentDocuments(tx, sheet, line);
  const timeFaults = [
    ...(began.ok ? [] : [{ field: fieldName.workBegan, message: `Work began: ${began.message}` }]),
    ...(ended.ok ? [] : [{ field: fieldName.workEnded, message: `Work ended: ${ended.message}` }]),
  ];
  const known = new Set([...timeFaults, ...read.faults].map(({ field }) => field));
  const lots = raw.lots.filter(({ lotId }) => lotId !== "");
  const missing = missingFrom(
    line,
    { workBegan, workEnded, judged, reasons: read.reasons, unitConfirmed: read.unitConfirmed, photos, documents, lots },
    sheet.at,
  ).filter(({ field }) => !known.has(field));
  return { workBegan, workEnded, read, judged, photos, documents, faults: [...timeFaults, ...read.faults, ...missing, ...lotFaults(sheet, line, lots), ...gateFaults(sheet, line, workBegan)] };
}

/** Photos received for a point that no submission of it has named yet. */
export async function unsentPhotos(tx: Tx, sheet: Sheet, line: PlanLine): Promise<Photo[]> {
  const sent = new Set([...sheet.history.submissions.values()].filter((one) => one.line === line.line && !isTakenBack(sheet, one.id)).flatMap(({ photos }) => photos.map(({ id }) => id)));
  return (await listPhotos(tx, sheet.id, line.line)).filter(({ id }) => !sent.has(id));
}

async function unsentDocuments(tx: Tx, sheet: Sheet, line: PlanLine): Promise<DocumentOnFile[]> {
  const sent = new Set([...sheet.history.submissions.values()].filter((one) => one.line === line.line && !isTakenBack(sheet, one.id)).flatMap(({ documents }) => documents.map(({ id }) => id)));
  return (await listDocuments(tx, sheet.id, line.line)).filter(({ id }) => !sent.has(id));
}

/** A submission that was withdrawn or sent back gives its photos free for the next one of the same attempt. */
function isTakenBack(sheet: Sheet, submissionId: string): boolean {
  return (
    sheet.history.withdrawals.some((one) => one.submissionId === submissionId) ||
    sheet.history.checks.some((one) => one.submissionId === submissionId && one.outcome === "sent back")
  );
}

function lotFaults(sheet: Sheet, line: PlanLine, lots: readonly { use: string; lotId: string }[]): Fault[] {
  return lots.flatMap(({ use, lotId }) => {
    const asked = line.lots.find(({ id }) => id === use);
    const lot = sheet.lots.find(({ id }) => id === lotId);
    if (!asked || !lot) return [{ field: fieldName.lot(use), message: "This lot is not in the register. The QC manager adds it there." }];
    return lot.kind === asked.kind ? [] : [{ field: fieldName.lot(use), message: `Lot ${lot.number} is ${lot.kind}, and ${asked.kind} is asked for.` }];
  });
}

function gateFaults(sheet: Sheet, line: PlanLine, workBegan: Instant | null): Fault[] {
  if (line.gate !== "under the gate" || workBegan === null) return [];
  const gate = sheet.lines.find((one) => one.gate === "is the gate");
  const status = gate && sheet.folded.get(gate.line);
  if (!gate || !status || gateStands(status.standing, workBegan, sheet.project.zone, sheet.project.shift)) return [];
  const when = formatWhen(workBegan, sheet.project.zone, { short: true });
  return [{ field: "gate", message: `Point ${gate.line}, ${gate.name}, is not entered for the shift of ${when}. Enter it first.` }];
}

/** Sends a point. Sending the same submission twice, by its id, gives the same receipt. */
export async function submitPoint(asking: Asking, input: SubmitInput): Promise<SubmissionReceipt> {
  return inProject(asking, "submit point", async (tx, member, at) => {
    const sheet = await loadSheet(tx, asking.project, input.sheet, at);
    const before = sheet.history.submissions.get(input.id);
    if (before && before.by === member.personId) return { id: before.id, digest: before.digest, seq: before.seq, attempt: before.attempt };
    const { line, status } = getLine(sheet, input.line);
    const role = submittingRole(line, member);
    if (!role) throw new DomainError("not-allowed", `Point ${line.line} is submitted by: ${line.submits.join(" or ")}.`);
    refuseUnlessOpen(sheet, line, status);
    const prepared = await prepareSubmission(tx, sheet, line, input);
    const { workBegan, workEnded, faults } = prepared;
    if (workBegan !== null) refuseUnlessInTime(sheet, line, workBegan);
    if (faults.length > 0 || workBegan === null || workEnded === null) {
      throw new DomainError("invalid", faults.length === 1 ? "1 thing stops this from being sent." : `${faults.length} things stop this from being sent.`, faults);
    }
    refuseBeforeClock(sheet, line, workEnded);
    const body = submissionBody(sheet, { line, attempt: currentAttempt(status.standing), member, role, input, prepared, at, workBegan, workEnded });
    const filed = await fileRecord(tx, asking.house.key, { projectId: asking.project.id, actor: member.personId, at, body });
    await deleteDraft(tx, { sheet: sheet.id, line: line.line, personId: member.personId });
    await releaseAutomatically(tx, asking, line, { ...body, digest: filed.digest }, at);
    await refreshAfter(tx, asking.project, sheet, at);
    return { id: body.id, digest: filed.digest, seq: filed.seq, attempt: body.attempt };
  });
}

function refuseUnlessOpen(sheet: Sheet, line: PlanLine, status: PointStatus): void {
  if (status.maySend) return;
  const name = pointName(line);
  if (status.state === "submitted" || status.state === "QC checked") {
    throw new DomainError("conflict", `${name} is ${status.state} already. Withdraw that submission first if it has to change.`);
  }
  if (status.state === "in doubt") throw new DomainError("blocked", `${name} is in doubt. Whoever decides it keeps it or rejects it first.`);
  if (status.blocks.length === 0) throw new DomainError("blocked", `${name} is ${status.state}; nothing can be sent for it.`);
  refuseBlocked(sheet, line, status.blocks);
}

/** Waits to and from the beginning of the work are held against when it began, not against when it is sent. */
function refuseUnlessInTime({ lines, history: { events }, outside, registers, at, project }: Sheet, line: PlanLine, workBegan: Instant): void {
  const blocks = workBlocks({ lines, events, outside, registers, at }, line.line, workBegan);
  if (blocks.length > 0) refuseBlocked({ project }, line, blocks);
}

function refuseBlocked({ project }: Pick<Sheet, "project">, line: PlanLine, blocks: readonly Block[]): never {
  throw new DomainError("blocked", `${pointName(line)} is not open: ${blocks.map((block) => blockWords(block, project.zone)).join(" ")}`);
}

function pointName({ line, name }: PlanLine): string {
  return `Point ${line}, ${name},`;
}

/** Why work may not begin, as a sentence. */
export function blockWords(block: Block, zone: string): string {
  switch (block.code) {
    case "predecessor":
      return `Point ${block.line} is ${block.state}.`;
    case "expired":
      return `Point ${block.line} expired ${formatWhen(block.ranOutAt, zone)} (${block.wait.name}, ${block.wait.hours} h): re-check it.`;
    case "too soon":
      return `Not before ${formatWhen(block.notBefore, zone)} (${block.wait.name}, ${block.wait.hours} h).`;
  }
}

/** A clock gives an earliest time: a cure or maturity point is not sent before it. */
function refuseBeforeClock(sheet: Sheet, line: PlanLine, workEnded: Instant): void {
  const clock = clockOf(sheet, line, workEnded);
  if (!clock || clock.state === "done") return;
  const when = clock.earliest === null ? "It cannot be told when, because " + CLOCK_STOPPED[clock.state] : `Earliest ${formatWhen(clock.earliest, sheet.project.zone)}, if the temperature holds.`;
  throw new DomainError("blocked", `The clock of point ${line.line} is not done: ${clock.progress.toFixed(2)} of ${clock.required}. ${when}`);
}

const CLOCK_STOPPED = {
  running: "it runs.",
  paused: "it is paused under the minimum temperature.",
  void: "the cure is void; the engineer decides.",
  done: "it is done.",
  "no readings": "no temperature has been entered.",
} as const;

interface BodyParts {
  line: PlanLine;
  attempt: number;
  member: Member;
  role: RecordOf<"submission">["role"];
  input: SubmitInput;
  prepared: PreparedSubmission;
  at: Instant;
  workBegan: Instant;
  workEnded: Instant;
}

function submissionBody(sheet: Sheet, { line, attempt, member, role, input, prepared, at, workBegan, workEnded }: BodyParts): RecordOf<"submission"> {
  const { read, judged, photos, documents } = prepared;
  return {
    kind: "submission",
    id: input.id,
    sheet: sheet.id,
    line: line.line,
    attempt,
    by: member.personId,
    role,
    enteredBy: [member.personId],
    workBegan: new Date(workBegan).toISOString(),
    workEnded: new Date(workEnded).toISOString(),
    entries: read.entries,
    reasons: read.reasons,
    photos: photos.map(({ id, sha256, subject }) => ({ id, sha256, subject })),
    documents: documents.map(({ id, sha256, use }) => ({ id, sha256, use })),
    lots: input.lots.filter(({ lotId }) => lotId !== ""),
    revision: { letter: sheet.revision.letter, digest: sheet.revision.digest },
    judged: judged.map((value) => ({
      quantity: value.quantity.id,
      item: value.item,
      verdict: value.verdict,
      requirement: value.requirement,
      measured: value.measured,
      margin: value.margin,
      instrument: value.instrument?.mark ?? "",
      mark: value.mark ?? "",
    })),
    worst: worstOf(judged.map(({ verdict }) => verdict)),
    words: input.words.trim().slice(0, 2_000),
    receivedAt: new Date(at).toISOString(),
  };
}
