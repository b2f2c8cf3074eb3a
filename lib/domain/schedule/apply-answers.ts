import { parseMeasured } from "#lib/domain/quantity/measured";
import type { Override } from "#lib/domain/plan/plan";
import type { Amount } from "#lib/domain/requirement/set";
import { overridesOnce } from "#lib/domain/schedule/overrides";
import { questionsOf, type Against } from "#lib/domain/schedule/plausibility";
import type { Effect, Question } from "#lib/domain/schedule/question";
import { short } from "#lib/domain/schedule/read-value";
import { markParts, type ReadRow, type RowLength, type RowPile } from "#lib/domain/schedule/row";

/** A pile as a schedule brings it in. */
export interface SchedulePile {
  bent: string;
  row: string;
  mark: string;
  type: string;
  latitude: string | null;
  longitude: string | null;
  overrides: Override[];
  /** Elevations of the repair as drawn; null where no column gives one. */
  drawn: { top: Amount | null; bottom: Amount | null } | null;
  words: string;
}

/** The id of the answer given to each question, by the question's id. */
export type Answers = Readonly<Record<string, string>>;

export interface ImportRun {
  /** Piles that can be committed, with their row. */
  ready: { row: number; pile: SchedulePile }[];
  /** Rows that need a person: with a fault, or with a question that is open. */
  aside: { row: number; mark: string | null; why: string[] }[];
  /** Rows that a person left out. */
  leftOut: number[];
  /** Every question that came up, with the answer it got. */
  questions: { question: Question; answer: string | null }[];
  /** Somebody said that the file is wrong: nothing of it can be committed. */
  stopped: boolean;
  /** The dry run: piles by type and by bent, each ready or aside; a row that shows neither its type nor its bent counts in none. */
  byType: { type: string; ready: number; aside: number; bents: string[] }[];
  byBent: { bent: string; piles: { row: number; mark: string; type: string; state: "ready" | "aside" }[] }[];
}

/** An answer can bring up another question; more rounds than this are no schedule. */
const MOST_ROUNDS = 20;

/**
 * Lays the answers over the rows that were read. After each round the rows are held against everything again, so that an
 * answer cannot make a new doubt unseen: a question that comes up with it is open like any other.
 *
 * @param title  of the schedule, 1 to 120 characters: what overrides are drawn on where a row names no drawing.
 */
export function applyAnswers(rows: readonly ReadRow[], answers: Answers, against: Against, title: string): ImportRun {
  let current = [...rows];
  const met = new Map<string, { question: Question; answer: string | null }>();
  const leftOut = new Set<number>();
  let stopped = false;
  let open: Question[] = [];
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const questions = questionsOf(current, against);
    const effects = questions.flatMap((question): Effect[] => {
      if (met.get(question.id)?.answer) return [];
      const given = question.answers.find(({ id }) => id === answers[question.id]);
      met.set(question.id, { question, answer: given?.id ?? null });
      return given ? [given.effect] : [];
    });
    open = questions.filter(({ id }) => !met.get(id)?.answer);
    if (effects.length === 0) break;
    for (const effect of effects) {
      if (effect.kind === "stop") stopped = true;
      if (effect.kind === "leave out") effect.rows.forEach((row) => leftOut.add(row));
    }
    current = current.filter(({ number }) => !leftOut.has(number)).map((row) => effects.reduce(changed, row));
  }
  // A question of an earlier round that another answer settled is no longer asked.
  const standing = new Set(open.map(({ id }) => id));
  const questions = [...met.values()].filter(({ question, answer }) => answer !== null || standing.has(question.id));
  return { ...sortedOut(current, open, against, title), leftOut: [...leftOut].sort((a, b) => a - b), questions, stopped };
}

function changed(row: ReadRow, effect: Effect): ReadRow {
  const { pile } = row;
  if (!pile) return row;
  switch (effect.kind) {
    case "mark":
      return effect.row === row.number ? { ...row, pile: renamed(pile, effect.mark) } : row;
    case "type":
      return effect.rows.includes(row.number) ? { ...row, pile: { ...pile, type: effect.type } } : row;
    case "unit": {
      const length = pile.lengths[effect.field];
      if (!length || !effect.rows.includes(row.number)) return row;
      return { ...row, pile: { ...pile, lengths: { ...pile.lengths, [effect.field]: inUnit(length, effect.unit) } } };
    }
    case "place":
      return effect.rows.includes(row.number) ? { ...row, pile: { ...pile, place: moved(pile.place, effect.as) } } : row;
    default:
      return row;
  }
}

function renamed(pile: RowPile, mark: string): RowPile {
  const parts = markParts(mark);
  return { ...pile, mark, bent: pile.bentFromMark && parts ? parts.bent : pile.bent, row: pile.rowFromMark && parts ? parts.row : pile.row };
}

/** The same number in the unit that was meant; the answer is a unit of its own. */
function inUnit(length: RowLength, unit: Extract<Effect, { kind: "unit" }>["unit"]): RowLength {
  const entry = parseMeasured(`${length.measured.number} ${unit}`, { dimension: "length" });
  return entry.ok ? { ...length, measured: entry.measured, bare: false } : length;
}

function moved(place: RowPile["place"], as: Extract<Effect, { kind: "place" }>["as"]): RowPile["place"] {
  if (!place || as === "none") return null;
  if (as === "swapped") return { latitude: place.longitude, longitude: place.latitude };
  return { ...place, longitude: place.longitude.startsWith("-") ? place.longitude.slice(1) : `-${place.longitude}` };
}

function sortedOut(rows: readonly ReadRow[], open: readonly Question[], { sets }: Against, title: string): Pick<ImportRun, "ready" | "aside" | "byType" | "byBent"> {
  const asked = new Map<number, string[]>();
  for (const { rows: about, message } of open) about.forEach((row) => asked.set(row, [...(asked.get(row) ?? []), message]));

  const overridesOf = overridesOnce();
  const ready: ImportRun["ready"] = [];
  const aside: ImportRun["aside"] = [];
  const byType = new Map<string, ImportRun["byType"][number]>();
  const byBent = new Map<string, ImportRun["byBent"][number]["piles"]>();
  for (const { number, pile, faults } of rows) {
    const set = pile && sets.find(({ type }) => type === pile.type);
    const why = [...faults.map(({ message }) => message), ...(asked.get(number) ?? [])];
    const state = pile && set && why.length === 0 ? "ready" : "aside";
    if (pile && set && state === "ready") ready.push({ row: number, pile: schedulePile(pile, overridesOf(pile, set, pile.drawing || title).overrides) });
    else aside.push({ row: number, mark: pile?.mark ?? null, why });
    if (!pile) continue;
    const type = byType.get(pile.type) ?? { type: pile.type, ready: 0, aside: 0, bents: [] };
    type[state] += 1;
    if (!type.bents.includes(pile.bent)) type.bents.push(pile.bent);
    byType.set(pile.type, type);
    const inBent = byBent.get(pile.bent) ?? [];
    inBent.push({ row: number, mark: pile.mark, type: pile.type, state });
    byBent.set(pile.bent, inBent);
  }
  return { ready, aside, byType: [...byType.values()], byBent: [...byBent].map(([bent, piles]) => ({ bent, piles })) };
}

function schedulePile({ bent, row, mark, type, place, lengths, drawing, words }: RowPile, overrides: Override[]): SchedulePile {
  const amount = (length: RowLength | undefined): Amount | null => (length ? { value: short(length.measured.number), unit: length.measured.unit } : null);
  const [top, bottom] = [amount(lengths["top elevation"]), amount(lengths["bottom elevation"])];
  // A drawing that changes nothing is kept in words, so that what the row names is not lost.
  const said = drawing !== "" && overrides.length === 0 ? [words, `Drawing ${drawing}`] : [words];
  return {
    bent, row, mark, type, latitude: place?.latitude ?? null, longitude: place?.longitude ?? null, overrides,
    drawn: top || bottom ? { top, bottom } : null,
    words: said.filter((part) => part !== "").join(". "),
  };
}
