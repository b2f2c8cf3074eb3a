import { DRAWN_SIGN, fontBytes, FONT_FILE, UNKNOWN_SIGN, type FontName } from "#lib/closeout/pdf-font";

type Doc = PDFKit.PDFDocument;

export interface TextStyle {
  font: FontName;
  /** Points. */
  size: number;
  color: string;
  /** Line to line, in multiples of the size. */
  leading?: number;
  /** Points between letters. */
  spacing?: number;
}

interface Run {
  text: string;
  /** Face to write with, or null for a sign that is drawn. */
  face: keyof typeof FONT_FILE | null;
  width: number;
}

/** Sets words on a page: wraps them, finds a face for every letter, draws the signs no face has. All lengths in points. */
export class TextSetter {
  private readonly has = new Map<string, Set<number>>();
  /** Widths at one point, by face and text: the same words come again and again. */
  private readonly widths = new Map<string, number>();

  constructor(private readonly doc: Doc) {
    for (const name of Object.keys(FONT_FILE) as (keyof typeof FONT_FILE)[]) {
      doc.registerFont(name, fontBytes(name));
      doc.font(name);
      // The face that was just opened, with the letters it holds; the typings leave it out.
      const opened = doc as unknown as { _font: { font: { characterSet: number[] } } };
      this.has.set(name, new Set(opened._font.font.characterSet));
    }
  }

  width(text: string, style: TextStyle): number {
    return this.runs(text, style).reduce((sum, run) => sum + run.width, 0);
  }

  lineHeight({ size, leading }: TextStyle): number {
    return size * (leading ?? 1.35);
  }

  /** Breaks text into lines no wider than `width`: at spaces, and inside a word only when it alone is too wide. */
  lines(text: string, width: number, style: TextStyle): string[] {
    return text.split("\n").flatMap((paragraph) => this.wrap(paragraph, width, style));
  }

  /** Writes one line with its top at y. */
  line(text: string, x: number, y: number, style: TextStyle): void {
    const { doc } = this;
    let at = x;
    for (const run of this.runs(text, style)) {
      if (run.face) {
        doc.font(run.face).fontSize(style.size).fillColor(style.color);
        // The top of the letters' box differs between faces; the baseline must not.
        doc.text(run.text, at, y + style.size * 0.95, { lineBreak: false, baseline: "alphabetic", characterSpacing: style.spacing ?? 0 });
      } else {
        this.sign(run.text, at, y + style.size * 0.15, style);
      }
      at += run.width;
    }
  }

  private sign(character: string, x: number, y: number, { size, color }: TextStyle): void {
    const { doc } = this;
    const { width, path, read } = DRAWN_SIGN[character] ?? UNKNOWN_SIGN;
    doc.save().translate(x, y).scale(size);
    doc.path(path).lineWidth(0.085).lineJoin("miter").stroke(color);
    doc.restore();
    // What a search or a copy finds: small letters in the same place that are not painted (text rendering mode 3).
    const small = (size * width) / (2 * read.length);
    doc.save().font("word").fontSize(small).addContent("3 Tr").text(read, x, y + size * 0.8, { lineBreak: false, baseline: "alphabetic" });
    doc.restore();
  }

  private wrap(paragraph: string, width: number, style: TextStyle): string[] {
    const lines: string[] = [];
    const space = this.width(" ", style);
    let current = "";
    let used = 0;
    for (const word of paragraph.split(" ").flatMap((word) => this.pieces(word, width, style))) {
      const wordWidth = this.width(word, style);
      if (current !== "" && used + space + wordWidth > width) {
        lines.push(current);
        [current, used] = [word, wordWidth];
      } else {
        used += (current === "" ? 0 : space) + wordWidth;
        current = current === "" ? word : `${current} ${word}`;
      }
    }
    return [...lines, current];
  }

  private pieces(word: string, width: number, style: TextStyle): string[] {
    if (this.width(word, style) <= width) return [word];
    const pieces: string[] = [];
    let piece = "";
    for (const letter of word) {
      if (piece !== "" && this.width(piece + letter, style) > width) {
        pieces.push(piece);
        piece = "";
      }
      piece += letter;
    }
    return [...pieces, piece];
  }

  private runs(text: string, style: TextStyle): Run[] {
    const runs: { text: string; face: Run["face"] }[] = [];
    // Composed letters first: é is one sign in a face, e and an accent are not. Nothing that does not print.
    for (const letter of text.normalize("NFC").replace(/\p{Cc}/gu, " ").replace(/\u2011/g, "-")) {
      const face = this.faceFor(letter, style.font);
      const last = runs.at(-1);
      if (last && face !== null && last.face === face) last.text += letter;
      else runs.push({ text: letter, face });
    }
    return runs.map((run) => ({ ...run, width: this.runWidth(run.text, run.face, style) }));
  }

  private runWidth(text: string, face: Run["face"], { size, spacing }: TextStyle): number {
    if (face === null) return (DRAWN_SIGN[text] ?? UNKNOWN_SIGN).width * size;
    const key = `${face} ${text}`;
    let width = this.widths.get(key);
    if (width === undefined) this.widths.set(key, (width = this.doc.font(face).fontSize(1).widthOfString(text)));
    return width * size + (spacing ?? 0) * text.length;
  }

  private faceFor(letter: string, font: FontName): Run["face"] {
    const code = letter.codePointAt(0) ?? 0;
    const second = font === "wordBold" || font === "letterBold" ? "widerBold" : "wider";
    return ([font, second] as const).find((face) => this.has.get(face)?.has(code)) ?? null;
  }
}
