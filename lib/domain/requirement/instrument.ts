import { Decimal } from "#lib/domain/quantity/decimal";
import type { Measured } from "#lib/domain/quantity/measured";
import { differenceToSi, dimensionOf, toSi, type Unit } from "#lib/domain/quantity/unit";
import { limitsOf } from "#lib/domain/requirement/limits";
import { itemRule, type Rule } from "#lib/domain/requirement/rule";
import type { Quantity } from "#lib/domain/requirement/set";

/** What the register says about an instrument, as far as judging a value needs it. */
export interface InstrumentFacts {
  id: string;
  mark: string;
  class: string;
  unit: Unit | null;
  rangeMin: string | null;
  rangeMax: string | null;
  accuracy: { kind: "per cent" | "absolute"; value: string } | null;
  /** Calibrations, each good from the day it was made to the day it is due, both as days of the site's zone. */
  calibrations: readonly { from: string; dueOn: string }[];
}

/** A second mark beside the verdict; it never takes the verdict's place. */
export type InstrumentMark =
  | "instrument overdue" | "outside instrument range" | "instrument not named" | "instrument not accurate enough" | "instrument accuracy not known";

/** What a quantity asks of the instrument that it is read with. */
export type AskedOfInstrument = Pick<Quantity, "rule" | "accuracy">;

/**
 * Expanded uncertainty in SI of a value read with an instrument: its stated accuracy, as a share of the value or as an
 * amount in its own unit. Zero where none is stated.
 */
export function uncertaintySi(measured: Measured, instrument: InstrumentFacts | null): Decimal {
  const accuracy = instrument?.accuracy;
  if (!accuracy) return new Decimal(0);
  if (accuracy.kind === "per cent") return new Decimal(measured.si).abs().times(accuracy.value).div(100);
  return differenceToSi(accuracy.value, instrument.unit ?? measured.unit).abs();
}

/**
 * What is to be said about the instrument that a value was read with.
 *
 * @param day day of use in the site's zone, YYYY-MM-DD.
 */
export function instrumentMark(measured: Measured | null, instrument: InstrumentFacts | null, day: string, asked: AskedOfInstrument | null = null): InstrumentMark | null {
  if (!instrument) return "instrument not named";
  const inDate = instrument.calibrations.some(({ from, dueOn }) => from <= day && day <= dueOn);
  if (!inDate) return "instrument overdue";
  if (measured && instrument.unit) {
    const below = instrument.rangeMin !== null && new Decimal(measured.si).lt(toSi(instrument.rangeMin, instrument.unit));
    const above = instrument.rangeMax !== null && new Decimal(measured.si).gt(toSi(instrument.rangeMax, instrument.unit));
    if (below || above) return "outside instrument range";
  }
  return asked?.accuracy ? accuracyMark(measured, instrument, { rule: asked.rule, accuracy: asked.accuracy }) : null;
}

/** Two accuracies of one kind are compared as they are; a share with an amount only at a measured value. */
function accuracyMark(measured: Measured | null, instrument: InstrumentFacts, { rule, accuracy: required }: AskedOfInstrument & { accuracy: NonNullable<Quantity["accuracy"]> }): InstrumentMark | null {
  const stated = instrument.accuracy;
  if (!stated) return "instrument accuracy not known";
  const unit = unitOfRule(rule) ?? measured?.unit ?? null;
  const own = instrument.unit ?? unit;
  const si = (amount: string, of: Unit | null): Decimal | null => (of && (!unit || sameKind(of, unit)) ? differenceToSi(amount, of).abs() : null);
  const share = (perCent: string): Decimal | null => measured && new Decimal(measured.si).abs().times(perCent).div(100);
  const [has, asks] =
    stated.kind === "per cent" && required.kind === "per cent" ? [new Decimal(stated.value).abs(), new Decimal(required.value)]
    : [stated.kind === "absolute" ? si(stated.value, own) : share(stated.value), required.kind === "absolute" ? si(required.value, unit) : share(required.value)];
  if (!has || !asks) return measured ? "instrument accuracy not known" : null;
  return has.gt(asks) && !isSame(has, asks) ? "instrument not accurate enough" : null;
}

/** A thermometer in °F may serve a rule on a difference in kelvin. */
function sameKind(a: Unit, b: Unit): boolean {
  const kind = (unit: Unit): string => dimensionOf(unit).replace(" difference", "");
  return kind(a) === kind(b);
}

function isSame(a: Decimal, b: Decimal): boolean {
  return a.minus(b).abs().lte(Decimal.max(a, b).times("1e-9"));
}

/** The unit that a rule's numbers are written in; null where it has none. */
export function unitOfRule(rule: Rule): Unit | null {
  const item = itemRule(rule);
  const single = item.form === "all of" || item.form === "any of" ? item.rules[0] : item;
  if (!single) return null;
  return single.form === "recorded" ? single.unit : (limitsOf(single)?.unit ?? null);
}

/** "± 4 %", "± 0.2 mil": a required accuracy as it is shown. */
export function accuracyWords({ rule, accuracy }: AskedOfInstrument): string {
  if (!accuracy) return "";
  return `± ${accuracy.value} ${accuracy.kind === "per cent" ? "%" : (unitOfRule(rule) ?? "in the unit of the rule")}`;
}

/** What would have been right where an instrument has a mark; undefined where the question itself says it. */
export function markLimit(mark: InstrumentMark, asked: AskedOfInstrument): string | undefined {
  return mark === "instrument not accurate enough" || mark === "instrument accuracy not known" ? `accurate to ${accuracyWords(asked)} or better` : undefined;
}
