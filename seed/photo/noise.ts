import type { Rand } from "#seed/photo/random";

/** One layer of value noise: the size of its cells in pixels and how far it swings. */
export type Octave = readonly [cellX: number, cellY: number, swing: number];

function addOctave(field: Float32Array, width: number, height: number, [cellX, cellY, swing]: Octave, rand: Rand): void {
  const columns = Math.ceil(width / cellX) + 2;
  const rows = Math.ceil(height / cellY) + 2;
  const grid = Float32Array.from({ length: columns * rows }, () => (rand.next() * 2 - 1) * swing);
  const line = new Float32Array(columns);
  for (let y = 0; y < height; y++) {
    const v = y / cellY;
    const row = Math.floor(v);
    const along = smooth(v - row);
    for (let c = 0; c < columns; c++) {
      const upper = grid[row * columns + c] ?? 0;
      line[c] = upper + ((grid[(row + 1) * columns + c] ?? 0) - upper) * along;
    }
    for (let x = 0, at = y * width; x < width; x++, at++) {
      const u = x / cellX;
      const column = u | 0;
      const left = line[column] ?? 0;
      field[at] = (field[at] ?? 0) + left + ((line[column + 1] ?? 0) - left) * smooth(u - column);
    }
  }
}

const smooth = (t: number): number => t * t * (3 - 2 * t);

/** Value noise around zero, the sum of its octaves. */
export function noiseField(width: number, height: number, octaves: readonly Octave[], rand: Rand): Float32Array {
  const field = new Float32Array(width * height);
  for (const octave of octaves) addOctave(field, width, height, octave, rand);
  return field;
}
