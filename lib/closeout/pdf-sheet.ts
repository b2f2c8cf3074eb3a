import PDFDocument from "pdfkit";
import { NOT_A_SUBSTITUTE } from "#lib/closeout/caution";
import type { PackageIssue, PackageProject } from "#lib/closeout/package-input";
import { fontBytes } from "#lib/closeout/pdf-font";
import { TextSetter, type TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";
import { printedTime } from "#lib/closeout/printed-time";
import type { Head } from "#lib/records/head";

type Doc = PDFKit.PDFDocument;

export interface PdfContext {
  project: PackageProject;
  issue: PackageIssue;
  /** The newest head: it stands in full on every page. */
  head: Head;
}

/** What stands in the title block of every sheet of a document, and in the file's own facts. */
export interface SheetFrame {
  project: Pick<PackageProject, "name" | "zone">;
  author: string;
  madeAt: string;
  log: { digest: string; words: string };
  /** The cell beside the log: what the document belongs to. */
  origin: { label: string; lines: string[] };
}

/** The frame of a document of a closeout package. */
export function closeoutFrame({ project, issue, head }: PdfContext): SheetFrame {
  return {
    project, author: issue.issuedBy.organisation, madeAt: issue.issuedAt,
    log: { digest: head.last, words: `entry ${head.size}, signed ${printedTime(head.at, project.zone)}, key ${head.key}` },
    origin: { label: "Closeout package", lines: [`issue ${issue.number}, ${issue.kind}`, printedTime(issue.issuedAt, project.zone)] },
  };
}

export interface Place {
  x: number;
  y: number;
  width: number;
}

// A4 portrait, points. The frame stays clear of the edge that common printers leave white.
const PAGE = { width: 595.28, height: 841.89 };
const FRAME = 20;
const TITLE_BLOCK = 66;

export const BODY = {
  left: FRAME + 16,
  right: PAGE.width - FRAME - 16,
  top: FRAME + 14,
  bottom: PAGE.height - FRAME - TITLE_BLOCK - 8,
  width: PAGE.width - 2 * (FRAME + 16),
} as const;

export const STYLE = {
  body: { font: "word", size: 8.2, color: PRINT.ink },
  bold: { font: "wordBold", size: 8.2, color: PRINT.ink },
  lead: { font: "word", size: 9.6, color: PRINT.ink },
  label: { font: "letter", size: 8.2, color: PRINT.inkSoft },
  note: { font: "letter", size: 7.6, color: PRINT.inkSoft, leading: 1.3 },
  heading: { font: "letterBold", size: 8.8, color: PRINT.ink, spacing: 0.45 },
  code: { font: "code", size: 6.5, color: PRINT.ink, leading: 1.35 },
} as const satisfies Record<string, TextStyle>;

/** A document of framed sheets with a title block on each. Content goes down from `y`; `room` starts a new sheet when it must. */
export class Sheet {
  readonly doc: Doc;
  readonly set: TextSetter;
  y: number = BODY.top;
  private readonly root: PDFKit.PDFStructureElement;
  private readonly open: PDFKit.PDFStructureElement[];

  constructor(
    private readonly made: SheetFrame,
    private readonly title: string,
    private readonly subject: string,
  ) {
    const { project, author, madeAt } = made;
    this.doc = new PDFDocument({
      size: [PAGE.width, PAGE.height],
      margin: 0,
      bufferPages: true,
      pdfVersion: "1.7",
      tagged: true,
      displayTitle: true,
      lang: "en",
      // A face of our own from the start: otherwise one of the built-in ones is loaded, which is not embedded.
      font: fontBytes("word") as unknown as string,
      info: {
        Title: `${title}, ${project.name}`,
        Author: author,
        Subject: subject,
        Creator: "Lastlook",
        Producer: "Lastlook",
        CreationDate: new Date(madeAt),
        ModDate: new Date(madeAt),
      },
    });
    this.set = new TextSetter(this.doc);
    this.root = this.doc.struct("Document");
    this.doc.addStructure(this.root);
    this.open = [this.root];
  }

  /** Takes a new sheet unless `height` still fits on this one. Returns whether it did. */
  room(height: number): boolean {
    if (this.y + height <= BODY.bottom) return false;
    this.newSheet();
    return true;
  }

  newSheet(): void {
    this.doc.addPage();
    this.y = BODY.top;
  }

  outline(title: string): void {
    this.doc.outline.addItem(title);
  }

  /** Draws something that means something: a paragraph, a heading, a cell, a figure. */
  element(tag: string, draw: () => void, options: { alt?: string } = {}): void {
    const content = this.doc.markStructureContent(tag);
    draw();
    this.doc.endMarkedContent();
    this.parent.add(this.doc.struct(tag, options, [content]));
  }

  /** Draws lines and frames that carry no meaning of their own. */
  artifact(draw: () => void): void {
    this.doc.markContent("Artifact", { type: "Layout" });
    draw();
    this.doc.endMarkedContent();
  }

  /** Everything drawn inside belongs to one table, row or section. */
  group<T>(tag: string, draw: () => T): T {
    const group = this.doc.struct(tag);
    this.parent.add(group);
    this.open.push(group);
    const result = draw();
    this.open.pop();
    group.end();
    return result;
  }

  /** A paragraph at a place; returns its height. */
  text(text: string, { x, y, width }: Place, style: TextStyle, tag = "P"): number {
    const lines = this.set.lines(text, width, style);
    const step = this.set.lineHeight(style);
    this.element(tag, () => lines.forEach((line, i) => this.set.line(line, x, y + i * step, style)));
    return lines.length * step;
  }

  textHeight(text: string, width: number, style: TextStyle): number {
    return this.set.lines(text, width, style).length * this.set.lineHeight(style);
  }

  /** A paragraph over the whole width, moving down. */
  paragraph(text: string, style: TextStyle = STYLE.body, gap = 4): void {
    this.room(this.textHeight(text, BODY.width, style));
    this.y += this.text(text, { x: BODY.left, y: this.y, width: BODY.width }, style) + gap;
  }

  heading(text: string, keepWith = 60): void {
    this.room(keepWith);
    this.y += this.text(text.toUpperCase(), { x: BODY.left, y: this.y, width: BODY.width }, STYLE.heading, "H2") + 3;
  }

  rule(y: number, weight: number, color: string = PRINT.ink, x1: number = BODY.left, x2: number = BODY.right): void {
    this.artifact(() => this.doc.moveTo(x1, y).lineTo(x2, y).lineWidth(weight).stroke(color));
  }

  /** Ends the document: frames and title blocks on all sheets, then the bytes. */
  async finish(): Promise<Buffer> {
    const { count } = this.doc.bufferedPageRange();
    for (let page = 0; page < count; page++) {
      this.doc.switchToPage(page);
      this.artifact(() => this.frame(page + 1, count));
    }
    this.root.end();
    const chunks: Buffer[] = [];
    this.doc.on("data", (chunk: Buffer) => chunks.push(chunk));
    const whole = new Promise<Buffer>((resolve, reject) => {
      this.doc.on("end", () => resolve(Buffer.concat(chunks)));
      this.doc.on("error", reject);
    });
    this.doc.end();
    return whole;
  }

  private get parent(): PDFKit.PDFStructureElement {
    return this.open.at(-1) ?? this.root;
  }

  private frame(page: number, count: number): void {
    const { doc } = this;
    const bottom = PAGE.height - FRAME;
    const top = bottom - TITLE_BLOCK;
    const right = PAGE.width - FRAME;
    doc.lineJoin("miter").lineWidth(1.9).rect(FRAME, FRAME, right - FRAME, bottom - FRAME).stroke(PRINT.ink);
    // Centring marks, as on a drawing sheet.
    const [midX, midY] = [PAGE.width / 2, PAGE.height / 2];
    doc.moveTo(midX, FRAME).lineTo(midX, FRAME - 8).moveTo(midX, bottom).lineTo(midX, bottom + 8);
    doc.moveTo(FRAME, midY).lineTo(FRAME - 8, midY).moveTo(right, midY).lineTo(right + 8, midY).lineWidth(1.9).stroke(PRINT.ink);

    const columns = [FRAME, FRAME + 268, FRAME + 372, FRAME + 486];
    doc.moveTo(FRAME, top).lineTo(right, top).lineWidth(1.9).stroke(PRINT.ink);
    for (const x of columns.slice(1)) doc.moveTo(x, top).lineTo(x, bottom).lineWidth(0.9);
    doc.stroke(PRINT.ink);

    const { log, origin, project } = this.made;
    const cell = (column: number, label: string, rows: [string, TextStyle][]): void => {
      const x = (columns[column] ?? 0) + 9;
      const width = (columns[column + 1] ?? right) - x - 6;
      this.set.line(label.toUpperCase(), x, top + 6, { ...STYLE.note, size: 6.6, spacing: 0.3 });
      let y = top + 17;
      for (const [text, style] of rows) {
        for (const line of this.set.lines(text, width, style)) {
          this.set.line(line, x, y, style);
          y += this.set.lineHeight(style);
        }
      }
    };
    const small: TextStyle = { font: "word", size: 7, color: PRINT.ink, leading: 1.35 };
    cell(0, "Log head on this page", [
      [log.digest, { font: "code", size: 5.95, color: PRINT.ink, leading: 1.7 }],
      [log.words, small],
      [`${this.title}, ${project.name}`, { ...small, font: "letter" }],
    ]);
    cell(1, origin.label, origin.lines.map((line): [string, TextStyle] => [line, small]));
    const substitute = /^(Not a substitute) (.*)$/.exec(NOT_A_SUBSTITUTE);
    cell(2, substitute?.[1] ?? "", [[substitute?.[2] ?? NOT_A_SUBSTITUTE, small]]);
    cell(3, "Page", [[`${page} of ${count}`, { font: "wordBold", size: 12.5, color: PRINT.ink }]]);
  }
}
