import fc from "fast-check";
import { expect, it } from "vitest";
import { median, mediansWithoutEach } from "#lib/domain/photo/clock-run";

it.each<[string, number[], number]>([
  ["one", [4], 4],
  ["two", [1, 4], 2.5],
  ["an odd number, in any order", [9, 1, 4], 4],
  ["an even number", [9, 1, 4, 2], 3],
])("the median of %s", (_, values, wanted) => expect(median(values)).toBe(wanted));

it("leaves out each in turn as if it were not there, also where several are the same", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -6, max: 6 }), { minLength: 2, maxLength: 40 }), (values) => {
      expect(mediansWithoutEach(values)).toEqual(values.map((_, left) => median(values.filter((__, i) => i !== left))));
    }),
  );
});
