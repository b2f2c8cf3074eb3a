/**
 * Lettering as strokes, the way a paint marker writes it. Drawn here rather than set in a font, so that a
 * machine without fonts makes the same photo to the byte.
 */

/** Each letter on a grid 4 wide, baseline at 6, small letters from 2; the number is its width. */
const LETTERS: Record<string, readonly [path: string, width: number]> = {
  "0": ["M2 0C.7 0 0 1.2 0 3S.7 6 2 6 4 4.8 4 3 3.3 0 2 0Z", 4],
  "1": ["M.4 1.2L1.9 0V6", 2.6],
  "2": ["M.1 1.5C.3.5 1 0 2 0 3.2 0 4 .7 4 1.7 4 3 .8 4.3 0 6H4", 4],
  "3": ["M.2.9C.6.3 1.2 0 2 0 3.1 0 3.8.6 3.8 1.5S3 2.9 1.8 2.9C3.2 2.9 4 3.5 4 4.4 4 5.4 3.2 6 2 6 1.1 6 .4 5.7 0 5", 4],
  "4": ["M3 6V0L0 4.2H4", 4],
  "5": ["M3.7 0H.6L.3 2.7C.8 2.3 1.4 2.1 2 2.1 3.2 2.1 4 2.9 4 4S3.2 6 2 6C1.1 6 .4 5.7 0 5.1", 4],
  "6": ["M3.5.5C2.9.1 2.4 0 2 0 .8 0 0 1.3 0 3.5 0 5 .8 6 2 6S4 5.1 4 4.1 3.2 2.3 2.1 2.3C1.1 2.3.3 2.9 0 3.7", 4],
  "7": ["M0 0H4L1.4 6", 4],
  "8": ["M2 2.8C1 2.8.3 2.3.3 1.4S1 0 2 0 3.7.5 3.7 1.4 3 2.8 2 2.8C.8 2.8 0 3.4 0 4.4S.8 6 2 6 4 5.4 4 4.4 3.2 2.8 2 2.8Z", 4],
  "9": ["M.5 5.5C1.1 5.9 1.6 6 2 6 3.2 6 4 4.7 4 2.5 4 1 3.2 0 2 0S0 .9 0 1.9.8 3.7 1.9 3.7C2.9 3.7 3.7 3.1 4 2.3", 4],
  A: ["M0 6L2 0 4 6M.7 4H3.3", 4],
  B: ["M0 0V6H2.2C3.4 6 4 5.3 4 4.4S3.4 2.9 2.2 2.9H0M2.1 2.9C3.1 2.9 3.6 2.3 3.6 1.45S3.1 0 2.1 0H0", 4],
  C: ["M4 1.2C3.6.4 2.9 0 2.2 0 .9 0 0 1.2 0 3S.9 6 2.2 6C2.9 6 3.6 5.6 4 4.8", 4],
  D: ["M0 0V6H1.7C3.2 6 4 4.8 4 3S3.2 0 1.7 0Z", 4],
  E: ["M3.8 0H0V6H3.8M0 2.9H3.2", 3.8],
  F: ["M3.8 0H0V6M0 2.9H3.2", 3.8],
  G: ["M4 1.2C3.6.4 2.9 0 2.2 0 .9 0 0 1.2 0 3S.9 6 2.2 6C3.3 6 4 5.3 4 3.3H2.4", 4],
  H: ["M0 0V6M4 0V6M0 2.9H4", 4],
  I: ["M.3 0V6", 0.6],
  J: ["M3.4 0V4.2C3.4 5.4 2.8 6 1.8 6S.2 5.4 0 4.4", 3.4],
  K: ["M0 0V6M4 0L0 3.6M1.4 2.5L4 6", 4],
  L: ["M0 0V6H3.7", 3.7],
  M: ["M0 6V0L2.3 3.6 4.6 0V6", 4.6],
  N: ["M0 6V0L4 6V0", 4],
  O: ["M2.1 0C.8 0 0 1.2 0 3S.8 6 2.1 6 4.2 4.8 4.2 3 3.4 0 2.1 0Z", 4.2],
  P: ["M0 6V0H2.2C3.4 0 4 .7 4 1.7S3.4 3.4 2.2 3.4H0", 4],
  Q: ["M2.1 0C.8 0 0 1.2 0 3S.8 6 2.1 6 4.2 4.8 4.2 3 3.4 0 2.1 0ZM2.7 4.4L4.3 6.3", 4.3],
  R: ["M0 6V0H2.2C3.4 0 4 .7 4 1.7S3.4 3.4 2.2 3.4H0M2 3.4L4 6", 4],
  S: ["M3.8 1C3.4.3 2.8 0 2 0 .9 0 .2.6.2 1.5.2 3.6 4 2.4 4 4.4 4 5.4 3.2 6 2 6 1.1 6 .4 5.7 0 4.9", 4],
  T: ["M0 0H4M2 0V6", 4],
  U: ["M0 0V3.9C0 5.3.8 6 2 6S4 5.3 4 3.9V0", 4],
  V: ["M0 0L2 6 4 0", 4],
  W: ["M0 0L1.3 6 2.6 1.2 3.9 6 5.2 0", 5.2],
  X: ["M0 0L4 6M4 0L0 6", 4],
  Y: ["M0 0L2 3 4 0M2 3V6", 4],
  Z: ["M0 0H4L0 6H4", 4],
  a: ["M3.2 2.2V6M3.2 4C3.2 2.9 2.6 2.1 1.6 2.1S0 2.9 0 4.05.6 6 1.6 6 3.2 5.2 3.2 4", 3.2],
  b: ["M0 0V6M0 4C0 2.9.7 2.1 1.6 2.1S3.2 2.9 3.2 4.05 2.6 6 1.6 6 0 5.2 0 4", 3.2],
  c: ["M3 2.9C2.7 2.4 2.2 2.1 1.7 2.1.7 2.1 0 2.9 0 4.05S.7 6 1.7 6C2.2 6 2.7 5.7 3 5.2", 3],
  d: ["M3.2 0V6M3.2 4C3.2 2.9 2.6 2.1 1.6 2.1S0 2.9 0 4.05.6 6 1.6 6 3.2 5.2 3.2 4", 3.2],
  e: ["M0 4H3.2C3.2 2.8 2.6 2.1 1.6 2.1S0 2.9 0 4.05.7 6 1.7 6C2.3 6 2.8 5.7 3.1 5.2", 3.2],
  f: ["M2.2.2C1.2-.2.8.4.8 1.4V6M0 2.2H2", 2.2],
  g: ["M3.2 2.2V6.4C3.2 7.3 2.6 7.8 1.6 7.8 1 7.8.5 7.6.2 7.2M3.2 4C3.2 2.9 2.6 2.1 1.6 2.1S0 2.9 0 4.05.6 6 1.6 6 3.2 5.2 3.2 4", 3.2],
  h: ["M0 0V6M0 3.6C.3 2.6.9 2.1 1.7 2.1 2.6 2.1 3.1 2.7 3.1 3.7V6", 3.1],
  i: ["M.3 2.2V6M.3.5V.7", 0.6],
  j: ["M.9 2.2V6.7C.9 7.5.5 7.8 0 7.7M.9.5V.7", 1],
  k: ["M0 0V6M2.8 2.2L0 4.6M1 3.8L3 6", 3],
  l: ["M.3 0V6", 0.6],
  m: ["M0 2.2V6M0 3.6C.2 2.6.7 2.1 1.3 2.1 2 2.1 2.3 2.6 2.3 3.6V6M2.3 3.6C2.5 2.6 3 2.1 3.6 2.1 4.3 2.1 4.6 2.6 4.6 3.6V6", 4.6],
  n: ["M0 2.2V6M0 3.6C.3 2.6.9 2.1 1.7 2.1 2.6 2.1 3.1 2.7 3.1 3.7V6", 3.1],
  o: ["M1.6 2.1C.6 2.1 0 2.9 0 4.05S.6 6 1.6 6 3.2 5.2 3.2 4.05 2.6 2.1 1.6 2.1Z", 3.2],
  p: ["M0 2.2V7.8M0 4C0 2.9.7 2.1 1.6 2.1S3.2 2.9 3.2 4.05 2.6 6 1.6 6 0 5.2 0 4", 3.2],
  q: ["M3.2 2.2V7.8M3.2 4C3.2 2.9 2.6 2.1 1.6 2.1S0 2.9 0 4.05.6 6 1.6 6 3.2 5.2 3.2 4", 3.2],
  r: ["M0 2.2V6M0 3.8C.3 2.6 1 2.1 1.9 2.3", 1.9],
  s: ["M2.8 2.8C2.5 2.3 2 2.1 1.5 2.1.7 2.1.2 2.5.2 3.1.2 4.5 2.9 3.6 2.9 5 2.9 5.6 2.3 6 1.5 6 .8 6 .3 5.7 0 5.2", 2.9],
  t: ["M.8.8V5C.8 5.7 1.2 6 2 5.9M0 2.2H1.9", 2],
  u: ["M0 2.2V4.4C0 5.5.5 6 1.4 6 2.3 6 2.8 5.4 3.1 4.5M3.1 2.2V6", 3.1],
  v: ["M0 2.2L1.5 6 3 2.2", 3],
  w: ["M0 2.2L1.1 6 2.2 2.8 3.3 6 4.4 2.2", 4.4],
  x: ["M0 2.2L2.8 6M2.8 2.2L0 6", 2.8],
  y: ["M0 2.2L1.5 6M3 2.2L1.1 7C.9 7.6.5 7.8 0 7.7", 3],
  z: ["M0 2.2H2.8L0 6H2.8", 2.8],
  "µ": ["M0 2.2V7.8M0 4.4C0 5.5.5 6 1.4 6 2.3 6 2.8 5.4 3.1 4.5M3.1 2.2V6", 3.1],
  "-": ["M.2 3.2H2.2", 2.4],
  "–": ["M0 3.2H3", 3],
  "−": ["M0 3.2H3", 3],
  "+": ["M0 3.2H3M1.5 1.7V4.7", 3],
  "±": ["M0 2.6H3M1.5 1.1V4.1M0 5.4H3", 3],
  "×": ["M0 2L2.6 5M2.6 2L0 5", 2.6],
  "=": ["M0 2.4H3M0 4.2H3", 3],
  "<": ["M2.8 1.4L0 3.2 2.8 5", 2.8],
  ">": ["M0 1.4L2.8 3.2 0 5", 2.8],
  "≥": ["M0 1L2.8 2.6 0 4.2M0 5.6H2.8", 2.8],
  "≤": ["M2.8 1L0 2.6 2.8 4.2M0 5.6H2.8", 2.8],
  ".": ["M.3 5.8V6", 0.6],
  ",": ["M.6 5.7L.1 7", 0.8],
  ":": ["M.3 2.8V3M.3 5.7V5.9", 0.6],
  "·": ["M.3 3.1V3.3", 0.6],
  "/": ["M0 6.5L2.4-.5", 2.4],
  "%": ["M0 6L4 0M.9 0C.3 0 0 .5 0 1.1S.3 2.2.9 2.2 1.8 1.7 1.8 1.1 1.5 0 .9 0ZM3.1 3.8C2.5 3.8 2.2 4.3 2.2 4.9S2.5 6 3.1 6 4 5.5 4 4.9 3.7 3.8 3.1 3.8Z", 4],
  "°": ["M.8-.2C.3-.2 0 .2 0 .7S.3 1.6.8 1.6 1.6 1.2 1.6.7 1.3-.2.8-.2Z", 1.6],
  "²": ["M0 .3C.1-.2.5-.5.9-.5 1.5-.5 1.8-.1 1.8.3 1.8 1 .3 1.7 0 2.4H1.8", 1.8],
  "½": ["M.1.5L.8 0V2.6M0 6L3.6 0M2.2 4C2.3 3.6 2.6 3.4 3 3.4 3.6 3.4 3.9 3.7 3.9 4.1 3.9 4.8 2.5 5.3 2.2 6H3.9", 4],
  "¼": ["M.1.5L.8 0V2.6M0 6L3.6 0M3.6 6V3.4L2.2 5.2H4", 4],
  "'": ["M.3-.2V1.4", 0.6],
  '"': ["M.3-.2V1.4M1.3-.2V1.4", 1.6],
  "(": ["M1.3-.4C.4.6 0 1.8 0 3S.4 5.4 1.3 6.4", 1.3],
  ")": ["M0-.4C.9.6 1.3 1.8 1.3 3S.9 5.4 0 6.4", 1.3],
  "#": ["M1.2.6L.6 5.4M3 .6L2.4 5.4M0 2.2H3.8M-.1 3.9H3.6", 3.8],
  "?": ["M0 1.5C.1.5.8 0 1.7 0 2.8 0 3.5.6 3.5 1.5 3.5 2.8 1.8 2.8 1.8 4.3M1.8 5.7V5.9", 3.5],
  "!": ["M.3 0V4.2M.3 5.7V5.9", 0.6],
  "&": ["M4 6L.9 1.8C.4 1 .9 0 1.8 0S3 1.1 2.3 1.8L.8 3.1C-.4 4.2.2 6 1.6 6 2.9 6 3.7 4.9 3.9 3.6", 4],
  "_": ["M0 6.6H3.6", 3.6],
  "→": ["M0 3.2H4M2.6 1.8L4 3.2 2.6 4.6", 4],
};

/** What stands in for a letter that is not in the table: an empty box, as in any type. */
const MISSING: readonly [string, number] = ["M0 0H3.4V6H0Z", 3.4];
const GAP = 1.5;
const SPACE = 2.2;

interface LetterStyle {
  /** Height of a capital, px. */
  size: number;
  colour: string;
  /** Width of the stroke as a share of the capital's height; 0.14 is a marker. */
  weight?: number;
  anchor?: "start" | "middle" | "end";
}

function widthOf(text: string): number {
  return [...text].reduce((sum, letter) => sum + (letter === " " ? SPACE : (LETTERS[letter] ?? MISSING)[1]) + GAP, -GAP);
}

/** The largest height of capitals, up to `most`, at which the text fits `widthPx`. */
export function fittingSize(text: string, widthPx: number, most: number): number {
  return Math.min(most, (widthPx * 6) / Math.max(1, widthOf(text)));
}

/** SVG for one line of lettering, the top of its capitals at `y`. */
export function letter(text: string, x: number, y: number, style: LetterStyle): string {
  const scale = style.size / 6;
  const whole = widthOf(text) * scale;
  const start = style.anchor === "middle" ? x - whole / 2 : style.anchor === "end" ? x - whole : x;
  let at = 0;
  let marks = "";
  for (const sign of text) {
    if (sign === " ") {
      at += SPACE + GAP;
      continue;
    }
    const [path, width] = LETTERS[sign] ?? MISSING;
    marks += `<path d="${path}" transform="translate(${at.toFixed(2)})"/>`;
    at += width + GAP;
  }
  return `<g transform="translate(${start.toFixed(1)} ${y.toFixed(1)}) scale(${scale.toFixed(3)})" fill="none" stroke="${style.colour}"`
    + ` stroke-width="${((style.weight ?? 0.14) * 6).toFixed(2)}" stroke-linecap="round" stroke-linejoin="round">${marks}</g>`;
}

/** Segments of a seven-segment digit, clockwise from the top, the middle one last. */
const SEGMENTS = ["M.6 0H3.4", "M4 .6V2.6", "M4 3.4V5.4", "M.6 6H3.4", "M0 3.4V5.4", "M0 .6V2.6", "M.6 3H3.4"] as const;
const DIGITS: Record<string, string> = {
  "0": "012345", "1": "12", "2": "01346", "3": "01236", "4": "1256", "5": "02356", "6": "023456", "7": "012", "8": "0123456", "9": "012356", "-": "6", "−": "6",
};

/** A display reading: seven-segment figures, with the unit lettered small after them. Fits `widthPx`. */
export function reading(value: string, x: number, y: number, widthPx: number, most: number, colour: string, ghost: string): string {
  const figures = /^[-−\d.,: ]*/.exec(value)?.[0].trimEnd() ?? "";
  const unit = value.slice(figures.length).trim();
  const units = widthOf(unit) * 0.5 + (unit === "" ? 0 : 2);
  const cells = [...figures].map((sign) => (sign in DIGITS ? 5.8 : 1.6));
  const total = cells.reduce((sum, cell) => sum + cell, 0) - 1.8 + units;
  const size = Math.min(most, (widthPx * 6) / total);
  const scale = size / 6;
  let at = 0;
  let on = "";
  let off = "";
  [...figures].forEach((sign, i) => {
    const lit = DIGITS[sign];
    if (lit !== undefined) {
      SEGMENTS.forEach((path, segment) => {
        const mark = `<path d="${path}" transform="translate(${at.toFixed(2)})"/>`;
        if (lit.includes(String(segment))) on += mark;
        else off += mark;
      });
    } else if (sign !== " ") {
      on += `<path d="${sign === ":" ? "M.1 2V2.1M.1 4V4.1" : "M-.5 5.9V6"}" transform="translate(${at.toFixed(2)})"/>`;
    }
    at += cells[i] ?? 0;
  });
  const left = x + (widthPx - total * scale) / 2;
  const top = y + (most - size) / 2;
  const small = letter(unit, left + (at - 1.8 + 2) * scale, top + size * 0.5, { size: size * 0.5, colour, weight: 0.15 });
  return `<g transform="translate(${left.toFixed(1)} ${top.toFixed(1)}) scale(${scale.toFixed(3)})" fill="none" stroke-linecap="round" stroke-width="0.85">`
    + `<g stroke="${ghost}">${off}</g><g stroke="${colour}">${on}</g></g>${small}`;
}
