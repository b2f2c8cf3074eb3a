import { readEntryTime } from "#lib/domain/clock/entry-time";
import { formatWhen, shiftOf, siteTime, type Shift } from "#lib/domain/clock/site-time";
import type { Reading } from "#lib/domain/clock/temperature-clock";
import type { Instant } from "#lib/domain/instant";
import { fieldName, missingFrom } from "#lib/domain/point/missing";
import { readEntries, type RawValue, type ReadEntries } from "#lib/domain/point/read-entries";
import type { Entry } from "#lib/domain/point/value";
import type { PlanLine } from "#lib/domain/plan/plan";
import { differenceFromSi, fromSi, type Unit } from "#lib/domain/quantity/unit";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { Fault } from "#lib/domain/refusal";
import type { InstrumentFacts, InstrumentMark } from "#lib/domain/requirement/instrument";
import { judgePoint, type JudgedValue } from "#lib/domain/requirement/judge-point";

/** What is being written at a point, as a form holds it. */
export interface Writing {
  workBegan: string;
  workEnded: string;
  values: readonly RawValue[];
  lots: readonly { use: string; lotId: string }[];
}

/** What judging an entry needs besides the entry, as plain data: the same on the server and on a phone. */
export interface EntryFacts {
  zone: string;
  shift: Shift;
  now: Instant;
  instruments: readonly InstrumentFacts[];
  /** When work at other points of the sheet began and ended, by line. */
  work: Readonly<Record<string, { began: Instant; ended: Instant }>>;
  /** What stands entered at the points that this one is judged by, by line. */
  entries: Readonly<Record<string, readonly Entry[]>>;
  /** Temperatures read for this point's clock. */
  readings: readonly Reading[];
  /** Photos and documents received and not set aside. */
  photos: readonly { sha256: string; subject: string }[];
  documents: readonly { use: string }[];
  /** The shift's access check that work here stands under, with the shifts in which it stands; null where none is asked for. */
  gate: { line: string; name: string; standsOn: readonly string[] } | null;
}

/** A judged value as plain data, numbers as decimal text in the unit of the requirement. */
export interface JudgedEntry {
  /** Name of the value's form field. */
  field: string;
  quantity: string;
  item: number | null;
  verdict: ValueVerdict | null;
  measured: string;
  margin: string;
  mark: InstrumentMark | null;
  /** The number typed, the unit it was taken in, and the one that it may have been meant in. */
  asked: { number: string; unit: Unit; other: Unit } | null;
  drawn: { value: string; uncertainty: string; min: string | null; max: string | null; unit: Unit } | null;
}

export interface EntryJudgement {
  judged: JudgedEntry[];
  /** What stops it from being sent, each with its field; empty when nothing does. */
  faults: Fault[];
}

/** What is being written, read and judged. */
export interface ReadWriting {
  workBegan: Instant | null;
  workEnded: Instant | null;
  read: ReadEntries;
  judged: JudgedValue[];
  /** What it lacks or what cannot be read, each with its field. */
  faults: Fault[];
  /** That the shift's access check does not stand. */
  gateFaults: Fault[];
}

/** Reads and judges what is being written at a point. Nothing is thrown: what cannot be read is a fault at its field. */
export function readWriting(line: PlanLine, writing: Writing, facts: EntryFacts): ReadWriting {
  const began = readEntryTime(writing.workBegan, facts.zone);
  const ended = readEntryTime(writing.workEnded, facts.zone);
  const workBegan = began.ok ? began.instant : null;
  const workEnded = ended.ok ? ended.instant : null;
  const read = readEntries(line, writing.values);
  const judged = judgePoint(line, read.entries, {
    workBegan,
    workEnded,
    day: siteTime(workEnded ?? facts.now, facts.zone).date,
    instruments: new Map(facts.instruments.map((one) => [one.id, one])),
    workAt: (other, event) => facts.work[other]?.[event] ?? null,
    entriesAt: (other) => facts.entries[other] ?? [],
    readings: facts.readings,
  });
  const unread = [
    ...(began.ok ? [] : [{ field: fieldName.workBegan, message: `Work began: ${began.message}` }]),
    ...(ended.ok ? [] : [{ field: fieldName.workEnded, message: `Work ended: ${ended.message}` }]),
    ...read.faults,
  ];
  const known = new Set<string | null>(unread.map(({ field }) => field));
  const { reasons, unitConfirmed } = read;
  const { photos, documents, now } = facts;
  const lots = writing.lots.filter(({ lotId }) => lotId !== "");
  const missing = missingFrom(line, { workBegan, workEnded, judged, reasons, unitConfirmed, photos, documents, lots }, now);
  return { workBegan, workEnded, read, judged, faults: [...unread, ...missing.filter(({ field }) => !known.has(field))], gateFaults: gateFaults(facts, workBegan) };
}

/** The same for a form: values as they are drawn, faults in the order in which a person meets the fields. */
export function judgeEntry(line: PlanLine, writing: Writing, facts: EntryFacts): EntryJudgement {
  const { read, judged, faults, gateFaults: gate } = readWriting(line, writing, facts);
  return { judged: judged.map((value) => entryOf(value, read.unitConfirmed)), faults: inOrder(line, [...faults, ...gate]) };
}

function gateFaults({ gate, zone, shift }: EntryFacts, workBegan: Instant | null): Fault[] {
  if (!gate || workBegan === null || gate.standsOn.includes(shiftOf(workBegan, zone, shift).date)) return [];
  const when = formatWhen(workBegan, zone, { short: true });
  return [{ field: "gate", message: `Point ${gate.line}, ${gate.name}, is not entered for the shift of ${when}. Enter it first.` }];
}

/** The order in which a person meets the fields: values, lots, then the times of the work, then photos and documents. */
function inOrder(line: PlanLine, faults: readonly Fault[]): Fault[] {
  const quantities = line.quantities.map(({ id }) => id);
  const rank = (field: string | null): number => {
    const [kind = "", id = ""] = (field ?? "").split(".");
    if (kind === "gate") return -1;
    if (kind === "value" || kind === "reason") return quantities.indexOf(id);
    return 1_000 + ["lot", "workBegan", "workEnded", "photo", "document"].indexOf(kind);
  };
  return [...faults].sort((a, b) => rank(a.field) - rank(b.field));
}

function entryOf(value: JudgedValue, unitConfirmed: ReadonlySet<string>): JudgedEntry {
  const { quantity, item, verdict, measured, margin, mark, otherUnit, entry } = value;
  const field = fieldName.value(quantity.id, item);
  const asks = otherUnit !== null && entry?.kind === "measured" && !unitConfirmed.has(field);
  return {
    field, quantity: quantity.id, item, verdict, measured, margin, mark, drawn: drawnOf(value.drawn),
    asked: asks ? { number: entry.measured.number, unit: entry.measured.unit, other: otherUnit } : null,
  };
}

/** Digits kept of a number in a drawing: past these a line on a screen shows no difference. */
const DRAWN_DIGITS = 6;

function drawnOf(drawn: JudgedValue["drawn"]): JudgedEntry["drawn"] {
  if (!drawn) return null;
  const { unit, min, max } = drawn.limits;
  const text = (si: Parameters<typeof fromSi>[0]): string => fromSi(si, unit).toSignificantDigits(DRAWN_DIGITS).toFixed();
  return {
    value: text(drawn.valueSi),
    uncertainty: differenceFromSi(drawn.uncertaintySi, unit).toSignificantDigits(3).toFixed(),
    min: min ? text(min.si) : null,
    max: max ? text(max.si) : null,
    unit,
  };
}
