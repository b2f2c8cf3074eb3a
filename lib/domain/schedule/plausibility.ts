import type { RequirementSet } from "#lib/domain/requirement/set";
import { doubtfulLengths } from "#lib/domain/schedule/doubtful-length";
import { doubtfulMarks } from "#lib/domain/schedule/doubtful-mark";
import { doubtfulPlaces, type SiteLimit } from "#lib/domain/schedule/doubtful-place";
import { overridesOnce } from "#lib/domain/schedule/overrides";
import { capital, keep, leaveOut, rowWords, STOP, type Question } from "#lib/domain/schedule/question";
import type { ReadRow } from "#lib/domain/schedule/row";

/** What rows are held against: the requirement sets of the revision in force, the site, and the column of marks. */
export interface Against {
  sets: readonly RequirementSet[];
  /** Null: positions are not held against a site. */
  site: SiteLimit | null;
  markColumn: number | null;
}

/** Everything about the rows that can be read and yet looks wrong, in the order of the file. Nothing is changed by itself. */
export function questionsOf(rows: readonly ReadRow[], { sets, site, markColumn }: Against): Question[] {
  return [...doubtfulMarks(rows, markColumn), ...doubtfulLengths(rows, sets), ...doubtfulPlaces(rows, site), ...unknownTypes(rows, sets), ...unmetRequirements(rows, sets)]
    .sort((a, b) => a.row - b.row || a.id.localeCompare(b.id, "en"));
}

function unknownTypes(rows: readonly ReadRow[], sets: readonly RequirementSet[]): Question[] {
  return grouped(rows, ({ pile }) => (pile && !sets.some(({ type }) => type === pile.type) ? [pile.type] : [])).map(([type, numbers]): Question => ({
    id: `type-${type}`, code: "type", row: numbers[0] ?? 0, rows: numbers, column: null,
    message: `${capital(rowWords(numbers))}: type ${type} is not in the requirement revision`,
    detail: `The revision has ${sets.map((set) => `${set.type}, ${set.name}`).join("; ")}.`,
    answers: [...sets.map((set) => ({ id: `type-${set.type}`, label: `they are ${set.type}`, effect: { kind: "type" as const, rows: numbers, type: set.type } })), leaveOut(numbers), STOP],
  }));
}

function unmetRequirements(rows: readonly ReadRow[], sets: readonly RequirementSet[]): Question[] {
  const overridesOf = overridesOnce();
  const unmet = ({ pile }: ReadRow): string[] => {
    const set = pile && sets.find(({ type }) => type === pile.type);
    return set ? overridesOf(pile, set, "schedule").unmet : [];
  };
  return grouped(rows, unmet).map(([words, numbers]): Question => ({
    id: `requirement-${numbers[0] ?? 0}-${words}`, code: "requirement", row: numbers[0] ?? 0, rows: numbers, column: null,
    message: `${capital(rowWords(numbers))}: a requirement that cannot be kept`,
    detail: words,
    answers: [keep("the type's requirement holds"), leaveOut(numbers), STOP],
  }));
}

function grouped(rows: readonly ReadRow[], keysOf: (row: ReadRow) => readonly string[]): [string, number[]][] {
  const groups = new Map<string, number[]>();
  for (const row of rows) {
    for (const key of keysOf(row)) {
      const group = groups.get(key);
      if (group) group.push(row.number);
      else groups.set(key, [row.number]);
    }
  }
  return [...groups];
}
