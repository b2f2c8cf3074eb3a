import { deltaE00, type Lab } from "#lib/domain/photo/colour";
import { SIDE_CELLS, type MixCell } from "#lib/domain/photo/mix-cell";

/** What the mix around a cell looks like. */
export type MixSurface = (cell: MixCell) => Lab;

/** Times that the surface is laid again without what differs from it. Chosen here, no source. */
const TIMES = 4;
/** What differs by less counts to the surface: so many times the median difference, and at least so much (ΔE00). Chosen here, no source. */
const REACH = { times: 2.5, least: 1.5 } as const;
/** The surface is begun from cells nearer to the middle than this, 0–1, so that the wall of the bucket does not bend it. Chosen here, no source. */
const BEGUN_WITHIN = 0.72;

/**
 * A smooth surface through the lightness and colour of the mix: lightness of the second degree, colour a plane. A bucket that
 * is shaded, lit from one side or darker at its wall is followed; a streak is not. What differs is left out and the surface laid
 * again. Begun at the median colour, so that it settles on what most of the mix looks like.
 *
 * @source Iterated least squares; the degrees and the number of times were chosen here, no source.
 */
export function mixSurface(cells: readonly MixCell[]): MixSurface {
  const inner = cells.filter(({ radius }) => radius < BEGUN_WITHIN);
  const first = inner.length < cells.length / 3 ? cells : inner;
  let surface = laid(nearest(first, levelAt(first)));
  for (let time = 0; time < TIMES; time += 1) {
    const kept = nearest(cells, surface);
    if (kept.length < cells.length / 4) break;
    surface = laid(kept);
  }
  return surface;
}

/** The cells that differ little from a surface. At least half of them do, by the median. */
function nearest(cells: readonly MixCell[], surface: MixSurface): MixCell[] {
  const away = cells.map((cell) => deltaE00(cell.lab, surface(cell)));
  const reach = Math.max(REACH.least, REACH.times * median(away));
  return cells.filter((_, i) => (away[i] ?? 0) <= reach);
}

function levelAt(cells: readonly MixCell[]): MixSurface {
  const [l, a, b] = (["l", "a", "b"] as const).map((part) => median(cells.map(({ lab }) => lab[part])));
  return () => ({ l: l ?? 0, a: a ?? 0, b: b ?? 0 });
}

function laid(cells: readonly MixCell[]): MixSurface {
  const curved = (cell: MixCell): number[] => { const [x, y] = unit(cell); return [1, x, y, x * x, x * y, y * y]; };
  const flat = (cell: MixCell): number[] => { const [x, y] = unit(cell); return [1, x, y]; };
  const l = leastSquares(cells.map(curved), cells.map(({ lab }) => lab.l));
  const a = leastSquares(cells.map(flat), cells.map(({ lab }) => lab.a));
  const b = leastSquares(cells.map(flat), cells.map(({ lab }) => lab.b));
  return (cell) => ({ l: dot(l, curved(cell)), a: dot(a, flat(cell)), b: dot(b, flat(cell)) });
}

const unit = ({ column, row }: MixCell): readonly [number, number] => [(column + 0.5) / SIDE_CELLS - 0.5, (row + 0.5) / SIDE_CELLS - 0.5];
const dot = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);

/** Coefficients that fit the rows best, by the normal equations and Gauss's elimination; what cannot be told from the rows is 0. */
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

/** The value that a share (0–1) of all values lies under; 0 of none. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.trunc(sorted.length * share))] ?? 0;
}

export const median = (values: readonly number[]): number => quantile(values, 0.5);
