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
}

/** The parts of a circle: those that can be judged, how many there are, and which of them are glare. */
export interface MixCells {
  readonly inside: number;
  readonly judged: readonly MixCell[];
  /** Places (row × side + column) of what is clipped or near white. */
  readonly glare: ReadonlySet<number>;
}

/** Cells of a side: a streak as wide as a cell, a thirtieth of the bucket, is told; the grain of the picture is averaged away. Chosen here, no source. */
export const SIDE_CELLS = 32;

/** Outermost part of the circle that is left out, as a share of its radius: a hand marks no closer. Chosen here, no source. */
const RIM = 0.06;
/** A cell is glare past this lightness (L*), or where as many of its pixels have this level in all three colours. Chosen here, no source. */
const GLARE = { lightness: 93, level: 250, share: 0.25 } as const;
/** A cell is shadow under this lightness (L*): a level of some 25 of 255, where JPEG and noise make the colour. Chosen here, no source. */
const SHADOW_LIGHTNESS = 8;

export const placeOf = ({ column, row }: Pick<MixCell, "column" | "row">): number => row * SIDE_CELLS + column;

/**
 * Cuts the reduced square into cells and leaves out what is no mix to judge: the rim, glare, shadow, and what lies outside
 * the picture.
 */
export function cellsOf({ side, rgba }: MixPixels): MixCells {
  const width = side / SIDE_CELLS;
  const judged: MixCell[] = [];
  const glare = new Set<number>();
  let inside = 0;
  for (let row = 0; row < SIDE_CELLS; row += 1) {
    for (let column = 0; column < SIDE_CELLS; column += 1) {
      const radius = Math.hypot(column + 0.5 - SIDE_CELLS / 2, row + 0.5 - SIDE_CELLS / 2) / (SIDE_CELLS / 2);
      if (radius > 1 - RIM) continue;
      inside += 1;
      const lab = cellColour(rgba, side, column * width, row * width, width);
      if (lab === "glare") glare.add(placeOf({ column, row }));
      else if (lab !== null && lab.l >= SHADOW_LIGHTNESS) judged.push({ column, row, radius, lab });
    }
  }
  return { inside, judged, glare };
}

/** The mean colour of a cell, or that it is glare; null outside the picture. */
function cellColour(rgba: Uint8Array, side: number, left: number, top: number, width: number): Lab | "glare" | null {
  let [red, green, blue, clipped] = [0, 0, 0, 0];
  for (let y = top; y < top + width; y += 1) {
    for (let x = left; x < left + width; x += 1) {
      const at = (y * side + x) * 4;
      if (rgba[at + 3] !== 255) return null;
      const [r = 0, g = 0, b = 0] = [rgba[at], rgba[at + 1], rgba[at + 2]];
      red += r;
      green += g;
      blue += b;
      if (Math.min(r, g, b) >= GLARE.level) clipped += 1;
    }
  }
  const count = width * width;
  const lab = labOf(red / count, green / count, blue / count);
  return lab.l > GLARE.lightness || clipped >= count * GLARE.share ? "glare" : lab;
}
