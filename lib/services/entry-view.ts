import type { Member } from "#lib/domain/access/member";
import type { Instant } from "#lib/domain/instant";
import type { PlanLine, PlanQuantity } from "#lib/domain/plan/plan";
import type { PointStatus } from "#lib/domain/point/fold";
import { judgeEntry, type EntryFacts, type EntryJudgement } from "#lib/domain/point/judge-entry";
import { submittingRole } from "#lib/domain/point/may";
import { photoWindow } from "#lib/domain/point/window";
import { entryKind, type EntryKind } from "#lib/domain/point/read-entries";
import type { Entry } from "#lib/domain/point/value";
import { dimensionOf, unitsOf, type Unit } from "#lib/domain/quantity/unit";
import { itemRule } from "#lib/domain/requirement/rule";
import type { PhotoSubject } from "#lib/domain/requirement/set";
import { requirementWords } from "#lib/domain/requirement/words";
import type { Tx } from "#lib/db/client";
import { listWeather } from "#lib/db/clock";
import { projectHistories } from "#lib/db/point-record";
import type { Instrument, Lot } from "#lib/db/register";
import type { Asking } from "#lib/services/ask";
import { whenNear } from "#lib/services/clock-view";
import { entryFacts } from "#lib/services/entry-facts";
import { windowFacts } from "#lib/services/evidence";
import { lastUsed, localTime, proposalOf, timesOf, weatherOf, type ProposalView, type TimesProposal, type WeatherProposal } from "#lib/services/entry-proposal";
import { photoWords, type PhotoWords } from "#lib/services/photo-words";
import { photosOfPoint } from "#lib/services/point-photos";
import { pointHead, type PointHeadView } from "#lib/services/point-view";
import { readyViews, type ReadyView } from "#lib/services/ready-photo";
import { loadDraft } from "#lib/services/save-draft";
import { dayOf, getLine, type Sheet } from "#lib/services/sheet";
import { unsentDocuments, unsentPhotos, type RawSubmission } from "#lib/services/submit-point";
import { sizeWords } from "#lib/services/words";

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

/** A subject of which photos are asked for. */
export type AskedSubject = Pick<PhotoSubject, "id" | "name" | "count" | "hint">;

export interface SubjectView extends AskedSubject {
  photos: PhotoWords[];
  /** When its photos may be taken from, and since when no more; null where nothing has to come before, and while nothing hides it. */
  opens: { at: Instant | null; closedAt: Instant | null; words: string };
  /** Photos that a demonstration offers to try it with; none elsewhere. */
  ready: ReadyView[];
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
  weather: WeatherProposal | null;
}

/** The plan of a point that nothing may be sent for yet: what it will ask for. */
export async function plannedView(tx: Tx, sheet: Sheet, lineId: string): Promise<{ head: PointHeadView; asks: AskView[]; subjects: AskedSubject[]; notApplicable: string | null; register: PlanLine["register"] }> {
  const { line } = getLine(sheet, lineId);
  return {
    head: await pointHead(tx, sheet, lineId),
    asks: line.quantities.map((quantity) => askOf(sheet, line, quantity)),
    subjects: line.photos.map(asked),
    notApplicable: line.notApplicable,
    register: line.register,
  };
}

/** Everything the entry form of a point needs, judged as it stands. */
export async function entryView(tx: Tx, asking: Asking, sheet: Sheet, lineId: string, member: Member): Promise<EntryView> {
  const { line, status } = getLine(sheet, lineId);
  const { savedAt, ...draft } = await loadDraft(tx, asking, sheet.id, lineId);
  const writing = savedAt === null ? (takenBack(sheet, status) ?? draft) : draft;
  const [head, unsent, documents, histories, weather] = await Promise.all([
    pointHead(tx, sheet, lineId), unsentPhotos(tx, sheet, line), unsentDocuments(tx, sheet, line), projectHistories(tx, sheet.project.id), listWeather(tx, sheet.project.id),
  ]);
  const photos = await photosOfPoint(tx, sheet, line, unsent, { attempt: status.attempt, beforeSeq: Number.POSITIVE_INFINITY });
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
    subjects: line.photos.map((subject) => ({
      ...asked(subject),
      photos: photos.filter(({ photo }) => photo.subject === subject.id).map((photo) => photoWords(photo, sheet.project.zone)),
      opens: opensOf(sheet, line, subject, status.attempt),
      ready: ready.get(subject.id) ?? [],
    })),
    documents: line.documents.map(({ id, name, required }) => ({
      id, name, required,
      received: documents.filter(({ use }) => use === id).map((one) => ({ id: one.id, title: one.title, words: `${sizeWords(one.bytes)}, received ${whenNear(one.receivedAt, sheet.project.zone, sheet.at)}` })),
    })),
    writing,
    keptAt: savedAt === null ? null : whenNear(savedAt, sheet.project.zone, sheet.at),
    facts,
    judgement: judgeEntry(line, writing, facts),
    proposal: proposalOf(sheet, line, writing, used),
    times: timesOf(sheet, writing, photos.filter(({ photo }) => !writing.setAside.includes(photo.id))),
    weather: weatherOf(sheet, line, writing, weather),
  };
}

const asked = ({ id, name, count, hint }: PhotoSubject): AskedSubject => ({ id, name, count, hint });

/** The window of the photos that are taken now. */
function opensOf(sheet: Sheet, line: PlanLine, subject: PhotoSubject, attempt: number): SubjectView["opens"] {
  const { from, to } = photoWindow(windowFacts(sheet), line, subject, { attempt, beforeSeq: Number.POSITIVE_INFINITY, receivedAt: sheet.at });
  const near = (at: Instant) => whenNear(at, sheet.project.zone, sheet.at);
  // Until a later step hides the work, the window ends with the receipt of the photo.
  const closedAt = to < sheet.at ? to : null;
  const words = closedAt !== null ? `hidden since ${near(closedAt)}` : from === null ? "nothing has to come before it" : `window open since ${near(from)}`;
  return { at: from, closedAt, words };
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
