import { readNumber } from "#lib/domain/quantity/number-text";
import { Decimal } from "#lib/domain/quantity/decimal";
import { formatSi } from "#lib/domain/quantity/measured";
import { fromSi } from "#lib/domain/quantity/unit";
import { findSources, type Source, type SourceRow } from "#lib/domain/schedule/data-row";
import { isLength, type Field, type LengthField } from "#lib/domain/schedule/field";
import { columnLetter, type Cell, type Grid } from "#lib/domain/schedule/grid";
import { typeKey, type ColumnMapping, type Mapping } from "#lib/domain/schedule/mapping";
import { gridToPlace, parseAngle, parsePlace } from "#lib/domain/schedule/position";
import { readBars, readMeasured, readRequirement, type Length } from "#lib/domain/schedule/read-value";
import { BENT, MARK, markParts, ROW, type ReadRow, type RowPile } from "#lib/domain/schedule/row";

/**
 * Reads the rows of a schedule into piles. Every row comes back, in the order of the file, with how each of its cells was
 * read; a row with a fault has no pile. A row is read by itself, but for merged cells and ditto marks, which take what
 * stands above.
 *
 * @param mapping  without faults, as `mappingFaults` tells.
 */
export function readRows(grid: Grid, mapping: Mapping): ReadRow[] {
  const columns = mapping.columns.flatMap((column, index) => (column.field === "leave out" ? [] : [{ column, index }]));
  const readLengthOnce = remembering(readLength);
  return findSources(grid, mapping).map((source) => {
    const reader = new RowReader(source, mapping, readLengthOnce);
    for (const { column, index } of columns) reader.readColumn(column, index);
    return reader.finish();
  });
}

type LengthReading = ReturnType<typeof readLength>;

/** Cells that may not repeat a value from above. */
const OWN_ONLY: ReadonlySet<Field> = new Set<Field>(["mark"]);
const WORDS_ONLY: ReadonlySet<Field> = new Set<Field>(["drawing", "note"]);
const MOST_WORDS = { drawing: 120, note: 1_800 } as const;

class RowReader {
  private readonly row: ReadRow;
  private readonly pile: RowPile;
  private readonly words = new Map<Field, string>();
  private readonly coordinates = new Map<Field, { cell: Cell; column: number; length: Length | null }>();

  constructor(
    private readonly source: SourceRow,
    private readonly mapping: Mapping,
    private readonly readLengthOnce: (cell: Cell, field: LengthField, column: ColumnMapping) => LengthReading,
  ) {
    this.row = { number: source.row.number, pile: null, faults: [], notes: [], reads: [] };
    this.pile = {
      bent: "", row: "", mark: "", type: mapping.everyType ?? "", bentFromMark: false, rowFromMark: false, place: null, lengths: {}, bars: null, requirements: [], drawing: "", words: "",
    };
  }

  readColumn(column: ColumnMapping, index: number): void {
    const written = this.source.row.cells[index]?.text ?? "";
    const source = this.source.sources[index];
    const read = { column: index, text: written, shown: "", fromRow: source?.row ?? this.row.number };
    this.row.reads.push(read);
    if (!source) return this.fault(index, `${written} stands below nothing. Write the value itself.`);
    this.noteSource(source, column.field, index, written);
    const { cell } = source;
    if (cell.text === "" && cell.formula !== "no value") return;
    const unreadable = unusable(cell, column.field);
    if (unreadable) return this.fault(index, unreadable);
    if (OWN_ONLY.has(column.field) && source.how !== "written") return this.fault(index, "Two piles cannot have one mark. Write the mark of this pile.");
    if (cell.formula === "value taken") this.note(index, "formula", `${columnLetter(index)}${source.row} holds a formula; its last value ${cell.text} was taken.`);
    read.shown = this.readField(column, index, cell) ?? "";
  }

  finish(): ReadRow {
    this.readPlace();
    this.readNames();
    if (this.row.faults.length === 0) this.row.pile = this.pile;
    return this.row;
  }

  private noteSource({ how, row, cell }: Source, field: Field, index: number, written: string): void {
    const merged = this.source.row.cells[index]?.merged;
    if (how === "merged" && row !== this.row.number) this.note(index, "merged", `Merged with row ${row}: ${cell.text}.`);
    if (how === "ditto") this.note(index, "ditto", `${written} is read as ${cell.text}, written on row ${row}.`);
    if (merged && merged.column !== index && field !== "note") this.note(index, "merged across", `Merged with column ${columnLetter(merged.column)}, whose value is not taken for this column.`);
  }

  /** Reads one filled cell; what it was read as, or null when it has a fault. */
  private readField(column: ColumnMapping, index: number, cell: Cell): string | null {
    const { field } = column;
    if (isLength(field)) return this.takeLength(field, column, index, cell);
    switch (field) {
      case "bent":
      case "row":
      case "mark":
        return this.takeName(field, cell.text);
      case "type":
        return this.takeType(index, cell.text);
      case "drawing":
      case "note":
        return this.takeWords(field, index, cell.text);
      case "bars":
        return this.takeBars(index, cell);
      case "requirement":
        return this.takeRequirement(column, index, cell);
      case "grid x":
      case "grid y":
        return this.takeGridValue(field, column, index, cell);
      case "latitude":
      case "longitude":
      case "coordinates":
        this.coordinates.set(field, { cell, column: index, length: null });
        return cell.text;
      case "leave out":
        return null;
    }
  }

  private takeName(field: "bent" | "row" | "mark", text: string): string {
    const tidy = text.normalize("NFKC").toUpperCase().replace(/\s*[‐‑–—-]\s*/gu, "-").trim();
    const name = field === "mark" ? tidy : tidy.replace(field === "bent" ? /^BENT\s+/ : /^ROW\s+/, "");
    this.words.set(field, name);
    return name;
  }

  private takeType(index: number, text: string): string | null {
    const type = this.mapping.types[typeKey(text)];
    if (type === undefined) return this.fault(index, `Which pile type is ${text}? Match the word to a type of the revision.`) ?? null;
    this.pile.type = type;
    return type;
  }

  private takeWords(field: "drawing" | "note", index: number, text: string): string | null {
    if (text.length > MOST_WORDS[field]) return this.fault(index, `The ${field} is longer than ${MOST_WORDS[field]} characters. Shorten it.`) ?? null;
    if (field === "drawing") this.pile.drawing = text;
    else this.pile.words = text;
    return text;
  }

  private takeLength(field: LengthField, column: ColumnMapping, index: number, cell: Cell): string | null {
    const read = this.readLengthOnce(cell, field, column);
    if (!read.ok) return this.fault(index, read.message) ?? null;
    if (read.note) this.note(index, "own unit", read.note);
    this.pile.lengths[field] = { ...read.value, column: index, fromRow: this.source.sources[index]?.row ?? this.row.number };
    return read.shown;
  }

  private takeBars(index: number, cell: Cell): string | null {
    const read = readBars(cell.text);
    if (!read.ok) return this.fault(index, read.message) ?? null;
    this.pile.bars = read.value;
    return read.value.size === null ? String(read.value.count) : `${read.value.count} × ${read.value.size}`;
  }

  private takeRequirement(column: ColumnMapping, index: number, cell: Cell): string | null {
    const { requirement } = column;
    const read = readRequirement(cell, column);
    if (!requirement || !read.ok) return this.fault(index, read.ok ? "Which requirement does this column change?" : read.message) ?? null;
    if (read.note) this.note(index, "own unit", read.note);
    this.pile.requirements.push({ ...requirement, ...read.value });
    return [read.value.first, read.value.second].flatMap((one) => (one ? [`${one.number}${one.unit ? ` ${one.unit}` : ""}`] : [])).join(" … ");
  }

  private takeGridValue(field: "grid x" | "grid y", column: ColumnMapping, index: number, cell: Cell): string | null {
    const unit = this.mapping.grid?.unit ?? null;
    const read = readMeasured(cell, "length", unit, column.comma);
    if (!read.ok) return this.fault(index, read.message) ?? null;
    if (read.note) this.note(index, "own unit", read.note);
    this.coordinates.set(field, { cell, column: index, length: read.value });
    return `${read.value.measured.number} ${read.value.measured.unit}`;
  }

  private readPlace(): void {
    const at = (field: Field) => this.coordinates.get(field);
    const one = at("coordinates");
    if (one) {
      const read = parsePlace(one.cell.text);
      if (read.ok) this.pile.place = read.place;
      else this.fault(one.column, read.message);
    }
    const [first, second] = [at("latitude") ?? at("grid x"), at("longitude") ?? at("grid y")];
    if (!first && !second) return;
    if (!first || !second) return this.fault((first ?? second)?.column ?? null, "Only one half of the position is given. Give both, or neither.");
    if (first.length && second.length) return this.placeOnGrid(first.length, second.length);
    const latitude = parseAngle(this.angleText(first), "latitude");
    const longitude = parseAngle(this.angleText(second), "longitude");
    if (!latitude.ok) this.fault(first.column, latitude.message);
    if (!longitude.ok) this.fault(second.column, longitude.message);
    if (latitude.ok && longitude.ok) this.pile.place = { latitude: latitude.degrees, longitude: longitude.degrees };
  }

  private placeOnGrid(x: Length, y: Length): void {
    const { grid } = this.mapping;
    if (!grid) return;
    this.pile.place = gridToPlace(grid, fromSi(x.measured.si, grid.unit), fromSi(y.measured.si, grid.unit));
  }

  /** The whole number behind a shown angle, and a decimal comma where the column has them. */
  private angleText({ cell, column }: { cell: Cell; column: number }): string {
    if (cell.number !== null) return cell.number;
    const { comma } = this.mapping.columns[column] ?? {};
    const read = readNumber(cell.text);
    return comma === "decimal" && "fault" in read && read.fault === "ambiguous" ? cell.text.replace(",", ".") : cell.text;
  }

  private readNames(): void {
    const mark = this.words.get("mark") ?? "";
    const column = this.mapping.columns.findIndex(({ field }) => field === "mark");
    if (mark === "") return this.row.faults.some((fault) => fault.column === column) ? undefined : this.fault(column, "There is no mark. Write the mark of the pile, or leave the row out.");
    if (!MARK.test(mark)) return this.fault(column, `${mark} is not a mark. A mark has at most 15 capitals, digits, points and hyphens.`);
    const parts = markParts(mark);
    const bent = this.words.get("bent") ?? parts?.bent ?? "";
    const row = this.words.get("row") ?? parts?.row ?? "";
    if (!this.words.has("bent") && parts) this.note(column, "from mark", `Bent ${bent} is read out of the mark ${mark}.`);
    if (bent === "") return this.fault(column, `Mark ${mark} does not show its bent. Add a column with the bent.`);
    if (row === "") return this.fault(column, `Mark ${mark} does not show its row. Add a column with the row.`);
    if (!BENT.test(bent)) return this.fault(column, `${bent} is not a bent. A bent has at most 6 capitals and digits.`);
    if (!ROW.test(row)) return this.fault(column, `${row} is not a row. A row has at most 4 capitals and digits.`);
    if (this.pile.type === "" && this.row.faults.length === 0) this.fault(this.mapping.columns.findIndex(({ field }) => field === "type"), "There is no type. Write the type of the pile.");
    Object.assign(this.pile, { mark, bent, row, bentFromMark: !this.words.has("bent"), rowFromMark: !this.words.has("row") });
  }

  private fault(column: number | null, message: string): undefined {
    this.row.faults.push({ column, message });
  }

  private note(column: number, code: ReadRow["notes"][number]["code"], message: string): void {
    this.row.notes.push({ column, code, message });
  }
}

/** Why a cell cannot be read as a value of its field; null when it can. */
function unusable({ text, formula, date }: Cell, field: Field): string | null {
  if (formula === "no value") return "A formula without a value. Open the file in the spreadsheet, let it calculate, and save it again.";
  if (formula === "text") return `${text} looks like a formula written as text. Write the value itself.`;
  if (/^#(?:REF!|N\/A|VALUE!|DIV\/0!|NAME\?|NUM!|NULL!)$/.test(text)) return `${text} is an error of the spreadsheet. Write the value itself.`;
  if (date && !WORDS_ONLY.has(field)) return `The spreadsheet made the date ${text} of what was typed. Format the cell as text and type it again.`;
  return null;
}

const MAY_BE_NEGATIVE: ReadonlySet<LengthField> = new Set<LengthField>(["top elevation", "bottom elevation"]);

function readLength(cell: Cell, field: LengthField, { unit, comma }: ColumnMapping): { ok: true; value: Length; note: string | null; shown: string } | { ok: false; message: string } {
  const read = readMeasured(cell, "length", unit, comma);
  if (!read.ok) return read;
  const { measured } = read.value;
  if (!MAY_BE_NEGATIVE.has(field) && new Decimal(measured.si).lte(0)) return { ok: false, message: `${cell.text}: the ${field} is more than nothing. Check the sign and the number.` };
  const metric = ["m", "cm", "mm"].includes(measured.unit);
  const shown = metric ? formatSi(measured.si, MAY_BE_NEGATIVE.has(field) ? "m" : "mm") : formatSi(measured.si, MAY_BE_NEGATIVE.has(field) ? "ft" : "in");
  return { ...read, shown };
}

/** Schedules repeat their lengths: each cell of a column is read once for every text. */
function remembering(read: typeof readLength): typeof readLength {
  const known = new Map<ColumnMapping, Map<string, LengthReading>>();
  return (cell, field, column) => {
    const texts = known.get(column) ?? known.set(column, new Map()).get(column);
    const key = `${cell.number ?? ""}\t${cell.text}`;
    const before = texts?.get(key);
    if (before) return before;
    const now = read(cell, field, column);
    texts?.set(key, now);
    return now;
  };
}
