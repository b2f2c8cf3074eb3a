import type { Fault } from "#lib/domain/refusal";
import { idFromName, type Values } from "#lib/domain/requirement/draft-quantity";
import { PlanLineSchema, type PhotoSubject, type PlanLineSpec, type Wait } from "#lib/domain/requirement/set";

/** One point on each of the types that have it, in the order of the sets. */
export type LinesOfPoint = readonly { type: string; line: PlanLineSpec }[];

interface Fact {
  name: string;
  label: string;
  text(line: PlanLineSpec): string;
  /** What the text says, not yet checked. */
  read(text: string, values: Values): Partial<Record<keyof PlanLineSpec, unknown>>;
}

const list = (text: string): string[] => text.split(",").map((word) => word.trim()).filter(Boolean);

/** What is written once for all types. */
const FACTS: readonly Fact[] = [
  { name: "kind", label: "Kind", text: ({ kind }) => kind, read: (kind) => ({ kind }) },
  { name: "after", label: "Stands on", text: ({ after }) => after.join(", "), read: (text) => ({ after: list(text) }) },
  { name: "hiddenBy", label: "Hidden by", text: ({ hiddenBy }) => hiddenBy.join(", "), read: (text) => ({ hiddenBy: list(text) }) },
  { name: "batch", label: "Resin batch", text: ({ batch }) => batch ?? "", read: (text) => ({ batch: text.trim() || null }) },
  { name: "gate", label: "Access check", text: ({ gate }) => gate, read: (gate) => ({ gate }) },
  { name: "submits", label: "Submitted by", text: ({ submits }) => submits.join(", "), read: (text) => ({ submits: list(text) }) },
  {
    name: "release", label: "Released by", text: ({ release: { roles, all, automatic, whenFails } }) => JSON.stringify([roles, all, automatic, whenFails]),
    read: (text) => {
      const [roles, all, automatic, whenFails] = JSON.parse(text) as unknown[];
      return { release: { roles, all, automatic, whenFails } };
    },
  },
  { name: "evidenceOnly", label: "On evidence alone", text: ({ evidenceOnly }) => (evidenceOnly ? `${evidenceOnly.photos}` : "never"), read: (text) => ({ evidenceOnly: text === "never" ? null : { photos: wholeOf(text) } }) },
];

function wholeOf(text: string): number | string {
  return /^\d{1,3}$/.test(text.trim()) ? Number(text) : text;
}

/** Facts that are not the same on all types: a change is written to all, and until then each keeps its own. */
export function differingFacts(lines: LinesOfPoint): string[] {
  return FACTS.filter(({ text }) => new Set(lines.map(({ line }) => text(line))).size > 1).map(({ label }) => label);
}

/** Waits, photos, lots and documents side by side: one row for what has the same words, with each type's own number. */
function partRows(lines: LinesOfPoint): { waits: WaitRow[]; photos: PhotoRow[]; lots: ListRow[]; documents: (ListRow & { required: boolean })[] } {
  const waits = gather<Wait, WaitRow>(lines, (line) => line.waits, ({ hours: _hours, ...wait }) => JSON.stringify(wait), (wait) => ({ ...wait, hoursOf: {} }), (row, { hours }, type) => (row.hoursOf[type] = hours));
  const photos = gather<PhotoSubject, PhotoRow>(lines, (line) => line.photos, ({ count: _count, ...photo }) => JSON.stringify(photo), (photo) => ({ ...photo, countOf: {} }), (row, { count }, type) => (row.countOf[type] = count));
  const lots = gather<PlanLineSpec["lots"][number], ListRow>(lines, (line) => line.lots, (lot) => JSON.stringify(lot), ({ id, name, kind }) => ({ id, name, kind, types: [] }), (row, _lot, type) => row.types.push(type));
  const documents = gather<PlanLineSpec["documents"][number], ListRow & { required: boolean }>(lines, (line) => line.documents, (one) => JSON.stringify(one), ({ id, name, required }) => ({ id, name, kind: "", required, types: [] }), (row, _one, type) => row.types.push(type));
  return { waits, photos, lots, documents };
}

type WaitRow = Omit<Wait, "hours"> & { hoursOf: Record<string, string> };
type PhotoRow = Omit<PhotoSubject, "count"> & { countOf: Record<string, number> };
interface ListRow {
  id: string;
  name: string;
  kind: string;
  types: string[];
}

function gather<T, R>(lines: LinesOfPoint, of: (line: PlanLineSpec) => readonly T[], key: (one: T) => string, make: (one: T) => R, add: (row: R, one: T, type: string) => unknown): R[] {
  const rows = new Map<string, R>();
  for (const { type, line } of lines) {
    for (const one of of(line)) {
      const row = rows.get(key(one)) ?? make(one);
      add(row, one, type);
      rows.set(key(one), row);
    }
  }
  return [...rows.values()];
}

/** A point as the texts of its form. */
export function valuesOfLine(lines: LinesOfPoint): Values {
  const first = lines[0]?.line;
  if (!first) return {};
  const values: Values = Object.fromEntries(FACTS.map(({ name, text }) => [name, text(first)]));
  const { release, evidenceOnly } = first;
  values.releaseRoles = release.roles.join(", ");
  values.whenFails = release.whenFails.join(", ");
  values.all = release.all ? "all" : "one";
  values.automatic = release.automatic ? "automatic" : "person";
  values.evidence = evidenceOnly ? "allowed" : "never";
  values.evidencePhotos = evidenceOnly ? `${evidenceOnly.photos}` : "";
  for (const { type, line } of lines) {
    values[`name-${type}`] = line.name;
    values[`notApplicable-${type}`] = line.notApplicable ?? "";
  }
  const { waits, photos, lots, documents } = partRows(lines);
  const put = (row: string, parts: Values): void => void Object.entries(parts).forEach(([name, text]) => (values[`${row}-${name}`] = text));
  waits.forEach(({ kind, from, until, name, hoursOf }, i) => put(`wait-${i}`, { kind, from, until, name, ...ownTexts("hours", hoursOf) }));
  photos.forEach(({ id, name, hint, window, countOf }, i) => put(`photo-${i}`, { id, name, hint: hint ?? "", window, ...ownTexts("count", countOf) }));
  lots.forEach(({ id, name, kind, types }, i) => put(`lot-${i}`, { id, name, kind, types: types.join(", ") }));
  documents.forEach(({ id, name, required, types }, i) => put(`document-${i}`, { id, name, required: required ? "required" : "may", types: types.join(", ") }));
  return values;
}

function ownTexts(name: string, of: Record<string, string | number>): Values {
  return Object.fromEntries(Object.entries(of).map(([type, value]) => [`${name}-${type}`, String(value)]));
}

/** How many rows of a part the texts hold. */
export function rowsOf(values: Values, part: string): number[] {
  const found = Object.keys(values).flatMap((name) => new RegExp(`^${part}-(\\d+)-name$`).exec(name)?.[1] ?? []);
  return found.map(Number).sort((a, b) => a - b);
}

/**
 * Reads the form of a point for the types that have it. A fact that was not changed stays each type's own; rows without a name are
 * taken out. What is wrong names its field.
 */
export function readLine(values: Values, lines: LinesOfPoint): { lines: Record<string, PlanLineSpec> } | { faults: Fault[] } {
  const first = lines[0]?.line;
  if (!first) return { faults: [{ field: null, message: "No type has this point." }] };
  const typed: Values = {
    ...values,
    release: JSON.stringify([list(values.releaseRoles ?? ""), values.all === "all", values.automatic === "automatic", list(values.whenFails ?? "")]),
    evidenceOnly: values.evidence === "allowed" ? (values.evidencePhotos ?? "").trim() : "never",
  };
  const changed = FACTS.filter(({ name, text }) => (typed[name] ?? "").trim() !== text(first));
  const facts = Object.assign({}, ...changed.map(({ name, read }) => read(typed[name] ?? "", typed))) as Partial<Record<keyof PlanLineSpec, unknown>>;
  const faults: Fault[] = [];
  const made: Record<string, PlanLineSpec> = {};
  for (const { type, line } of lines) {
    const because = (values[`notApplicable-${type}`] ?? "").trim() || null;
    const asked = because ? { quantities: [], ...partsOf({}, type, null) } : { quantities: askedAt(line, lines), ...partsOf(values, type, line) };
    const read = PlanLineSchema.safeParse({ ...line, ...facts, ...asked, name: (values[`name-${type}`] ?? "").trim(), notApplicable: because });
    if (read.success) made[type] = read.data;
    else faults.push(...read.error.issues.map(({ path, message }) => lineFault(path, message, type, values)));
  }
  return faults.length > 0 ? { faults: faults.filter((one, i) => faults.findIndex(({ field, message }) => field === one.field && message === one.message) === i) } : { lines: made };
}

/** A point that applies again begins with what another type asks for. */
function askedAt(line: PlanLineSpec, lines: LinesOfPoint): PlanLineSpec["quantities"] {
  if (!line.notApplicable) return line.quantities;
  return lines.find((one) => one.line.quantities.length > 0)?.line.quantities ?? [];
}

function partsOf(values: Values, type: string, line: PlanLineSpec | null) {
  const of = (name: string): string => (values[name] ?? "").trim();
  const named = (part: string): string[] => rowsOf(values, part).map((i) => `${part}-${i}`).filter((row) => of(`${row}-name`) !== "");
  const isOn = (row: string): boolean => list(of(`${row}-types`)).includes(type);
  const taken: string[] = [];
  const idOf = (row: string): string => {
    const id = of(`${row}-id`) || idFromName(of(`${row}-name`), [...(line?.photos ?? []).map((one) => one.id), ...taken]);
    taken.push(id);
    return id;
  };
  return {
    waits: named("wait").filter((row) => of(`${row}-hours-${type}`) !== "").map((row) => ({ kind: of(`${row}-kind`), from: of(`${row}-from`), until: of(`${row}-until`), name: of(`${row}-name`), hours: of(`${row}-hours-${type}`) })),
    photos: named("photo").map((row) => ({ row, id: idOf(row) })).filter(({ row }) => of(`${row}-count-${type}`) !== "").map(({ row, id }) => ({
      id, name: of(`${row}-name`), hint: of(`${row}-hint`) || null, window: of(`${row}-window`) || "point", count: wholeOf(of(`${row}-count-${type}`)),
    })),
    lots: named("lot").filter(isOn).map((row) => ({ id: idOf(row), name: of(`${row}-name`), kind: of(`${row}-kind`) })),
    documents: named("document").filter(isOn).map((row) => ({ id: idOf(row), name: of(`${row}-name`), required: of(`${row}-required`) === "required" })),
  };
}

const SAYS: Partial<Record<string, string>> = {
  after: "name points by their numbers, such as 11, 14.", hiddenBy: "name points by their numbers, such as 7, 15.", name: "give the point a name.", roles: "say who releases it.",
  submits: "name the roles that submit it.", hours: "write plain hours, such as 24.", from: "name the point by its number.", count: "give a whole number of photos, 1 to 60.",
  photos: "give a number of photos, 0 to 60.", kind: "choose the kind.", until: "choose what ends the wait.",
};

/** The fault at the field of the form that the path belongs to. */
function lineFault(path: readonly PropertyKey[], message: string, type: string, values: Values): Fault {
  const [part, index, member] = path.map(String);
  const say = (name: string): string => `Type ${type}: ${SAYS[name] ?? message}`;
  if ((part === "waits" || part === "photos" || part === "lots" || part === "documents") && member !== undefined) {
    const single = part.slice(0, -1);
    const own = single === "wait" ? "hours" : "count";
    const rows = rowsOf(values, single).filter((i) => (values[`${single}-${i}-name`] ?? "").trim() !== "" && (part === "lots" || part === "documents" || (values[`${single}-${i}-${own}-${type}`] ?? "").trim() !== ""));
    const row = rows[Number(index)] ?? 0;
    return { field: `${single}-${row}-${member === own ? `${own}-${type}` : member}`, message: say(member) };
  }
  if (part === "release") return { field: index === "whenFails" ? "whenFails" : "releaseRoles", message: say("roles") };
  if (part === "evidenceOnly") return { field: "evidencePhotos", message: say("photos") };
  if (part === "name") return { field: `name-${type}`, message: say("name") };
  return { field: part ?? null, message: say(part ?? "") };
}
