import type { CellValue, ColumnDef, Table } from "#lib/closeout/package-input";

// The columns that tables of a package are made of.
export const text = (name: string, description: string, nullable = false): ColumnDef => ({ name, type: "string", description, ...(nullable ? { nullable } : {}) });
export const time = (name: string, description: string, nullable = false): ColumnDef => ({ ...text(name, description, nullable), format: "date-time" });
export const whole = (name: string, description: string, nullable = false): ColumnDef => ({ name, type: "integer", description, ...(nullable ? { nullable } : {}) });
export const number = (name: string, description: string, nullable = false): ColumnDef => ({ name, type: "number", description, ...(nullable ? { nullable } : {}) });

export function table(name: string, description: string, columns: ColumnDef[], rows: CellValue[][]): Table {
  return { name, description, columns, rows };
}
