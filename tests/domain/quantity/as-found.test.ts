import { expect, it } from "vitest";
import { asFound } from "#lib/domain/quantity/as-found";

it("tells the two percentages of a wrench that clicks at 65 and delivers 57.85 apart: −11.0 and +12.36", () => {
  const { deliveredPct, indicatedPct, factor } = asFound({ indicated: "65", delivered: "57.85" });

  expect(deliveredPct.toFixed()).toBe("-11");
  expect(indicatedPct.toFixed(2)).toBe("12.36");
  expect([65, 72].map((reading) => factor.times(reading).toFixed(1))).toEqual(["57.9", "64.1"]); // all below 65
});

it("refuses readings that are no readings", () => {
  expect(() => asFound({ indicated: 0, delivered: 1 })).toThrow(RangeError);
  expect(() => asFound({ indicated: 65, delivered: Number.NaN })).toThrow(RangeError);
});
