import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PileState, PointKind, PointState } from "#lib/domain/point/state";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import { PILE_MARK } from "#lib/closeout/pile-mark";
import { PRINT } from "#lib/closeout/print-token";

type Doc = PDFKit.PDFDocument;

// Every mark is drawn in a box of 20 by 20 and scaled. More ink is more settled.
const BOX = "M2 2H18V18H2Z";

function inBox(doc: Doc, x: number, y: number, size: number, draw: () => void): void {
  doc.save().translate(x, y).scale(size / 20).lineCap("butt").lineJoin("miter");
  draw();
  doc.restore();
}

const stroke = (doc: Doc, path: string, width: number, color: string = PRINT.ink): Doc => doc.path(path).lineWidth(width).stroke(color);

function hatchedBox(doc: Doc, lines: string, width: number): void {
  doc.save().path(BOX).clip();
  stroke(doc, lines, width);
  doc.restore();
  stroke(doc, BOX, 1.8);
}

const RISING = "M-2 8L8 -2M-2 15L15 -2M-2 22L22 -2M5 22L22 5M12 22L22 12";
const FALLING = "M-2 12L8 22M-2 5L15 22M-2 -2L22 22M5 -2L22 15M12 -2L22 8";
const WAVES = "M2 7q4 -4 8 0t8 0M2 13q4 -4 8 0t8 0";

const STATE_MARK: Record<PointState, (doc: Doc) => void> = {
  "not open": (doc) => void stroke(doc.dash(3, { space: 2.4 }), BOX, 1.6).undash(),
  open: (doc) => void stroke(doc, "M2.2 2.2H17.8V17.8H2.2Z", 2.4, PRINT.held),
  draft: (doc) => {
    for (let y = 5; y <= 15; y += 5) for (let x = 5; x <= 15; x += 5) doc.circle(x, y, 1.3);
    doc.fill(PRINT.ink);
    stroke(doc, BOX, 1.8);
  },
  submitted: (doc) => hatchedBox(doc, RISING, 2.4),
  "QC checked": (doc) => hatchedBox(doc, RISING + FALLING, 2),
  released: (doc) => void doc.rect(1.5, 1.5, 17, 17).fill(PRINT.ink),
  "released under concession": (doc) => {
    doc.rect(1.5, 1.5, 17, 17).fill(PRINT.ink);
    stroke(doc, "M0 20L20 0", 4.4, PRINT.paper);
  },
  rejected: (doc) => void stroke(doc, "M2 2L18 18M18 2L2 18", 4, PRINT.rejected),
  "in doubt": (doc) => {
    stroke(doc, BOX, 1.8, PRINT.doubt);
    stroke(doc, WAVES, 2, PRINT.doubt);
  },
  expired: (doc) => {
    doc.circle(10, 10, 8).lineWidth(2).stroke(PRINT.doubt);
    stroke(doc, "M10 4.5V10H15", 2.4, PRINT.doubt);
    stroke(doc, "M2 18L18 2", 2, PRINT.doubt);
  },
  "notice lapsed": (doc) => {
    stroke(doc, BOX, 1.8);
    doc.rect(2, 2, 8, 16).fill(PRINT.ink);
  },
  "not applicable": (doc) => void stroke(doc, "M3 17L17 3", 1.6),
  "out of scope": (doc) => {
    stroke(doc.dash(3, { space: 2.3 }), "M3.5 3.5H16.5V16.5H3.5Z", 1.3).undash();
    stroke(doc, "M0 10H20", 1.8);
  },
  conflict: (doc) => {
    doc.rect(1.5, 1.5, 12, 12).lineWidth(2).stroke(PRINT.rejected);
    doc.rect(6.5, 6.5, 12, 12).lineWidth(2).fillAndStroke(PRINT.paper, PRINT.rejected);
  },
};

const VERDICT_MARK: Record<ValueVerdict, (doc: Doc) => void> = {
  meets: (doc) => {
    stroke(doc, "M3 16H17M3 10H17", 2.4);
    stroke(doc, "M6 6L10 2L14 6", 2.2);
  },
  "meets, inside uncertainty": (doc) => void stroke(doc, "M3 12H17M10 4V19M7 4H13M7 19H13", 2),
  fails: (doc) => {
    stroke(doc, "M3 5H17M3 13H17", 2.4, PRINT.rejected);
    stroke(doc, "M13 1L7 18", 2.4, PRINT.rejected);
  },
  "cannot tell": (doc) => brokenRing(doc),
  "not measured": (doc) => void stroke(doc, "M5 10H15", 2),
};

const ORDER_MARK: Record<OrderVerdict, (doc: Doc) => void> = {
  "in order": (doc) => void stroke(doc, "M10 2V18M4 18H16", 2.6),
  "too early": (doc) => void stroke(doc, "M16 3V17L4 10Z", 2.2, PRINT.rejected),
  "too late": (doc) => void doc.path("M4 3V17L16 10Z").lineWidth(2.2).fillAndStroke(PRINT.rejected, PRINT.rejected),
  "cannot tell": (doc) => brokenRing(doc),
  "no time": (doc) => brokenRing(doc),
  "clock in doubt": (doc) => brokenRing(doc),
};

function brokenRing(doc: Doc): void {
  doc.circle(10, 10, 7).lineWidth(2.2).dash(3.6, { space: 2.7 }).stroke(PRINT.doubt).undash();
}

export const drawState = (doc: Doc, state: PointState, x: number, y: number, size: number): void => inBox(doc, x, y, size, () => STATE_MARK[state](doc));
export const drawPileState = (doc: Doc, state: PileState, x: number, y: number, size: number): void => drawState(doc, PILE_MARK[state], x, y, size);
export const drawVerdict = (doc: Doc, verdict: ValueVerdict, x: number, y: number, size: number): void => inBox(doc, x, y, size, () => VERDICT_MARK[verdict](doc));
export const drawOrder = (doc: Doc, order: OrderVerdict, x: number, y: number, size: number): void => inBox(doc, x, y, size, () => ORDER_MARK[order](doc));

/** H is a solid block, W a ring, R underlined: the weight of their stop. */
export function drawKind(doc: Doc, kind: PointKind, x: number, y: number, size: number): void {
  inBox(doc, x, y, size, () => {
    if (kind === "H") doc.rect(0, 0, 20, 20).fill(PRINT.ink);
    if (kind === "W") doc.circle(10, 10, 9.2).lineWidth(1.5).stroke(PRINT.ink);
    if (kind === "R") stroke(doc, "M2 19.2H18", 1.5);
    doc.font("letterBold").fontSize(13.5).fillColor(kind === "H" ? PRINT.paper : PRINT.ink);
    doc.text(kind, 10 - doc.widthOfString(kind) / 2, 14.8, { lineBreak: false, baseline: "alphabetic" });
  });
}

/** A numbered triangle, as a drawing marks a change. */
export function drawFlag(doc: Doc, number: number, x: number, y: number, size: number): void {
  inBox(doc, x, y, size, () => {
    stroke(doc, "M10 1.5L19 18H1Z", 1.7);
    const text = String(number);
    doc.font("letterBold").fontSize(text.length > 1 ? 8 : 10.5).fillColor(PRINT.ink);
    doc.text(text, 10 - doc.widthOfString(text) / 2, 16, { lineBreak: false, baseline: "alphabetic" });
  });
}
