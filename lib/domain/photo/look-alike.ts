/** Side of the square grid of brightnesses that a picture is reduced to; it can be cut into 8 and into 9. */
export const GRID_SIDE = 72;

/** What the pixels of a picture give for finding it again. */
export interface Looks {
  /** SHA-256 of the reduced pixels as they lie in the file. */
  readonly pixels: string;
  /** {@link lookHash}; null where there is too little detail. */
  readonly hash: string | null;
}

/** Spread of brightness under which a picture is too flat to be told from others, levels (standard deviation). Chosen: fog saved small has 2 to 3. */
const FLAT_LEVELS = 4;

/**
 * The look-alike hash of a picture: 64 bits of the picture as it stands, then 64 of it turned a quarter clockwise, in 32
 * hexadecimal digits; from the two follow all eight ways in which it can be turned and mirrored. Each bit says whether a
 * part is brighter than its right neighbour, on 9 × 8 parts.
 *
 * @param grid Brightness 0–255 of {@link GRID_SIDE}² cells, row by row.
 * @returns Null where there is too little detail to tell the picture from others: every flat picture looks like every other.
 * @source Difference hash, common practice, no source.
 */
export function lookHash(grid: Uint8Array): string | null {
  const mean = grid.reduce((sum, level) => sum + level, 0) / grid.length;
  const variance = grid.reduce((sum, level) => sum + (level - mean) ** 2, 0) / grid.length;
  if (Math.sqrt(variance) < FLAT_LEVELS) return null;
  return hex(bitsOf((x, y) => grid[y * GRID_SIDE + x] ?? 0)) + hex(bitsOf((x, y) => grid[(GRID_SIDE - 1 - x) * GRID_SIDE + y] ?? 0));
}

const ROWS = 8;
const COLUMNS = 9;

/** One number of 8 bits for each row. */
type Rows = readonly number[];

function bitsOf(at: (x: number, y: number) => number): Rows {
  const [wide, high] = [GRID_SIDE / COLUMNS, GRID_SIDE / ROWS];
  const sum = (column: number, row: number): number => {
    let all = 0;
    for (let y = row * high; y < (row + 1) * high; y += 1) for (let x = column * wide; x < (column + 1) * wide; x += 1) all += at(x, y);
    return all;
  };
  return Array.from({ length: ROWS }, (_, row) => {
    const sums = Array.from({ length: COLUMNS }, (__, column) => sum(column, row));
    return sums.slice(1).reduce((byte, right, column) => byte * 2 + ((sums[column] ?? 0) > right ? 1 : 0), 0);
  });
}

function hex(rows: Rows): string {
  return rows.map((row) => row.toString(16).padStart(2, "0")).join("");
}

function rowsOf(text: string): Rows {
  return Array.from({ length: ROWS }, (_, row) => Number.parseInt(text.slice(row * 2, row * 2 + 2), 16));
}

/** Reads a row from the right: what was brighter than its right neighbour is now darker than its left one. */
function mirroredRow(row: number): number {
  let mirrored = 0;
  for (let bit = 0; bit < 8; bit += 1) if ((row & (1 << bit)) === 0) mirrored |= 1 << (7 - bit);
  return mirrored;
}

const mirrored = (rows: Rows): Rows => rows.map(mirroredRow);
const upsideDown = (rows: Rows): Rows => [...rows].reverse();

/**
 * The hash of a picture in each of its eight orientations, 32 hexadecimal digits each: as it stands, mirrored, turned by half,
 * upside down, and the same of it turned a quarter clockwise.
 *
 * @param hash 32 digits: {@link lookHash}.
 */
export function orientations(hash: string): readonly string[] {
  const [upright, turned] = [rowsOf(hash.slice(0, 16)), rowsOf(hash.slice(16, 32))];
  const half = (rows: Rows): Rows => upsideDown(mirrored(rows));
  // Mirroring first and turning then is turning first and standing it on its head then.
  const four = (a: Rows, b: Rows) => [[a, b], [mirrored(a), upsideDown(b)], [half(a), half(b)], [upsideDown(a), mirrored(b)]] as const;
  return [...four(upright, turned), ...four(turned, half(upright))].map(([a, b]) => hex(a) + hex(b));
}

export interface LookDistance {
  /**
   * Of the 64 comparisons across and the 64 down, how many come out the other way, the larger of the two, in the best of
   * eight orientations: 0–64. Unrelated pictures differ by some 25 to 35.
   */
  readonly bits: number;
  /** Which of {@link orientations} of the second picture is the best, 0–7. */
  readonly orientation: number;
}

/** Which of {@link orientations} takes each of them back: the two quarter turns undo each other, every other one itself. */
const BACK = [0, 1, 2, 3, 6, 5, 4, 7] as const;

/** A hash as four numbers of 32 bits. */
type Words = readonly [number, number, number, number];

function wordsOf(hash: string): Words {
  const word = (at: number): number => Number.parseInt(hash.slice(at, at + 8), 16) | 0;
  return [word(0), word(8), word(16), word(24)];
}

/** Bits that are set in a number of 32. Source: H. S. Warren, Hacker's Delight, 2nd ed., figure 5-2 (from memory). */
function bitsSet(word: number): number {
  let sum = word - ((word >>> 1) & 0x5555_5555);
  sum = (sum & 0x3333_3333) + ((sum >>> 2) & 0x3333_3333);
  return Math.imul((sum + (sum >>> 4)) & 0x0f0f_0f0f, 0x0101_0101) >>> 24;
}

/**
 * How far other pictures are from one, whichever way either was turned or mirrored. The one is turned once, instead of each
 * other: turning both the same way changes no distance.
 *
 * @param hash 32 digits: {@link lookHash}; so for each other.
 */
export function lookDistances(hash: string): (other: string) => LookDistance {
  const turned = orientations(hash).map(wordsOf);
  const ways = BACK.map((way) => turned[way] as Words);
  return (other) => {
    const [a, b, c, d] = wordsOf(other);
    let best: LookDistance = { bits: 65, orientation: 0 };
    for (const [orientation, way] of ways.entries()) {
      const bits = Math.max(bitsSet(way[0] ^ a) + bitsSet(way[1] ^ b), bitsSet(way[2] ^ c) + bitsSet(way[3] ^ d));
      if (bits < best.bits) best = { bits, orientation };
    }
    return best;
  };
}

/** How far two pictures are from each other: {@link lookDistances}. */
export function lookDistance(a: string, b: string): LookDistance {
  return lookDistances(a)(b);
}

/** The cells of 8 × 8 that differ between the first 16 digits of two hashes, as numbers 0–63 row by row. */
export function differingCells(a: string, b: string): readonly number[] {
  const [one, two] = [rowsOf(a), rowsOf(b)];
  return Array.from({ length: 64 }, (_, cell) => cell).filter((cell) => {
    const bit = 1 << (7 - (cell % 8));
    return (((one[Math.trunc(cell / 8)] ?? 0) ^ (two[Math.trunc(cell / 8)] ?? 0)) & bit) !== 0;
  });
}

/** Widths of the three pieces that a hash is cut into for searching, bits. */
const BAND_BITS = [22, 21, 21] as const;

/** A piece may differ by so many bits: of three pieces of two hashes that are up to 8 apart, one differs by no more than 2. */
const BAND_REACH = 2;

/** Furthest apart that two pictures can be and still be found by their pieces, bits. */
export const LOOK_REACH = BAND_BITS.length * (BAND_REACH + 1) - 1;

/** The three pieces of the first 64 bits of a hash, as whole numbers. */
export function bandsOf(hash: string): readonly [number, number, number] {
  const bits = BigInt(`0x${hash.slice(0, 16)}`);
  const piece = (from: number, width: number) => Number((bits >> BigInt(from)) & ((1n << BigInt(width)) - 1n));
  return [piece(42, BAND_BITS[0]), piece(21, BAND_BITS[1]), piece(0, BAND_BITS[2])];
}

/** Every value that one of the three pieces of a hash within {@link LOOK_REACH} can have, over all orientations, by piece. */
export function bandNeighbours(hash: string): readonly (readonly number[])[] {
  const pieces = orientations(hash).map(bandsOf);
  return BAND_BITS.map((width, piece) => [...new Set(pieces.flatMap((bands) => within(bands[piece] ?? 0, width)))]);
}

function within(value: number, width: number): number[] {
  const near = [value];
  for (let one = 0; one < width; one += 1) {
    near.push(value ^ (1 << one));
    for (let two = one + 1; two < width; two += 1) near.push(value ^ (1 << one) ^ (1 << two));
  }
  return near;
}
