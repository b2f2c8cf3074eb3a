import { GRID_SIDE } from "#lib/domain/photo/look-alike";
import { pictureDetail } from "#lib/domain/photo/picture-detail";

/** A picture reduced to brightnesses. */
export interface GreyPicture {
  /** Pixels it had, as stored. */
  readonly width: number;
  readonly height: number;
  /** Brightness 0–255 of {@link GRID_SIDE}² parts, row by row. */
  readonly grid: Uint8Array;
}

/** Under this spread a picture is too flat to be compared, levels. Chosen: what is left of fog after saving it small. */
const FLAT_LEVELS = 6;

/** Two steps of brightness that lie on either side of zero count as different from here on, levels. Saving a picture small moves a step by less. */
const STEP_LEVELS = 3;

/** Shapes that differ by less are the same, as a ratio: a small picture is rounded to whole pixels. */
const SAME_SHAPE = 1.03;

/**
 * How far the small picture inside a file is from the large one: of 64 comparisons of neighbouring parts, how many come out
 * the other way. Unrelated pictures differ by about half of those that are not flat.
 *
 * A camera that puts a 3 : 2 picture into a 4 : 3 one adds black bars, cuts it, or squeezes it, and a program may have turned
 * one of the two: the best match of these counts, so that only another picture is far.
 *
 * @returns 0–64, or null where either is too flat to tell.
 * @source Difference hash on 9 × 8 parts, common practice, no source.
 */
export function smallPictureBits(small: GreyPicture, large: GreyPicture): number | null {
  if ([small, large].some(({ grid }) => pictureDetail(grid).spreadLevels < FLAT_LEVELS)) return null;
  const turned = [small, quarterTurned(small)];
  const upright = [...turned, ...turned.map((one) => quarterTurned(quarterTurned(one)))];
  return Math.min(...upright.flatMap((one) => pairs(one, large).map(([a, b]) => differing(a, b))));
}

type Steps = readonly number[];

/** The two pictures as they are, the small one without bars, and the large one cut to the shape of the small one. */
function pairs(small: GreyPicture, large: GreyPicture): (readonly [Steps, Steps])[] {
  const wider = large.width / large.height / (small.width / small.height);
  const asTheyAre = [stepsOf(small.grid, 1, 1), stepsOf(large.grid, 1, 1)] as const;
  if (Math.max(wider, 1 / wider) < SAME_SHAPE) return [asTheyAre];
  const [across, down] = wider > 1 ? [1, 1 / wider] : [wider, 1];
  const withoutBars = stepsOf(small.grid, across, down);
  return [asTheyAre, [withoutBars, asTheyAre[1]], [asTheyAre[0], stepsOf(large.grid, down, across)]];
}

const ROWS = 8;
const COLUMNS = 9;

/** Brightness of each part less that of its right neighbour, over the middle of the grid: shares of its width and height. */
function stepsOf(grid: Uint8Array, across: number, down: number): Steps {
  const part = (count: number, share: number, i: number) => (GRID_SIDE / 2) * (1 - share) + (i * GRID_SIDE * share) / count;
  const mean = (column: number, row: number): number => {
    const [left, right] = [part(COLUMNS, across, column), part(COLUMNS, across, column + 1)].map(Math.round) as [number, number];
    const [top, bottom] = [part(ROWS, down, row), part(ROWS, down, row + 1)].map(Math.round) as [number, number];
    let sum = 0;
    for (let y = top; y < bottom; y += 1) for (let x = left; x < right; x += 1) sum += grid[y * GRID_SIDE + x] ?? 0;
    return sum / Math.max(1, (right - left) * (bottom - top));
  };
  return Array.from({ length: ROWS * (COLUMNS - 1) }, (_, i) => {
    const [column, row] = [i % (COLUMNS - 1), Math.trunc(i / (COLUMNS - 1))];
    return mean(column, row) - mean(column + 1, row);
  });
}

function differing(a: Steps, b: Steps): number {
  return a.filter((step, i) => step > 0 !== (b[i] ?? 0) > 0 && Math.abs(step - (b[i] ?? 0)) > STEP_LEVELS).length;
}

function quarterTurned({ width, height, grid }: GreyPicture): GreyPicture {
  const turned = grid.map((_, i) => grid[(GRID_SIDE - 1 - (i % GRID_SIDE)) * GRID_SIDE + Math.trunc(i / GRID_SIDE)] ?? 0);
  return { width: height, height: width, grid: turned };
}
