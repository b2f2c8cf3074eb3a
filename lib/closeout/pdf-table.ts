import { BODY, STYLE, type Sheet } from "#lib/closeout/pdf-sheet";
import type { TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";

export interface PdfColumn {
  head: string;
  /** Points. */
  width: number;
  style?: TextStyle;
}

/** What a cell shows: words, a second line that says more, and a mark drawn left of them. */
export interface PdfCell {
  words: string;
  second?: string | null;
  style?: TextStyle;
  mark?: { size: number; draw: (x: number, y: number) => void };
}

const PAD = 3.6;
const GUTTER = 7;
const HEAD: TextStyle = { font: "letterBold", size: 8, color: PRINT.ink };

/** A table that may run over several sheets: the head stands on each, and a row is never split. Heavy first and last rule, hairlines between. */
export function drawTable(sheet: Sheet, columns: readonly PdfColumn[], rows: readonly (readonly PdfCell[])[]): void {
  sheet.group("Table", () => {
    drawHead(sheet, columns, rows[0] ? rowHeight(sheet, columns, rows[0]) : 0);
    rows.forEach((row, i) => {
      const height = rowHeight(sheet, columns, row);
      if (sheet.y + height > BODY.bottom) {
        sheet.rule(sheet.y, 1.2);
        sheet.newSheet();
        drawHead(sheet, columns, height);
      }
      drawRow(sheet, columns, row, "TD");
      sheet.y += height;
      sheet.rule(sheet.y, i === rows.length - 1 ? 1.2 : 0.35, i === rows.length - 1 ? PRINT.ink : PRINT.rule);
    });
  });
  sheet.y += 8;
}

function drawHead(sheet: Sheet, columns: readonly PdfColumn[], nextRow: number): void {
  const cells = columns.map(({ head }) => ({ words: head, style: HEAD }));
  const height = rowHeight(sheet, columns, cells);
  sheet.room(height + nextRow);
  drawRow(sheet, columns, cells, "TH");
  sheet.y += height;
  sheet.rule(sheet.y, 1.2);
}

const styleOf = (column: PdfColumn, cell: PdfCell): TextStyle => cell.style ?? column.style ?? STYLE.body;
const markWidth = (cell: PdfCell): number => (cell.mark ? cell.mark.size + 4 : 0);

function rowHeight(sheet: Sheet, columns: readonly PdfColumn[], row: readonly PdfCell[]): number {
  const heights = columns.map((column, i) => {
    const cell = row[i] ?? { words: "" };
    const width = column.width - GUTTER - markWidth(cell);
    const words = sheet.textHeight(cell.words, width, styleOf(column, cell)) + (cell.second ? sheet.textHeight(cell.second, width, STYLE.note) : 0);
    return Math.max(cell.mark?.size ?? 0, words);
  });
  return Math.max(...heights) + 2 * PAD;
}

function drawRow(sheet: Sheet, columns: readonly PdfColumn[], row: readonly PdfCell[], tag: "TH" | "TD"): void {
  sheet.group("TR", () => {
    let x: number = BODY.left;
    columns.forEach((column, i) => {
      const cell = row[i] ?? { words: "" };
      const style = styleOf(column, cell);
      const { mark } = cell;
      const at = x;
      if (mark) sheet.artifact(() => mark.draw(at, sheet.y + PAD + (sheet.set.lineHeight(style) - mark.size) / 2 - 0.6));
      const place = { x: x + markWidth(cell), y: sheet.y + PAD, width: column.width - GUTTER - markWidth(cell) };
      if (cell.words !== "") place.y += sheet.text(cell.words, place, style, tag);
      if (cell.second) sheet.text(cell.second, place, STYLE.note, tag);
      x += column.width;
    });
  });
}
