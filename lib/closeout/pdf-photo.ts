import type { PhotoRecord, PointRecord } from "#lib/closeout/package-input";
import { drawFlag, drawOrder } from "#lib/closeout/pdf-mark";
import { BODY, STYLE, type Sheet } from "#lib/closeout/pdf-sheet";
import type { TextStyle } from "#lib/closeout/pdf-text";
import { PRINT } from "#lib/closeout/print-token";

const GAP = 19;
const WIDTH = (BODY.width - GAP) / 2;
const PICTURE = 186;
const SUBJECT: TextStyle = { ...STYLE.bold, size: 8.6 };
const FACT: TextStyle = { font: "letter", size: 7.9, color: PRINT.ink, leading: 1.32 };
const HASH: TextStyle = { ...STYLE.code, size: 5.95 };

interface Line {
  words: string;
  style: TextStyle;
  mark?: (x: number, y: number) => void;
}

/** The photos, two to a row: picture, subject, both times, verdicts, flags with their answers, the digest in full. */
export function drawPhotos(sheet: Sheet, points: readonly PointRecord[]): void {
  const photos = points.flatMap((point) => point.photos.map((photo) => ({ point, photo })));
  sheet.y += 8;
  for (let i = 0; i < photos.length; i += 2) {
    const pair = photos.slice(i, i + 2).map((shown) => ({ ...shown, lines: linesOf(sheet, shown.point, shown.photo) }));
    const height = PICTURE + 12 + Math.max(...pair.map(({ lines }) => lines.reduce((sum, line) => sum + heightOf(sheet, line), 0)));
    if (sheet.room(height)) sheet.y += 8; // the crop marks stand above the pictures
    pair.forEach(({ photo, lines }, side) => drawPhoto(sheet, photo, lines, BODY.left + side * (WIDTH + GAP)));
    sheet.y += height + 15;
  }
}

const indent = (line: Line): number => (line.mark ? 13 : 0);
const heightOf = (sheet: Sheet, line: Line): number => sheet.textHeight(line.words, WIDTH - indent(line), line.style);

function linesOf({ doc }: Sheet, point: PointRecord, photo: PhotoRecord): Line[] {
  const current = photo.attempt === point.attempt ? "" : ", earlier attempt";
  return [
    { words: photo.subject, style: SUBJECT },
    { words: `point ${point.line}, ${point.name}, attempt ${photo.attempt}${current}`, style: { ...FACT, color: PRINT.inkSoft } },
    { words: `taken ${photo.takenWords} (${photo.basis})`, style: FACT },
    ...(photo.cameraWords === null ? [] : [{ words: photo.cameraWords, style: FACT }]),
    { words: `received ${photo.receivedWords}`, style: FACT },
    {
      words: [photo.order, photo.place, photo.file, photo.tag, ...(photo.mixWords === null ? [] : [photo.mixWords])].join(" · "),
      style: { ...FACT, font: photo.order === "in order" ? "letter" : "letterBold" },
      mark: (x, y) => drawOrder(doc, photo.order, x, y + 1, 8.5),
    },
    ...photo.flags.map(
      ({ code, words, answer }, i): Line => ({
        words: `${code}: ${words}${answer === null ? "" : `. Answer: ${answer}`}`,
        style: { ...FACT, size: 7.5 },
        mark: (x, y) => drawFlag(doc, i + 1, x, y, 9.5),
      }),
    ),
    { words: photo.sha256, style: HASH },
    { words: `data/${photo.bagPath}`, style: { ...FACT, size: 7, color: PRINT.inkSoft } },
  ];
}

function drawPhoto(sheet: Sheet, photo: PhotoRecord, lines: readonly Line[], x: number): void {
  const { y } = sheet;
  sheet.element("Figure", () => drawPicture(sheet, photo.previewPath, x), { alt: `Photo: ${photo.subject}` });
  let at = y + PICTURE + 10;
  for (const line of lines) {
    const { mark } = line;
    if (mark) sheet.artifact(() => mark(x, at));
    at += sheet.text(line.words, { x: x + indent(line), y: at, width: WIDTH - indent(line) }, line.style);
  }
}

function drawPicture({ doc, y, set }: Sheet, path: string | null, x: number): void {
  if (path === null) {
    doc.rect(x, y, WIDTH, PICTURE).lineWidth(0.8).dash(4, { space: 3 }).stroke(PRINT.rule).undash();
    set.line("No reduced copy could be made. The original is in the package.", x + 10, y + PICTURE / 2 - 5, STYLE.note);
    return;
  }
  // The typings leave the call out.
  const image = (doc as unknown as { openImage(path: string): { width: number; height: number } }).openImage(path);
  const scale = Math.min((WIDTH - 8) / image.width, PICTURE / image.height);
  const [width, height] = [image.width * scale, image.height * scale];
  doc.image(path, x + 4, y + PICTURE - height, { width, height });
  cropMarks(doc, { x: x + 4, y: y + PICTURE - height, width, height });
}

// Crop marks at the corners, never an overlay on the subject.
function cropMarks(doc: PDFKit.PDFDocument, { x, y, width, height }: { x: number; y: number; width: number; height: number }): void {
  for (const [cx, cy, dx, dy] of [[x, y, 1, 1], [x + width, y, -1, 1], [x, y + height, 1, -1], [x + width, y + height, -1, -1]] as const) {
    doc.moveTo(cx - 3 * dx, cy).lineTo(cx - 8 * dx, cy);
    doc.moveTo(cx, cy - 3 * dy).lineTo(cx, cy - 8 * dy);
  }
  doc.lineWidth(0.5).stroke(PRINT.ink);
}
