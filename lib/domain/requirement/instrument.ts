import { Decimal } from "#lib/domain/quantity/decimal";
import type { Measured } from "#lib/domain/quantity/measured";
import { differenceToSi, toSi, type Unit } from "#lib/domain/quantity/unit";

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
export type InstrumentMark = "instrument overdue" | "outside instrument range" | "instrument not named";

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
export function instrumentMark(measured: Measured | null, instrument: InstrumentFacts | null, day: string): InstrumentMark | null {
  if (!instrument) return "instrument not named";
  const inDate = instrument.calibrations.some(({ from, dueOn }) => from <= day && day <= dueOn);
  if (!inDate) return "instrument overdue";
  if (!measured || !instrument.unit) return null;
  const below = instrument.rangeMin !== null && new Decimal(measured.si).lt(toSi(instrument.rangeMin, instrument.unit));
  const above = instrument.rangeMax !== null && new Decimal(measured.si).gt(toSi(instrument.rangeMax, instrument.unit));
  return below || above ? "outside instrument range" : null;
}
