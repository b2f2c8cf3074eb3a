import { siteTime } from "#lib/domain/clock/site-time";
import { Decimal } from "#lib/domain/quantity/decimal";
import { differenceFromSi, fromSi } from "#lib/domain/quantity/unit";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { PointKind } from "#lib/domain/point/state";
import type { JudgedValue } from "#lib/domain/requirement/judge-point";
import { requirementWords } from "#lib/domain/requirement/words";
import type { Instrument } from "#lib/db/register";
import type { Standing } from "#lib/services/decide-point";
import { groupBy, valueName } from "#lib/services/exceptions";
import type { Sheet } from "#lib/services/sheet";
import { accuracyWords, dayWords } from "#lib/services/words";

/** Numbers of a drawing in one unit, as decimal text. */
export interface Drawn {
  value: string;
  uncertainty?: string;
  min?: string;
  max?: string;
  unit: string;
}

export interface DecisionValue {
  key: string;
  /** The point it belongs to, where values of several points stand in one table. */
  point: { line: string; kind: PointKind };
  name: string;
  /** Mark, class, accuracy and calibration of what it was read with; or what it was worked out from. */
  instrument: string;
  requirement: string;
  measured: string;
  margin: string;
  /** Null where it only had to be recorded. */
  verdict: ValueVerdict | null;
  mark: string | null;
  drawn: Drawn | null;
  /** The pile's own requirement, with its drawing and what it replaced. */
  override: { words: string; was: string } | null;
  /** Why it is missing, or was sent although it fails. */
  reason: string | null;
  /** What the attempt before measured, where it differs. */
  before: string | null;
}

/** More sound items of one quantity than this stand as one row with their range. */
const MOST_ROWS = 2;

/** The values of a submission for reading: sound items of one quantity together, everything else in a row of its own. */
export function decisionValues(standing: Standing, { instruments, project }: Pick<Sheet, "instruments" | "project">, before: readonly JudgedValue[] = []): DecisionValue[] {
  const day = siteTime(Date.parse(standing.submission.workEnded), project.zone).date;
  const rows = (values: readonly JudgedValue[]) => values.map((value) => valueRow(standing, value, sourceWords(value, instruments, day), before));
  return groupBy(standing.judged, ({ quantity }) => quantity.id).flatMap(([, items]) => {
    const sound = items.filter(isSound);
    if (sound.length <= MOST_ROWS) return rows(items);
    // The one nearest to a limit stands for all of them in the drawing.
    const nearest = [...sound].sort((a, b) => room(a).cmp(room(b))).slice(0, 1);
    return [...rows(items.filter((value) => !isSound(value))), ...rows(nearest).map((row) => rangeRow(row, sound))];
  });
}

function isSound({ verdict, mark, item }: JudgedValue): boolean {
  return item !== null && mark === null && (verdict === "meets" || verdict === null);
}

function valueRow(standing: Standing, value: JudgedValue, instrument: string, before: readonly JudgedValue[]): DecisionValue {
  const { quantity, item, requirement, measured, margin, verdict, mark } = value;
  const { line, submission } = standing;
  const earlier = before.find((one) => one.quantity.id === quantity.id && one.item === item);
  return {
    key: `${line.line}.${quantity.id}.${item ?? ""}`,
    point: { line: line.line, kind: line.kind },
    name: valueName(value),
    instrument,
    requirement,
    measured,
    margin: shortMargin(margin, verdict),
    verdict,
    mark,
    drawn: drawnOf(value),
    override: quantity.override && { words: `${quantity.override.words.replace(/\.$/, "")}, ${quantity.override.drawing}`, was: requirementWords(quantity.override.was) },
    reason: submission.reasons.find((one) => one.quantity === quantity.id && (one.item === item || one.item === null))?.words ?? null,
    before: earlier && earlier.measured !== measured ? `${earlier.measured || "not measured"}${earlier.verdict && earlier.verdict !== verdict ? `, ${earlier.verdict}` : ""}` : null,
  };
}

/** Beside requirement and measured value only the amount is new: "0.6 in short". Inside its limits a value has none. */
function shortMargin(margin: string, verdict: ValueVerdict | null): string {
  if (verdict === "cannot tell") return margin;
  return verdict === "fails" ? margin.slice(margin.lastIndexOf(": ") + 1).trim() : "";
}

/** Sound items as one row: their range in words beside the drawing of the one nearest to a limit. */
function rangeRow(row: DecisionValue, sound: readonly JudgedValue[]): DecisionValue {
  const { quantity } = sound[0]!;
  const of = quantity.rule.form === "each" ? quantity.rule.of : "item";
  return { ...row, key: `${row.key}+`, name: `${quantity.name}, ${sound.length} ${of}s`, measured: rangeWords(sound), before: null };
}

function rangeWords(sound: readonly JudgedValue[]): string {
  const numbers = sound.filter(({ entry }) => entry?.kind === "measured" || entry === null);
  const ordered = [...(numbers.length === sound.length ? sound : [])].sort((a, b) => siOf(a).cmp(siOf(b)));
  const [first, last] = [ordered[0]?.measured, ordered.at(-1)?.measured];
  if (first === undefined || last === undefined) return [...new Set(sound.map(({ measured }) => measured))].join(", ");
  return first === last ? first : `${first} … ${last}`;
}

function siOf({ entry, drawn }: JudgedValue): Decimal {
  return new Decimal(entry?.kind === "measured" ? entry.measured.si : (drawn?.valueSi ?? 0));
}

/** How far a value lies inside its limits; a value without a number counts as far inside. */
function room({ drawn }: JudgedValue): Decimal {
  if (!drawn) return new Decimal(Number.MAX_SAFE_INTEGER);
  const value = new Decimal(drawn.valueSi);
  const { min, max } = drawn.limits;
  return Decimal.min(...[min && value.minus(min.si), max && max.si.minus(value)].filter((one) => one !== undefined), Number.MAX_SAFE_INTEGER);
}

export function drawnOf({ drawn }: Pick<JudgedValue, "drawn">): Drawn | null {
  if (!drawn) return null;
  const { unit, min, max } = drawn.limits;
  const shown = (si: Decimal): string => si.toDecimalPlaces(4).toFixed();
  const uncertainty = differenceFromSi(drawn.uncertaintySi, unit).toDecimalPlaces(4);
  return {
    value: shown(fromSi(drawn.valueSi, unit)),
    ...(uncertainty.isZero() ? {} : { uncertainty: uncertainty.toFixed() }),
    ...(min ? { min: shown(fromSi(min.si, unit)) } : {}),
    ...(max ? { max: shown(fromSi(max.si, unit)) } : {}),
    unit: unit === "1" ? "" : unit,
  };
}

function sourceWords({ quantity, entry, instrument }: JudgedValue, instruments: readonly Instrument[], day: string): string {
  if (quantity.derived) return "worked out";
  const known = instruments.find(({ id }) => id === instrument?.id);
  if (!known) return entry?.kind === "count" ? "counted" : "";
  const good = known.calibrations.findLast(({ from }) => from <= day);
  const calibration = good ? `calibrated to ${dayWords(good.dueOn)}` : "no calibration on the day";
  return [known.mark, known.class, accuracyWords(known), calibration].filter(Boolean).join(", ");
}
