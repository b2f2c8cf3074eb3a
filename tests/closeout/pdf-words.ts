import { inflateSync } from "node:zlib";

interface PdfObject { head: string; stream: Buffer | null }

function objectsOf(pdf: Buffer): Map<number, PdfObject> {
  const text = pdf.toString("latin1");
  const objects = new Map<number, PdfObject>();
  for (const match of text.matchAll(/(\d+) 0 obj\n([\s\S]*?)\nendobj/g)) {
    const body = match[2]!;
    const at = body.indexOf("stream\n");
    const head = at < 0 ? body : body.slice(0, at);
    const length = Number(/\/Length (\d+)/.exec(head)?.[1] ?? 0);
    const start = match.index + match[0].indexOf(body) + at + 7;
    const raw = pdf.subarray(start, start + length);
    objects.set(Number(match[1]), { head, stream: at < 0 ? null : head.includes("/FlateDecode") ? inflateSync(raw) : raw });
  }
  return objects;
}

// A font's table from glyph to text, as the document carries it for readers.
function lettersOf(map: string): Map<number, string> {
  const letters = new Map<number, string>();
  for (const [, from, list] of map.matchAll(/<([0-9a-f]{4})> <[0-9a-f]{4}> \[([^\]]*)\]/g)) {
    [...list!.matchAll(/<([0-9a-f ]*)>/g)].forEach(([, code], i) => letters.set(parseInt(from!, 16) + i, Buffer.from(code!.replaceAll(" ", ""), "hex").swap16().toString("utf16le")));
  }
  return letters;
}

/** The words of each page of a PDF that pdfkit wrote, in the order they were drawn; pieces of one line are joined by a bar. */
export function wordsOfPages(pdf: Buffer): string[] {
  const objects = objectsOf(pdf);
  const ref = (head: string, name: string): PdfObject | undefined => objects.get(Number(new RegExp(`/${name} (\\d+) 0 R`).exec(head)?.[1]));
  const fonts = new Map<string, Map<number, string>>();
  for (const { head } of objects.values()) {
    for (const [, name, id] of head.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      const font = objects.get(Number(id));
      const map = font && ref(font.head, "ToUnicode")?.stream?.toString("latin1");
      if (map) fonts.set(name!, lettersOf(map));
    }
  }
  const pages = [...objects.values()].filter(({ head }) => /\/Type \/Page\n/.test(head));
  return pages.map(({ head }) => {
    let letters = new Map<number, string>();
    const pieces: string[] = [];
    for (const [, font, shown] of (ref(head, "Contents")?.stream?.toString("latin1") ?? "").matchAll(/\/(F\d+) [\d.]+ Tf|\[([^\]]*)\] TJ/g)) {
      if (font) letters = fonts.get(font) ?? new Map();
      else pieces.push([...shown!.matchAll(/<([0-9a-f]*)>/g)].flatMap(([, codes]) => codes!.match(/.{4}/g)!.map((code) => letters.get(parseInt(code, 16)) ?? "\ufffd")).join(""));
    }
    return pieces.join("|");
  });
}
