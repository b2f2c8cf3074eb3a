/** Side of the square grid of brightnesses that a picture is reduced to; it can be cut into 8 and into 9. */
export const GRID_SIDE = 72;

/**
 * The look-alike hash of a picture: 64 bits of the picture as it stands, then 64 of it turned a quarter clockwise, in 32
 * hexadecimal digits. Each bit says whether a part is brighter than its right neighbour, on 9 × 8 parts.
 *
 * @param grid Brightness 0–255 of {@link GRID_SIDE}² cells, row by row.
 * @returns Null where there is too little detail to tell the picture from others.
 */
export function lookHash(grid: Uint8Array): string | null {
  return bits((x, y) => grid[y * GRID_SIDE + x] ?? 0) + bits((x, y) => grid[(GRID_SIDE - 1 - x) * GRID_SIDE + y] ?? 0);
}

const ROWS = 8;
const COLUMNS = 9;

function bits(at: (x: number, y: number) => number): string {
  const [wide, high] = [GRID_SIDE / COLUMNS, GRID_SIDE / ROWS];
  const mean = (column: number, row: number): number => {
    let sum = 0;
    for (let y = row * high; y < (row + 1) * high; y += 1) for (let x = column * wide; x < (column + 1) * wide; x += 1) sum += at(x, y);
    return sum;
  };
  let text = "";
  for (let row = 0; row < ROWS; row += 1) {
    let byte = 0;
    for (let column = 0; column < COLUMNS - 1; column += 1) byte = byte * 2 + (mean(column, row) > mean(column + 1, row) ? 1 : 0);
    text += byte.toString(16).padStart(2, "0");
  }
  return text;
}
