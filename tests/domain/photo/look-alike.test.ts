import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bandNeighbours, bandsOf, differingCells, GRID_SIDE, lookDistance, lookHash, LOOK_REACH, orientations } from "#lib/domain/photo/look-alike";

type At = (x: number, y: number) => number;
const last = GRID_SIDE - 1;
const gridOf = (at: At): Uint8Array => Uint8Array.from({ length: GRID_SIDE ** 2 }, (_, i) => at(i % GRID_SIDE, Math.trunc(i / GRID_SIDE)));

/** A picture of large patches that flow into each other, unlike that of any other number. */
function patches(number: number): At {
  const wave = (a: number, b: number) => Math.sin(number * 12.9898 + a * 78.233 + b * 37.719) * 43_758.5453;
  const level = (a: number, b: number) => (wave(a, b) - Math.floor(wave(a, b))) * 255;
  return (x, y) => {
    const [u, v] = [(x / GRID_SIDE) * 9, (y / GRID_SIDE) * 9];
    const [a, b, s, t] = [Math.floor(u), Math.floor(v), u % 1, v % 1];
    return Math.round(level(a, b) * (1 - s) * (1 - t) + level(a + 1, b) * s * (1 - t) + level(a, b + 1) * (1 - s) * t + level(a + 1, b + 1) * s * t);
  };
}

/** The eight ways to turn and mirror a square picture, in the order of the orientations of a hash. */
const WAYS: readonly (readonly [string, (at: At) => At])[] = [
  ["as it stands", (at) => at],
  ["mirrored", (at) => (x, y) => at(last - x, y)],
  ["turned by half", (at) => (x, y) => at(last - x, last - y)],
  ["upside down", (at) => (x, y) => at(x, last - y)],
  ["turned a quarter clockwise", (at) => (x, y) => at(y, last - x)],
  ["turned a quarter and mirrored", (at) => (x, y) => at(y, x)],
  ["turned three quarters", (at) => (x, y) => at(last - y, x)],
  ["turned a quarter and upside down", (at) => (x, y) => at(last - y, last - x)],
];
const hashOf = (at: At): string => lookHash(gridOf(at)) ?? "";

describe("a look-alike hash", () => {
  it("is 128 bits, and none for a picture too flat to be told from others", () => {
    expect(hashOf(patches(1))).toMatch(/^[0-9a-f]{32}$/);
    expect(lookHash(gridOf(() => 90))).toBeNull();
    expect(lookHash(gridOf((x, y) => 90 + ((x + y) % 3)))).toBeNull();
  });

  it("of a dark picture with something in it is there, and that of the same in daylight", () => {
    const dark = hashOf((x, y) => Math.round(patches(3)(x, y) / 10));
    expect(lookDistance(dark, hashOf(patches(3))).bits).toBeLessThanOrEqual(LOOK_REACH);
  });

  it.each(WAYS)("is found again where the picture is %s", (_, way) => {
    for (let number = 0; number < 12; number += 1) expect(lookDistance(hashOf(patches(number)), hashOf(way(patches(number)))).bits).toBeLessThanOrEqual(2);
  });

  it("names each of its eight orientations by the pixels turned that way", () => {
    for (let number = 0; number < 12; number += 1) {
      const found = orientations(hashOf(patches(number)));
      const turned = [WAYS[0], WAYS[1], WAYS[2], WAYS[3], WAYS[4]].map((one) => hashOf(one![1](patches(number))));
      // Where two parts are equally bright, turning may read a bit either way.
      turned.forEach((hash, way) => expect(differingCells(found[way]!, hash).length).toBeLessThanOrEqual(2));
      expect(new Set(found).size).toBe(8);
    }
  });

  it("of unrelated pictures is far away in every orientation", () => {
    const hashes = Array.from({ length: 60 }, (_, number) => hashOf(patches(number)));
    const distances = hashes.flatMap((a, i) => hashes.slice(i + 1).map((b) => lookDistance(a, b).bits));
    expect(Math.min(...distances)).toBeGreaterThan(LOOK_REACH);
  });
});

const hex = fc.array(fc.constantFrom(..."0123456789abcdef"), { minLength: 32, maxLength: 32 }).map((digits) => digits.join(""));

it("is as far from another as the other from it, and not at all from itself", () => {
  fc.assert(
    fc.property(hex, hex, (a, b) => {
      expect(lookDistance(a, a)).toEqual({ bits: 0, orientation: 0 });
      expect(lookDistance(a, b).bits).toBe(lookDistance(b, a).bits);
    }),
  );
});

it("is the distance of the second picture in its best orientation, counted bit by bit", () => {
  const apart = (a: string, b: string) => [...(BigInt(`0x${a}`) ^ BigInt(`0x${b}`)).toString(2)].filter((bit) => bit === "1").length;
  const counted = (a: string, b: string) => orientations(b).map((way) => Math.max(apart(a.slice(0, 16), way.slice(0, 16)), apart(a.slice(16), way.slice(16))));
  fc.assert(
    fc.property(hex, hex, fc.integer({ min: 0, max: 7 }), (a, b, way) => {
      const all = counted(a, b);
      expect(lookDistance(a, b)).toEqual({ bits: Math.min(...all), orientation: all.indexOf(Math.min(...all)) });
      expect(lookDistance(orientations(a)[way] ?? "", a).bits).toBe(0);
    }),
  );
});

it("shares a piece within reach with every hash that is near enough, whichever bits differ", () => {
  fc.assert(
    fc.property(hex, fc.uniqueArray(fc.integer({ min: 0, max: 63 }), { maxLength: LOOK_REACH }), (hash, turned) => {
      const upright = turned.reduce((bits, place) => bits ^ (1n << BigInt(place)), BigInt(`0x${hash.slice(0, 16)}`)).toString(16).padStart(16, "0");
      const pieces = bandsOf(upright + hash.slice(16));
      const neighbours = bandNeighbours(hash);
      expect(pieces.some((piece, i) => neighbours[i]?.includes(piece))).toBe(true);
    }),
    { numRuns: 40 },
  );
});
