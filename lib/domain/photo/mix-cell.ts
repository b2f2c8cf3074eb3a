import { labOf, type Lab } from "#lib/domain/photo/colour";

/** The square around a marked circle of an upright picture, reduced: red, green, blue and opacity 0–255, row by row. Opacity 0 is outside the picture. */
export interface MixPixels {
  /** Pixels of a side, a multiple of {@link SIDE_CELLS}. */
  readonly side: number;
  readonly rgba: Uint8Array;
  /** Pixels that the square had across before it was reduced. */
  readonly sourcePx: number;
  /** How wide the sharpest edges of the whole picture are smeared (standard deviation), as a share of the circle's diameter; null where it has none. */
  readonly smear: number | null;
}

/** A part of the circle with its mean colour. */
export interface MixCell {
  readonly column: number;
  readonly row: number;
  /** Distance from the middle, 0–1 at the marked circle. */
  readonly radius: number;
  readonly lab: Lab;
  /** A colour of it is as bright as the picture can say: what is brighter looks the same. */
  readonly clipped: boolean;
}

/** The parts of a circle: those that can be judged, how many there are, and which of them are glare. */
export interface MixCells {
  readonly inside: number;
  readonly judged: readonly MixCell[];
  /** What is clipped to white. */
  readonly glare: readonly Pick<MixCell, "column" | "row">[];
}

/** Cells of a side: a streak as wide as a cell, a thirtieth of the bucket, is told; the grain of the picture is averaged away. Chosen here, no source. */
export const SIDE_CELLS = 32;

/** The circle is judged to here, 0–1 of its radius: a hand marks no closer. Chosen here, no source. */
export const JUDGED_WITHIN = 0.94;
/** A cell is glare where as many of its pixels have this level in all three colours: less is white that the picture still tells from glare. Chosen here, no source. */
const GLARE = { level: 250, share: 0.25 } as const;
/** A cell is shadow under this lightness (L*): a level of some 25 of 255, where noise and JPEG make the colour. Chosen here, no source. */
const SHADOW_LIGHTNESS = 8;

export const placeOf = ({ column, row }: Pick<MixCell, "column" | "row">): number => row * SIDE_CELLS + column;

/**
 * Cuts the reduced square into cells and leaves out what is no mix to judge: the rim, glare, shadow, and what lies outside
 * the picture.
 */
export function cellsOf({ side, rgba }: MixPixels): MixCells {
  const width = side / SIDE_CELLS;
  const judged: MixCell[] = [];
  const glare: Pick<MixCell, "column" | "row">[] = [];
  let inside = 0;
  for (let row = 0; row < SIDE_CELLS; row += 1) {
    for (let column = 0; column < SIDE_CELLS; column += 1) {
      const radius = Math.hypot(column + 0.5 - SIDE_CELLS / 2, row + 0.5 - SIDE_CELLS / 2) / (SIDE_CELLS / 2);
      if (radius > JUDGED_WITHIN) continue;
      inside += 1;
      const seen = cellColour(rgba, side, column * width, row * width, width);
      if (seen === "glare") glare.push({ column, row });
      else if (seen !== null && seen.lab.l >= SHADOW_LIGHTNESS) judged.push({ column, row, radius, ...seen });
    }
  }
  return { inside, judged, glare };
}

/** The mean colour of a cell, or that it is glare; null outside the picture. */
function cellColour(rgba: Uint8Array, side: number, left: number, top: number, width: number): Pick<MixCell, "lab" | "clipped"> | "glare" | null {
  let [red, green, blue, white] = [0, 0, 0, 0];
  for (let y = top; y < top + width; y += 1) {
    for (let x = left; x < left + width; x += 1) {
      const at = (y * side + x) * 4;
      if (rgba[at + 3] !== 255) return null;
      const [r = 0, g = 0, b = 0] = [rgba[at], rgba[at + 1], rgba[at + 2]];
      red += r;
      green += g;
      blue += b;
      if (Math.min(r, g, b) >= GLARE.level) white += 1;
    }
  }
  const count = width * width;
  if (white >= count * GLARE.share) return "glare";
  return { lab: labOf(red / count, green / count, blue / count), clipped: Math.max(red, green, blue) >= count * GLARE.level };
}
