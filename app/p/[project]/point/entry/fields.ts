import { fieldName } from "#lib/domain/point/missing";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Rule } from "#lib/domain/requirement/rule";
import type { RawSubmission } from "#lib/services/submit-point";

/** The form of a point as one flat list of names and texts: what a browser sends with or without scripts. */
export type Fields = Readonly<Record<string, string>>;

/** Names of the fields beside a value's own, which fieldName gives. */
export const besideName = {
  unit: (quantity: string, item: number | null) => suffixed(`unit.${quantity}`, item),
  /** Carries the number and unit that the person kept after being asked, so that another number is asked about again. */
  kept: (quantity: string, item: number | null) => suffixed(`kept.${quantity}`, item),
  instrument: (quantity: string) => `instrument.${quantity}`,
  /** Which of two equal times, in the hour that the clocks repeat. */
  offset: (time: "workBegan" | "workEnded") => `offset.${time}`,
  words: "words",
};

export const SET_ASIDE = "setAside";

/** Rows shown beyond what is entered, where there are as many values as there are. */
const SPARE_ROWS = 1;

function suffixed(name: string, item: number | null): string {
  return item === null ? name : `${name}.${item}`;
}

export function keptWords(text: string, unit: string): string {
  return `${text.trim()} ${unit}`;
}

/** The rows a quantity has in the form: one, a fixed number, or one more than is entered. */
export function rowsOf(line: PlanLine, rule: Rule, writing: Pick<RawSubmission, "values">, extra = 0): (number | null)[] {
  if (rule.form !== "each") return [null];
  const open = line.quantities.filter(({ rule: other }) => other.form === "each" && other.of === rule.of && other.count === null).map(({ id }) => id);
  const entered = Math.max(0, ...writing.values.filter(({ quantity, text }) => open.includes(quantity) && text.trim()).map(({ item }) => item ?? 0));
  return Array.from({ length: rule.count ?? entered + SPARE_ROWS + extra }, (_, index) => index + 1);
}

/** The fields that a draft fills. */
export function fieldsOf({ workBegan, workEnded, values, lots, words }: RawSubmission): Record<string, string> {
  const fields: Record<string, string> = { [besideName.words]: words };
  for (const [name, text] of [["workBegan", workBegan], ["workEnded", workEnded]] as const) {
    const [, local = text, offset = ""] = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2})?)([+-]\d{2}:\d{2})$/.exec(text) ?? [];
    fields[fieldName[name]] = local;
    fields[besideName.offset(name)] = offset;
  }
  for (const { quantity, item, text, unit, instrumentId, unitConfirmed, reason } of values) {
    fields[fieldName.value(quantity, item)] = text;
    fields[fieldName.reason(quantity, item)] = reason;
    if (unit !== null) fields[besideName.unit(quantity, item)] = unit;
    if (instrumentId !== null) fields[besideName.instrument(quantity)] = instrumentId;
    if (unitConfirmed && unit !== null) fields[besideName.kept(quantity, item)] = keptWords(text, unit);
  }
  for (const { use, lotId } of lots) fields[fieldName.lot(use)] = lotId;
  return fields;
}

const NAMED = /^(value|reason)\.([a-zA-Z0-9-]+)(?:\.(\d{1,3}))?$/;

/** What is being written, read from the fields. Rows without a text and without a reason say nothing. */
export function writingOf(line: PlanLine, fields: Fields, setAside: readonly string[]): RawSubmission {
  const text = (name: string) => fields[name] ?? "";
  const rows = new Map<string, { quantity: string; item: number | null }>();
  for (const name of Object.keys(fields)) {
    const [, , quantity, item] = NAMED.exec(name) ?? [];
    if (quantity !== undefined) rows.set(`${quantity} ${item ?? ""}`, { quantity, item: item === undefined ? null : Number(item) });
  }
  const values = [...rows.values()].flatMap(({ quantity, item }): RawSubmission["values"] => {
    const value = text(fieldName.value(quantity, item));
    const reason = text(fieldName.reason(quantity, item));
    const instrumentId = text(besideName.instrument(quantity)) || null;
    if (value.trim() === "" && reason.trim() === "" && instrumentId === null) return [];
    const unit = text(besideName.unit(quantity, item)) || null;
    return [{ quantity, item, text: value, unit, instrumentId, reason, unitConfirmed: unit !== null && text(besideName.kept(quantity, item)) === keptWords(value, unit) }];
  });
  const time = (name: "workBegan" | "workEnded") => {
    const local = text(fieldName[name]);
    return local === "" ? "" : local + text(besideName.offset(name));
  };
  return {
    workBegan: time("workBegan"),
    workEnded: time("workEnded"),
    values,
    lots: line.lots.map(({ id }) => ({ use: id, lotId: text(fieldName.lot(id)) })).filter(({ lotId }) => lotId !== ""),
    setAside: [...setAside],
    words: text(besideName.words),
  };
}

/** What a button changes in what is being written, besides sending it. Buttons send this as their value. */
export const intent = {
  keep: "keep",
  proposal: "proposal",
  times: "times",
  weather: "weather",
  /** Read this value in the other unit. */
  useUnit: (field: string, unit: string) => `use ${field} ${unit}`,
  /** Keep this value in the unit it was typed in. */
  keepUnit: (field: string, unit: string) => `unit ${field} ${unit}`,
};

interface Proposals {
  proposal: { instruments: Readonly<Record<string, string>>; lots: Readonly<Record<string, string>> } | null;
  times: { began: string; beganOffset: string; ended: string; endedOffset: string } | null;
  weather: { values: readonly { quantity: string; text: string; unit: string }[] } | null;
}

/** The fields as a button leaves them. */
export function changed(fields: Fields, asked: string, proposals: Proposals | null): Record<string, string> {
  const [act = "", field = "", unit = ""] = asked.split(" ");
  const [, kind, quantity = "", number] = NAMED.exec(field) ?? [];
  const item = number === undefined ? null : Number(number);
  if (kind === "value" && act === "use") return { [besideName.unit(quantity, item)]: unit };
  if (kind === "value" && act === "unit") return { [besideName.unit(quantity, item)]: unit, [besideName.kept(quantity, item)]: keptWords(fields[field] ?? "", unit) };
  if (act === intent.proposal && proposals?.proposal) {
    const { instruments, lots } = proposals.proposal;
    return Object.fromEntries([
      ...Object.entries(instruments).map(([quantity, id]) => [besideName.instrument(quantity), id]),
      ...Object.entries(lots).map(([use, lotId]) => [fieldName.lot(use), lotId]),
    ]);
  }
  if (act === intent.times && proposals?.times) {
    const { began, beganOffset, ended, endedOffset } = proposals.times;
    return {
      [fieldName.workBegan]: began, [besideName.offset("workBegan")]: beganOffset,
      [fieldName.workEnded]: ended, [besideName.offset("workEnded")]: endedOffset,
    };
  }
  if (act === intent.weather && proposals?.weather) {
    return Object.fromEntries(proposals.weather.values.flatMap(({ quantity: id, text, unit: read }) => [[fieldName.value(id, null), text], [besideName.unit(id, null), read]]));
  }
  return {};
}

/** What is being written as a button leaves it. Every row of a quantity gets the instrument that was confirmed for it. */
export function amended(line: PlanLine, writing: RawSubmission, asked: string, proposals: Proposals | null): RawSubmission {
  const fields = fieldsOf(writing);
  const changes = changed(fields, asked, proposals);
  for (const { id, rule } of line.quantities) {
    if (!changes[besideName.instrument(id)]) continue;
    for (const item of rowsOf(line, rule, writing)) fields[fieldName.value(id, item)] ??= "";
  }
  return writingOf(line, { ...fields, ...changes }, writing.setAside);
}
