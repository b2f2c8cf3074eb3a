import { STYLE, type Place, type Sheet } from "#lib/closeout/pdf-sheet";
import type { TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";

export interface Stamp {
  kind: "released" | "rejected" | "concession";
  title: string;
  lines: string[];
  /** Signed by the server for the person: the outer frame is broken. */
  serverAttested: boolean;
}

const PAD = 10;
const GAP = 3.2;
const LINE: TextStyle = { font: "letter", size: 8, color: PRINT.ink, leading: 1.35 };

export function stampHeight(sheet: Sheet, stamp: Stamp, width: number): number {
  const inner = width - 2 * GAP - 2 * PAD;
  const title = sheet.textHeight(stamp.title.toUpperCase(), inner, titleStyle(stamp));
  return title + stamp.lines.reduce((sum, line) => sum + sheet.textHeight(line, inner, LINE), 0) + 2 * GAP + 16.5;
}

/** A stamp stands only where a decision was made; it is upright, and it is text. Returns its height. */
export function drawStamp(sheet: Sheet, stamp: Stamp, { x, y, width }: Place): number {
  const height = stampHeight(sheet, stamp, width);
  sheet.artifact(() => drawFrame(sheet.doc, stamp, { x, y, width, height }));

  const inner = width - 2 * GAP - 2 * PAD;
  const left = x + GAP + PAD;
  const style = titleStyle(stamp);
  let at = y + GAP + 5.5;
  at += sheet.text(stamp.title.toUpperCase(), { x: left, y: at, width: inner }, style) + 2;
  sheet.rule(at, 0.6, style.color, x + GAP, x + width - GAP);
  at += 4.5;
  for (const line of stamp.lines) at += sheet.text(line, { x: left, y: at, width: inner }, { ...LINE, color: style.color });
  return height;
}

const titleStyle = ({ kind }: Stamp): TextStyle => ({ ...STYLE.heading, size: 9.4, spacing: 0.6, color: kind === "rejected" ? PRINT.rejected : PRINT.ink });

interface Box { x: number; y: number; width: number; height: number }

// Released: double rule. Concession: heavy double frame. Rejected: one red frame with two cut corners.
function drawFrame(doc: PDFKit.PDFDocument, { kind, serverAttested }: Stamp, { x, y, width, height }: Box): void {
  if (kind === "rejected") {
    const cut = 11;
    doc.moveTo(x + cut, y).lineTo(x + width, y).lineTo(x + width, y + height - cut).lineTo(x + width - cut, y + height).lineTo(x, y + height).lineTo(x, y + cut).closePath();
    doc.lineWidth(2);
    if (serverAttested) doc.dash(7, { space: 2.5 });
    doc.stroke(PRINT.rejected).undash();
    return;
  }
  const outer = kind === "concession" ? 1.9 : 0.7;
  doc.rect(x, y, width, height).lineWidth(outer);
  if (serverAttested) doc.dash(7, { space: 2.5 });
  doc.stroke(PRINT.ink).undash();
  doc.rect(x + GAP, y + GAP, width - 2 * GAP, height - 2 * GAP).lineWidth(kind === "concession" ? 1.9 : 1.5).stroke(PRINT.ink);
}
