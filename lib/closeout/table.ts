import type { Transform } from "node:stream";
import { stringify } from "csv-stringify";
import type { CellValue, ColumnDef, Table } from "#lib/closeout/package-input";

// What a spreadsheet may run when a cell begins with it; tab and CR because some programs skip them first.
const RUNS_AS_FORMULA = /^[=+\-@\t\r]/;
const PLAIN_NUMBER = /^[+-]?\d+(\.\d+)?$/;

/** A text cell that no spreadsheet runs: a leading apostrophe stands before = + - @ tab and CR, unless the cell is a plain number. */
export function inertCell(text: string): string {
  return RUNS_AS_FORMULA.test(text) && !PLAIN_NUMBER.test(text) ? `'${text}` : text;
}

/**
 * A table as UTF-8 CSV: header, comma, CRLF, quotes where needed. Null is an empty cell, a boolean true or false.
 * Throws when a row has another number of cells than there are columns, or a cell is not of its column's type.
 * @source RFC 4180.
 */
export async function* csvBytes(table: Table): AsyncGenerator<Buffer> {
  // A lone CR or LF is quoted too: the package by itself quotes only the two together.
  const lines = stringify({ record_delimiter: "\r\n", quoted_match: /[\r\n]/ });
  const rows = (async () => {
    await write(lines, table.columns.map(({ name }) => name));
    let number = 0;
    for await (const row of table.rows) {
      number += 1;
      if (row.length !== table.columns.length) {
        throw new Error(`Table ${table.name}, row ${number}: ${row.length} cells for ${table.columns.length} columns.`);
      }
      await write(lines, table.columns.map((column, i) => cellText(table.name, number, column, row[i] ?? null)));
    }
    lines.end();
  })();
  rows.catch((error: Error) => lines.destroy(error));
  for await (const chunk of lines) yield Buffer.from(chunk as string | Buffer);
  await rows;
}

async function write(lines: Transform, cells: string[]): Promise<void> {
  if (!lines.write(cells)) await new Promise((resolve) => lines.once("drain", resolve));
}

function cellText(table: string, row: number, column: ColumnDef, value: CellValue): string {
  if (value === null) {
    if (column.nullable) return "";
    throw new Error(`Table ${table}, row ${row}: ${column.name} has no value.`);
  }
  const fits =
    column.type === "string" ? typeof value === "string"
    : column.type === "boolean" ? typeof value === "boolean"
    : typeof value === "number" && Number.isFinite(value) && (column.type === "number" || Number.isInteger(value));
  if (!fits) throw new Error(`Table ${table}, row ${row}: ${column.name} is not of type ${column.type}.`);
  return typeof value === "string" ? inertCell(value) : String(value);
}

/** One JSON Schema (draft 2020-12) for all tables: each table is a list of rows, each row an object by column name. */
export function tableSchema(tables: readonly Table[]): Record<string, unknown> {
  return {
    $schema: "https://json-schema.org/draft/2020-12/schema",
    title: "Tables of the closeout package",
    description:
      "Each NAME.csv beside this file is the list called NAME here: UTF-8, comma, CRLF, one header line (RFC 4180). An empty cell is null. " +
      "An apostrophe before = + - @, tab or CR at the start of a cell is not part of the value: it keeps spreadsheets from running the cell.",
    type: "object",
    additionalProperties: false,
    required: tables.map(({ name }) => name),
    properties: Object.fromEntries(tables.map((table) => [table.name, listSchema(table)])),
  };
}

function listSchema({ description, columns }: Table): Record<string, unknown> {
  return {
    description,
    type: "array",
    items: {
      type: "object",
      additionalProperties: false,
      required: columns.map(({ name }) => name),
      properties: Object.fromEntries(columns.map((column) => [column.name, columnSchema(column)])),
    },
  };
}

function columnSchema({ type, description, nullable, format, enum: allowed }: ColumnDef): Record<string, unknown> {
  return {
    description,
    type: nullable ? [type, "null"] : type,
    ...(format && { format }),
    ...(allowed && { enum: nullable ? [...allowed, null] : allowed }),
  };
}
