import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pilesSaid } from "#lib/domain/plan/mark";

const piles = ["02-A", "03-C", "03-D", "13-C", "03-CA", "M-1"].map((mark) => ({ mark }));
const found = (typed: string) => pilesSaid(piles, typed).map(({ mark }) => mark);

describe("a mark as people say it", () => {
  it.each([
    ["3C", ["03-C"]],
    ["03-c", ["03-C"]],
    [" 3 c ", ["03-C"]],
    ["０３－Ｃ", ["03-C"]],
    ["13c", ["13-C"]],
    ["m1", ["M-1"]],
    ["3", ["03-C", "03-D", "03-CA"]],
    ["9Z", []],
    ["-", []],
    ["", []],
  ])("%j finds %j", (typed, marks) => {
    expect(found(typed)).toEqual(marks);
  });

  it("finds a pile by its own mark, however its letters are cased", () => {
    fc.assert(fc.property(fc.constantFrom(...piles), fc.boolean(), ({ mark }, upper) => {
      expect(found(upper ? mark.toUpperCase() : mark.toLowerCase())).toEqual([mark]);
    }));
  });
});
