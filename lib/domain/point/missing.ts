import type { Instant } from "#lib/domain/instant";
import { itemName, type PlanLine } from "#lib/domain/plan/plan";
import type { Reason } from "#lib/domain/point/value";
import type { JudgedValue } from "#lib/domain/requirement/judge-point";
import type { Fault } from "#lib/domain/refusal";

/** Names of the form fields, shared by the form, the list of what is missing and the API. */
export const fieldName = {
  workBegan: "workBegan",
  workEnded: "workEnded",
  value: (quantity: string, item: number | null): string => (item === null ? `value.${quantity}` : `value.${quantity}.${item}`),
  reason: (quantity: string, item: number | null): string => (item === null ? `reason.${quantity}` : `reason.${quantity}.${item}`),
  photo: (subject: string): string => `photo.${subject}`,
  document: (use: string): string => `document.${use}`,
  lot: (use: string): string => `lot.${use}`,
};

export interface OfferedSubmission {
  workBegan: Instant | null;
  workEnded: Instant | null;
  judged: readonly JudgedValue[];
  reasons: readonly Reason[];
  /** Fields whose number the person confirmed in its unit after being asked. */
  unitConfirmed: ReadonlySet<string>;
  photos: readonly { sha256: string; subject: string }[];
  documents: readonly { use: string }[];
  lots: readonly { use: string }[];
}

/**
 * Lists what a submission lacks, each with the field to mend. An empty list means it may be sent.
 * A value may be missing or fail only with a stated reason. A photo counts once, by its digest.
 */
export function missingFrom(line: PlanLine, offered: OfferedSubmission, now: Instant): Fault[] {
  return [
    ...workFaults(offered, now),
    ...offered.judged.flatMap((value) => valueFaults(value, offered)),
    ...lotFaults(line, offered),
    ...photoFaults(line, offered),
    ...line.documents
      .filter(({ id, required }) => required && !offered.documents.some(({ use }) => use === id))
      .map(({ id, name }) => ({ field: fieldName.document(id), message: `${name}: attach the PDF.` })),
  ];
}

function workFaults({ workBegan, workEnded }: OfferedSubmission, now: Instant): Fault[] {
  const faults: Fault[] = [];
  if (workBegan === null) faults.push({ field: fieldName.workBegan, message: "Work began: give the date and time." });
  if (workEnded === null) faults.push({ field: fieldName.workEnded, message: "Work ended: give the date and time." });
  if (workBegan !== null && workEnded !== null && workEnded < workBegan) {
    faults.push({ field: fieldName.workEnded, message: "Work ended before it began. Check both times." });
  }
  if (workEnded !== null && workEnded > now) faults.push({ field: fieldName.workEnded, message: "Work ended lies in the future. Give the time it ended, or send this later." });
  return faults;
}

function valueFaults(value: JudgedValue, { reasons, unitConfirmed }: OfferedSubmission): Fault[] {
  const { quantity, item, verdict, mark, otherUnit, entry, margin } = value;
  const name = itemName(quantity, item);
  const field = fieldName.value(quantity.id, item);
  const hasReason = reasons.some((reason) => reason.quantity === quantity.id && (reason.item === item || reason.item === null));
  if (otherUnit && entry?.kind === "measured" && !unitConfirmed.has(field)) {
    return [{ field, message: `${name}: ${margin}. Did you mean ${entry.measured.number} ${otherUnit}? Choose the unit, or confirm ${entry.measured.unit}.` }];
  }
  if (mark === "instrument not named") return [{ field, message: `${name}: name the ${quantity.instrument ?? "instrument"} it was read with.` }];
  if (hasReason) return [];
  if (verdict === "not measured" && quantity.derived) return [];
  if (verdict === "not measured") return [{ field, message: `${name}: give the value, or say why it was not measured.` }];
  if (verdict === "fails") return [{ field: fieldName.reason(quantity.id, item), message: `${name} fails: ${margin}. Mend it, or say why it is sent as it is.` }];
  if (verdict === "cannot tell") return [{ field: fieldName.reason(quantity.id, item), message: `${name}: cannot tell, ${margin}. Mend it, or say why it is sent as it is.` }];
  return [];
}

function lotFaults(line: PlanLine, { lots }: OfferedSubmission): Fault[] {
  return line.lots.filter(({ id }) => !lots.some(({ use }) => use === id)).map(({ id, name }) => ({ field: fieldName.lot(id), message: `${name}: choose the lot.` }));
}

function photoFaults(line: PlanLine, { photos }: OfferedSubmission): Fault[] {
  const distinct = photos.filter((photo, index) => photos.findIndex(({ sha256 }) => sha256 === photo.sha256) === index);
  return line.photos.flatMap(({ id, name, count }) => {
    const there = distinct.filter(({ subject }) => subject === id).length;
    if (there >= count) return [];
    const more = count - there;
    return [{ field: fieldName.photo(id), message: `${name}: ${more} more photo${more === 1 ? "" : "s"} needed, ${there} of ${count} there.` }];
  });
}
