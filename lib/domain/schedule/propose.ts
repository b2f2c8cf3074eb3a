import type { RequirementSet } from "#lib/domain/requirement/set";
import { cellAt, type Grid, type GridRow } from "#lib/domain/schedule/grid";
import { isDitto, typeWords } from "#lib/domain/schedule/data-row";
import { fieldOfWords, headerParts, isLength, unitWord, type ColumnUnit, type Field } from "#lib/domain/schedule/field";
import { headerKey, type ColumnMapping, type Mapping, type Remembered } from "#lib/domain/schedule/mapping";

/** A header is looked for in so many rows from the top. Common practice, no source. */
const HEADER_AMONG = 40;
const LEFT_OUT: ColumnMapping = { field: "leave out", unit: null, comma: null, requirement: null };

/**
 * Proposes what the columns of a schedule are, from the words over them and from what the same words meant before, with the
 * unit that the header or the cells themselves name. A column that is hidden, has no known name, or has the field of an
 * earlier one is left out. Nothing is proposed for a unit that is written nowhere.
 */
export function proposeMapping(grid: Grid, memory: Readonly<Record<string, Remembered>>, sets: readonly RequirementSet[]): Mapping {
  const header = findHeader(grid, memory);
  const next = grid.rows.find(({ number }) => header && number > header.number);
  const units = next && isUnitsRow(next) ? next : null;
  const firstRow = header ? (units ?? header).number + 1 : 1;
  const body = grid.rows.filter(({ number }) => number >= firstRow);

  const columns: ColumnMapping[] = [];
  grid.columns.forEach(({ hidden }, index) => {
    const proposed = header && !hidden ? proposeColumn(header, units, index, body, memory) : LEFT_OUT;
    const taken = proposed.field !== "requirement" && columns.some(({ field }) => field === proposed.field);
    columns.push(taken ? LEFT_OUT : proposed);
  });
  const bare: Mapping = { headerRow: header?.number ?? null, firstRow, columns, types: {}, everyType: null, grid: null, hiddenRows: "leave out" };
  return { ...bare, types: proposeTypes(typeWords(grid, bare), memory, sets) };
}

/** The row with the most words that name a column, at least two of them; the first of equals. */
function findHeader(grid: Grid, memory: Readonly<Record<string, Remembered>>): GridRow | null {
  const known = (text: string): boolean => text !== "" && (headerKey(text) in memory || fieldOfWords(headerParts(text).words) !== null);
  const counted = grid.rows.slice(0, HEADER_AMONG).map((row) => ({ row, count: row.cells.filter((cell) => cell && known(cell.text)).length }));
  const best = Math.max(0, ...counted.map(({ count }) => count));
  return best < 2 ? null : (counted.find(({ count }) => count === best)?.row ?? null);
}

function isUnitsRow(row: GridRow): boolean {
  const texts = row.cells.flatMap((cell) => (cell && cell.text !== "" ? [cell.text] : []));
  return texts.length > 0 && texts.every((text) => !isDitto(text) && unitWord(text) !== null);
}

function proposeColumn(header: GridRow, units: GridRow | null, index: number, body: readonly GridRow[], memory: Readonly<Record<string, Remembered>>): ColumnMapping {
  const text = cellAt(header, index).text;
  const before = memory[headerKey(text)]?.column;
  const { words, unit: named } = headerParts(text);
  const field: Field = before?.field ?? fieldOfWords(words) ?? "leave out";
  if (field === "leave out") return LEFT_OUT;
  const cells = body.map((row) => cellAt(row, index).text).filter((cell) => cell !== "");
  // What this file says of its unit stands above what another file said.
  const written = named ?? (units ? unitWord(cellAt(units, index).text) : null) ?? writtenOut(cells) ?? before?.unit ?? null;
  const unit = isLength(field) ? written : field === "requirement" ? (before?.unit ?? null) : null;
  return { field, unit, comma: isCounted(field) ? decimalComma(cells) : null, requirement: field === "requirement" ? (before?.requirement ?? null) : null };
}

const FEET_INCHES = /^[+\-−]?\d+ *(?:'|’|′|ft\.?) *-? *\d/iu;

/** Feet and inches in most cells of a column need no other unit. */
function writtenOut(cells: readonly string[]): ColumnUnit | null {
  const values = cells.filter((text) => !isDitto(text));
  return values.length > 0 && values.filter((text) => FEET_INCHES.test(text)).length * 2 >= values.length ? "ft-in" : null;
}

function isCounted(field: Field): boolean {
  return isLength(field) || ["latitude", "longitude", "grid x", "grid y", "requirement"].includes(field);
}

/** A column with "0,47" in it and no decimal point anywhere has decimal commas; otherwise nobody can tell. */
function decimalComma(cells: readonly string[]): "decimal" | null {
  const comma = cells.some((text) => /^\D*(?:\d+,(?:\d{1,2}|\d{4,})|0,\d+)(?!\d)[^\d.,]*$/.test(text));
  return comma && !cells.some((text) => /\d\.\d/.test(text)) ? "decimal" : null;
}

/** Words for the core of a pile. Common practice, no source. */
const CORE_WORDS: Readonly<Record<RequirementSet["core"], RegExp>> = {
  H: /^(?:HP?|H-?PILES?|HP ?\d.*|STEEL.*|STL)$/,
  square: /^(?:C|CONC|CONCRETE.*|PRECAST|PC|PSC)$/,
  round: /^(?:T|TIM|TIMB|TIMBER.*|WOOD)$/,
};

function proposeTypes(words: readonly string[], memory: Readonly<Record<string, Remembered>>, sets: readonly RequirementSet[]): Record<string, string> {
  const before: Record<string, string> = Object.assign({}, ...Object.values(memory).map(({ types }) => types));
  return Object.fromEntries(
    words.flatMap((word): [string, string][] => {
      const known = (type: string | undefined): boolean => sets.some((set) => set.type === type);
      const remembered = before[word];
      if (remembered !== undefined && known(remembered)) return [[word, remembered]];
      if (known(word)) return [[word, word]];
      const fitting = sets.filter(({ core, name }) => CORE_WORDS[core].test(word) || headerKey(name) === word);
      return fitting.length === 1 && fitting[0] ? [[word, fitting[0].type]] : [];
    }),
  );
}
