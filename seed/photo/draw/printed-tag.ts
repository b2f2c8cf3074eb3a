import { encode } from "uqr";
import { blended, circle, rect, stroke } from "#seed/photo/art";
import { fittingSize, letter } from "#seed/photo/lettering";

/** Height of the tag and side of its code, as shares of its width. The code is larger than on paper, as these photos are small. */
const HEIGHT = 0.76;
const CODE = 0.56;
/** Modules of empty margin round a code. Source: ISO/IEC 18004, quiet zone (from memory). */
const QUIET = 4;

export interface PrintedTag {
  mark: string;
  /** What its code says. */
  code: string;
}

/** The printed tag of a pile, laced on at both ends: mark on top, code below. */
export function printedTag({ mark, code }: PrintedTag, x: number, y: number, width: number): string {
  const height = width * HEIGHT;
  const side = width * CODE;
  const [left, middle] = [x + width * 0.13, y + height / 2];
  const size = fittingSize(mark, width * 0.74, height * 0.2);
  const laces = [-1, 1].map((way) => stroke(`M${(x + width * (0.5 + way * 0.45)).toFixed(1)} ${middle.toFixed(1)}q${(way * width * 0.06).toFixed(1)} ${(-width * 0.02).toFixed(1)} ${(way * width * 0.16).toFixed(1)} ${(-width * 0.03).toFixed(1)}`, "#23262a", width * 0.022)).join("");
  return blended("y", [[0, "#f6f5f0"], [1, "#e6e4db"]], (fill) => rect(x, y, width, height, fill))
    + [0.05, 0.95].map((at) => circle(x + width * at, middle, width * 0.024, "#2c2b27")).join("")
    + laces
    + letter(mark, left, y + height * 0.055, { size, colour: "#16150f", weight: 0.2 })
    + ring(left + width * 0.1, y + height * 0.62, width * 0.085)
    + modules(code, x + width * 0.89 - side, y + height * 0.985 - side, side);
}

/** Pile and jacket in plan, open on top: not covered up yet. */
function ring(x: number, y: number, r: number): string {
  const gap = r * 0.45;
  const rise = Math.sqrt(r * r - gap * gap);
  return stroke(`M${(x + gap).toFixed(1)} ${(y - rise).toFixed(1)}A${r.toFixed(1)} ${r.toFixed(1)} 0 1 1 ${(x - gap).toFixed(1)} ${(y - rise).toFixed(1)}`, "#16150f", r * 0.16)
    + rect(x - r * 0.42, y - r * 0.42, r * 0.84, r * 0.84, "none", `stroke="#16150f" stroke-width="${(r * 0.14).toFixed(1)}"`);
}

function modules(code: string, x: number, y: number, side: number): string {
  const { data, size } = encode(code, { ecc: "Q", border: QUIET });
  // Each run of dark modules is one shape, a little higher than a row: shapes that only touch would show a light seam.
  const runs = data.map((row, at) => {
    let d = "";
    for (let from = 0; from < size; from += 1) {
      if (!row[from] || row[from - 1]) continue;
      let to = from;
      while (row[to]) to += 1;
      d += `M${from} ${at}h${to - from}v1.02h${from - to}z`;
    }
    return d;
  }).join("");
  return `<g transform="translate(${x.toFixed(1)} ${y.toFixed(1)}) scale(${(side / size).toFixed(4)})"><path d="${runs}" fill="#16150f"/></g>`;
}
