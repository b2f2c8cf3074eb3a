import type { ImpactFinding } from "#lib/domain/plan/compose";
import { overridesAt } from "#lib/domain/plan/plan";
import { Decimal } from "#lib/domain/quantity/decimal";
import { dimensionOf, fromSi, type Unit } from "#lib/domain/quantity/unit";
import type { Change, LineDifference } from "#lib/domain/requirement/difference";
import { findingOfValue } from "#lib/domain/requirement/impact";
import { severity } from "#lib/domain/requirement/judge";
import type { JudgedValue } from "#lib/domain/requirement/judge-point";
import { limitsOf } from "#lib/domain/requirement/limits";
import { itemRule } from "#lib/domain/requirement/rule";
import type { Quantity } from "#lib/domain/requirement/set";
import type { ApprovedRevision } from "#lib/db/project";
import { ANSWER_LABELS, answerOptions, markOf, sheetWords, type AnswerOption, type ChangeContext, type OpenPoint } from "#lib/services/change-answer";
import { drawnOf } from "#lib/services/decision-values";
import { valueName } from "#lib/services/exceptions";
import type { RevisionImpact, SignedUnder } from "#lib/services/revision-impact";
import type { Sheet } from "#lib/services/sheet";

/** Points at changed lines: signed ones by how they stand under the later revision, and those without a value. */
export interface Counts {
  wouldFail: number;
  needsValue: number;
  stillMeets: number;
  /** Null where the record does not say. */
  noValue: number | null;
}

/** The limits of a rule in one unit, as decimal text; null where it has none on that side. */
export interface Limits {
  min: string | null;
  max: string | null;
}

/** One value under its old and its new limit. */
export interface RowView {
  key: string;
  mark: string;
  /** The point at which the pile is now. */
  standsAt: string;
  /** In the unit of the figure; null where there is none. */
  value: string | null;
  /** The value in words, or why there is none. */
  shown: string;
  finding: ImpactFinding;
  /** What is short or over, or what is missing. */
  amount: string;
  /** What a retroactive answer would do to it. */
  retroactive: string;
}

/** A limit that moves, with every signed value on one axis. Without an axis only words are compared. */
export interface FigureView {
  key: string;
  title: string;
  axis: { unit: string; was: Limits; now: Limits } | null;
  rows: RowView[];
}

export interface ChangeView {
  number: number;
  title: string;
  /** The point and the types. */
  place: string;
  /** What follows from the same design, each in words. */
  follows: string[];
  parts: { line: string; name: string; was: string; now: string }[];
  figures: FigureView[];
  /** Piles without a value, in words; empty where there are none. */
  none: string;
  /** Piles whose own drawing stands in place of it, in words. */
  own: string[];
  /** The lines that one answer covers, as a form sends them: "T:12 T:15", the project sheet as ":P1". */
  covers: string;
  counts: Counts;
  options: AnswerOption[];
  /** What was answered, where it was; null before. */
  answer: string | null;
}

/** One change of a draft, with what approving it would do. */
export function changeView(change: Change, context: ChangeContext): ChangeView {
  const signed = signedOf(change, context);
  const open = openOf(change, context);
  return {
    ...described(change, context),
    figures: figuresOf(change, signed, context),
    none: open.length === 0 ? "" : `No value yet: ${sheetWords([...new Set(open.map(({ sheet }) => sheet))], context)}.`,
    own: ownOf(change, context),
    counts: { ...countsOf(signed.map(({ impact }) => impact.finding)), noValue: open.length },
    options: answerOptions(change, signed, open, context),
    answer: null,
  };
}

/** One change of an approved revision, with what was answered and how many signed points stood how; or of two that are only compared. */
export function recordedView(change: Change, context: ChangeContext, recorded: ApprovedRevision | null): ChangeView {
  const answers = recorded?.terms.answers.filter((answer) => change.lines.some(({ type, line }) => type === answer.type && line === answer.line)) ?? [];
  const touched = recorded?.terms.impact.filter(({ sheet, line }) => covers(change, context, sheet, line)) ?? [];
  const rows = touched.map(({ sheet, line, finding, applies }): RowView => {
    const own = context.impact.sheets.find(({ id }) => id === sheet);
    return {
      key: `${sheet} ${line}`, mark: markOf(own), standsAt: standsAt(own), value: null, shown: `point ${line}`, finding, amount: "",
      retroactive: applies === "retroactive" && finding !== "still meets" ? "was put in doubt" : "was left as signed",
    };
  });
  const figures = rows.length > 0 ? [{ key: "recorded", title: "As it was shown when it was approved", axis: null, rows: sorted(rows.map((row) => ({ row, slack: null }))) }] : [];
  return { ...described(change, context), figures: [...axesOf(change), ...figures], none: "", own: [], counts: { ...countsOf(touched.map(({ finding }) => finding)), noValue: null }, options: [], answer: answers[0] ? ANSWER_LABELS[answers[0].applies] : null };
}

function covers({ lines }: Change, { impact }: ChangeContext, sheet: string, line: string): boolean {
  const type = impact.sheets.find(({ id }) => id === sheet)?.pile?.type ?? null;
  return lines.some((one) => one.type === type && one.line === line);
}

// ---- what changes ---------------------------------------------------------------------------------------------------

function described(change: Change, { names, impact }: ChangeContext): Pick<ChangeView, "number" | "title" | "place" | "follows" | "parts" | "covers"> {
  const { number, lead, lines, followers, from } = change;
  const own = lines.filter(({ type }) => type === lead.type);
  const [first, ...others] = lead.parts;
  return {
    number,
    title: `${others.length === 0 && first ? first.name : lead.name}${lead.was === null ? ", new point" : lead.now === null ? ", point removed" : ""}`,
    place: `${lead.line} ${lead.name}, ${typeWords(change, names, impact)}`,
    follows: [
      ...followers.flatMap(({ line, parts }) => parts.map(({ name, was, now }) => `${line} ${name.toLowerCase()} follows: ${movedWords(was ?? "not asked for", now ?? "not asked for")}`)),
      // The drawing's overlap is the limit itself: it is not said twice.
      ...from.filter((fact) => !lead.parts.some(({ was, now }) => was?.endsWith(fact.was) && now?.endsWith(fact.now))).map(({ name, was, now }) => `by the drawing, ${name}: ${movedWords(was, now)}`),
    ],
    parts: own.flatMap(({ line, parts }) => parts.map(({ name, was, now }) => ({ line, name, was: was ?? "not asked for", now: now ?? "not asked for" }))),
    covers: lines.map(({ type, line }) => `${type ?? ""}:${line}`).join(" "),
  };
}

/** "≥ 128.45 in" and "≥ 129.45 in" as "128.45 to 129.45 in". */
function movedWords(was: string, now: string): string {
  const [, sign, unit] = /^([≥≤>] )?.*?( [^\d ]+)?$/.exec(was) ?? [];
  const same = sign && unit && now.startsWith(sign) && now.endsWith(unit);
  return same ? `${was.slice(sign.length, -unit.length)} to ${now.slice(sign.length)}` : `${was} to ${now}`;
}

function typeWords({ types }: Change, names: ReadonlyMap<string, string>, { sheets }: RevisionImpact): string {
  if (types.includes(null)) return "project sheet";
  const used = new Set(sheets.flatMap(({ pile }) => pile?.type ?? []));
  if (types.length > 1 && [...used].every((type) => types.includes(type))) return "all types";
  return types.map((type) => names.get(type ?? "") ?? type ?? "").join(", ");
}

// ---- whom it concerns -----------------------------------------------------------------------------------------------

function signedOf({ lines }: Change, { impact }: ChangeContext): SignedUnder[] {
  return impact.signed.filter((one) => lines.some(({ type, line }) => type === one.type && line === one.line));
}

/** Points at changed lines where nothing stands signed: those of piles in work, and of piles that have not started. */
function openOf({ lines }: Change, { impact }: ChangeContext): OpenPoint[] {
  return impact.sheets.flatMap((sheet) => lines.filter(({ type }) => type === (sheet.pile?.type ?? null)).flatMap((changed): OpenPoint[] => {
    const planned = sheet.lines.find(({ line }) => line === changed.line);
    const signed = Boolean(sheet.folded.get(changed.line)?.standing.trail);
    const asked = planned ? !planned.notApplicable : changed.now !== null && !changed.now.notApplicable;
    return asked && !signed ? [{ sheet, line: changed.line }] : [];
  }));
}

/** Piles whose own requirement stands in place of what changes. */
function ownOf({ lines }: Change, { impact }: ChangeContext): string[] {
  return impact.sheets.flatMap((sheet) => overridesAt(sheet.pile?.overrides ?? [], null).flatMap(({ line, change, drawing, words }) => {
    const parts = lines.find((one) => one.type === sheet.pile?.type && one.line === line)?.parts ?? [];
    const touched = parts.some(({ part, id }) => (change.kind === "quantity" && part === "quantity" && id === change.quantity) || (change.kind === "wait" && part === "wait" && id.endsWith(` ${change.from}`)));
    return touched ? [`${markOf(sheet)} keeps its own: ${words.replace(/\.$/, "")} (${drawing})`] : [];
  }));
}

function standsAt(sheet: Sheet | undefined): string {
  if (!sheet) return "";
  const next = sheet.lines.find(({ line, notApplicable }) => !notApplicable && sheet.folded.get(line)?.state !== "released");
  return next ? `${next.line} ${next.name}` : (sheet.pile?.state ?? "released");
}

function countsOf(findings: readonly ImpactFinding[]): Omit<Counts, "noValue"> {
  const count = (finding: ImpactFinding): number => findings.filter((one) => one === finding).length;
  return { wouldFail: count("would fail"), needsValue: count("needs a value"), stillMeets: count("still meets") };
}

// ---- the figures ----------------------------------------------------------------------------------------------------

function figuresOf(change: Change, signed: readonly SignedUnder[], context: ChangeContext): FigureView[] {
  const values = distinctLines(change).flatMap(({ line, name, parts }) => parts.flatMap((part): FigureView[] => {
    if (!part.quantity) return [];
    const axis = axisOf(part.quantity.was, part.quantity.now);
    const rows = signed.filter((one) => one.line === line).flatMap((one) => {
      const worst = worstValue(one.impact.values.filter(({ quantity }) => quantity.id === part.id));
      return worst ? [{ row: valueRow(one, worst, context), slack: slackOf(worst) }] : [];
    });
    return rows.length > 0 || axis ? [{ key: `${line} ${part.id}`, title: `${line} ${name}: ${part.name}`, axis, rows: sorted(rows) }] : [];
  }));
  const said = signed.filter(({ impact }) => impact.words.length > 0).map((one) => ({ row: { ...pointRow(one, context), key: `${one.sheet} ${one.line}`, value: null, shown: `point ${one.line}`, finding: one.impact.finding, amount: one.impact.words.join("; ") }, slack: null }));
  return [...values, ...(said.length > 0 ? [{ key: "said", title: "Waits, photos and papers", axis: null, rows: sorted(said) }] : [])];
}

/** The limits that move, without values. */
function axesOf(change: Change): FigureView[] {
  return distinctLines(change).flatMap(({ line, name, parts }) => parts.flatMap((part) => {
    const axis = part.quantity && axisOf(part.quantity.was, part.quantity.now);
    return axis ? [{ key: `${line} ${part.id}`, title: `${line} ${name}: ${part.name}`, axis, rows: [] }] : [];
  }));
}

/** One of each line: the same change on another type has the same limits. */
function distinctLines({ lines, lead }: Change): LineDifference[] {
  return lines.filter(({ type }) => type === lead.type);
}

function axisOf(was: Quantity | null, now: Quantity | null): FigureView["axis"] {
  const [before, after] = [was, now].map((one) => one && limitsOf(itemRule(one.rule)));
  const unit = after?.unit ?? before?.unit;
  if (!unit || (before && after && dimensionOf(before.unit) !== dimensionOf(after.unit))) return null;
  const side = (limits: typeof before): Limits => ({ min: limits?.min ? text(limits.min.si, unit) : null, max: limits?.max ? text(limits.max.si, unit) : null });
  return { unit: unit === "1" ? "" : unit, was: side(before), now: side(after) };
}

function text(si: Decimal, unit: Unit): string {
  return fromSi(si, unit).toSignificantDigits(6).toFixed();
}

/** Of bars, bolts and rings the one that stands worst, and of those the one nearest to its limit. */
function worstValue(values: readonly JudgedValue[]): JudgedValue | null {
  return [...values].sort((a, b) => severity(b.verdict) - severity(a.verdict) || (slackOf(a) ?? 0) - (slackOf(b) ?? 0))[0] ?? null;
}

/** Distance to the nearer limit in the unit of the limits, negative outside; null for a value without a number. */
function slackOf({ drawn }: JudgedValue): number | null {
  if (!drawn) return null;
  const { min, max } = drawn.limits;
  const room = [min && new Decimal(drawn.valueSi).minus(min.si), max && max.si.minus(drawn.valueSi)].filter((one) => one !== undefined);
  return room.length > 0 ? Decimal.min(...room).toNumber() : null;
}

function valueRow(one: SignedUnder, value: JudgedValue, context: ChangeContext): RowView {
  const drawn = drawnOf(value);
  const item = value.item === null ? "" : `${valueName(value)}: `;
  const fails = value.verdict === "fails";
  return {
    ...pointRow(one, context), key: `${one.sheet} ${one.line} ${value.quantity.id}`,
    value: drawn?.value ?? null,
    shown: value.measured === "" ? "not measured" : `${item}${value.measured}`,
    finding: findingOfValue(value),
    amount: fails ? value.margin.slice(value.margin.lastIndexOf(": ") + 1).trim() : value.measured === "" ? value.margin || "never taken" : value.verdict === "cannot tell" ? value.margin : "",
  };
}

function pointRow(one: SignedUnder, { impact }: ChangeContext): Pick<RowView, "mark" | "standsAt" | "retroactive"> {
  const sheet = impact.sheets.find(({ id }) => id === one.sheet);
  const points = sheet ? lineWords([one.line, ...one.downstream], sheet) : one.line;
  return { mark: markOf(sheet), standsAt: standsAt(sheet), retroactive: one.impact.finding === "still meets" ? "no change" : `in doubt: ${points}` };
}

/** Points in the order of the plan, neighbours taken together: "17 to 21, 23". */
function lineWords(wanted: readonly string[], { lines }: Sheet): string {
  const order = lines.filter(({ notApplicable }) => !notApplicable).map(({ line }) => line);
  const elsewhere = wanted.filter((line) => !order.includes(line));
  const runs: string[][] = [];
  for (const [index, line] of order.entries()) {
    if (!wanted.includes(line)) continue;
    const last = runs.at(-1);
    if (last && last.at(-1) === order[index - 1]) last.push(line);
    else runs.push([line]);
  }
  const words = runs.map((run) => (run.length > 2 ? `${run[0] ?? ""} to ${run.at(-1) ?? ""}` : run.join(", ")));
  return [...words, ...(elsewhere.length > 0 ? [`${elsewhere.length} points on piles`] : [])].join(", ");
}

const RANK: Record<ImpactFinding, number> = { "would fail": 0, "needs a value": 1, "still meets": 2 };

function sorted(rows: readonly { row: RowView; slack: number | null }[]): RowView[] {
  return [...rows].sort((a, b) => RANK[a.row.finding] - RANK[b.row.finding] || (a.slack ?? 0) - (b.slack ?? 0) || a.row.mark.localeCompare(b.row.mark, "en")).map(({ row }) => row);
}
