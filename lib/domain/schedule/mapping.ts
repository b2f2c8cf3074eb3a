import { z } from "zod";
import { overridable } from "#lib/domain/plan/override";
import { dimensionOf } from "#lib/domain/quantity/unit";
import { itemRule } from "#lib/domain/requirement/rule";
import { LineIdSchema, type RequirementSet } from "#lib/domain/requirement/set";
import { cellAt, columnLetter, type Grid, type GridRow } from "#lib/domain/schedule/grid";
import { COLUMN_UNITS, FIELDS, isLength, type Field } from "#lib/domain/schedule/field";
import { LocalGridSchema } from "#lib/domain/schedule/position";

export const ColumnMappingSchema = z.strictObject({
  field: z.enum(FIELDS),
  /** Null until it is chosen. Lengths are not read before. */
  unit: z.enum(COLUMN_UNITS).nullable(),
  /** What a comma before three digits means in this column; null while nobody has said it, and such a cell is a fault. */
  comma: z.enum(["decimal", "thousands"]).nullable(),
  /** The requirement of the type that the column changes, where its field is "requirement". */
  requirement: z.strictObject({ line: LineIdSchema, kind: z.enum(["quantity", "wait"]), id: z.string().min(1).max(40) }).nullable(),
});
export type ColumnMapping = z.infer<typeof ColumnMappingSchema>;

/** The pile type that each word of the type column means, by the word in capitals. */
const TypeWordsSchema = z.record(z.string(), z.string().regex(/^[A-Z]$/));

/** What every column of a schedule is, and what its words mean: what a person settles before rows are read. */
export const MappingSchema = z.strictObject({
  /** Numbers of rows as in the file. Null: the file has no header. */
  headerRow: z.int().nullable(),
  firstRow: z.int(),
  columns: z.array(ColumnMappingSchema),
  types: TypeWordsSchema,
  /** The type of every pile, where no column says it. */
  everyType: z.string().regex(/^[A-Z]$/).nullable(),
  grid: LocalGridSchema.nullable(),
  hiddenRows: z.enum(["leave out", "read"]),
});
export type Mapping = z.infer<typeof MappingSchema>;

/** What a column of that header was the last time, with the words of the type column. */
export const RememberedSchema = z.strictObject({ column: ColumnMappingSchema, types: TypeWordsSchema });
export type Remembered = z.infer<typeof RememberedSchema>;

export interface MappingFault {
  /** Column from 0; null where it is about the whole. */
  column: number | null;
  message: string;
}

/** The key under which the meaning of a header is remembered. */
export function headerKey(text: string): string {
  return text.normalize("NFKC").toUpperCase().replace(/\s+/g, " ").trim();
}

export function typeKey(text: string): string {
  return headerKey(text).replace(/\.$/, "");
}

/** The row that heads the columns; null when the file has none. */
export function headerRow(grid: Grid, mapping: Pick<Mapping, "headerRow">): GridRow | null {
  return grid.rows.find(({ number }) => number === mapping.headerRow) ?? null;
}

export function columnOf(mapping: Mapping, field: Field): number | null {
  const found = mapping.columns.findIndex((column) => column.field === field);
  return found < 0 ? null : found;
}

/** What to remember of a mapping for the next file: each header that stands once, with its column. */
export function toRemember(grid: Grid, mapping: Mapping): Record<string, Remembered> {
  const header = headerRow(grid, mapping);
  if (!header) return {};
  const keys = mapping.columns.map((_, index) => headerKey(cellAt(header, index).text));
  return Object.fromEntries(
    mapping.columns.flatMap((column, index): [string, Remembered][] => {
      const key = keys[index] ?? "";
      if (key === "" || keys.filter((other) => other === key).length > 1) return [];
      return [[key, { column, types: column.field === "type" ? mapping.types : {} }]];
    }),
  );
}

/**
 * What keeps a mapping from being read: no column of marks, a field twice, a length without its unit, half a position, a
 * requirement that no type has, a word for a type that nobody has matched. Empty when rows can be read.
 *
 * @param words  the distinct words of the type column, as `typeWords` gives them.
 */
export function mappingFaults(grid: Grid, mapping: Mapping, words: readonly string[], sets: readonly RequirementSet[]): MappingFault[] {
  if (mapping.columns.length !== grid.columns.length) return [{ column: null, message: "The columns of the file are not those that were matched. Match them again." }];
  return [...wholeFaults(mapping, sets), ...positionFaults(mapping), ...mapping.columns.flatMap((_, index) => columnFaults(mapping, index, sets)), ...typeFaults(mapping, words, sets)];
}

function wholeFaults(mapping: Mapping, sets: readonly RequirementSet[]): MappingFault[] {
  const whole = (message: string): MappingFault => ({ column: null, message });
  const typed = columnOf(mapping, "type") !== null;
  return [
    ...(columnOf(mapping, "mark") === null ? [whole("No column is the mark. Say which column holds the marks of the piles.")] : []),
    ...(!typed && mapping.everyType === null ? [whole("No column is the type. Say which one it is, or give one type for every pile.")] : []),
    ...(!typed && mapping.everyType !== null && !sets.some(({ type }) => type === mapping.everyType) ? [whole(`The requirement revision has no pile type ${mapping.everyType}.`)] : []),
  ];
}

function positionFaults(mapping: Mapping): MappingFault[] {
  const has = (field: Field): boolean => columnOf(mapping, field) !== null;
  const pairs = [["latitude", "longitude"], ["grid x", "grid y"]] as const;
  const ways = [has("latitude") || has("longitude"), has("grid x") || has("grid y"), has("coordinates")].filter(Boolean).length;
  return [
    ...pairs.flatMap(([one, other]): MappingFault[] => {
      if (has(one) === has(other)) return [];
      const [there, missing] = has(one) ? [one, other] : [other, one];
      return [{ column: columnOf(mapping, there), message: `There is a column for ${there} and none for ${missing}. Match both, or leave it out.` }];
    }),
    ...(ways > 1 ? [{ column: null, message: "The position is given in two ways. Keep one and leave the other columns out." }] : []),
    ...(has("grid x") && has("grid y") && !mapping.grid ? [{ column: columnOf(mapping, "grid x"), message: "Give the origin of the grid, the bearing of its y axis and its unit." }] : []),
  ];
}

function columnFaults(mapping: Mapping, index: number, sets: readonly RequirementSet[]): MappingFault[] {
  const column = mapping.columns[index];
  if (!column || column.field === "leave out") return [];
  const { field, unit } = column;
  const fault = (message: string): MappingFault[] => [{ column: index, message }];
  const same = (other: ColumnMapping): boolean =>
    other.field === field && (field !== "requirement" || (other.requirement?.line === column.requirement?.line && other.requirement?.id === column.requirement?.id));
  const first = mapping.columns.findIndex(same);
  if (first < index) return fault(`Columns ${columnLetter(first)} and ${columnLetter(index)} are both ${field === "requirement" ? "one requirement" : field}. Keep one and leave the other out.`);
  if (isLength(field)) {
    if (unit === null) return fault(`In which unit is ${field}? Nothing is read from column ${columnLetter(index)} before.`);
    if (unit !== "ft-in" && dimensionOf(unit) !== "length") return fault(`${unit} does not measure a length.`);
  }
  return field === "requirement" ? requirementFaults(column, index, sets) : [];
}

function requirementFaults({ requirement, unit }: ColumnMapping, index: number, sets: readonly RequirementSet[]): MappingFault[] {
  if (!requirement) return [{ column: index, message: `Which requirement does column ${columnLetter(index)} change?` }];
  const units = sets.flatMap(({ lines }) => overridable(lines).filter(({ line, id, kind }) => line === requirement.line && id === requirement.id && kind === requirement.kind)).map(({ rule }) => {
    const item = rule && itemRule(rule);
    return item && "unit" in item ? item.unit : null;
  });
  if (units.length === 0) return [{ column: index, message: `No pile type has the requirement ${requirement.id} at point ${requirement.line}.` }];
  const needed = units.find((one) => one !== null) ?? null;
  if (needed === null) return unit === null ? [] : [{ column: index, message: `The requirement ${requirement.id} at point ${requirement.line} has no unit.` }];
  if (unit === null) return [{ column: index, message: `In which unit is column ${columnLetter(index)}? Nothing is read from it before.` }];
  return dimensionOf(unit === "ft-in" ? "ft" : unit) === dimensionOf(needed) ? [] : [{ column: index, message: `${unit} does not measure what ${needed} measures.` }];
}

function typeFaults(mapping: Mapping, words: readonly string[], sets: readonly RequirementSet[]): MappingFault[] {
  const column = columnOf(mapping, "type");
  return words.flatMap((word): MappingFault[] => {
    const type = mapping.types[word];
    if (type === undefined) return [{ column, message: `Which pile type is ${word}?` }];
    return sets.some((set) => set.type === type) ? [] : [{ column, message: `The requirement revision has no pile type ${type}, which ${word} is matched to.` }];
  });
}
