import { noiseField } from "#seed/photo/noise";
import type { Rand } from "#seed/photo/random";

/** The photo's size, px. */
export const WIDTH = 960;
export const HEIGHT = 720;

export interface Light {
  exposure: number;
  /** Above 0 warm, under 0 cold; 0.1 is a clear cast. */
  warmth: number;
  /** Fall-off to the corners; 0.35 is a phone, 1.2 a torch at night. */
  falloff: number;
  /** Where the light is strongest, px. */
  centreX: number;
  centreY: number;
  /** Swing of the patches of light that water throws on everything. */
  dapple: number;
}

const GRID = 8;
const GRID_COLUMNS = WIDTH / GRID + 1;
const GRID_ROWS = HEIGHT / GRID + 1;

export function lightGrid(light: Light, rand: Rand): Float32Array {
  const patches = noiseField(GRID_COLUMNS, GRID_ROWS, [[13, 11, light.dapple], [6, 6, light.dapple * 0.4]], rand);
  const tilt = rand.between(-0.12, 0.12);
  for (let row = 0; row < GRID_ROWS; row++) {
    for (let column = 0; column < GRID_COLUMNS; column++) {
      const dx = (column * GRID - light.centreX) / WIDTH;
      const dy = (row * GRID - light.centreY) / WIDTH;
      const fall = 1 / (1 + light.falloff * 2.2 * (dx * dx + dy * dy));
      const at = row * GRID_COLUMNS + column;
      patches[at] = Math.min(2.6, light.exposure * fall * (1 + tilt * dx) * (1 + (patches[at] ?? 0)));
    }
  }
  return patches;
}

/** How much the objects keep from what is behind them: their outline, moved away from the light and softened. */
export function shadowGrid(objects: Uint8Array, standOffPx: number): Float32Array {
  const grid = new Float32Array(GRID_COLUMNS * GRID_ROWS);
  for (let row = 0; row < GRID_ROWS; row++) {
    for (let column = 0; column < GRID_COLUMNS; column++) {
      const x = column * GRID - standOffPx;
      const y = row * GRID - standOffPx * 1.2;
      let sum = 0;
      for (let dy = -3; dy < 5; dy += 4) {
        for (let dx = -3; dx < 5; dx += 4) {
          const px = Math.min(WIDTH - 1, Math.max(0, Math.round(x + dx)));
          const py = Math.min(HEIGHT - 1, Math.max(0, Math.round(y + dy)));
          sum += objects[(py * WIDTH + px) * 4 + 3] ?? 0;
        }
      }
      grid[row * GRID_COLUMNS + column] = sum / 1020;
    }
  }
  return soften(soften(grid));
}

function soften(grid: Float32Array): Float32Array {
  const out = new Float32Array(grid.length);
  for (let row = 0; row < GRID_ROWS; row++) {
    for (let column = 0; column < GRID_COLUMNS; column++) {
      const left = Math.max(0, column - 1);
      const right = Math.min(GRID_COLUMNS - 1, column + 1);
      let sum = 0;
      for (const line of [Math.max(0, row - 1), row, Math.min(GRID_ROWS - 1, row + 1)]) {
        const at = line * GRID_COLUMNS;
        sum += (grid[at + left] ?? 0) + (grid[at + column] ?? 0) + (grid[at + right] ?? 0);
      }
      out[row * GRID_COLUMNS + column] = sum / 9;
    }
  }
  return out;
}

// The loops below touch every pixel, so they count in whole numbers (256 is one), and `!` is safe in them because
// every index is made from the loop's own bounds. A clamped array keeps each level between 0 and 255.

/** One row of a coarse grid, drawn out to the width of the photo and counted in parts of `one`. */
export function stretchRow(grid: Float32Array, y: number, out: Int32Array, one: number): void {
  const row = Math.floor(y / GRID);
  const down = ((y - row * GRID) / GRID) * one;
  const up = one - down;
  let upper = row * GRID_COLUMNS;
  let lower = upper + GRID_COLUMNS;
  let from = grid[upper]! * up + grid[lower]! * down;
  for (let x = 0; x < WIDTH; ) {
    const to = grid[++upper]! * up + grid[++lower]! * down;
    const step = (to - from) / GRID;
    for (let i = 0; i < GRID; i++, x++) out[x] = from + step * i;
    from = to;
  }
}

/** Room on both sides of a curve for levels that light and grain push out of 0 to 255. */
export const MARGIN = 512;

/** A curve for each channel: a little contrast and the cast of the light. The level is offset by MARGIN. */
export function curves(warmth: number): [Uint8Array, Uint8Array, Uint8Array] {
  const curve = (gain: number): Uint8Array => {
    const levels = new Uint8Array(256 + 2 * MARGIN);
    for (let i = 0; i < levels.length; i++) {
      const v = Math.min(1, Math.max(0, ((i - MARGIN) / 255) * gain));
      levels[i] = Math.round(255 * (v + 0.7 * (v - 0.36) * v * (1 - v)));
    }
    return levels;
  };
  return [curve(1 + warmth), curve(1), curve(1 - warmth)];
}
