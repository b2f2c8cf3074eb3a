import { readFileSync } from "node:fs";
import { join } from "node:path";
import { sfntOfWoff } from "#lib/closeout/woff";

export type FontName = "word" | "wordBold" | "letter" | "letterBold" | "code";

// The process runs in the project's folder; a joined literal path is one that bundlers follow.
const FOLDER = join(process.cwd(), "node_modules", "@fontsource");

/** What each hand is drawn with, and the second face that has the letters the first one lacks (Central European ones). */
export const FONT_FILE: Record<FontName | "wider" | "widerBold", string> = {
  word: "b612/files/b612-latin-400-normal.woff",
  wordBold: "b612/files/b612-latin-700-normal.woff",
  letter: "encode-sans-condensed/files/encode-sans-condensed-latin-500-normal.woff",
  letterBold: "encode-sans-condensed/files/encode-sans-condensed-latin-700-normal.woff",
  code: "b612-mono/files/b612-mono-latin-400-normal.woff",
  wider: "encode-sans-condensed/files/encode-sans-condensed-latin-ext-500-normal.woff",
  widerBold: "encode-sans-condensed/files/encode-sans-condensed-latin-ext-700-normal.woff",
};

const read = new Map<string, Buffer>();

export function fontBytes(name: keyof typeof FONT_FILE): Buffer {
  const file = FONT_FILE[name];
  let bytes = read.get(file);
  if (!bytes) read.set(file, (bytes = sfntOfWoff(readFileSync(join(FOLDER, file)))));
  return bytes;
}

/**
 * Signs that the faces lack, as strokes in a box one em high (y down, baseline at 0.8); width in em.
 * `read` is what a search or a copy of the page finds for them: not every reader knows replacement text.
 */
export const DRAWN_SIGN: Record<string, { width: number; path: string; read: string }> = {
  "≥": { width: 0.68, read: ">=", path: "M.08 .16L.58 .36L.08 .56M.08 .72H.58" },
  "≤": { width: 0.68, read: "<=", path: "M.58 .16L.08 .36L.58 .56M.08 .72H.58" },
  "≠": { width: 0.68, read: "!=", path: "M.08 .38H.58M.08 .58H.58M.46 .18L.2 .78" },
  "≈": { width: 0.68, read: "~", path: "M.08 .42q.13 -.16 .25 -.04t.25 -.04M.08 .62q.13 -.16 .25 -.04t.25 -.04" },
  "→": { width: 0.9, read: "->", path: "M.06 .48H.8M.6 .3L.8 .48L.6 .66" },
  "π": { width: 0.7, read: "pi", path: "M.06 .34H.62M.2 .34V.8M.47 .34V.72q0 .08 .09 .07" },
  "γ": { width: 0.58, read: "gamma", path: "M.06 .38q.13 -.08 .18 .1L.3 .68L.5 .34M.3 .68q0 .28 -.07 .28q-.07 0 .07 -.28" },
  "Σ": { width: 0.66, read: "sum", path: "M.56 .24H.1L.36 .5L.1 .8H.56" },
  "△": { width: 0.86, read: "^", path: "M.43 .12L.8 .78H.06Z" },
};

/** Anything no face has: a broken box, never a silent gap. */
export const UNKNOWN_SIGN = { width: 0.66, read: "?", path: "M.1 .14H.28M.38 .14H.56V.32M.56 .48V.8H.38M.28 .8H.1V.62M.1 .46V.14" };
