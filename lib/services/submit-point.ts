import { worstAtPoint } from "#lib/domain/requirement/judge-point";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Member } from "#lib/domain/access/member";
import type { Instant } from "#lib/domain/instant";
import { submittingRole } from "#lib/domain/point/may";
import { readWriting, type ReadWriting } from "#lib/domain/point/judge-entry";
import { fieldName } from "#lib/domain/point/missing";
import type { RawValue } from "#lib/domain/point/read-entries";
import { currentAttempt } from "#lib/domain/point/attempt";
import { workBlocks, type Block, type PointStatus } from "#lib/domain/point/fold";
import type { PlanLine } from "#lib/domain/plan/plan";
import { DomainError, type Fault } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import { listDocuments, listPhotos, type DocumentOnFile, type Photo } from "#lib/db/evidence";
import { fileRecord } from "#lib/db/journal";
import { deleteDraft } from "#lib/db/draft";
import type { RecordOf } from "#lib/records/kind";
import { inProject, type Asking } from "#lib/services/ask";
import { entryFacts } from "#lib/services/entry-facts";
import { releaseAutomatically } from "#lib/services/release-automatically";
import { refreshAfter } from "#lib/services/refresh";
import { clockOf, getLine, loadSheet, type Sheet, namedRevision } from "#lib/services/sheet";

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

/** A submission as read and judged, with what would be sent with it. */
interface PreparedSubmission extends ReadWriting {
  photos: Photo[];
  documents: DocumentOnFile[];
}

/** Reads and judges what was typed for a point, with the photos and documents received for it since its last submission. */
async function prepareSubmission(tx: Tx, sheet: Sheet, line: PlanLine, raw: RawSubmission): Promise<PreparedSubmission> {
  const photos = (await unsentPhotos(tx, sheet, line)).filter(({ id }) => !raw.setAside.includes(id));
  const documents = await unsentDocuments(tx, sheet, line);
  const writing = readWriting(line, raw, entryFacts(sheet, line, photos, documents));
  return { ...writing, photos, documents, faults: [...writing.faults, ...lotFaults(sheet, line, raw.lots), ...writing.gateFaults] };
}

/** Photos received for a point that no submission of it has named yet. */
export async function unsentPhotos(tx: Tx, sheet: Sheet, line: PlanLine): Promise<Photo[]> {
  const sent = sentWith(sheet, line, "photos");
  return (await listPhotos(tx, sheet.id, line.line)).filter(({ id }) => !sent.has(id));
}

/** Documents received for a point that no submission of it has named yet. */
export async function unsentDocuments(tx: Tx, sheet: Sheet, line: PlanLine): Promise<DocumentOnFile[]> {
  const sent = sentWith(sheet, line, "documents");
  return (await listDocuments(tx, sheet.id, line.line)).filter(({ id }) => !sent.has(id));
}

/** Ids that submissions of the point name, those aside that were taken back. */
function sentWith(sheet: Sheet, line: PlanLine, kind: "photos" | "documents"): Set<string> {
  const submissions = [...sheet.history.submissions.values()].filter((one) => one.line === line.line && !isTakenBack(sheet, one.id));
  return new Set(submissions.flatMap((one) => one[kind].map(({ id }) => id)));
}

/** A submission that was withdrawn or sent back gives its photos free for the next one of the same attempt. */
function isTakenBack(sheet: Sheet, submissionId: string): boolean {
  return (
    sheet.history.withdrawals.some((one) => one.submissionId === submissionId) ||
    sheet.history.checks.some((one) => one.submissionId === submissionId && one.outcome === "sent back")
  );
}

function lotFaults(sheet: Sheet, line: PlanLine, lots: readonly { use: string; lotId: string }[]): Fault[] {
  return lots.filter(({ lotId }) => lotId !== "").flatMap(({ use, lotId }) => {
    const asked = line.lots.find(({ id }) => id === use);
    const lot = sheet.lots.find(({ id }) => id === lotId);
    if (!asked || !lot) return [{ field: fieldName.lot(use), message: "This lot is not in the register. The QC manager adds it there." }];
    return lot.kind === asked.kind ? [] : [{ field: fieldName.lot(use), message: `Lot ${lot.number} is ${lot.kind}, and ${asked.kind} is asked for.` }];
  });
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
  if (status.state === "out of scope") throw new DomainError("blocked", `${name} is out of scope by a change order. Nothing more is sent there.`);
  if (status.state === "submitted" || status.state === "QC checked") {
    throw new DomainError("conflict", `${name} is ${status.state} already. Withdraw that submission first if it has to change.`);
  }
  if (status.state === "in doubt") throw new DomainError("blocked", `${name} is in doubt. Whoever decides it keeps it or rejects it first.`);
  if (status.blocks.length === 0) throw new DomainError("blocked", `${name} is ${status.state}; nothing can be sent for it.`);
  refuseBlocked(sheet, line, status.blocks);
}

/** Waits to and from the beginning of the work are held against when it began, not against when it is sent. */
function refuseUnlessInTime({ lines, history: { events }, outside, registers, at, project, pile }: Sheet, line: PlanLine, workBegan: Instant): void {
  const blocks = workBlocks({ lines, events, outside, registers, outOfScope: pile?.scope === "out", at }, line.line, workBegan);
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
    revision: namedRevision(sheet, line.line),
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
    worst: worstAtPoint(judged),
    words: input.words.trim().slice(0, 2_000),
    receivedAt: new Date(at).toISOString(),
  };
}
