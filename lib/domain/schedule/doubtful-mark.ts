import { keep, leaveOut, STOP, type ProposedAnswer, type Question } from "#lib/domain/schedule/question";
import { markParts, type ReadRow, type RowPile } from "#lib/domain/schedule/row";

interface PileRow {
  number: number;
  pile: RowPile;
}

/** The bent in a mark is asked about where so large a share of the schedule writes it there. Common practice, no source. */
const WRITES_BENT = 0.8;

/**
 * Asks about marks that stand twice, marks that name another bent than their row's, and two piles in one place of a bent.
 * Of several rows with one mark, the first whose bent the mark names keeps it. Where the rows around show what the mark
 * has to be, that is proposed.
 */
export function doubtfulMarks(rows: readonly ReadRow[], column: number | null): Question[] {
  const piles = rows.flatMap(({ number, pile }): PileRow[] => (pile ? [{ number, pile }] : []));
  const marks = new Set(piles.map(({ pile }) => pile.mark));
  const bents = grouped(piles, ({ pile }) => pile.bent);
  const proposed = (one: PileRow): Plain | null => plainMark(one, bents.get(one.pile.bent) ?? [], marks);

  const twice = [...grouped(piles, ({ pile }) => pile.mark).values()].flatMap((alike): Question[] => {
    const owner = alike.find(({ pile }) => namesItsBent(pile)) ?? alike[0];
    return alike.flatMap((one) => (one === owner || !owner ? [] : [twiceQuestion(one, owner, proposed(one), column)]));
  });
  const asked = new Set(twice.map(({ row }) => row));
  const others = piles.filter(({ number }) => !asked.has(number));
  const strange = others.filter(({ pile }) => !pile.bentFromMark && markParts(pile.mark) !== null && !namesItsBent(pile));
  const usual = piles.length > 0 && piles.filter(({ pile }) => namesItsBent(pile)).length >= WRITES_BENT * piles.length;
  const another = usual ? strange.map((one) => anotherQuestion(one, proposed(one), column)) : [];
  another.forEach(({ row }) => asked.add(row));
  const placed = others.filter(({ number }) => !asked.has(number));
  const places = [...grouped(placed, ({ pile }) => `${pile.bent} ${pile.row}`).values()].flatMap(([first, ...rest]) => (first ? rest.map((one) => placeQuestion(one, first)) : []));
  return [...twice, ...another, ...places].sort((a, b) => a.row - b.row);
}

function namesItsBent({ mark, bent }: RowPile): boolean {
  const named = markParts(mark)?.bent;
  return named !== undefined && withoutZeros(named) === withoutZeros(bent);
}

function withoutZeros(text: string): string {
  return text.replace(/^0+(?=\d)/, "");
}

function twiceQuestion(one: PileRow, owner: PileRow, plain: Plain | null, column: number | null): Question {
  const { number, pile } = one;
  return {
    id: `mark-${number}-${pile.mark}`, code: "mark twice", row: number, rows: [number], column,
    message: `Row ${number}: mark ${pile.mark} is already on row ${owner.number}`,
    detail: plain?.why ?? `Row ${number} is in bent ${pile.bent}, row ${owner.number} in bent ${owner.pile.bent}.`,
    answers: [...markAnswer(number, plain), leaveOut([number]), STOP],
  };
}

function anotherQuestion({ number, pile }: PileRow, plain: Plain | null, column: number | null): Question {
  return {
    id: `bent-${number}-${pile.mark}`, code: "mark of another bent", row: number, rows: [number], column,
    message: `Row ${number}: mark ${pile.mark} in bent ${pile.bent}`,
    detail: plain?.why ?? "The other marks begin with their bent.",
    answers: [...markAnswer(number, plain), keep(`${pile.mark} is right`), leaveOut([number])],
  };
}

function placeQuestion({ number, pile }: PileRow, first: PileRow): Question {
  return {
    id: `place-${number}-${pile.bent}-${pile.row}`, code: "place twice", row: number, rows: [number], column: null,
    message: `Row ${number}: bent ${pile.bent}, row ${pile.row} is already pile ${first.pile.mark}`,
    detail: `Row ${first.number} has the same bent and row. Two piles cannot stand in one place.`,
    answers: [leaveOut([number]), STOP],
  };
}

function markAnswer(row: number, plain: Plain | null): ProposedAnswer[] {
  return plain ? [{ id: "mark", label: `it is ${plain.mark}`, effect: { kind: "mark", row, mark: plain.mark } }] : [];
}

interface Plain {
  mark: string;
  why: string;
}

/** The mark that is missing exactly where a row stands among the marks of its bent; null when that is not plain. */
function plainMark(one: PileRow, bent: readonly PileRow[], taken: ReadonlySet<string>): Plain | null {
  if (one.pile.bentFromMark) return null;
  const at = bent.indexOf(one);
  const [before, after] = [bent[at - 1], bent[at + 1]].map((other) => (other && namesItsBent(other.pile) ? markParts(other.pile.mark) : null));
  const candidates = [before && stepped(before.row, 1), after && stepped(after.row, -1)].filter((found) => found !== null && found !== undefined);
  const [row, other = row] = candidates;
  const mark = `${(before ?? after)?.before ?? ""}${row ?? ""}`;
  if (row === undefined || row !== other || taken.has(mark) || (before && after && before.before !== after.before)) return null;
  const stands = before && after ? `between ${before.before}${before.row} and ${after.before}${after.row}` : after ? `first in bent ${one.pile.bent}` : `last in bent ${one.pile.bent}`;
  return { mark, why: `Bent ${one.pile.bent} has no ${row}. The row stands ${stands}.` };
}

/** The row one further or one back: B after A, 4 after 3. Null at the ends, and for rows of several letters. */
function stepped(row: string, by: 1 | -1): string | null {
  if (/^[A-Z]$/.test(row)) {
    const code = row.charCodeAt(0) + by;
    return code >= 65 && code <= 90 ? String.fromCharCode(code) : null;
  }
  const next = /^\d{1,3}$/.test(row) ? Number(row) + by : 0;
  return next > 0 ? String(next).padStart(row.length, "0") : null;
}

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}
