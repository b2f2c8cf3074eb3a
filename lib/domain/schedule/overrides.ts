import { Decimal } from "#lib/domain/quantity/decimal";
import type { Measured } from "#lib/domain/quantity/measured";
import { convert, fromSi } from "#lib/domain/quantity/unit";
import { overridable, overrideKey, overrideWith, type Overridable } from "#lib/domain/plan/override";
import type { Override } from "#lib/domain/plan/plan";
import { itemRule, type Rule } from "#lib/domain/requirement/rule";
import type { PlanLineSpec, Quantity, RequirementSet } from "#lib/domain/requirement/set";
import { columnOf, type Mapping } from "#lib/domain/schedule/mapping";
import { short, type Amounted } from "#lib/domain/schedule/read-value";
import type { RequirementChange, RowPile } from "#lib/domain/schedule/row";

export interface PileOverrides {
  overrides: Override[];
  /** What the row asks for and no requirement of the type can say, for a person to decide. */
  unmet: string[];
}

type Change = Pick<Override, "line" | "change">;
type JacketField = "heightIn" | "insideDiameterIn" | "bars";

/** What rules list for each bar of a jacket. */
const BARRED: ReadonlySet<string> = new Set(["bar", "hole"]);

/**
 * What a row of the schedule changes against the requirement set of its type: the jacket and every quantity that states the
 * jacket's own number, the size of the bars, and the requirements that have a column. A number that is the type's changes
 * nothing; neither does one in whole millimetres that the type's number in inches rounds to.
 *
 * @param drawing  the drawing or schedule that says so, 1 to 120 characters.
 */
export function overridesOf(pile: Pick<RowPile, "lengths" | "bars" | "requirements">, set: RequirementSet, drawing: string): PileOverrides {
  const found: { change: Change; words: string }[] = [];
  const unmet: string[] = [];
  const add = (changes: readonly Change[], words: string): void => changes.forEach((change) => found.push({ change, words }));

  const { "jacket height": height, "inside diameter": diameter } = pile.lengths;
  for (const [field, name, length] of [["heightIn", "jacket height", height], ["insideDiameterIn", "inside diameter", diameter]] as const) {
    if (!length || sameLength(length.measured, set.jacket[field])) continue;
    // A third of a foot has no end in decimals: past nine places nothing is meant.
    const value = fromSi(length.measured.si, "in").toDecimalPlaces(9).toFixed();
    add(jacketChanges(set, field, value), `The schedule has ${name} ${length.measured.text}${length.bare ? ` ${length.measured.unit}` : ""}; the type has ${set.jacket[field]} in.`);
  }
  const { bars } = pile;
  if (bars && bars.count !== set.jacket.bars) {
    add(jacketChanges(set, "bars", String(bars.count)), `The schedule has ${bars.count} bars; the type has ${set.jacket.bars}.`);
  }
  if (bars?.size) {
    const sized = barSizes(set);
    const wrong = sized.filter(({ size }) => size !== bars.size);
    add(wrong.map(({ change }) => change(bars.size ?? "")), `The schedule has ${bars.size} bars; the type has ${wrong[0]?.size ?? ""}.`);
    const designed = set.design?.bars?.size;
    if (sized.length === 0 && designed !== undefined && designed !== bars.size) unmet.push(`${bars.size} bars where the type has ${designed}, and no point of the type asks for the size.`);
  }
  for (const wanted of pile.requirements) {
    const change = requirementChange(wanted, set);
    if (typeof change === "string") unmet.push(change);
    else if (change) add([change], `The schedule has ${numbers(wanted)}.`);
  }

  const keys = found.map(({ change }) => overrideKey(change));
  const twice = keys.find((key, index) => keys.indexOf(key) < index);
  if (twice !== undefined) unmet.push(`Two columns change one requirement (${twice}).`);
  const overrides = found.filter((_, index) => keys.indexOf(keys[index] ?? "") === index).map(({ change, words }): Override => ({ ...change, drawing, words }));
  return { overrides, unmet };
}

/** `overridesOf`, worked out once for rows of one type that say the same: schedules repeat themselves. */
export function overridesOnce(): typeof overridesOf {
  const known = new Map<string, PileOverrides>();
  return (pile, set, drawing) => {
    const { "jacket height": height, "inside diameter": diameter } = pile.lengths;
    const lengths = [height, diameter].map((length) => length && [length.measured.text, length.measured.unit, length.bare]);
    const key = JSON.stringify([set.type, drawing, lengths, pile.bars, pile.requirements]);
    const found = known.get(key) ?? overridesOf(pile, set, drawing);
    known.set(key, found);
    return found;
  };
}

/** The keys of all overrides that the columns of a schedule speak of, so that a later schedule takes back only its own. */
export function keysSpokenOf(mapping: Mapping, set: RequirementSet): Set<string> {
  const fields: [JacketField, boolean][] = [
    ["heightIn", columnOf(mapping, "jacket height") !== null],
    ["insideDiameterIn", columnOf(mapping, "inside diameter") !== null],
    ["bars", columnOf(mapping, "bars") !== null],
  ];
  const jacket = fields.flatMap(([field, spoken]) => (spoken ? jacketChanges(set, field, String(set.jacket[field])) : []));
  const sizes = columnOf(mapping, "bars") === null ? [] : barSizes(set).map(({ size, change }) => change(size));
  const columns = mapping.columns.flatMap(({ requirement }) => (requirement ? [`${requirement.line} ${requirement.kind} ${requirement.id}`] : []));
  return new Set([...[...jacket, ...sizes].map(overrideKey), ...columns]);
}

/** A metric schedule writes whole millimetres for a jacket that the type has in inches. */
function sameLength({ unit, si, resolution }: Measured, typeIn: string): boolean {
  const apart = fromSi(si, "in").minus(typeIn).abs();
  if (apart.lte(new Decimal(typeIn).times("1e-9"))) return true;
  const rounded = ["mm", "cm", "m"].includes(unit) && new Decimal(resolution).lte("0.001");
  return rounded && apart.lte(fromSi(resolution, "in").div(2));
}

/** The changes that a jacket's own number makes: to the jacket, and to each quantity that states the number. */
function jacketChanges(set: RequirementSet, field: JacketField, value: string): Change[] {
  const quantities = statedIn(set)[field].flatMap(({ line, quantity, rule }): Change[] => {
    const now = withNumber(rule, value);
    return now ? [{ line, change: { kind: "quantity", quantity, rule: now } }] : [];
  });
  const line = quantities[0]?.line ?? set.lines[0]?.line ?? "1";
  return [{ line, change: { kind: "jacket", field, value } }, ...quantities];
}

function withNumber(rule: Rule, value: string): Rule | null {
  if (rule.form === "nominal") return { ...rule, nominal: value };
  if (rule.form === "count") return { ...rule, exactly: Number(value) };
  // No bars at all leave nothing to list, and a sample is part of what is listed.
  const least = rule.form === "each" ? (rule.sample?.n ?? 1) : 0;
  return rule.form === "each" && Number(value) >= least ? { ...rule, count: Number(value) } : null;
}

function barSizes(set: RequirementSet): { size: string; change: (size: string) => Change }[] {
  return statedIn(set).sizes.flatMap(({ line, quantity, rule }) =>
    rule.form === "exact" ? [{ size: rule.value, change: (value: string): Change => ({ line, change: { kind: "quantity", quantity, rule: { ...rule, value } } }) }] : [],
  );
}

interface Place {
  line: string;
  quantity: string;
  rule: Rule;
}
type Stated = Record<JacketField | "sizes", Place[]>;
const knownStated = new WeakMap<RequirementSet, Stated>();

/** Where a set states the numbers of its jacket; looked for once, since every row of a schedule asks. */
function statedIn(set: RequirementSet): Stated {
  const known = knownStated.get(set);
  if (known) return known;
  const { jacket } = set;
  const places = (states: (quantity: Quantity, line: PlanLineSpec) => boolean): Place[] =>
    set.lines.flatMap((line) => line.quantities.filter((quantity) => states(quantity, line)).map(({ id, rule }) => ({ line: line.line, quantity: id, rule })));
  const nominal = (id: string, inches: string) => (quantity: Quantity): boolean =>
    quantity.id === id && quantity.rule.form === "nominal" && quantity.rule.unit === "in" && new Decimal(quantity.rule.nominal).eq(inches);
  const listed = ({ rule }: Quantity): boolean => rule.form === "each" && BARRED.has(rule.of) && rule.count === jacket.bars;
  const stated: Stated = {
    heightIn: places(nominal("height", jacket.heightIn)),
    insideDiameterIn: places(nominal("diameter", jacket.insideDiameterIn)),
    // At points that look at each bar or hole, the lists of them and their count follow the jacket.
    bars: places((quantity, line) => listed(quantity) || (quantity.rule.form === "count" && quantity.rule.exactly === jacket.bars && line.quantities.some(listed))),
    sizes: places(({ id, rule }, line) => id === "size" && rule.form === "exact" && line.quantities.some((other) => other.rule.form === "each" && other.rule.of === "bar")),
  };
  knownStated.set(set, stated);
  return stated;
}

/** The change that a column of a requirement makes; null where it is the type's own; words where it cannot be made. */
function requirementChange(wanted: RequirementChange, set: RequirementSet): Change | null | string {
  const { line, kind, id } = wanted;
  const at = overridable(set.lines).find((one) => one.line === line && one.kind === kind && one.id === id);
  if (!at) return `${numbers(wanted)} for ${id} at point ${line}, which type ${set.type} does not have.`;
  if (at.two !== (wanted.second !== null)) return `${numbers(wanted)} for ${at.name} at point ${line}, which has ${at.two ? "two ends" : "one number"}.`;
  const change = overrideWith(at, inRule(wanted.first, at), wanted.second ? inRule(wanted.second, at) : "");
  if (typeof change === "string") return `${numbers(wanted)} for ${at.name} at point ${line}. ${change}`;
  return isTypes(change, at) ? null : { line, change };
}

function inRule({ number, unit }: Amounted, { rule }: Overridable): string {
  const item = rule && itemRule(rule);
  return short(unit && item && "unit" in item && item.unit ? convert(number, unit, item.unit).toFixed() : number);
}

function isTypes(change: Override["change"], { rule, hours }: Overridable): boolean {
  if (change.kind === "wait") return hours !== null && new Decimal(hours).eq(change.hours);
  return change.kind === "quantity" && rule !== null && sameNumbers(itemRule(change.rule), itemRule(rule));
}

/** Alike but for zeros at the end: "7.0" and "7". */
function sameNumbers(a: object, b: object): boolean {
  const plain = (_: string, value: unknown): unknown => (typeof value === "string" && /^-?\d+(?:\.\d+)?$/.test(value) ? new Decimal(value).toFixed() : value);
  return JSON.stringify(a, plain) === JSON.stringify(b, plain);
}

function numbers({ first, second }: RequirementChange): string {
  return [first, second].flatMap((one) => (one ? [`${one.number}${one.unit ? ` ${one.unit}` : ""}`] : [])).join(" to ");
}
