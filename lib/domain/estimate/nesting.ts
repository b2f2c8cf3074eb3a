import { finiteAbove } from "#lib/domain/estimate/amount";

/** One strip to cut: a jacket of a pile. */
export interface Piece {
  id: string;
  lengthMm: number;
  /** Across the roll. */
  heightMm: number;
}

export interface Roll {
  lengthMm: number;
  widthMm: number;
}

export interface PlacedPiece extends Piece {
  /** From the beginning of the roll, mm. */
  offsetMm: number;
}

/** One lane of a roll with its pieces side by side, and what is left at its end. */
export interface Lane {
  pieces: PlacedPiece[];
  leftMm: number;
}

export interface CutRoll {
  lanes: Lane[];
}

export interface CutList {
  rolls: CutRoll[];
  /** No plan needs fewer rolls. */
  bound: number;
  /** Whether it is shown that no plan needs fewer: the bound is reached, or every other plan was tried. */
  best: boolean;
  /** Share of the length of all lanes used that is in pieces, 0 to 1. */
  used: number;
  /** Pieces that no roll takes, with why. */
  left: { piece: Piece; because: string }[];
}

/** Relative slack in "fits": cut lengths are sums with π in them. */
const SLACK = 1e-9;
/** Steps that the search for a better plan may take before it stops; a few hundredths of a second. */
const STEPS = 100_000;

/**
 * A cut list for jackets on rolls of one length: first-fit decreasing, then a search over plans by kinds of piece where that
 * needs more rolls than the bound. Pieces at most half as high as the roll is wide lie in two lanes; high and low pieces do not
 * share a roll. Deterministic.
 *
 * @throws RangeError for a piece or roll that is not more than zero.
 * @source One-dimensional cutting stock: first-fit decreasing, and the lower bound L2 of Martello and Toth.
 */
export function cutList(pieces: readonly Piece[], roll: Roll): CutList {
  const lengthMm = finiteAbove(roll.lengthMm, 0, "A roll");
  const widthMm = finiteAbove(roll.widthMm, 0, "A roll's width");
  const fits = (piece: Piece): string | null => {
    finiteAbove(piece.heightMm, 0, "A height");
    if (finiteAbove(piece.lengthMm, 0, "A length") > lengthMm * (1 + SLACK)) return "it is longer than a roll";
    return piece.heightMm > widthMm * (1 + SLACK) ? "it is higher than a roll is wide" : null;
  };
  const left = pieces.flatMap((piece) => {
    const because = fits(piece);
    return because === null ? [] : [{ piece, because }];
  });
  const whole = pieces.filter((piece) => fits(piece) === null);
  const isLow = ({ heightMm }: Piece): boolean => heightMm <= (widthMm / 2) * (1 + SLACK);
  const high = pack(whole.filter((piece) => !isLow(piece)), lengthMm);
  const lowPieces = whole.filter(isLow);
  const low = pack(lowPieces, lengthMm);

  const rolls = [...high.lanes.map((lane): CutRoll => ({ lanes: [lane] })), ...pairs(low.lanes)];
  const lanes = rolls.flatMap((one) => one.lanes);
  const total = lanes.reduce((sum, lane) => sum + lengthMm - lane.leftMm, 0);
  // A roll could hold a high piece and low ones behind it, so that the bound of both kinds is that of their length alone.
  const length = (some: readonly Piece[]): number => some.reduce((sum, { lengthMm: one }) => sum + one, 0);
  const mixed = high.lanes.length > 0 && lowPieces.length > 0;
  const bound = mixed
    ? Math.max(high.bound, Math.ceil((length(whole) - length(lowPieces) / 2) / lengthMm - SLACK))
    : high.bound + Math.ceil(low.bound / 2);
  return { rolls, bound, best: rolls.length === bound || (!mixed && high.best && low.best), used: lanes.length === 0 ? 0 : total / (lanes.length * lengthMm), left };
}

/**
 * The same with rolls of several lots: a pile's jacket is never mixed over two, and a lot has only so many rolls. Lots are used
 * up in the order given; what is over goes to new rolls of a lot to be bought.
 */
export function cutListByLot(
  pieces: readonly Piece[],
  roll: Roll,
  lots: readonly { lot: string; rolls: number }[],
): { lot: string | null; cut: CutList }[] {
  let waiting = [...pieces];
  const cuts: { lot: string | null; cut: CutList }[] = [];
  for (const { lot, rolls } of lots) {
    const taken = takeFor(waiting, roll, rolls);
    if (taken.length === 0) continue;
    cuts.push({ lot, cut: cutList(taken, roll) });
    const ids = new Set(taken.map(({ id }) => id));
    waiting = waiting.filter(({ id }) => !ids.has(id));
  }
  return waiting.length > 0 ? [...cuts, { lot: null, cut: cutList(waiting, roll) }] : cuts;
}

/** The pieces that so many rolls take by first fit: the longest first, the high ones before the low. */
function takeFor(pieces: readonly Piece[], roll: Roll, rolls: number): Piece[] {
  const isLow = ({ heightMm }: Piece): boolean => heightMm <= (roll.widthMm / 2) * (1 + SLACK);
  const sound = longestFirst(pieces.filter(({ lengthMm, heightMm }) => lengthMm <= roll.lengthMm * (1 + SLACK) && heightMm <= roll.widthMm * (1 + SLACK)));
  const high = firstFit(sound.filter((piece) => !isLow(piece)), roll.lengthMm).slice(0, rolls);
  const low = firstFit(sound.filter(isLow), roll.lengthMm).slice(0, 2 * (rolls - high.length));
  const taken = new Set([...high, ...low].flat());
  return pieces.filter((piece) => taken.has(piece));
}

function longestFirst(pieces: readonly Piece[]): Piece[] {
  return [...pieces].sort((a, b) => b.lengthMm - a.lengthMm || (a.id < b.id ? -1 : 1));
}

function pairs(lanes: readonly Lane[]): CutRoll[] {
  return lanes.flatMap((lane, index) => (index % 2 === 0 ? [{ lanes: lanes.slice(index, index + 2) }] : []));
}

interface Packed {
  lanes: Lane[];
  bound: number;
  best: boolean;
}

function pack(pieces: readonly Piece[], capacity: number): Packed {
  const sorted = longestFirst(pieces);
  const bound = lowerBound(sorted.map(({ lengthMm }) => lengthMm), capacity);
  const first = firstFit(sorted, capacity);
  if (first.length <= bound) return { lanes: first.map((lane) => laneOf(lane, capacity)), bound, best: true };
  const { found, whole } = search(sorted, capacity, first.length - 1, bound);
  return { lanes: (found ?? first).map((lane) => laneOf(lane, capacity)), bound, best: whole };
}

function laneOf(pieces: readonly Piece[], capacity: number): Lane {
  let offsetMm = 0;
  const placed = pieces.map((piece): PlacedPiece => {
    const at = offsetMm;
    offsetMm += piece.lengthMm;
    return { ...piece, offsetMm: at };
  });
  return { pieces: placed, leftMm: Math.max(0, capacity - offsetMm) };
}

function firstFit(sorted: readonly Piece[], capacity: number): Piece[][] {
  const lanes: { pieces: Piece[]; used: number }[] = [];
  for (const piece of sorted) {
    const lane = lanes.find(({ used }) => used + piece.lengthMm <= capacity * (1 + SLACK));
    if (lane) {
      lane.pieces.push(piece);
      lane.used += piece.lengthMm;
    } else lanes.push({ pieces: [piece], used: piece.lengthMm });
  }
  return lanes.map(({ pieces }) => pieces);
}

/** Fewest lanes that any plan needs: by length, and by the pieces that no two of share a lane. */
function lowerBound(lengths: readonly number[], capacity: number): number {
  const room = capacity * (1 + SLACK);
  const sum = (some: readonly number[]): number => some.reduce((total, length) => total + length, 0);
  const limits = [0, ...new Set(lengths.filter((length) => length <= room / 2))];
  const needed = limits.map((limit) => {
    const big = lengths.filter((length) => length > room - limit);
    const middle = lengths.filter((length) => length <= room - limit && length > room / 2);
    const small = lengths.filter((length) => length <= room / 2 && length >= limit);
    const spill = sum(small) - (middle.length * room - sum(middle));
    return big.length + middle.length + Math.max(0, Math.ceil(spill / room - SLACK));
  });
  return Math.max(0, ...needed);
}

/**
 * Looks for a plan with at most `most` lanes, filling one lane after the other by how many pieces of each length go into it; a lane
 * always takes the longest piece that is left. Stops at the bound, or when it has looked at enough.
 */
function search(sorted: readonly Piece[], capacity: number, most: number, bound: number): { found: Piece[][] | null; whole: boolean } {
  const kinds = [...new Set(sorted.map(({ lengthMm }) => lengthMm))];
  const room = capacity * (1 + SLACK);
  const steps = { left: STEPS };
  let best: number[][] | null = null;
  let limit = most;

  const fill = (left: readonly number[], lanes: number[][]): void => {
    if (steps.left <= 0 || limit < bound) return;
    const first = left.findIndex((count) => count > 0);
    if (first < 0) {
      best = lanes;
      limit = lanes.length - 1;
      return;
    }
    const rest = left.reduce((sum, count, kind) => sum + count * (kinds[kind] ?? 0), 0);
    if (lanes.length + Math.ceil(rest / room - SLACK) > limit) return;
    for (const lane of lanesWith(left, first, kinds, room, steps)) {
      if (steps.left <= 0) return;
      fill(left.map((count, kind) => count - (lane[kind] ?? 0)), [...lanes, lane]);
    }
  };
  fill(kinds.map((length) => sorted.filter(({ lengthMm }) => lengthMm === length).length), []);
  return { found: best && dealt(best, kinds, sorted), whole: steps.left > 0 };
}

/** Every full way to fill a lane that holds a piece of the first kind: nothing that is left would still go in. */
function lanesWith(left: readonly number[], first: number, kinds: readonly number[], room: number, steps: { left: number }): number[][] {
  const found: number[][] = [];
  const add = (kind: number, used: number, lane: readonly number[]): void => {
    steps.left -= 1;
    if (steps.left <= 0) return;
    if (kind === kinds.length) {
      const full = kinds.every((length, other) => (lane[other] ?? 0) === (left[other] ?? 0) || used + length > room);
      if (full) found.push([...lane]);
      return;
    }
    const length = kinds[kind] ?? 0;
    const fit = Math.min(left[kind] ?? 0, Math.floor((room - used) / length));
    for (let count = fit; count >= (kind === first ? 1 : 0); count--) add(kind + 1, used + count * length, [...lane, count]);
  };
  add(first, 0, kinds.slice(0, first).map(() => 0));
  return found;
}

/** Deals the pieces themselves out to lanes that say how many of each length they hold. */
function dealt(lanes: readonly (readonly number[])[], kinds: readonly number[], sorted: readonly Piece[]): Piece[][] {
  const stacks = kinds.map((length) => sorted.filter(({ lengthMm }) => lengthMm === length));
  return lanes.map((lane) => lane.flatMap((count, kind) => stacks[kind]?.splice(0, count) ?? []));
}
