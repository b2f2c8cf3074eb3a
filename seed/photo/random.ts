/** A repeatable stream of numbers: the same seed text always gives the same stream. */
export interface Rand {
  /** A number in [0, 1). */
  next(): number;
  /** A number in [low, high). */
  between(low: number, high: number): number;
  /** A whole number from low to high, both included. */
  whole(low: number, high: number): number;
  pick<T>(choices: readonly [T, ...T[]]): T;
  chance(share: number): boolean;
}

/** FNV-1a, 32 bits: enough to keep a few thousand seed texts apart. */
function hash32(text: string): number {
  let hash = 0x811c9dc5;
  for (const byte of Buffer.from(text, "utf8")) hash = Math.imul(hash ^ byte, 0x01000193);
  return hash >>> 0;
}

export function randFrom(seed: string): Rand {
  let state = hash32(seed);
  // mulberry32
  const next = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    whole: (low, high) => low + Math.floor((high - low + 1) * next()),
    pick: (choices) => choices[Math.floor(choices.length * next())] ?? choices[0],
    chance: (share) => next() < share,
  };
}
