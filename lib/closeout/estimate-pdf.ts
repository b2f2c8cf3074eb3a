import { oneBatchWords, shown, shownBeside, shownDigits, written, writtenDigits } from "#lib/domain/estimate/figure";
import type { CutSheet, OrderList } from "#lib/domain/estimate/order-list";
import type { PileEstimate } from "#lib/domain/estimate/pile-estimate";
import { workingOf } from "#lib/domain/estimate/working";
import { BODY, Sheet, STYLE, type SheetFrame } from "#lib/closeout/pdf-sheet";
import { drawTable, type PdfColumn } from "#lib/closeout/pdf-table";
import type { TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";

/** Everything an estimate's print is made of. Fields named `…Words` are shown as they stand. */
export interface EstimatePrint {
  frame: SheetFrame;
  place: string;
  lead: string;
  selectionWords: string;
  revisionWords: string;
  groups: { type: string; name: string; letter: string; markWords: string; piles: number; bags: number; estimate: PileEstimate }[];
  order: OrderList;
  /** What is left out and what could not be worked out, one sentence each. */
  notes: string[];
}

const TITLE: TextStyle = { font: "wordBold", size: 22, color: PRINT.ink, leading: 1.15 };
const RIGHT_NOTE: TextStyle = { ...STYLE.note, size: 7 };

const CAUTIONS = [
  "Arithmetic on entered data, not a design: a licensed engineer decides on loads, and a competent person designs the ties and the lifts.",
  "Heavy wet grout, pressure on seal and jacket, ties under tension: stand clear. Fresh grout is caustic: mind eyes and skin.",
  "Do not mix more than the data sheet’s batch: mixed mass in a bucket heats up and may smoke or burn. Epoxy sensitises skin.",
  "Lines marked common practice need the project’s confirmation.",
];

/** An estimate as a PDF: cut list to scale, quantities, lifts, order list and working. Nothing of it is a record. */
export async function estimatePdf(print: EstimatePrint): Promise<Buffer> {
  const sheet = new Sheet(print.frame, "Estimate", "Estimate of pile encasement");
  sheet.outline("Estimate");
  sheet.y += sheet.text(`${print.frame.project.name}, ${print.place}`, { x: BODY.left, y: sheet.y, width: BODY.width }, STYLE.lead);
  sheet.y += sheet.text("Estimate", { x: BODY.left, y: sheet.y, width: BODY.width }, TITLE, "H1") + 2;
  sheet.paragraph(print.lead, { ...STYLE.bold, size: 11 }, 3);
  sheet.paragraph(`${print.selectionWords}. ${print.revisionWords}`, STYLE.label, 10);
  for (const cuts of print.order.sheets) drawCuts(sheet, cuts);
  drawQuantities(sheet, print);
  for (const note of print.notes) sheet.paragraph(note, STYLE.note, 3);
  drawLifts(sheet, print);
  drawOrder(sheet, print.order);
  for (const caution of CAUTIONS) sheet.paragraph(`– ${caution}`, STYLE.note, 2);
  drawWorking(sheet, print);
  return sheet.finish();
}

const NAME_WIDTH = 46;
const LEFT_WIDTH = 44;

/** Rolls to one scale along and across; a new sheet is taken between rolls. */
function drawCuts(sheet: Sheet, { rolls, rollLength, rollWidth, thickness, pieces, used, available, share, bound, best }: CutSheet): void {
  const { doc } = sheet;
  sheet.outline("Cut list");
  sheet.heading("Cut list", 90);
  const found = `${pieces} jackets on rolls of ${writtenDigits(rollLength)} × ${written(rollWidth)}, ${written(thickness)}: ${shownDigits(used, 1)} of ${shown(available, 0)} used, ${(share * 100).toFixed(1)} %; at least ${bound} rolls, ${rolls.length} found${best ? "" : ", not shown to be the fewest"}. One pile, one lot. Hatched is offcut.`;
  sheet.paragraph(found, STYLE.note, 5);
  const scale = (BODY.width - NAME_WIDTH - LEFT_WIDTH) / rollLength.si;
  const deep = rollWidth.si * scale;
  const left = BODY.left + NAME_WIDTH;
  for (const roll of rolls) {
    sheet.room(deep + 6);
    const top = sheet.y;
    const alt = `Roll ${roll.number}${roll.lot ? `, lot ${roll.lot}` : ""}: ${roll.pieces.map(({ mark, length }) => `${mark} ${shown(length)}`).join(", ")}; ${shown(roll.left, 1)} left`;
    sheet.element("Figure", () => {
      hatch(doc, left, top, rollLength.si * scale, deep);
      for (const { mark, length, height, from, across } of roll.pieces) {
        const [x, y, wide, high] = [left + from * scale, top + across * scale, length.si * scale, height.si * scale];
        doc.rect(x, y, wide, high).lineWidth(1.2).fillAndStroke(PRINT.paper, PRINT.ink);
        const middle = y + high / 2 - 5;
        sheet.set.line(mark, x + 4, middle, STYLE.bold);
        const digits = shownDigits(length, 2);
        const width = sheet.set.width(digits, STYLE.body);
        if (wide > width + sheet.set.width(mark, STYLE.bold) + 12) sheet.set.line(digits, x + wide - width - 4, middle, STYLE.body);
      }
      sheet.set.line(`roll ${roll.number}`, BODY.left, top + deep / 2 - (roll.lot ? 9 : 5), STYLE.bold);
      if (roll.lot) sheet.set.line(roll.lot, BODY.left, top + deep / 2 + 1, RIGHT_NOTE);
      sheet.set.line(`${shownDigits(roll.left, 1)} left`, left + rollLength.si * scale + 4, top + deep / 2 - 4, RIGHT_NOTE);
    }, { alt });
    sheet.y += deep + 6;
  }
  sheet.y += 6;
}

function hatch(doc: PDFKit.PDFDocument, x: number, y: number, wide: number, high: number): void {
  doc.save().rect(x, y, wide, high).clip();
  for (let at = x - high; at < x + wide; at += 7) doc.moveTo(at, y).lineTo(at + high, y + high);
  doc.lineWidth(0.4).stroke(PRINT.rule);
  doc.restore();
  doc.rect(x, y, wide, high).lineWidth(0.7).stroke(PRINT.ink);
}

function drawQuantities(sheet: Sheet, { groups, order }: EstimatePrint): void {
  sheet.outline("Quantities");
  sheet.heading("Quantities by type");
  const columns: PdfColumn[] = [
    { head: "Type", width: 150, style: STYLE.bold }, { head: "Piles", width: 34 }, { head: "Length", width: 72 }, { head: "Contact", width: 66 }, { head: "A", width: 54 }, { head: "B", width: 54 },
    { head: "One batch to", width: 58 }, { head: "Bags", width: BODY.width - 488 },
  ];
  drawTable(sheet, columns, [
    ...groups.map(({ type, name, letter, markWords, piles, bags, estimate: { cut, coat, resin, grout } }) => [
      { words: `${type}, ${name}`, second: `${markWords}, revision ${letter}` }, { words: `${piles}` },
      cut.known ? { words: shown(cut.length), second: shownBeside(cut.length) } : TELL, coat.known ? { words: shown(coat.contact), second: `${(coat.share * 100).toFixed(1)} %` } : TELL,
      resin.known ? { words: shown(resin.a), second: shownBeside(resin.a) } : TELL, resin.known ? { words: shown(resin.b), second: shownBeside(resin.b) } : TELL,
      { words: resin.known ? oneBatchWords(resin) : "cannot tell" }, grout.known ? { words: `${bags}`, second: `${grout.bags} each` } : TELL,
    ]),
    ["All, with waste", `${groups.reduce((sum, { piles }) => sum + piles, 0)}`, `${order.sheets.reduce((sum, { rolls }) => sum + rolls.length, 0)} rolls`, "", shown(order.resin.a, 2), shown(order.resin.b, 2), order.resin.batches === null ? "" : `${order.resin.batches} batches`, `${order.bags}`]
      .map((words) => ({ words, style: STYLE.bold })),
  ]);
}

const TELL = { words: "cannot tell" };
/** Points for each metre of a lift. */
const LIFT_SCALE = 92;

function drawLifts(sheet: Sheet, { groups }: EstimatePrint): void {
  const drawn = groups.flatMap(({ type, estimate: { grout, head, ties } }) => (grout.known ? [{ type, grout, head, ties }] : []));
  if (drawn.length === 0) return;
  const tallest = Math.max(...drawn.map(({ grout }) => grout.height.si)) * LIFT_SCALE;
  sheet.outline("Lifts, head and ties");
  sheet.heading("Lifts, head and ties", tallest + 60);
  sheet.paragraph("Pressure is of all grout that has not set. The first lift sets before the next.", STYLE.note, 12);
  const wide = 168;
  const perRow = Math.max(1, Math.floor(BODY.width / wide));
  for (let start = 0; start < drawn.length; start += perRow) {
    sheet.room(tallest + 30);
    const foot = sheet.y + tallest;
    drawn.slice(start, start + perRow).forEach(({ type, grout, head, ties }, i) => {
      const x = BODY.left + i * wide;
      drawLift(sheet, { type, grout }, x, foot);
      const lines = [
        ...(head.known ? [`${written(head.atOnce.head)} at once: ${shown(head.atOnce.pressure)}, ${shown(head.atOnce.sealForce, 0)} on the seal`, `first lift: ${shown(head.firstLift.pressure)}, ${shown(head.firstLift.sealForce, 0)}; set ${head.setHours} h`] : []),
        ...(ties.known ? [`ties carry up to ${shown(ties.headLimit, 1)} before the jacket is cured`] : []),
      ];
      const at = x + grout.insideDiameter.si * LIFT_SCALE + 24;
      let y = foot - tallest;
      for (const line of lines) y += sheet.text(line, { x: at, y, width: x + wide - at - 4 }, STYLE.note) + 3;
    });
    sheet.y = foot + 30;
  }
}

function drawLift(sheet: Sheet, { type, grout }: { type: string; grout: Extract<PileEstimate["grout"], { known: true }> }, x: number, foot: number): void {
  const { doc } = sheet;
  const wide = grout.insideDiameter.si * LIFT_SCALE;
  const alt = `Lifts of type ${type}: ${grout.lifts.map(({ height }) => writtenDigits(height)).join(", ")} in, ${grout.bags} bags`;
  sheet.element("Figure", () => {
    let level = foot;
    for (const { height } of grout.lifts) {
      const deep = height.si * LIFT_SCALE;
      level -= deep;
      doc.rect(x + 2, level, wide, deep).lineWidth(0.7).stroke(PRINT.ink);
      const words = writtenDigits(height);
      if (deep > 12) sheet.set.line(words, x + 2 + (wide - sheet.set.width(words, STYLE.bold)) / 2, level + deep / 2 - 5, STYLE.bold);
      else sheet.set.line(words, x + wide + 6, level - 3, STYLE.bold);
    }
    doc.moveTo(x + 2, level - 6).lineTo(x + 2, foot).moveTo(x + 2 + wide, level - 6).lineTo(x + 2 + wide, foot).lineWidth(1.6).stroke(PRINT.ink);
    doc.rect(x, foot, wide + 4, 3.5).fill(PRINT.ink);
    sheet.set.line(`${type}, ${written(grout.height)}, ${grout.bags} bags`, x, foot + 7, STYLE.bold);
  }, { alt });
}

function drawOrder(sheet: Sheet, { lines }: OrderList): void {
  sheet.outline("Order list");
  sheet.heading("Order list, with waste");
  const columns: PdfColumn[] = [
    { head: "Material", width: 106, style: STYLE.bold }, { head: "Size", width: 118 }, { head: "Net", width: 62 }, { head: "Waste", width: 62 }, { head: "Order", width: 76, style: STYLE.bold }, { head: "Note", width: BODY.width - 424 },
  ];
  drawTable(sheet, columns, lines.map(({ item, size, net, waste, order, note }) => [item, size, net, waste, order, note].map((words) => ({ words }))));
}

function drawWorking(sheet: Sheet, { groups }: EstimatePrint): void {
  const columns: PdfColumn[] = [
    { head: "What", width: 92, style: STYLE.bold }, { head: "Formula", width: 168 }, { head: "Comes to", width: 136 }, { head: "Beside", width: 58 }, { head: "From", width: BODY.width - 454, style: STYLE.note },
  ];
  for (const { type, name, letter, markWords, estimate } of groups) {
    const lines = workingOf(estimate);
    if (lines.length === 0) continue;
    sheet.y += 8;
    sheet.outline(`Working of type ${type}`);
    sheet.heading(`How it is worked out: ${type}, ${name}`, 120);
    sheet.paragraph(`${markWords}, revision ${letter}. Unrounded inside; rounded only where it is shown.`, STYLE.note, 3);
    drawTable(sheet, columns, lines.map(({ part, formula, result, beside, source }) => [part, formula, result, beside, source].map((words) => ({ words }))));
  }
}
