import { converter, differenceCiede2000, type Lab65 } from "culori";

import type { PhotoLimits } from "#lib/domain/photo/limits";
import type { StreakVerdict } from "#lib/domain/photo/verdict";

/** Where a person marked the mix: shares of the upright picture's width and height, 0–1; the radius is a share of the shorter side. */
export interface MixArea {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

/** The marked square of a picture, reduced: red, green, blue and opacity 0–255, row by row. Opacity 0 is outside the picture. */
export interface MixPixels {
  /** Pixels of a side, a multiple of {@link SIDE_CELLS}. */
  readonly side: number;
  readonly rgba: Uint8Array;
  /** Pixels that the square had in the picture, before it was reduced. */
  readonly sourcePx: number;
}

export interface StreakFinding {
  readonly verdict: StreakVerdict;
  /** Why it cannot be told, with what was measured; empty otherwise. */
  readonly reason: string;
  /** Share of the judged cells that hang together as streaks, per cent, 0–100. */
  readonly sharePct: number;
  /** How much they differ from the mix around them in the median, CIEDE2000; 0 without any. */
  readonly contrastDeltaE: number;
  /** One letter a cell, row by row: "u" like the rest, "s" streak, "x" left out (outside the circle, rim, glare, shadow). */
  readonly cells: { readonly side: number; readonly marks: string };
}

/** Cells of a side: fine enough for a streak a finger wide in a bucket, coarse enough to average the grain away. Chosen here. */
export const SIDE_CELLS = 24;

/** Outermost part of the circle that is left out, as a share of its radius: the wall of the bucket and what clings to it. Chosen here. */
const RIM = 0.08;
/** Lightness past which a cell is glare, and under which it is shadow, CIELAB L*, 0–100. Chosen here. */
const GLARE = { lightness: 93, clipped: 250 } as const;
const SHADOW_LIGHTNESS = 6;
/** Fewer judged cells than this share of the circle say too little. Chosen here. */
const LEAST_JUDGED = 0.4;
/** Fewer pixels than this across the circle show no streak. Chosen here. */
const LEAST_PX = 60;
/** Cells that hang together; fewer are grain, a bubble or a grain of sand. Chosen here. */
const LEAST_TOGETHER = 3;
/** Where so much of what differs lies near the edge, it is the edge of the bucket and not the mix. Chosen here. */
const EDGE = { from: 0.72, share: 0.75 } as const;
/** A share between this part of the limit and the limit is near enough to both. Chosen here. */
const NEAR = 0.5;

interface Cell {
  readonly column: number;
  readonly row: number;
  /** Distance from the middle, 0–1 at the rim. */
  readonly radius: number;
  readonly lab: Lab65;
}

const toLab = converter("lab65");
const difference = differenceCiede2000();

/**
 * Whether a mix has one colour. Each cell inside the circle is held against the mix around it: a smooth surface through the
 * lightness and colour of all cells, so that a shaded bucket is no streak. Cells that differ by more than the limit and hang
 * together are streaks. It is an aid: the person who looks decides.
 *
 * @param limits streakDeltaE, CIEDE2000 from which a cell differs; streakSharePct, per cent of the judged cells.
 * @returns *streaks* past the share, *uniform* well under it, *cannot tell* in between and where too little can be judged.
 * @source Colour difference: CIE 142-2001 (CIEDE2000) on CIELAB of D65, through culori. The method of telling streaks was chosen
 * here, no source.
 */
export function streakFinding(pixels: MixPixels, limits: Pick<PhotoLimits, "streakDeltaE" | "streakSharePct">): StreakFinding {
  const { inside, judged } = cellsOf(pixels);
  const blank = marksOf(new Map(judged.map((cell) => [place(cell), "u"])));
  const cannotTell = (reason: string, found: Partial<StreakFinding> = {}): StreakFinding => ({ verdict: "cannot tell", reason, sharePct: 0, contrastDeltaE: 0, cells: blank, ...found });
  if (pixels.sourcePx < LEAST_PX) return cannotTell(`the marked circle is ${Math.round(pixels.sourcePx)} px wide; at least ${LEAST_PX} are wanted`);
  if (judged.length < inside * LEAST_JUDGED) {
    return cannotTell(`${percent(judged.length / inside)} of the circle can be judged, the rest is glare, shadow or outside the picture; at least ${percent(LEAST_JUDGED)} are wanted`);
  }

  const around = surface(judged);
  const off = judged.flatMap((cell) => {
    const deltaE = difference(cell.lab, around(cell));
    return deltaE > limits.streakDeltaE ? [{ ...cell, deltaE }] : [];
  });
  const streaks = together(off);
  const share = streaks.length / judged.length;
  const found = {
    sharePct: round(share * 100),
    contrastDeltaE: round(median(streaks.map(({ deltaE }) => deltaE))),
    cells: marksOf(new Map([...judged.map((cell): [number, string] => [place(cell), "u"]), ...streaks.map((cell): [number, string] => [place(cell), "s"])])),
  };
  const limit = limits.streakSharePct / 100;
  const atEdge = streaks.filter(({ radius }) => radius > EDGE.from).length;
  if (share > limit * NEAR && atEdge > streaks.length * EDGE.share) return cannotTell("what differs lies along the edge of the circle: mark the mix alone, without the wall of the bucket", found);
  if (share > limit) return { verdict: "streaks", reason: "", ...found };
  if (share > limit * NEAR) return cannotTell(`${percent(share)} differ, close to the limit of ${limits.streakSharePct} %`, found);
  return { verdict: "uniform", reason: "", ...found };
}

function cellsOf({ side, rgba }: MixPixels): { inside: number; judged: Cell[] } {
  const width = side / SIDE_CELLS;
  const judged: Cell[] = [];
  let inside = 0;
  for (let row = 0; row < SIDE_CELLS; row += 1) {
    for (let column = 0; column < SIDE_CELLS; column += 1) {
      const radius = Math.hypot(column + 0.5 - SIDE_CELLS / 2, row + 0.5 - SIDE_CELLS / 2) / (SIDE_CELLS / 2);
      if (radius > 1 - RIM) continue;
      inside += 1;
      const lab = cellLab(rgba, side, column * width, row * width, width);
      if (lab !== null) judged.push({ column, row, radius, lab });
    }
  }
  return { inside, judged };
}

/** The mean colour of a cell; null for glare, shadow and what lies outside the picture. */
function cellLab(rgba: Uint8Array, side: number, left: number, top: number, width: number): Lab65 | null {
  let [red, green, blue, clipped] = [0, 0, 0, 0];
  for (let y = top; y < top + width; y += 1) {
    for (let x = left; x < left + width; x += 1) {
      const at = (y * side + x) * 4;
      if (rgba[at + 3] !== 255) return null;
      const [r = 0, g = 0, b = 0] = [rgba[at], rgba[at + 1], rgba[at + 2]];
      red += r;
      green += g;
      blue += b;
      if (Math.min(r, g, b) >= GLARE.clipped) clipped += 1;
    }
  }
  const count = width * width;
  const lab = toLab({ mode: "rgb", r: red / count / 255, g: green / count / 255, b: blue / count / 255 });
  return lab.l > GLARE.lightness || lab.l < SHADOW_LIGHTNESS || clipped > count / 4 ? null : lab;
}

/**
 * The mix around a cell: lightness as a surface of the second degree, colour as a plane, by least squares over the cells that
 * lie near it. What differs is left out and the surface laid again, three times.
 */
function surface(cells: readonly Cell[]): (cell: Cell) => Lab65 {
  // Begun away from the edge, so that the wall of the bucket does not bend it.
  let kept: readonly Cell[] = cells.filter(({ radius }) => radius < EDGE.from);
  if (kept.length < cells.length / 3) kept = cells;
  let fit = laid(kept);
  for (let time = 0; time < 3; time += 1) {
    const away = kept.map((cell) => difference(cell.lab, fit(cell)));
    const reach = Math.max(1.5, 2.5 * median(away));
    const near = cells.filter((cell) => difference(cell.lab, fit(cell)) <= reach);
    if (near.length < cells.length / 3) break;
    kept = near;
    fit = laid(kept);
  }
  return fit;
}

function laid(cells: readonly Cell[]): (cell: Cell) => Lab65 {
  const curved = (cell: Cell): number[] => { const [x, y] = unit(cell); return [1, x, y, x * x, x * y, y * y]; };
  const flat = (cell: Cell): number[] => { const [x, y] = unit(cell); return [1, x, y]; };
  const l = leastSquares(cells.map(curved), cells.map(({ lab }) => lab.l));
  const a = leastSquares(cells.map(flat), cells.map(({ lab }) => lab.a));
  const b = leastSquares(cells.map(flat), cells.map(({ lab }) => lab.b));
  return (cell) => ({ mode: "lab65", l: dot(l, curved(cell)), a: dot(a, flat(cell)), b: dot(b, flat(cell)) });
}

const unit = ({ column, row }: Cell): readonly [number, number] => [(column + 0.5) / SIDE_CELLS - 0.5, (row + 0.5) / SIDE_CELLS - 0.5];
const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);

/** Coefficients that fit the rows best, by the normal equations and Gauss's elimination; a row or column of nothing gives 0. */
function leastSquares(rows: readonly number[][], wanted: readonly number[]): number[] {
  const size = rows[0]?.length ?? 0;
  const matrix = Array.from({ length: size }, (_, i) => [...Array.from({ length: size }, (__, j) => rows.reduce((sum, row) => sum + (row[i] ?? 0) * (row[j] ?? 0), 0)), rows.reduce((sum, row, k) => sum + (row[i] ?? 0) * (wanted[k] ?? 0), 0)]);
  for (let i = 0; i < size; i += 1) {
    const pivot = matrix.slice(i).reduce((best, row, k) => (Math.abs(row[i] ?? 0) > Math.abs(matrix[best]?.[i] ?? 0) ? i + k : best), i);
    [matrix[i], matrix[pivot]] = [matrix[pivot]!, matrix[i]!];
    const own = matrix[i]!;
    if (Math.abs(own[i] ?? 0) < 1e-12) continue;
    for (const [k, row] of matrix.entries()) {
      if (k === i) continue;
      const factor = (row[i] ?? 0) / (own[i] ?? 1);
      for (let j = i; j <= size; j += 1) row[j] = (row[j] ?? 0) - factor * (own[j] ?? 0);
    }
  }
  return matrix.map((row, i) => (Math.abs(row[i] ?? 0) < 1e-12 ? 0 : (row[size] ?? 0) / (row[i] ?? 1)));
}

type OffCell = Cell & { readonly deltaE: number };

/** The cells that touch at least two others that differ too, by side or corner. */
function together(off: readonly OffCell[]): OffCell[] {
  const left = new Map(off.map((cell) => [place(cell), cell]));
  const kept: OffCell[] = [];
  for (const start of off) {
    if (!left.delete(place(start))) continue;
    const group = [start];
    for (const { column, row } of group) {
      for (let dy = -1; dy <= 1; dy += 1) {
        for (let dx = -1; dx <= 1; dx += 1) {
          const next = left.get((row + dy) * SIDE_CELLS + column + dx);
          if (next === undefined || Math.abs(next.column - column) > 1) continue;
          left.delete(place(next));
          group.push(next);
        }
      }
    }
    if (group.length >= LEAST_TOGETHER) kept.push(...group);
  }
  return kept;
}

const place = ({ column, row }: Pick<Cell, "column" | "row">): number => row * SIDE_CELLS + column;

function marksOf(marks: ReadonlyMap<number, string>): StreakFinding["cells"] {
  return { side: SIDE_CELLS, marks: Array.from({ length: SIDE_CELLS ** 2 }, (_, cell) => marks.get(cell) ?? "x").join("") };
}

function median(values: readonly number[]): number {
  if (values.length === 0) return 0;
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.trunc(sorted.length / 2)] ?? 0;
}

const round = (value: number): number => Math.round(value * 10) / 10;
const percent = (share: number): string => `${Math.round(share * 1000) / 10} %`;
