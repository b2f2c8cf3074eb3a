import { formatMeasured, formatSi } from "#lib/domain/quantity/measured";
import { toSi, type Unit } from "#lib/domain/quantity/unit";
import type { RequirementSet } from "#lib/domain/requirement/set";
import { columnLetter } from "#lib/domain/schedule/grid";
import { LENGTH_FIELDS, LENGTH_UNITS, type LengthField } from "#lib/domain/schedule/field";
import { capital, keep, leaveOut, rowWords, STOP, type ProposedAnswer, type Question } from "#lib/domain/schedule/question";
import type { ReadRow, RowLength } from "#lib/domain/schedule/row";

/** A column says what is usual only with so many values. Common practice, no source. */
const ENOUGH = 5;
/** So many times over or under what is usual, a length is more likely another unit than another jacket. Common practice, no source. */
const FAR_TIMES = 4;
/** A length read in another unit has to come so near to what is usual to be proposed. */
const NEAR_TIMES = 1.5;
const UNIT_NAMES: Partial<Record<Unit, string>> = { in: "inches", ft: "feet", mm: "millimetres", cm: "centimetres", m: "metres" };
const UNITS: readonly Unit[] = LENGTH_UNITS.filter((unit) => unit !== "ft-in");

interface Value {
  row: number;
  length: RowLength;
  si: number;
  /** What the requirement set of the pile's type has, SI; null where it says nothing. */
  typeSi: number | null;
}
/** What is usual, SI: from low to high with a middle, and the least and most of what is not far from it. */
interface Band {
  low: number;
  middle: number;
  high: number;
  least: number;
  most: number;
}

/**
 * Asks about lengths that stand far from the rest of their column, and about a column that as a whole stands far from the
 * requirement sets: likely slips of unit. Rows that repeat a value by a ditto mark or merged cell are one question.
 */
export function doubtfulLengths(rows: readonly ReadRow[], sets: readonly RequirementSet[]): Question[] {
  return LENGTH_FIELDS.flatMap((field) => {
    const values = rows.flatMap(({ number, pile }): Value[] => {
      const length = pile?.lengths[field];
      return pile && length ? [{ row: number, length, si: Number(length.measured.si), typeSi: typeLength(field, sets.find(({ type }) => type === pile.type)) }] : [];
    });
    const column = doubtfulColumn(field, values);
    return [...column, ...doubtfulValues(field, values, column.length > 0)];
  });
}

function typeLength(field: LengthField, set: RequirementSet | undefined): number | null {
  if (!set || isElevation(field)) return null;
  return toSi(field === "jacket height" ? set.jacket.heightIn : set.jacket.insideDiameterIn, "in").toNumber();
}

function isElevation(field: LengthField): boolean {
  return field === "top elevation" || field === "bottom elevation";
}

/** A value is held against its column, and against its type too, unless the column as a whole is in doubt already. */
function doubtfulValues(field: LengthField, values: readonly Value[], columnAsked: boolean): Question[] {
  const usual = values.length >= ENOUGH ? bandOf(values.map(({ si }) => si), field) : null;
  const bySource = new Map<number, { alike: Value[]; band: Band; than: string }>();
  for (const value of values) {
    const type = value.typeSi === null || columnAsked ? null : typeBand(value);
    const band = [usual, type].find((one) => one !== null && isFar(value.si, one, field));
    if (!band) continue;
    const known = bySource.get(value.length.fromRow);
    if (known) known.alike.push(value);
    else bySource.set(value.length.fromRow, { alike: [value], band, than: band === usual ? "the others" : "the type's" });
  }
  return [...bySource.values()].flatMap(({ alike, band, than }) => (alike[0] ? [valueQuestion(field, alike, alike[0], band, than)] : []));
}

function typeBand({ typeSi }: Value): Band {
  const si = typeSi ?? 0;
  return { low: si, middle: si, high: si, least: si, most: si };
}

function valueQuestion(field: LengthField, alike: readonly Value[], { row, length, si }: Value, band: Band, than: string): Question {
  const { measured, column } = length;
  const rows = alike.map((value) => value.row);
  const written = formatMeasured(measured);
  const fitting = fittingUnits(length, band, field);
  const range = `${formatSi(String(band.least), measured.unit)}${band.most === band.least ? "" : ` … ${formatSi(String(band.most), measured.unit)}`}`;
  const times = isElevation(field) || band.middle === 0 ? `${written} is far from ${than} (${range}).` : `${written} is ${timesWords(si / band.middle)} × ${than} (${range}).`;
  const maybe = fitting[0] ? ` It may be ${UNIT_NAMES[fitting[0]] ?? fitting[0]}.` : "";
  return {
    id: `length-${row}-${columnLetter(column)}-${written}`, code: "length", row, rows, column,
    message: `${capital(rowWords(rows))}: ${field} ${measured.text}${length.bare ? ` in a column of ${UNIT_NAMES[measured.unit] ?? measured.unit}` : ""}`,
    detail: `${times}${maybe}`,
    answers: [
      ...fitting.slice(0, 2).map((unit): ProposedAnswer => ({ id: `unit-${unit}`, label: `${written.replace(/ \S+$/, "")} ${unit}`, effect: { kind: "unit", rows, field, unit } })),
      keep(`${written} is right`),
      leaveOut(rows),
    ],
  };
}

/** A column most of which is several times what the types have was mapped to the wrong unit, or drawn for other jackets. */
function doubtfulColumn(field: LengthField, values: readonly Value[]): Question[] {
  const known = values.filter(({ typeSi, length }) => typeSi !== null && length.bare);
  const [first] = known;
  if (!first || known.length < ENOUGH) return [];
  const most = (test: (value: Value) => boolean): boolean => known.filter(test).length * 2 > known.length;
  if (!most((value) => isFar(value.si, typeBand(value), field))) return [];
  const { unit } = first.length.measured;
  const rows = known.map(({ row }) => row);
  const fitting = UNITS.filter((other) => other !== unit && most((value) => isNear(inUnit(value.length, other), typeBand(value), field)));
  return [
    {
      id: `column-${columnLetter(first.length.column)}-${unit}`, code: "column unit", row: first.row, rows, column: first.length.column,
      message: `Column ${columnLetter(first.length.column)}: ${field} in ${UNIT_NAMES[unit] ?? unit}`,
      detail: `Most of it is far from the requirement sets: row ${first.row} has ${formatMeasured(first.length.measured)}, and the type has ${formatSi(String(first.typeSi), unit)}.`,
      answers: [
        ...fitting.map((other): ProposedAnswer => ({ id: `unit-${other}`, label: `the column is in ${UNIT_NAMES[other] ?? other}`, effect: { kind: "unit", rows, field, unit: other } })),
        keep(`${UNIT_NAMES[unit] ?? unit} is right`),
        STOP,
      ],
    },
  ];
}

function fittingUnits(length: RowLength, band: Band, field: LengthField): Unit[] {
  // Feet with inches say their unit twice: they are no slip of the column's.
  if (/\d *(?:'|’|′|ft).*\d/iu.test(length.measured.text)) return [];
  return UNITS.filter((unit) => unit !== length.measured.unit && isNear(inUnit(length, unit), band, field)).sort(
    (a, b) => Math.abs(inUnit(length, a) - band.middle) - Math.abs(inUnit(length, b) - band.middle),
  );
}

function inUnit({ measured }: RowLength, unit: Unit): number {
  return toSi(measured.number, unit).toNumber();
}

/** Elevations cross zero, so they are far by their distance and not by their ratio. */
function isFar(si: number, band: Pick<Band, "low" | "high">, field: LengthField): boolean {
  if (!isElevation(field)) return si > FAR_TIMES * band.high || si < band.low / FAR_TIMES;
  const room = FAR_TIMES * spread(band);
  return si > band.high + room || si < band.low - room;
}

function isNear(si: number, band: Band, field: LengthField): boolean {
  if (!isElevation(field)) return si <= NEAR_TIMES * band.high && si >= band.low / NEAR_TIMES;
  return si <= band.high + spread(band) && si >= band.low - spread(band);
}

function spread({ low, high }: Pick<Band, "low" | "high">): number {
  return Math.max(high - low, Math.max(Math.abs(low), Math.abs(high)) / FAR_TIMES);
}

/** The middle half: slips in fewer than a quarter of the rows do not move it. */
function bandOf(values: readonly number[], field: LengthField): Band {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.round((sorted.length - 1) * share)] ?? 0;
  const middleHalf = { low: at(0.25), middle: at(0.5), high: at(0.75) };
  const usual = sorted.filter((si) => !isFar(si, middleHalf, field));
  return { ...middleHalf, least: usual[0] ?? middleHalf.low, most: usual.at(-1) ?? middleHalf.high };
}

function timesWords(times: number): string {
  return times >= 10 ? times.toFixed(1).replace(/\.0$/, "") : Number(times.toPrecision(2)).toString();
}
