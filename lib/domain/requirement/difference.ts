import { sameLine } from "#lib/domain/plan/compose";
import { accuracyWords } from "#lib/domain/requirement/instrument";
import type { PlanLineSpec, Quantity, RequirementSet, Revision, Wait } from "#lib/domain/requirement/set";
import { wholeRequirementWords } from "#lib/domain/requirement/words";

/** One thing that a line asks for differently. `was` null: it is new; `now` null: it is gone. */
export interface PartChange {
  part: "quantity" | "wait" | "photo" | "document" | "lot" | "line";
  /** Id of the quantity, photo, document or lot; the kind and source of a wait; the property of a line. */
  id: string;
  name: string;
  was: string | null;
  now: string | null;
  /** The quantity on both sides, where its rule is what changed. */
  quantity: { was: Quantity | null; now: Quantity | null } | null;
}

/** A line of one pile type, or with type null of the project sheet, that is not the same in both revisions. */
export interface LineDifference {
  type: string | null;
  line: string;
  name: string;
  was: PlanLineSpec | null;
  now: PlanLineSpec | null;
  parts: PartChange[];
}

/** A fact of a set that judges no point by itself: a dimension of the jacket, a number of the design. */
export interface FactChange {
  type: string;
  name: string;
  was: string;
  now: string;
}

/**
 * Lines that change together: the same change on several types, and with it the limits that follow from the same design.
 * One answer of the engineer is given for all of them.
 */
export interface Change {
  /** From 1, in the order of the plan. */
  number: number;
  /** The line that the change is named after, on its first type. */
  lead: LineDifference;
  /** Types in the order of the sets; null is the project sheet. */
  types: (string | null)[];
  /** Every line of every type that it covers, the lead first. */
  lines: LineDifference[];
  /** Lines of the lead's type whose limits only follow from the design. */
  followers: LineDifference[];
  /** What changed in the design or the jacket of the lead's type, where limits follow from it. */
  from: FactChange[];
}

export interface RevisionDifference {
  changes: Change[];
  /** Changed facts that no change of a line follows from. */
  facts: FactChange[];
  addedTypes: string[];
  removedTypes: string[];
}

/**
 * What two revisions ask for differently, line by line. The order of lists within a line counts only where it means
 * something; words of a hint count, since a person reads them.
 */
export function differenceOf(was: Revision, now: Revision): RevisionDifference {
  const both = now.sets.flatMap((set) => {
    const before = was.sets.find(({ type }) => type === set.type);
    return before ? [{ before, set }] : [];
  });
  const facts = both.flatMap(({ before, set }) => factChanges(before, set));
  const units = [
    ...linesOf(null, was.projectLines, now.projectLines).map((one) => [one]),
    ...both.flatMap(({ before, set }) => together(linesOf(set.type, before.lines, set.lines))),
  ];
  const groups = acrossTypes(units).sort(([a], [b]) => rank(a) - rank(b));
  const changes = groups.map((group, index) => changeOf(group, index + 1, facts));
  const used = new Set(changes.flatMap(({ from, types }) => facts.filter((fact) => types.includes(fact.type) && from.some(({ name }) => name === fact.name))));
  return {
    changes,
    facts: facts.filter((fact) => !used.has(fact)),
    addedTypes: now.sets.filter(({ type }) => !was.sets.some((set) => set.type === type)).map(({ type }) => type),
    removedTypes: was.sets.filter(({ type }) => !now.sets.some((set) => set.type === type)).map(({ type }) => type),
  };
}

/** Whether two revisions ask for the same, word for word. */
export function isSame({ changes, facts, addedTypes, removedTypes }: RevisionDifference): boolean {
  return [changes, facts, addedTypes, removedTypes].every((list) => list.length === 0);
}

/** The project sheet comes first, then the points by their numbers; types may have them in another order. */
function rank(lead: LineDifference | undefined): number {
  return lead && lead.type !== null ? parseInt(lead.line, 10) : -1;
}

// ---- which lines change together ------------------------------------------------------------------------------------

/** Lines of one type whose limits follow from its design are one unit; every other changed line is its own. */
function together(lines: readonly LineDifference[]): LineDifference[][] {
  const following = lines.filter(follows);
  const alone = lines.filter((line) => !following.includes(line));
  const lead = following.find((line) => line.parts.some(({ quantity }) => quantity?.now?.follows === "overlap")) ?? following.find((line) => !onlyFollows(line)) ?? following[0];
  const unit = lead ? [[lead, ...following.filter((line) => line !== lead)]] : [];
  return [...alone.map((line) => [line]), ...unit].sort(([a], [b]) => placeOf(lines, a) - placeOf(lines, b));
}

function placeOf(lines: readonly LineDifference[], line: LineDifference | undefined): number {
  return line ? lines.indexOf(line) : -1;
}

function follows({ parts }: LineDifference): boolean {
  return parts.some(({ quantity }) => Boolean(quantity?.was?.follows ?? quantity?.now?.follows));
}

/** Whether nothing at a line changed but limits that are worked out; the overlap is a number of the design itself. */
function onlyFollows({ parts }: LineDifference): boolean {
  return parts.every(({ quantity }) => {
    const by = quantity?.now?.follows ?? quantity?.was?.follows;
    return Boolean(by) && by !== "overlap";
  });
}

/** The same change on several types is one. */
function acrossTypes(units: readonly LineDifference[][]): LineDifference[][] {
  const groups = new Map<string, LineDifference[]>();
  for (const unit of units) {
    const key = JSON.stringify(unit.map(({ line, type, parts }) => [type === null, line, parts.map(({ part, id, name, was, now, quantity }) => [part, id, name, was, now, quantity?.was?.rule, quantity?.now?.rule])]));
    groups.set(key, [...(groups.get(key) ?? []), ...unit]);
  }
  return [...groups.values()];
}

function changeOf(lines: readonly LineDifference[], number: number, facts: readonly FactChange[]): Change {
  const [lead] = lines;
  if (!lead) throw new RangeError("A change has at least one line.");
  const own = lines.filter(({ type }) => type === lead.type);
  const from = own.some(follows) ? facts.filter(({ type, name }) => type === lead.type && /^(sheet|jacket|section)\b/.test(name)) : [];
  return {
    number, lead, from,
    types: [...new Set(lines.map(({ type }) => type))],
    lines: [...lines],
    followers: own.filter((line) => line !== lead && onlyFollows(line)),
  };
}

// ---- what changed at a line -----------------------------------------------------------------------------------------

function linesOf(type: string | null, was: readonly PlanLineSpec[], now: readonly PlanLineSpec[]): LineDifference[] {
  const gone = was.filter(({ line }) => !now.some((one) => one.line === line));
  const after = (line: PlanLineSpec): number => now.findIndex((one) => one.line === was[was.indexOf(line) - 1]?.line);
  const pairs = now.map((line) => ({ before: was.find((one) => one.line === line.line) ?? null, after: line as PlanLineSpec | null }));
  for (const line of [...gone].reverse()) pairs.splice(after(line) + 1, 0, { before: line, after: null });
  return pairs.flatMap(({ before, after: line }): LineDifference[] => {
    if (sameLine(before ?? undefined, line ?? undefined)) return [];
    const named = (line ?? before) as PlanLineSpec;
    return [{ type, line: named.line, name: named.name, was: before, now: line, parts: before && line ? partsOf(before, line) : [wholeLine(named, line !== null)] }];
  });
}

function wholeLine({ line, name, quantities }: PlanLineSpec, isNew: boolean): PartChange {
  const words = quantities.length > 0 ? quantities.map((one) => one.name).join(", ") : "no value is asked for";
  return { part: "line", id: line, name, was: isNew ? null : words, now: isNew ? words : null, quantity: null };
}

function partsOf(was: PlanLineSpec, now: PlanLineSpec): PartChange[] {
  const parts = [
    ...quantityChanges(was.quantities, now.quantities),
    ...listed("wait", was.waits, now.waits, waitId, ({ name }) => name, waitWords),
    ...listed("photo", was.photos, now.photos, ({ id }) => id, ({ name }) => `Photo ${name}`, ({ count, window, hint }) => [`${count} photo${count === 1 ? "" : "s"}`, window === "point" ? "" : window, hint ?? ""].filter(Boolean).join(", ")),
    ...listed("document", was.documents, now.documents, ({ id }) => id, ({ name }) => `Document ${name}`, ({ required }) => (required ? "has to be there" : "may be there")),
    ...listed("lot", was.lots, now.lots, ({ id }) => id, ({ name }) => `Lot of ${name}`, ({ kind }) => kind),
    ...propertyChanges(was, now),
  ];
  if (parts.length > 0) return parts;
  const names = (line: PlanLineSpec): string => [...line.quantities, ...line.photos, ...line.waits].map(({ name }) => name).join(", ");
  return [{ part: "line", id: "order", name: "Order", was: names(was), now: names(now), quantity: null }];
}

export function waitId({ kind, from }: Wait): string {
  return `${kind} ${from}`;
}

function waitWords({ kind, from, hours, until }: Wait): string {
  return `${kind} ${hours} h from the end of ${from} until this ${until === "began" ? "begins" : "is released"}`;
}

function quantityChanges(was: readonly Quantity[], now: readonly Quantity[]): PartChange[] {
  const pairs = [...now.map((one) => ({ before: was.find(({ id }) => id === one.id) ?? null, after: one as Quantity | null })), ...was.filter(({ id }) => !now.some((one) => one.id === id)).map((before) => ({ before, after: null }))];
  return pairs.flatMap(({ before, after }): PartChange[] => {
    const { id, name } = (after ?? before) as Quantity;
    const part = { part: "quantity" as const, id };
    const ruled = JSON.stringify(before?.rule) === JSON.stringify(after?.rule)
      ? []
      : [{ ...part, name, was: before && ruleWords(before), now: after && ruleWords(after), quantity: { was: before, now: after } }];
    if (!before || !after) return ruled;
    const said = (what: string, text: (one: Quantity) => string) => (text(before) === text(after) ? [] : [{ ...part, name: `${name}, ${what}`, was: text(before), now: text(after), quantity: null }]);
    return [
      ...ruled,
      ...said("name", (one) => one.name),
      ...said("worked out from", ({ derived }) => (derived ? `${derived.formula}: ${AND(derived.from)}` : "nothing")),
      ...said("instrument", ({ instrument }) => instrument ?? "none named"),
      ...said("accuracy asked of the instrument", (one) => (one.accuracy ? accuracyWords(one) : "none")),
      ...said("hint", ({ hint }) => hint ?? "none"),
      ...said("limit", ({ follows: by }) => (by ? `follows from the ${by}` : "is the specification's own")),
    ];
  });
}

function ruleWords({ rule }: Quantity): string {
  const items = rule.form === "each" ? `${rule.count === null ? "each" : rule.count} ${rule.of}${rule.count !== null && rule.count > 1 ? "s" : ""}: ` : "";
  return `${items}${wholeRequirementWords(rule)}`;
}

function listed<T>(part: PartChange["part"], was: readonly T[], now: readonly T[], idOf: (one: T) => string, nameOf: (one: T) => string, words: (one: T) => string): PartChange[] {
  const ids = [...new Set([...now, ...was].map(idOf))];
  return ids.flatMap((id): PartChange[] => {
    const [before, after] = [was, now].map((list) => list.find((one) => idOf(one) === id));
    const named = (after ?? before) as T;
    if (JSON.stringify(before) === JSON.stringify(after)) return [];
    const renamed = before && after && nameOf(before) !== nameOf(after) ? [{ part, id, name: `${nameOf(after)}, name`, was: nameOf(before), now: nameOf(after), quantity: null }] : [];
    const said = { part, id, name: nameOf(named), was: before ? words(before) : null, now: after ? words(after) : null, quantity: null };
    return said.was === said.now ? renamed : [said, ...renamed];
  });
}

const AND = (list: readonly string[]): string => (list.length > 0 ? list.join(", ") : "nothing");

/** What a line has once, by the words that it is shown in. */
const PROPERTIES: [id: string, name: string, words: (line: PlanLineSpec) => string][] = [
  ["name", "Name", ({ name }) => name],
  ["kind", "Kind", ({ kind }) => ({ H: "hold point", W: "witness point", R: "record point" })[kind]],
  ["notApplicable", "Applies", ({ notApplicable }) => notApplicable ?? "yes"],
  ["after", "Stands on", ({ after }) => AND(after)],
  ["hiddenBy", "Hidden by", ({ hiddenBy }) => AND(hiddenBy)],
  ["submits", "Submitted by", ({ submits }) => submits.join(" or ")],
  ["release", "Released by", ({ release: { roles, all, automatic, whenFails } }) => [roles.join(all ? " and " : " or "), automatic ? "by the system when every value meets" : "", whenFails.length > 0 ? `when a value fails by ${whenFails.join(" or ")}` : ""].filter(Boolean).join("; ")],
  ["evidenceOnly", "On evidence alone", ({ evidenceOnly }) => (evidenceOnly ? `with ${evidenceOnly.photos} photo${evidenceOnly.photos === 1 ? "" : "s"} in order` : "never")],
  ["batch", "Resin batch", ({ batch }) => batch ?? "none"],
  ["gate", "Access check", ({ gate }) => gate],
  ["register", "Judged from a register", ({ register }) => register ?? "no"],
];

function propertyChanges(was: PlanLineSpec, now: PlanLineSpec): PartChange[] {
  return PROPERTIES.flatMap(([id, name, words]): PartChange[] => (words(was) === words(now) ? [] : [{ part: "line", id, name, was: words(was), now: words(now), quantity: null }]));
}

// ---- facts of a set -------------------------------------------------------------------------------------------------

function factChanges(was: RequirementSet, now: RequirementSet): FactChange[] {
  const [before, after] = [was, now].map(({ type: _type, lines: _lines, design, ...own }) => new Map([...flat({ ...own }), ...flat(design ?? {})])) as [Map<string, string>, Map<string, string>];
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((name): FactChange[] => {
    const [a, b] = [before.get(name) ?? "not given", after.get(name) ?? "not given"];
    return a === b ? [] : [{ type: now.type, name, was: a, now: b }];
  });
}

/** A tree of facts as named values: "sheet, roll length" to "720 in". */
function flat(facts: object, path: readonly string[] = []): [string, string][] {
  return Object.entries(facts).flatMap(([key, value]: [string, unknown]): [string, string][] => {
    const here = [...path, key.replace(/In$/, "").replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)];
    if (value === null) return [];
    if (Array.isArray(value)) return [[here.join(", "), value.map((row) => Object.values(row as object).join(": ")).join(", ")]];
    if (typeof value !== "object") return [[here.join(", "), key.endsWith("In") ? `${String(value)} in` : String(value)]];
    const { value: number, unit } = value as { value?: string; unit?: string };
    return number !== undefined && unit !== undefined ? [[here.join(", "), `${number} ${unit}`]] : flat(value, here);
  });
}
