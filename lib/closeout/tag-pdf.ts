import PDFDocument from "pdfkit";
import { encode } from "uqr";
import { NOT_A_SUBSTITUTE } from "#lib/closeout/caution";
import { PAPERS, TAG_COLUMNS, TAG_ROWS, TAGS_A_PAGE, type Paper } from "#lib/closeout/paper";
import { fontBytes } from "#lib/closeout/pdf-font";
import { STYLE } from "#lib/closeout/pdf-sheet";
import { TextSetter, type TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";

/** Points in a millimetre. */
const MM = 72 / 25.4;

export interface TagPrint {
  paper: Paper;
  project: string;
  author: string;
  madeAt: string;
  log: { digest: string; words: string };
  origin: string[];
  tags: { mark: string; bent: string; row: string; type: string; core: "H" | "square" | "round" | null; top: string | null; code: string }[];
}

// All lengths in mm. The frame stays clear of the edge that common printers leave white.
const FRAME = 7;
const HEAD = 15;
const FOOT = 15.5;
const NOTES = 13.5;
const PAD = 4;
const GAP = 4;
const HOLE = 5;
/** Middle of a hole from the end of the tag, and how far nothing else is printed. Chosen: 3 mm of card stand between hole and end. */
const HOLE_AT = 5.5;
const CLEAR = 11;
/** Modules of empty margin round a code. Source: ISO/IEC 18004, quiet zone (from memory). */
const QUIET = 4;
const MARK_PT = 78;
/** Height of its capitals and figures, of the size. Measured on the face. */
const CAPITAL = 0.73;
/** From the upper end of the tag to the mark, and from the code's own margin to the lower end. */
const OVER = 3.4;
const UNDER = 0.6;
const CHECK_BAR = 40;

const LEAD: TextStyle = { font: "word", size: 9.6, color: PRINT.ink };
const TITLE: TextStyle = { font: "wordBold", size: 16, color: PRINT.ink, leading: 1.15 };
const BOLD: TextStyle = { font: "wordBold", size: 9, color: PRINT.ink, leading: 1.3 };
const LETTER: TextStyle = { font: "letter", size: 9, color: PRINT.ink, leading: 1.25 };
const SMALL: TextStyle = { font: "word", size: 6.8, color: PRINT.ink, leading: 1.35 };
const NOTE: TextStyle = { font: "letter", size: 8.4, color: PRINT.ink, leading: 1.28 };

/** What to do with them, and each one's share of the width. */
const NOTES_WORDS: readonly (readonly [title: string, words: string, share: number])[] = [
  ["Cut and lace", `Cut on the broken line, punch ${HOLE} mm at the circles, lace through both ends.`, 0.26],
  ["Fix it", "above the splash line, facing the float, before the first photo.", 0.22],
  ["Hold it in the picture", "at least a tenth of the width. It shows which tag was there, no more.", 0.26],
  ["Lost or renumbered?", "Print it again. The code names the pile, not its mark: old tags stay valid.", 0.26],
];

/** Printed pile tags, eight to a page, to be cut out and laced on. Every code is drawn as lines, so that no printer blurs it. */
export async function tagPdf(print: TagPrint): Promise<Buffer> {
  const doc = new PDFDocument({
    size: [...PAPERS[print.paper]].map((side) => side * MM) as [number, number],
    margin: 0, autoFirstPage: false, bufferPages: true, pdfVersion: "1.7", tagged: true, displayTitle: true, lang: "en",
    font: fontBytes("word") as unknown as string,
    info: { Title: `Pile tags, ${print.project}`, Author: print.author, Subject: "Pile tags to be cut out", Creator: "Lastlook", Producer: "Lastlook", CreationDate: new Date(print.madeAt), ModDate: new Date(print.madeAt) },
  });
  const pages = Array.from({ length: Math.ceil(print.tags.length / TAGS_A_PAGE) }, (_, page) => print.tags.slice(page * TAGS_A_PAGE, (page + 1) * TAGS_A_PAGE));
  const root = doc.struct("Document");
  doc.addStructure(root);
  const drawing: Drawing = { doc, set: new TextSetter(doc), root };
  pages.forEach((tags, page) => {
    doc.addPage();
    drawPage(drawing, print, tags, page, pages.length);
  });
  root.end();
  const chunks: Buffer[] = [];
  doc.on("data", (chunk: Buffer) => chunks.push(chunk));
  const whole = new Promise<Buffer>((resolve, reject) => {
    doc.on("end", () => resolve(Buffer.concat(chunks)));
    doc.on("error", reject);
  });
  doc.end();
  return whole;
}

interface Drawing {
  doc: PDFKit.PDFDocument;
  set: TextSetter;
  root: PDFKit.PDFStructureElement;
}

type Tag = TagPrint["tags"][number];

interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Draws something that means something. */
function element({ doc, root }: Drawing, kind: string, draw: () => void, alt?: string): void {
  const content = doc.markStructureContent(kind);
  draw();
  doc.endMarkedContent();
  root.add(doc.struct(kind, alt === undefined ? {} : { alt }, [content]));
}

/** Draws lines and frames that carry no meaning of their own. */
function artifact({ doc }: Drawing, draw: () => void): void {
  doc.markContent("Artifact", { type: "Layout" });
  draw();
  doc.endMarkedContent();
}

/** Lines of text in a column, mm; gives back where they end. More lines than `most` are left out. */
function column({ set }: Drawing, text: string, x: number, y: number, width: number, style: TextStyle, most = 9): number {
  const step = set.lineHeight(style) / MM;
  const lines = set.lines(text, width * MM, style).slice(0, most);
  lines.forEach((line, i) => set.line(line, x * MM, (y + i * step) * MM, style));
  return y + lines.length * step;
}

function drawPage(drawing: Drawing, print: TagPrint, tags: readonly Tag[], page: number, pages: number): void {
  const [wide, high] = PAPERS[print.paper];
  const [right, bottom] = [wide - FRAME, high - FRAME];
  const first = page * TAGS_A_PAGE + 1;
  drawHead(drawing, print, tags, first, right);
  const top = FRAME + HEAD + PAD;
  const height = (bottom - FOOT - NOTES - 2 - top - (TAG_ROWS - 1) * GAP) / TAG_ROWS;
  const width = (right - FRAME - 2 * PAD - (TAG_COLUMNS - 1) * GAP) / TAG_COLUMNS;
  tags.forEach((tag, i) => {
    const [row, place] = [Math.floor(i / TAG_COLUMNS), i % TAG_COLUMNS];
    drawTag(drawing, print, tag, { x: FRAME + PAD + place * (width + GAP), y: top + row * (height + GAP), width, height });
  });
  drawNotes(drawing, bottom - FOOT - NOTES + 1.5, right);
  drawFoot(drawing, print, { right, bottom, page, pages });
}

function drawHead(drawing: Drawing, print: TagPrint, tags: readonly Tag[], first: number, right: number): void {
  const { doc } = drawing;
  const split = right - 84;
  const bents = [...new Set(tags.map(({ bent }) => bent))];
  const title = `${bents.length === 1 ? "Bent" : "Bents"} ${bents.join(", ").replace(/, ([^,]*)$/, " and $1")}`;
  const last = first + tags.length - 1;
  element(drawing, "P", () => column(drawing, `Pile tags ${first === last ? first : `${first} to ${last}`} of ${print.tags.length}, ${print.project}`, FRAME + 4, FRAME + 2, split - FRAME - 6, LEAD, 1));
  element(drawing, "H1", () => column(drawing, title, FRAME + 4, FRAME + 6.6, split - FRAME - 6, TITLE, 1));
  const at = split + 4;
  element(drawing, "P", () => {
    drawing.set.line("Print at 100 %,", at * MM, (FRAME + 2) * MM, { ...LEAD, font: "wordBold" });
    const after = at + drawing.set.width("Print at 100 % ", { ...LEAD, font: "wordBold" }) / MM + 1;
    drawing.set.line("on waterproof stock, matt.", after * MM, (FRAME + 2) * MM, LEAD);
    drawing.set.line("check:", at * MM, (FRAME + 8.4) * MM, LEAD);
    drawing.set.line(`${CHECK_BAR} mm`, (at + 15 + CHECK_BAR + 3) * MM, (FRAME + 8.4) * MM, LEAD);
  });
  element(drawing, "Figure", () => {
    const [x, y] = [at + 15, FRAME + 10.6];
    for (const share of [0, 0.25, 0.5, 0.75, 1]) {
      const arm = share === 0 || share === 1 ? 1.8 : 1;
      doc.moveTo((x + share * CHECK_BAR) * MM, (y - arm) * MM).lineTo((x + share * CHECK_BAR) * MM, (y + arm) * MM);
    }
    doc.moveTo(x * MM, y * MM).lineTo((x + CHECK_BAR) * MM, y * MM).lineWidth(0.8).stroke(PRINT.ink);
  }, `A bar that measures ${CHECK_BAR} mm when the page is printed at its size.`);
  artifact(drawing, () => {
    doc.moveTo(FRAME * MM, (FRAME + HEAD) * MM).lineTo(right * MM, (FRAME + HEAD) * MM);
    doc.moveTo(split * MM, FRAME * MM).lineTo(split * MM, (FRAME + HEAD) * MM).lineWidth(1.1).stroke(PRINT.ink);
  });
}

function drawTag(drawing: Drawing, { project }: TagPrint, tag: Tag, box: Box): void {
  const { doc, set } = drawing;
  const { x, y, width, height } = box;
  artifact(drawing, () => drawCuts(doc, box));
  element(drawing, "Figure", () => [HOLE_AT, width - HOLE_AT].forEach((at) => drawHole(doc, x + at, y + height / 2)), `Where the tag of ${tag.mark} is punched: at both ends, in the middle`);

  const inside = width - 2 * CLEAR;
  const style = fitting(set, tag.mark, inside * MM);
  const baseline = y + OVER + (CAPITAL * style.size) / MM;
  element(drawing, "H2", () => set.line(tag.mark, (x + CLEAR) * MM, baseline * MM - style.size * 0.95, style));

  const code = height - OVER - UNDER - (CAPITAL * MARK_PT) / MM;
  const left = x + width - CLEAR - code;
  element(drawing, "Figure", () => drawCode(doc, tag.code, left, y + height - UNDER - code, code), `QR code of pile ${tag.mark}: ${tag.code}`);

  const words = left - x - CLEAR - 1;
  const low = y + height - code + 2;
  element(drawing, "Figure", () => drawRing(doc, tag.core, x + CLEAR + 5, low + 5, 5), tag.core === null ? "A pile in its jacket" : `A pile in its jacket, ${tag.core}`);
  element(drawing, "P", () => {
    const beside = x + CLEAR + 12.5;
    column(drawing, `row ${tag.row}`, beside, column(drawing, `bent ${tag.bent}`, beside, low + 0.6, words - 12.5, BOLD, 1), words - 12.5, BOLD, 1);
    let at = column(drawing, tag.type, x + CLEAR, low + 11.5, words, LETTER, 2);
    if (tag.top !== null) at = column(drawing, `top ${tag.top}`, x + CLEAR, at, words, LETTER, 1);
    column(drawing, project, x + CLEAR, at, words, LETTER, Math.max(0, Math.floor((y + height - 1.5 - at) / (set.lineHeight(LETTER) / MM))));
  });
}

/** The mark as large as it goes between the holes. */
function fitting(set: TextSetter, mark: string, width: number): TextStyle {
  const style = (size: number): TextStyle => ({ font: "wordBold", size, color: PRINT.ink, spacing: -0.02 * size });
  return style(Math.min(MARK_PT, (MARK_PT * width) / set.width(mark, style(MARK_PT))));
}

function drawCuts(doc: PDFKit.PDFDocument, { x, y, width, height }: Box): void {
  doc.rect(x * MM, y * MM, width * MM, height * MM).lineWidth(0.5).dash(2.4, { space: 2.4 }).stroke(PRINT.rule).undash();
  for (const atX of [x, x + width]) {
    for (const atY of [y, y + height]) {
      doc.moveTo((atX - 1.8) * MM, atY * MM).lineTo((atX + 1.8) * MM, atY * MM).moveTo(atX * MM, (atY - 1.8) * MM).lineTo(atX * MM, (atY + 1.8) * MM);
    }
  }
  doc.lineWidth(0.7).stroke(PRINT.ink);
}

function drawHole(doc: PDFKit.PDFDocument, x: number, y: number): void {
  doc.circle(x * MM, y * MM, (HOLE / 2) * MM).lineWidth(0.7).stroke(PRINT.ink);
  doc.moveTo((x - 1) * MM, y * MM).lineTo((x + 1) * MM, y * MM).moveTo(x * MM, (y - 1) * MM).lineTo(x * MM, (y + 1) * MM).lineWidth(0.5).stroke(PRINT.ink);
}

/** Dark modules side by side are one shape, so that no viewer draws a light seam between them. */
function drawCode(doc: PDFKit.PDFDocument, text: string, x: number, y: number, side: number): void {
  const { data, size } = encode(text, { ecc: "Q", border: QUIET });
  const step = (side / size) * MM;
  data.forEach((row, line) => {
    for (let from = 0; from < size; from += 1) {
      if (!row[from] || row[from - 1]) continue;
      let to = from;
      while (row[to]) to += 1;
      doc.rect(x * MM + from * step, y * MM + line * step, (to - from) * step, step);
    }
  });
  doc.fill(PRINT.ink);
}

/** The pile in plan inside its jacket, the ring open as long as nothing is covered up. */
function drawRing(doc: PDFKit.PDFDocument, core: Tag["core"], x: number, y: number, r: number): void {
  const gap = r * 0.42;
  const rise = Math.sqrt(r * r - gap * gap);
  doc.save().translate(x * MM, y * MM).scale(MM);
  doc.path(`M${gap} ${-rise}A${r} ${r} 0 1 1 ${-gap} ${-rise}`).lineWidth(0.75).stroke(PRINT.ink);
  const c = r * 0.46;
  if (core === "H") doc.path(`M${-c} ${-c}H${c}M${-c} ${c}H${c}M0 ${-c}V${c}`).lineWidth(0.9).stroke(PRINT.ink);
  else if (core === "square") doc.rect(-c, -c, 2 * c, 2 * c).lineWidth(0.7).stroke(PRINT.ink);
  else if (core === "round") doc.circle(0, 0, c).lineWidth(0.7).stroke(PRINT.ink);
  doc.restore();
}

function drawNotes(drawing: Drawing, y: number, right: number): void {
  let x = FRAME + PAD;
  for (const [title, words, share] of NOTES_WORDS) {
    const [from, width] = [x, share * (right - FRAME - 2 * PAD + 3) - 3];
    element(drawing, "P", () => column(drawing, words, from, column(drawing, title, from, y, width, { ...NOTE, font: "wordBold", size: 7.8 }, 1), width, NOTE, 2));
    x += width + 3;
  }
}

function drawFoot(drawing: Drawing, { log, origin }: TagPrint, { right, bottom, page, pages }: { right: number; bottom: number; page: number; pages: number }): void {
  const { doc, set } = drawing;
  const top = bottom - FOOT;
  const marks = [FRAME, FRAME + 94, right - 62, right - 22];
  artifact(drawing, () => {
    doc.rect(FRAME * MM, FRAME * MM, (right - FRAME) * MM, (bottom - FRAME) * MM).lineWidth(1.9).stroke(PRINT.ink);
    doc.moveTo(FRAME * MM, top * MM).lineTo(right * MM, top * MM).lineWidth(1.9).stroke(PRINT.ink);
    for (const x of marks.slice(1)) doc.moveTo(x * MM, top * MM).lineTo(x * MM, bottom * MM);
    doc.lineWidth(0.9).stroke(PRINT.ink);
  });
  const cell = (at: number, label: string, rows: readonly (readonly [string, TextStyle])[]): void => {
    const x = (marks[at] ?? 0) + 3;
    const width = (marks[at + 1] ?? right) - x - 2;
    element(drawing, "P", () => {
      set.line(label.toUpperCase(), x * MM, (top + 1.6) * MM, { ...STYLE.note, size: 6.6, spacing: 0.3 });
      let y = top + 5;
      for (const [text, style] of rows) y = column(drawing, text, x, y, width, style, 3);
    });
  };
  const [, label = "", rest = NOT_A_SUBSTITUTE] = /^(Not a substitute) (.*)$/.exec(NOT_A_SUBSTITUTE) ?? [];
  cell(0, "Log head on this page", [[log.digest, { font: "code", size: 5.8, color: PRINT.ink, leading: 1.7 }], [log.words, SMALL]]);
  cell(1, "Made from", origin.map((line) => [line, SMALL] as const));
  cell(2, label, [[rest, SMALL]]);
  cell(3, "Page", [[`${page + 1} of ${pages}`, { font: "wordBold", size: 12.5, color: PRINT.ink }]]);
}
