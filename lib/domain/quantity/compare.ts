import { Decimal, finite, type DecimalValue } from "#lib/domain/quantity/decimal";
import { shownNumber, withUnit, type Measured } from "#lib/domain/quantity/measured";
import { dimensionOf, fromSi, toSi, unitsOf, type Unit } from "#lib/domain/quantity/unit";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";

/** A limit in SI. `inclusive`: a value exactly at the limit meets it. */
export interface Limit {
  si: Decimal;
  inclusive: boolean;
}
export interface Limits {
  min?: Limit | undefined;
  max?: Limit | undefined;
}
export interface Judgement {
  verdict: Extract<ValueVerdict, "meets" | "meets, inside uncertainty" | "fails">;
  /** How far the value lies beyond a limit, unrounded, in SI; zero when it stands on a limit that it has to pass. */
  beyond: { side: "below" | "above"; si: Decimal } | null;
  /** Distance from the value to the nearer limit, in SI: negative outside. */
  slack: Decimal;
}

/**
 * Two values closer than this share of the larger one are the same value: it absorbs what conversion between units
 * leaves behind and nothing that an instrument could show. Common practice, no source.
 */
const SAME = new Decimal("1e-9");

/**
 * Judges a value against a lower limit, an upper limit or both, unrounded, in SI.
 *
 * It *meets* only when the value less its uncertainty and the value plus its uncertainty are both within the limits; between
 * that and the limits it *meets, inside uncertainty*; outside a limit it *fails*, however small the excess.
 * @param uncertaintySi  Expanded uncertainty of the instrument, SI, zero or more; zero when it is not known.
 * @throws RangeError for a number that is not finite, a negative uncertainty, or no limit at all.
 * @source JCGM 106:2012, guarded acceptance (from memory).
 */
export function judge({ valueSi, uncertaintySi, min, max }: { valueSi: DecimalValue; uncertaintySi: DecimalValue } & Limits): Judgement {
  const value = finite(valueSi);
  const uncertainty = finite(uncertaintySi);
  if (uncertainty.isNegative() && !uncertainty.isZero()) throw new RangeError("An uncertainty cannot be negative.");
  const room = [min && value.minus(finite(min.si)), max && finite(max.si).minus(value)].filter((distance) => distance !== undefined);
  const [first, second = first] = room;
  if (first === undefined || second === undefined) throw new RangeError("A value can be judged only against a limit.");
  const slack = Decimal.min(first, second);

  if (min && !reaches(value, min)) return { verdict: "fails", beyond: { side: "below", si: positive(finite(min.si).minus(value)) }, slack };
  if (max && !staysUnder(value, max)) return { verdict: "fails", beyond: { side: "above", si: positive(value.minus(max.si)) }, slack };
  const guarded = (!min || reaches(value.minus(uncertainty), min)) && (!max || staysUnder(value.plus(uncertainty), max));
  return { verdict: guarded ? "meets" : "meets, inside uncertainty", beyond: null, slack };
}

function reaches(value: Decimal, { si, inclusive }: Limit): boolean {
  return same(value, si) ? inclusive : value.gt(si);
}

function staysUnder(value: Decimal, { si, inclusive }: Limit): boolean {
  return same(value, si) ? inclusive : value.lt(si);
}

function same(a: Decimal, b: Decimal): boolean {
  return a.minus(b).abs().lte(Decimal.max(a.abs(), b.abs()).times(SAME));
}

function positive(number: Decimal): Decimal {
  return Decimal.max(number, 0);
}

/** More decimals than these say nothing on a screen, unless a value and its limit would look alike without them. */
const SHOWN_PLACES = 3;
const MOST_PLACES = 15;

/**
 * A value against its limits in a few words, the number first, in the unit of the entry:
 * "6.4 in, needs at least 7.0 in: 0.6 in short", "70 ft·lbf lies in 65 to 72 ft·lbf".
 *
 * Takes as many decimals as it needs so that a value beyond a limit never looks as if it stood on it.
 * @throws RangeError as `judge` does.
 */
export function marginWords({ valueSi, min, max, unit }: { valueSi: DecimalValue; unit: Unit } & Limits): string {
  const { beyond } = judge({ valueSi, uncertaintySi: 0, min, max });
  const value = fromSi(valueSi, unit);
  const limits = [min, max].flatMap((limit) => (limit ? [fromSi(limit.si, unit)] : []));
  const places = placesApart(value, limits);
  const valuePlaces = Math.min(places, value.decimalPlaces());
  const limitPlaces = Math.min(places, Math.max(Math.min(1, valuePlaces), ...limits.map((limit) => limit.decimalPlaces())));
  const showLimit = (limit: Limit) => shownNumber(fromSi(limit.si, unit), limitPlaces);
  const shown = withUnit(shownNumber(value, valuePlaces), unit);
  const apart = (limit: Limit) => withUnit(shownNumber(value.minus(fromSi(limit.si, unit)).abs(), Math.max(valuePlaces, limitPlaces)), unit);

  const exact = min && max && same(finite(min.si), finite(max.si));
  const range = min && max && !exact ? withUnit(`${showLimit(min)} to ${showLimit(max)}`, unit) : null;
  if (!beyond && range) return `${shown} lies in ${range}`;

  const needs = range ?? (min ? withUnit(`${exact ? "" : min.inclusive ? "at least " : "more than "}${showLimit(min)}`, unit)
    : max ? withUnit(`${max.inclusive ? "at most " : "less than "}${showLimit(max)}`, unit) : "");
  const start = `${shown}, needs ${needs}`;
  if (!beyond) {
    const nearer = min ?? max;
    return exact || !nearer || same(finite(valueSi), nearer.si) ? start : `${start}: ${apart(nearer)} to spare`;
  }
  const passed = beyond.side === "below" ? min : max;
  if (!passed || same(finite(valueSi), passed.si)) return `${start}: exactly at the limit`;
  return `${start}: ${apart(passed)} ${beyond.side === "below" ? "short" : "over"}`;
}

/** The fewest decimals that show value and limits as they are, or, past three, that still tell them apart. */
function placesApart(value: Decimal, limits: readonly Decimal[]): number {
  const wanted = Math.min(SHOWN_PLACES, Math.max(...[value, ...limits].map((number) => number.decimalPlaces())));
  const looksAlike = (places: number) =>
    limits.some((limit) => !same(value, limit)
      && (value.toDecimalPlaces(places).eq(limit.toDecimalPlaces(places)) || value.minus(limit).toDecimalPlaces(places).isZero()));
  let places = wanted;
  while (places < MOST_PLACES && looksAlike(places)) places += 1;
  return places;
}

/** A reading taken in another unit may itself be a little out: this share of the range counts as fitting on either side. */
const FIT_OF_RANGE = new Decimal("0.1");
/** Against one limit only, a value that is this many times beyond it looks like a slip of unit rather than of work. */
const FAR_BEYOND = 2;

/**
 * The unit that a failing entry may have been meant in, for the question "did you mean N·m?". Never converts anything.
 *
 * With two limits: the entry fails, and the same number in another unit of the dimension lies in the range widened by a
 * tenth of its width on either side (88 read as N·m is 64.905 ft·lbf, which just misses 65 to 72 and is still what was
 * meant). With one limit: the number is beyond it by more than a factor of two, and would meet it in the other unit.
 * Of several units, the one that lands nearest to the middle of the range, or to the limit.
 * @returns null when the entry meets, or no unit fits.
 */
export function otherUnitThatFits({ number, unit }: Pick<Measured, "number" | "unit">, min?: Limit, max?: Limit): Unit | null {
  if (!min && !max) return null;
  const valueSi = toSi(number, unit);
  if (judge({ valueSi, uncertaintySi: 0, min, max }).verdict !== "fails") return null;
  if (!(min && max) && !farBeyond(new Decimal(number), unit, min, max)) return null;

  const width = min && max ? max.si.minus(min.si) : new Decimal(0);
  const lowest = min && { ...min, si: min.si.minus(width.times(FIT_OF_RANGE)) };
  const highest = max && { ...max, si: max.si.plus(width.times(FIT_OF_RANGE)) };
  const aim = min && max ? min.si.plus(max.si).div(2) : ((min ?? max)?.si ?? width);
  const fits = unitsOf(dimensionOf(unit))
    .map((other) => ({ other, si: toSi(number, other) }))
    .filter(({ other, si }) => other !== unit && judge({ valueSi: si, uncertaintySi: 0, min: lowest, max: highest }).verdict !== "fails")
    .sort((a, b) => a.si.minus(aim).abs().cmp(b.si.minus(aim).abs()));
  return fits[0]?.other ?? null;
}

/** Read on the entry's own scale, so that 60 °C stands far beyond 25 °C although it is not twice as hot in kelvin. */
function farBeyond(number: Decimal, unit: Unit, min?: Limit, max?: Limit): boolean {
  if (min) return number.times(FAR_BEYOND).lt(fromSi(min.si, unit));
  return max !== undefined && number.gt(fromSi(max.si, unit).times(FAR_BEYOND));
}
