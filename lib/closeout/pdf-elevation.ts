import type { ElevationData } from "#lib/closeout/package-input";
import { STYLE, type Sheet } from "#lib/closeout/pdf-sheet";
import type { TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";

export const ELEVATION = { width: 168, height: 206 } as const;

const LEVEL: TextStyle = { font: "wordBold", size: 7.4, color: PRINT.ink };
const SIZE: TextStyle = { font: "letter", size: 7.6, color: PRINT.ink };

/** The pile's elevation: cap, pile, jacket with grout, levels and sizes. Jacket and pile are to one scale; the length of the pile is not. */
export function drawElevation(sheet: Sheet, data: ElevationData, left: number, top: number): void {
  const { doc, set } = sheet;
  const sentence =
    `Elevation: jacket ${data.insideDiameterIn} in inside, ${data.jacketHeightIn} in high, top at ${level(data.topFt)} ft, ` +
    `bottom at ${level(data.bottomFt)} ft, around ${CORE_WORDS[data.core]}.`;

  // Points for an inch: as large as both the jacket's height and its width allow.
  const scale = Math.min(112 / data.jacketHeightIn, 84 / data.insideDiameterIn);
  const height = data.jacketHeightIn * scale;
  const width = data.insideDiameterIn * scale;
  const core = Math.min(data.coreWidthIn, data.insideDiameterIn) * scale;
  const axis = left + 98;
  const jacketTop = top + 52 + (112 - height) / 2;
  const jacketBottom = jacketTop + height;
  const foot = top + ELEVATION.height;
  const [jacketLeft, coreLeft] = [axis - width / 2, axis - core / 2];

  sheet.element(
    "Figure",
    () => {
      doc.save().lineJoin("miter").lineCap("butt");
      drawCap(doc, axis, top, Math.max(width + 26, 110));
      // The pile above and below the jacket, ending in a break line.
      doc.rect(coreLeft, top + 14, core, foot - top - 22).fill(PRINT.paper);
      doc.moveTo(coreLeft, top + 14).lineTo(coreLeft, foot - 8).moveTo(coreLeft + core, top + 14).lineTo(coreLeft + core, foot - 8);
      doc.lineWidth(1.1).stroke(PRINT.ink);
      drawBreak(doc, coreLeft - 7, coreLeft + core + 7, foot - 8);

      drawJacket(doc, { x: jacketLeft, y: jacketTop, width, height });
      drawCore(doc, data.core, coreLeft, core, jacketTop, jacketBottom);
      doc.moveTo(axis, top + 20).lineTo(axis, foot - 14).lineWidth(0.35).dash(9, { space: 2.5 }).stroke(PRINT.inkSoft).undash();

      for (const [y, ft] of [[jacketTop, data.topFt], [jacketBottom, data.bottomFt]] as const) {
        doc.moveTo(left, y).lineTo(jacketLeft - 3, y).lineWidth(0.7).stroke(PRINT.ink);
        doc.moveTo(left, y).lineTo(left + 6, y).lineTo(left + 3, y + 4.5).closePath().lineWidth(0.6).stroke(PRINT.ink);
        set.line(`${level(ft)} ft`, left, y - 11, LEVEL);
      }
      dimension(doc, jacketLeft + width + 16, jacketTop, jacketBottom);
      doc.save().rotate(-90, { origin: [jacketLeft + width + 24, jacketTop + height / 2] });
      centred(sheet, `${data.jacketHeightIn} in`, jacketLeft + width + 24, jacketTop + height / 2 - 5, SIZE);
      doc.restore();
      const below = jacketBottom + 13;
      dimensionAcross(doc, jacketLeft, jacketLeft + width, below);
      const words = `${data.insideDiameterIn} in inside`;
      const wordsWidth = set.width(words, SIZE);
      doc.rect(axis - wordsWidth / 2 - 2, below + 3, wordsWidth + 4, 10).fill(PRINT.paper);
      centred(sheet, words, axis, below + 2.5, SIZE);
      doc.restore();
    },
    { alt: sentence },
  );
}

const CORE_WORDS = { H: "an H-pile", square: "a square pile", round: "a round pile" } as const;

const level = (ft: number): string => `${ft < 0 ? "−" : "+"}${Math.abs(ft).toFixed(2)}`;

function centred({ set }: Sheet, text: string, x: number, y: number, style: TextStyle): void {
  set.line(text, x - set.width(text, style) / 2, y, style);
}

function drawCap(doc: PDFKit.PDFDocument, axis: number, top: number, width: number): void {
  const [x, height] = [axis - width / 2, 14];
  doc.save().rect(x, top, width, height).clip();
  for (let at = x - height; at < x + width; at += 7) doc.moveTo(at, top + height).lineTo(at + height, top);
  doc.lineWidth(0.35).stroke(PRINT.inkSoft).restore();
  doc.rect(x, top, width, height).lineWidth(1.8).stroke(PRINT.ink);
}

function drawBreak(doc: PDFKit.PDFDocument, from: number, to: number, y: number): void {
  const mid = (from + to) / 2;
  doc.moveTo(from, y).lineTo(mid - 5, y).lineTo(mid - 2, y - 5).lineTo(mid + 2, y + 5).lineTo(mid + 5, y).lineTo(to, y).lineWidth(0.8).stroke(PRINT.ink);
}

interface Box { x: number; y: number; width: number; height: number }

function drawJacket(doc: PDFKit.PDFDocument, { x, y, width, height }: Box): void {
  doc.rect(x, y, width, height).fill(PRINT.paper);
  doc.save().rect(x, y, width, height).clip();
  stipple(doc, { x, y, width, height });
  doc.restore();
  doc.rect(x, y, width, height).lineWidth(1.9).stroke(PRINT.ink);
  // The second layer, seen as its edge.
  doc.rect(x - 2.6, y, width + 5.2, height).lineWidth(0.7).stroke(PRINT.ink);
}

// Grout: points and small stones, the same on every sheet. The steps share no factor with each other, so that no pattern shows.
function stipple(doc: PDFKit.PDFDocument, { x, y, width, height }: Box): void {
  const count = Math.round((width * height) / 34);
  for (let i = 1; i <= count; i++) {
    const px = x + ((i * 0.754877666) % 1) * width;
    const py = y + ((i * 0.569840291) % 1) * height;
    if (i % 6 === 0) doc.moveTo(px, py).lineTo(px + 3, py + 0.3).lineTo(px + 1.3, py + 2.5).closePath().lineWidth(0.4).stroke(PRINT.ink);
    else doc.circle(px, py, i % 3 === 0 ? 0.75 : 0.5).fill(PRINT.ink);
  }
}

// Inside the jacket the pile is hidden: clear of grout, its edges broken. An H shows its web, a square its chamfers, a round nothing more.
function drawCore(doc: PDFKit.PDFDocument, core: ElevationData["core"], x: number, width: number, top: number, bottom: number): void {
  doc.rect(x, top + 1, width, bottom - top - 2).fill(PRINT.paper);
  const edges = core === "H" ? [0, 0.46, 0.54, 1] : core === "square" ? [0, 0.08, 0.92, 1] : [0, 1];
  for (const share of edges) doc.moveTo(x + share * width, top).lineTo(x + share * width, bottom);
  doc.lineWidth(0.8).dash(4, { space: 2 }).stroke(PRINT.ink).undash();
}

function slash(doc: PDFKit.PDFDocument, x: number, y: number): void {
  doc.moveTo(x - 3, y + 3).lineTo(x + 3, y - 3).lineWidth(1.2).stroke(PRINT.ink);
}

function dimension(doc: PDFKit.PDFDocument, x: number, top: number, bottom: number): void {
  doc.moveTo(x - 10, top).lineTo(x + 4, top).moveTo(x - 10, bottom).lineTo(x + 4, bottom).lineWidth(0.4);
  doc.moveTo(x, top - 4).lineTo(x, bottom + 4).lineWidth(0.6).stroke(PRINT.ink);
  slash(doc, x, top);
  slash(doc, x, bottom);
}

function dimensionAcross(doc: PDFKit.PDFDocument, left: number, right: number, y: number): void {
  doc.moveTo(left, y - 9).lineTo(left, y + 4).moveTo(right, y - 9).lineTo(right, y + 4).moveTo(left - 4, y).lineTo(right + 4, y);
  doc.lineWidth(0.6).stroke(PRINT.ink);
  slash(doc, left, y);
  slash(doc, right, y);
}

/** What stands in the place of the drawing when the pile's sizes are not known: its outline, broken, and why. */
export function drawNoElevation(sheet: Sheet, left: number, top: number): void {
  sheet.artifact(() => {
    sheet.doc.rect(left + 40, top + 10, 90, ELEVATION.height - 60).lineWidth(1).dash(4, { space: 3 }).stroke(PRINT.rule).undash();
  });
  sheet.text("Levels and sizes are not on record.", { x: left, y: top + ELEVATION.height - 40, width: ELEVATION.width }, STYLE.note);
}

