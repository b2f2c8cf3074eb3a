import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen, fromSite, shiftOf, siteTime } from "#lib/domain/clock/site-time";
import { MINUTE, type Instant } from "#lib/domain/instant";
import { REASON_CODES, type SeenAs } from "#lib/domain/point/history";
import type { PointStatus } from "#lib/domain/point/fold";
import { judgeEntry, type EntryFacts, type EntryJudgement } from "#lib/domain/point/judge-entry";
import { submittingRole } from "#lib/domain/point/may";
import type { Entry } from "#lib/domain/point/value";
import { entryKind, type EntryKind } from "#lib/domain/point/read-entries";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { cautionsAt } from "#lib/domain/plan/caution";
import type { PlanLine, PlanQuantity } from "#lib/domain/plan/plan";
import { dimensionOf, unitsOf, type Unit } from "#lib/domain/quantity/unit";
import { itemRule } from "#lib/domain/requirement/rule";
import { requirementWords } from "#lib/domain/requirement/words";
import type { Tx } from "#lib/db/client";
import { listDocuments, listPhotos, type DocumentOnFile } from "#lib/db/evidence";
import { projectHistories, type Submission } from "#lib/db/point-record";
import { listMembers } from "#lib/db/project";
import type { Instrument, Lot } from "#lib/db/register";
import type { Judged } from "#lib/records/kind";
import { clockView, whenNear, type ClockView } from "#lib/services/clock-view";
import { viewPhotos, type PhotoView } from "#lib/services/evidence";
import { photoWords, type PhotoWords } from "#lib/services/photo-words";
import { blocksInWords } from "#lib/services/pile-view";
import { readyViews, type ReadyView } from "#lib/services/ready-photo";
import { loadDraft } from "#lib/services/save-draft";
import type { Asking } from "#lib/services/ask";
import { clockOf, getLine, type Sheet } from "#lib/services/sheet";
import { unsentPhotos, type RawSubmission } from "#lib/services/submit-point";

/** Which side of a point a member sees. */
export type PointFace = "entry" | "received" | "decision" | "planned";

/**
 * Chooses by role and state. Who writes sees the entry while something may be sent and afterwards what was received; who
 * decides sees the decision as soon as anything was sent; everybody else, and everybody before that, the plan.
 */
export function pointFace(sheet: Sheet, lineId: string, member: Member): PointFace {
  const { line, status } = getLine(sheet, lineId);
  const writes = can(member, "write draft", sheet.project.id) && (submittingRole(line, member) !== null || member.roles.includes("crew member"));
  const trails = status.standing.attempts.flatMap(({ submissions }) => submissions);
  const ownHands = status.standing.trail?.submission.by === member.personId;
  if (writes && status.maySend) return "entry";
  if (trails.length === 0) return "planned";
  const decides = can(member, "decide point", sheet.project.id) || can(member, "check submission", sheet.project.id);
  return writes && (ownHands || !decides) ? "received" : "decision";
}

export interface OptionView {
  id: string;
  label: string;
}

/** One quantity as the form asks for it. */
export interface AskView {
  id: string;
  name: string;
  /** "≥ 7.0 in" */
  needs: string;
  hint: string | null;
  entry: EntryKind;
  /** Units that may be chosen beside the value, the specification's own first. */
  units: Unit[];
  /** "bar", "bolt", where there is one value for each; null for a single one. */
  of: string | null;
  /** How many; null where there are as many as there are. */
  count: number | null;
  /** Grades that may be chosen, from least to most; empty where words or numbers are typed. */
  grades: string[];
  instrument: { class: string; options: OptionView[] } | null;
  /** What the tool works out from others stands in the rows of this quantity, or alone when null. */
  besideOf: string | null;
  override: { drawing: string; was: string } | null;
}

export interface SubjectView {
  id: string;
  name: string;
  count: number;
  hint: string | null;
  photos: PhotoWords[];
  /** Photos that a demonstration offers to try it with; none elsewhere. */
  ready: ReadyView[];
}

/** What the last submissions used, offered to be confirmed; never taken by itself. */
export interface ProposalView {
  instruments: Record<string, string>;
  lots: Record<string, string>;
  words: string;
}

export interface TimesProposal {
  began: string;
  beganOffset: string;
  ended: string;
  endedOffset: string;
  words: string;
}

export interface StampView {
  kind: "released" | "rejected" | "reopened" | "checked" | "sent back";
  lines: string[];
  attested: boolean;
}

export interface PointHeadView {
  sheet: string;
  mark: string | null;
  line: string;
  kind: PointKind;
  name: string;
  state: PointState;
  attempt: number;
  blocks: string[];
  cautions: readonly string[];
  /** Who sends and who releases, in words. */
  hands: string;
  stamps: StampView[];
  clock: ClockView | null;
  waits: string[];
}

export interface EntryView {
  head: PointHeadView;
  line: PlanLine;
  /** Null where this person may write a draft and somebody else sends it. */
  maySend: boolean;
  asks: AskView[];
  lots: { use: string; name: string; kind: string; options: OptionView[] }[];
  subjects: SubjectView[];
  documents: { id: string; name: string; required: boolean; received: { id: string; title: string; words: string }[] }[];
  writing: RawSubmission;
  /** When the draft was last kept, in words; null where there is none. */
  keptAt: string | null;
  facts: EntryFacts;
  judgement: EntryJudgement;
  proposal: ProposalView | null;
  times: TimesProposal | null;
}

export interface ReceivedView {
  head: PointHeadView;
  by: string;
  when: string;
  work: string;
  digest: string;
  seq: number;
  words: string;
  values: { name: string; judged: Judged; reason: string | null }[];
  photos: (PhotoWords & { name: string })[];
  documents: string[];
  lots: string[];
  /** The submission to withdraw; null once it is decided, or for somebody else's. */
  withdraw: string | null;
}

function whoSends({ submits, release, register }: PlanLine): string {
  if (register) return `Judged from the register of ${register}; nothing is sent here.`;
  const releases = release.automatic ? "released by the system when every value meets" : `released by ${release.roles.join(release.all ? " and " : " or ")}`;
  return `Sent by ${submits.join(" or ")}, ${releases}.`;
}

const SEEN_WORDS: Record<SeenAs, string> = { "in person": "seen in person", delegate: "seen by delegate", "evidence only": "on evidence only", "not attended": "not attended" };

/** What every face of a point shows on top. */
export async function pointHead(tx: Tx, sheet: Sheet, lineId: string): Promise<PointHeadView> {
  const { line, status } = getLine(sheet, lineId);
  const members = await listMembers(tx, sheet.project.id);
  const nameOf = (id: string | null) => (id === null ? "the system" : (members.find(({ personId }) => personId === id)?.name ?? id));
  const { zone } = sheet.project;
  const waits = [...sheet.folded.values()].flatMap(({ runningWaits }) => runningWaits).filter(({ at, wait }) => at === lineId && wait.kind === "at most");
  return {
    sheet: sheet.id, mark: sheet.pile?.mark ?? null, line: line.line, kind: line.kind, name: line.name, state: status.state, attempt: status.attempt,
    blocks: blocksInWords(sheet, status),
    cautions: cautionsAt(line.line),
    hands: whoSends(line),
    stamps: stampsOf(sheet, lineId, status, nameOf),
    clock: clockView(sheet, line),
    waits: waits.map(({ wait, until, over }) => `${wait.name}, at most ${wait.hours} h: ${over ? "ran out" : "until"} ${whenNear(until, zone, sheet.at)}`),
  };
}

/** The last word on the point: its releases that count, its refusal, or the QC manager's check. */
function stampsOf(sheet: Sheet, lineId: string, { standing }: PointStatus, nameOf: (id: string | null) => string): StampView[] {
  const { zone } = sheet.project;
  const when = (at: Instant) => formatWhen(at, zone);
  const reasons = (codes: readonly (keyof typeof REASON_CODES)[], words: string) => [`${codes.map((code) => `${code}, ${REASON_CODES[code]}`).join("; ")}${words ? `: ${words}` : ""}`];
  const checks = sheet.history.checks.filter((one) => one.line === lineId);
  if (standing.sentBack) {
    const back = checks.findLast(({ outcome, submissionId }) => outcome === "sent back" && submissionId === standing.sentBack?.submissionId);
    return back ? [{ kind: "sent back", attested: false, lines: [...reasons(back.codes, back.words), nameOf(back.by), when(back.at)] }] : [];
  }
  const about = standing.trail?.submission.submissionId ?? standing.refusal?.submissionId;
  const checked = standing.trail ? checks.filter(({ outcome, submissionId }) => outcome === "checked" && submissionId === about) : [];
  const decided = sheet.history.decisions.filter((one) => one.line === lineId && one.submissionId === about);
  return [
    ...checked.map((one): StampView => ({ kind: "checked", attested: false, lines: [nameOf(one.by), when(one.at), ...(one.words ? [one.words] : [])] })),
    ...decided.slice(standing.trail ? 0 : -1).map((one): StampView => ({
      kind: one.outcome === "release" ? "released" : one.outcome === "reject" ? "rejected" : "reopened",
      attested: one.attestation === "server-attested",
      lines: [
        ...(one.outcome === "release" ? [] : reasons(one.codes, one.words)),
        one.by === null ? "by the system, every value meets" : `${nameOf(one.by)}, ${one.organisation}`,
        when(Date.parse(one.decidedAt)),
        ...(one.by === null ? [] : [SEEN_WORDS[one.seenAs]]),
        ...(one.outcome === "release" && one.words && one.by !== null ? [one.words] : []),
      ],
    })),
  ];
}

/** The plan of a point that nothing may be sent for yet: what it will ask for. */
export async function plannedView(tx: Tx, sheet: Sheet, lineId: string): Promise<{ head: PointHeadView; asks: AskView[]; subjects: SubjectView[]; notApplicable: string | null; register: PlanLine["register"] }> {
  const { line } = getLine(sheet, lineId);
  return {
    head: await pointHead(tx, sheet, lineId),
    asks: line.quantities.map((quantity) => askOf(sheet, line, quantity)),
    subjects: line.photos.map(({ id, name, count, hint }) => ({ id, name, count, hint, photos: [], ready: [] })),
    notApplicable: line.notApplicable,
    register: line.register,
  };
}

/** Everything the entry form of a point needs, judged as it stands. */
export async function entryView(tx: Tx, asking: Asking, sheet: Sheet, lineId: string, member: Member): Promise<EntryView> {
  const { line, status } = getLine(sheet, lineId);
  const { savedAt, ...draft } = await loadDraft(tx, asking, sheet.id, lineId);
  const writing = savedAt === null ? (takenBack(sheet, status) ?? draft) : draft;
  const [head, unsent, documents, histories] = await Promise.all([
    pointHead(tx, sheet, lineId), unsentPhotos(tx, sheet, line), listDocuments(tx, sheet.id, lineId), projectHistories(tx, sheet.project.id),
  ]);
  const photos = viewPhotos(sheet, line, unsent, { attempt: status.attempt, beforeSeq: Number.POSITIVE_INFINITY });
  const facts = entryFacts(sheet, line, photos.filter(({ photo }) => !writing.setAside.includes(photo.id)), documents);
  const ready = await readyViews(asking.house.dataDir, sheet, lineId, new Set(photos.map(({ photo }) => photo.sha256)));
  const submissions = [...histories.values()].flatMap((history) => [...history.submissions.values()]).sort((a, b) => b.seq - a.seq);
  const used = lastUsed(submissions, member.personId);
  return {
    head,
    line,
    maySend: submittingRole(line, member) !== null,
    asks: line.quantities.map((quantity) => askOf(sheet, line, quantity)),
    lots: line.lots.map(({ id, name, kind }) => ({ use: id, name, kind, options: sheet.lots.filter((lot) => lot.kind === kind).map((lot) => ({ id: lot.id, label: lotWords(lot, dayOf(sheet)) })) })),
    subjects: line.photos.map(({ id, name, count, hint }) => ({
      id, name, count, hint,
      photos: photos.filter(({ photo }) => photo.subject === id).map((photo) => photoWords(photo, sheet.project.zone)),
      ready: ready.get(id) ?? [],
    })),
    documents: line.documents.map(({ id, name, required }) => ({
      id, name, required,
      received: documents.filter(({ use }) => use === id).map((one) => ({ id: one.id, title: one.title, words: `${(one.bytes / 1e6).toFixed(1)} MB, received ${whenNear(one.receivedAt, sheet.project.zone, sheet.at)}` })),
    })),
    writing,
    keptAt: savedAt === null ? null : whenNear(savedAt, sheet.project.zone, sheet.at),
    facts,
    judgement: judgeEntry(line, writing, facts),
    proposal: proposalOf(sheet, line, writing, used),
    times: timesOf(sheet, writing, photos.filter(({ photo }) => !writing.setAside.includes(photo.id))),
  };
}

/** What was withdrawn or sent back, to be mended and sent again; null where nothing was. A refused attempt is measured anew. */
function takenBack({ history, project }: Sheet, { standing }: PointStatus): RawSubmission | null {
  const last = standing.attempts.at(-1)?.submissions.at(-1);
  const submission = standing.trail === null && last ? history.submissions.get(last.submission.submissionId) : undefined;
  if (!submission) return null;
  const time = (iso: string) => {
    const { local, offset } = localTime(Date.parse(iso), project.zone);
    return local + offset;
  };
  const reasonFor = (quantity: string, item: number | null) => submission.reasons.find((one) => one.quantity === quantity && one.item === item)?.words ?? "";
  const values = submission.entries.map((entry): RawSubmission["values"][number] => ({
    quantity: entry.quantity, item: entry.item, unitConfirmed: false, reason: reasonFor(entry.quantity, entry.item), ...typed(entry),
  }));
  const only = submission.reasons.filter(({ quantity, item }) => !values.some((value) => value.quantity === quantity && value.item === item));
  return {
    workBegan: time(submission.workBegan), workEnded: time(submission.workEnded), lots: submission.lots, setAside: [], words: submission.words,
    values: [...values, ...only.map(({ quantity, item, words }) => ({ quantity, item, text: "", unit: null, instrumentId: null, unitConfirmed: false, reason: words }))],
  };
}

function typed(entry: Entry): { text: string; unit: string | null; instrumentId: string | null } {
  switch (entry.kind) {
    case "measured":
      return { text: entry.measured.text, unit: entry.measured.unit, instrumentId: entry.instrumentId };
    case "count":
      return { text: `${entry.count}`, unit: null, instrumentId: null };
    case "words":
      return { text: entry.words, unit: null, instrumentId: null };
    case "stated":
      return { text: entry.yes ? "yes" : "no", unit: null, instrumentId: null };
  }
}

function dayOf({ at, project }: Sheet): string {
  return siteTime(at, project.zone).date;
}

function entryFacts(sheet: Sheet, line: PlanLine, photos: readonly PhotoView[], documents: readonly DocumentOnFile[]): EntryFacts {
  const { project } = sheet;
  const gate = line.gate === "under the gate" ? sheet.lines.find((one) => one.gate === "is the gate") : undefined;
  return {
    zone: project.zone,
    shift: project.shift,
    now: sheet.at,
    instruments: sheet.instruments.map(({ id, mark, class: kind, unit, rangeMin, rangeMax, accuracy, calibrations }) => ({ id, mark, class: kind, unit, rangeMin, rangeMax, accuracy, calibrations })),
    work: Object.fromEntries(
      [...sheet.folded].flatMap(([id, { standing }]) => (standing.trail ? [[id, { began: standing.trail.submission.workBegan, ended: standing.trail.submission.workEnded }]] : [])),
    ),
    readings: sheet.readings.filter((reading) => reading.line === line.line).map(({ at, celsius }) => ({ at, celsius })),
    photos: photos.map(({ sha256, subject }) => ({ sha256, subject })),
    documents: documents.map(({ use }) => ({ use })),
    gate: gate ? { line: gate.line, name: gate.name, standsOn: gateShifts(sheet, gate) } : null,
  };
}

/** The shifts in which the access check stands, by their dates. */
function gateShifts({ folded, project }: Sheet, gate: PlanLine): string[] {
  const trails = folded.get(gate.line)?.standing.attempts.flatMap(({ submissions }) => submissions) ?? [];
  return trails
    .filter(({ withdrawn, decisions }) => !withdrawn && decisions.at(-1)?.outcome === "release")
    .map(({ submission }) => shiftOf(submission.workEnded, project.zone, project.shift).date);
}

function askOf(sheet: Sheet, line: PlanLine, quantity: PlanQuantity): AskView {
  const { id, name, rule, hint, instrument, override } = quantity;
  const entry = entryKind(quantity);
  const item = itemRule(rule);
  return {
    id, name, hint, entry,
    needs: requirementWords(rule),
    units: entry.kind === "measured" ? [entry.unit, ...unitsOf(dimensionOf(entry.unit)).filter((unit) => unit !== entry.unit)] : [],
    of: rule.form === "each" ? rule.of : null,
    count: rule.form === "each" ? rule.count : null,
    grades: item.form === "grade" ? [...new Set(item.chains.flat())] : [],
    instrument: instrument && entry.kind === "measured" ? { class: instrument, options: sheet.instruments.filter((one) => one.class === instrument).map((one) => ({ id: one.id, label: instrumentWords(one, dayOf(sheet)) })) } : null,
    besideOf: hostOf(line, quantity),
    override: override && { drawing: override.drawing, was: requirementWords(override.was) },
  };
}

/** What is worked out for each bar stands in the rows in which the bar is measured. */
function hostOf(line: PlanLine, { derived, rule }: PlanQuantity): string | null {
  if (!derived || rule.form !== "each") return null;
  const host = line.quantities.findLast((one) => derived.from.includes(one.id) && one.rule.form === "each" && one.rule.of === rule.of);
  return host?.id ?? null;
}

function instrumentWords({ mark, name, calibrations, accuracy, unit }: Instrument, day: string): string {
  const due = calibrations.filter(({ from }) => from <= day).map(({ dueOn }) => dueOn).sort().at(-1);
  const good = due !== undefined && day <= due;
  const error = accuracy ? `, ± ${accuracy.value} ${accuracy.kind === "per cent" ? "%" : (unit ?? "")}` : "";
  return `${mark} ${name}${error}, ${due === undefined ? "never calibrated" : good ? `due ${due}` : `overdue since ${due}`}`;
}

function lotWords({ number, expiresOn, certificate }: Lot, day: string): string {
  const expiry = expiresOn === null ? "" : expiresOn < day ? `, expired ${expiresOn}` : `, to ${expiresOn}`;
  return `${number}${expiry}${certificate ? "" : ", no certificate"}`;
}

interface Used {
  instrument(id: (one: string) => boolean): { id: string; submission: Submission } | null;
  lot(id: (one: string) => boolean): { id: string; submission: Submission } | null;
}

/** What was used last: by this person, else by anybody of the project. `submissions` newest first. */
function lastUsed(submissions: readonly Submission[], personId: string): Used {
  const ordered = [...submissions.filter(({ by }) => by === personId), ...submissions.filter(({ by }) => by !== personId)];
  const find = (idsOf: (submission: Submission) => string[], wanted: (id: string) => boolean) => {
    for (const submission of ordered) {
      const id = idsOf(submission).findLast(wanted);
      if (id !== undefined) return { id, submission };
    }
    return null;
  };
  return {
    instrument: (wanted) => find(({ entries }) => entries.flatMap((entry) => (entry.kind === "measured" && entry.instrumentId ? [entry.instrumentId] : [])), wanted),
    lot: (wanted) => find(({ lots }) => lots.map(({ lotId }) => lotId), wanted),
  };
}

/** Yesterday's instruments and lots for what is not chosen yet. An instrument overdue or a lot expired is not proposed. */
function proposalOf(sheet: Sheet, line: PlanLine, writing: RawSubmission, used: Used): ProposalView | null {
  const day = dayOf(sheet);
  const marks: string[] = [];
  const instruments: Record<string, string> = {};
  for (const quantity of line.quantities) {
    if (quantity.instrument === null || quantity.derived || writing.values.some((value) => value.quantity === quantity.id && value.instrumentId)) continue;
    const good = (id: string) => sheet.instruments.some((one) => one.id === id && one.class === quantity.instrument && one.calibrations.some(({ from, dueOn }) => from <= day && day <= dueOn));
    const found = used.instrument(good);
    const instrument = found && sheet.instruments.find(({ id }) => id === found.id);
    if (!instrument) continue;
    instruments[quantity.id] = instrument.id;
    marks.push(`${instrument.class} ${instrument.mark}`);
  }
  const lots: Record<string, string> = {};
  for (const { id: use, kind } of line.lots) {
    if (writing.lots.some((lot) => lot.use === use && lot.lotId)) continue;
    const found = used.lot((id) => sheet.lots.some((lot) => lot.id === id && lot.kind === kind && (lot.expiresOn === null || lot.expiresOn >= day)));
    const lot = found && sheet.lots.find(({ id }) => id === found.id);
    if (!lot) continue;
    lots[use] = lot.id;
    marks.push(`${lot.kind} lot ${lot.number}`);
  }
  return marks.length > 0 ? { instruments, lots, words: [...new Set(marks)].join(", ") } : null;
}

/** When the work began and ended as its photos tell, to the minute around them; null once both are given. */
function timesOf(sheet: Sheet, writing: RawSubmission, photos: readonly PhotoView[]): TimesProposal | null {
  const instants = photos.flatMap(({ derived }) => (derived.instant === null ? [] : [derived.instant]));
  if (instants.length === 0 || (writing.workBegan && writing.workEnded)) return null;
  const { zone } = sheet.project;
  const began = Math.floor(Math.min(...instants) / MINUTE) * MINUTE;
  const ended = Math.min(Math.ceil(Math.max(...instants) / MINUTE) * MINUTE, sheet.at);
  const [from, to] = [localTime(began, zone), localTime(ended, zone)];
  return {
    began: from.local, beganOffset: from.offset, ended: to.local, endedOffset: to.offset,
    words: `${whenNear(began, zone, sheet.at)} to ${siteTime(ended, zone).time}, from ${instants.length} ${instants.length === 1 ? "photo" : "photos"}`,
  };
}

/** As a date field takes it; with the offset only where the clocks show this time twice. */
function localTime(at: Instant, zone: string): { local: string; offset: string } {
  const { date, time, offset } = siteTime(at, zone);
  const local = `${date}T${time}`;
  return { local, offset: fromSite(local, zone).problem === "ambiguous" ? offset : "" };
}

/** What stands received at a point, or was received last, for who sent it. */
export async function receivedView(tx: Tx, sheet: Sheet, lineId: string, member: Member): Promise<ReceivedView | null> {
  const { line, status } = getLine(sheet, lineId);
  const { standing } = status;
  const trail = standing.trail ?? standing.attempts.flatMap(({ submissions }) => submissions).at(-1);
  const submission = trail && sheet.history.submissions.get(trail.submission.submissionId);
  if (!trail || !submission) return null;
  const [head, members, photos, documents] = await Promise.all([
    pointHead(tx, sheet, lineId), listMembers(tx, sheet.project.id), listPhotos(tx, sheet.id, lineId), listDocuments(tx, sheet.id, lineId),
  ]);
  const { zone } = sheet.project;
  const sent = photos.filter(({ id }) => submission.photos.some((photo) => photo.id === id));
  const views = viewPhotos(sheet, line, sent, { attempt: submission.attempt, beforeSeq: submission.seq });
  const undecided = standing.trail === trail && trail.decisions.length === 0;
  const own = submission.by === member.personId || member.roles.includes("QC manager");
  return {
    head,
    by: members.find(({ personId }) => personId === submission.by)?.name ?? submission.by,
    when: formatWhen(Date.parse(submission.receivedAt), zone),
    work: `${formatWhen(Date.parse(submission.workBegan), zone)} to ${formatWhen(Date.parse(submission.workEnded), zone)}`,
    digest: submission.digest,
    seq: submission.seq,
    words: submission.words,
    values: submission.judged.map((judged) => {
      const quantity = line.quantities.find(({ id }) => id === judged.quantity);
      const of = quantity?.rule.form === "each" ? quantity.rule.of : "item";
      const reason = submission.reasons.find((one) => one.quantity === judged.quantity && (one.item === judged.item || one.item === null));
      return { name: `${quantity?.name ?? judged.quantity}${judged.item === null ? "" : `, ${of} ${judged.item}`}`, judged, reason: reason?.words ?? null };
    }),
    photos: views.map((view) => ({ ...photoWords(view, zone), name: line.photos.find(({ id }) => id === view.photo.subject)?.name ?? view.photo.subject })),
    documents: documents.filter(({ id }) => submission.documents.some((one) => one.id === id)).map(({ title }) => title),
    lots: submission.lots.map(({ use, lotId }) => `${line.lots.find(({ id }) => id === use)?.name ?? use}: ${sheet.lots.find(({ id }) => id === lotId)?.number ?? lotId}`),
    withdraw: undecided && own && can(member, "withdraw submission", sheet.project.id) ? submission.id : null,
  };
}

/** Whether a clock still holds back what may be sent at a point. */
export function clockHolds(sheet: Sheet, line: PlanLine): boolean {
  const clock = clockOf(sheet, line);
  return clock !== null && clock.state !== "done";
}
