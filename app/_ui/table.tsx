import type { ReactNode } from "react";

/** Wide tables scroll inside their own frame, by keyboard too, so that the sheet itself never does. */
export function TableFrame({ label, children }: { label: string; children: ReactNode }) {
  return (
    <div className="table-frame" role="region" aria-label={label} tabIndex={0}>
      {children}
    </div>
  );
}

/** The same facts as a drawing, for who cannot or will not read the drawing. Stands right below it. */
export function ReadAsTable({ caption, columns, rows }: { caption: string; columns: string[]; rows: ReactNode[][] }) {
  return (
    <details className="as-table">
      <summary>Read as a table</summary>
      <TableFrame label={caption}>
        <table className="table">
          <caption className="hide">{caption}</caption>
          <thead>
            <tr>{columns.map((column) => <th key={column} scope="col">{column}</th>)}</tr>
          </thead>
          <tbody>
            {rows.map((cells, row) => (
              <tr key={row}>
                {cells.map((cell, column) => (column === 0 ? <th key={column} scope="row">{cell}</th> : <td key={column}>{cell}</td>))}
              </tr>
            ))}
          </tbody>
        </table>
      </TableFrame>
    </details>
  );
}
