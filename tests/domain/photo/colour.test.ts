import { describe, expect, it } from "vitest";
import { deltaE00, inLight, labOf } from "#lib/domain/photo/colour";
import { CIEDE2000_PAIRS } from "#tests/domain/photo/ciede2000";

describe("the difference of two colours", () => {
  it("is checked against all 34 published pairs", () => {
    expect(CIEDE2000_PAIRS).toHaveLength(34);
  });

  // The published figures have four decimals: half of the last one is their rounding, and as much again is left for floating point.
  it.each(CIEDE2000_PAIRS)("of %j and %j is the published one, either way round", (one, other, published) => {
    const [first, second] = [one, other].map(([l, a, b]) => ({ l, a, b })) as [ReturnType<typeof labOf>, ReturnType<typeof labOf>];
    expect(Math.abs(deltaE00(first, second) - published)).toBeLessThan(0.0001);
    expect(Math.abs(deltaE00(second, first) - published)).toBeLessThan(0.0001);
  });
});

describe("a colour of the screen", () => {
  // White and black by definition; the primaries as IEC 61966-2-1's matrix gives them on D65, rounded to two decimals: so far may they be off.
  it.each<[string, readonly [number, number, number], readonly [number, number, number]]>([
    ["white", [255, 255, 255], [100, 0, 0]], ["black", [0, 0, 0], [0, 0, 0]],
    ["red", [255, 0, 0], [53.24, 80.09, 67.2]], ["green", [0, 255, 0], [87.73, -86.18, 83.18]], ["blue", [0, 0, 255], [32.3, 79.19, -107.86]],
  ])("%s has its CIELAB", (_, [red, green, blue], [l, a, b]) => {
    const found = labOf(red, green, blue);
    expect(Math.max(Math.abs(found.l - l), Math.abs(found.a - a), Math.abs(found.b - b))).toBeLessThan(0.05);
  });
});

it("tells what the same surface looks like in half the light", () => {
  // Half the light on linear levels, then written as sRGB: what a camera would make of it.
  const [linear, half] = [[0.42, 0.33, 0.12], [0.21, 0.165, 0.06]];
  const levels = (values: readonly number[]) => values.map((value) => 255 * (1.055 * value ** (1 / 2.4) - 0.055)) as [number, number, number];
  const [bright, dim] = [labOf(...levels(linear!)), labOf(...levels(half!))];
  // Both follow exactly from the definitions; what is left is floating point.
  expect(deltaE00(inLight(bright, dim.l), dim)).toBeLessThan(1e-3);
});
