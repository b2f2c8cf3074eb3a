import { GRID_SIDE } from "#lib/domain/photo/look-alike";

/** How much there is to be seen in a picture. Levels of brightness, 0–255. */
export interface PictureDetail {
  /** Standard deviation over the whole picture, 0–127.5. */
  readonly spreadLevels: number;
  /** Mean difference between neighbouring parts, across and down, 0–255. */
  readonly stepLevels: number;
}

/**
 * Measures the detail of a picture on its small grid: each part is a 72nd of its width and height, so noise and grain are
 * averaged away and a dark picture of something still has its edges.
 *
 * @param grid Brightness 0–255 of {@link GRID_SIDE}² parts, row by row. Throws RangeError for another number of them.
 * @source Common practice, no source.
 */
export function pictureDetail(grid: Uint8Array): PictureDetail {
  if (grid.length !== GRID_SIDE ** 2) throw new RangeError(`A grid has ${GRID_SIDE ** 2} parts, not ${grid.length}.`);
  const mean = grid.reduce((sum, level) => sum + level, 0) / grid.length;
  const variance = grid.reduce((sum, level) => sum + (level - mean) ** 2, 0) / grid.length;

  let steps = 0;
  for (let y = 0; y < GRID_SIDE; y += 1) {
    for (let x = 0; x < GRID_SIDE - 1; x += 1) {
      steps += Math.abs((grid[y * GRID_SIDE + x] ?? 0) - (grid[y * GRID_SIDE + x + 1] ?? 0)); // across
      steps += Math.abs((grid[x * GRID_SIDE + y] ?? 0) - (grid[(x + 1) * GRID_SIDE + y] ?? 0)); // down
    }
  }
  return { spreadLevels: Math.sqrt(variance), stepLevels: steps / (2 * GRID_SIDE * (GRID_SIDE - 1)) };
}
