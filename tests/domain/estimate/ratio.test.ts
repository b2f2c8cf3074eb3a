import { expect, it } from "vitest";
import { ratioErrorPct } from "#lib/domain/estimate/ratio";
import { judge } from "#lib/domain/quantity/compare";
import { toSi } from "#lib/domain/quantity/unit";

const spec = { a: 100, b: 38 };

it.each([
  [1013, 385, "0.016"],
  [1020, 372, "-4.025"],
  [1000, 361, "-5.000"],
  [1000, 430, "13.158"], // a 100 : 43 system against a 100 : 38 specification
  [1000, 380, "0.000"],
])("of %d g A with %d g B against 100 : 38 is %s %%", (massA, massB, error) => {
  expect(ratioErrorPct({ massA, massB, ...spec })?.toFixed(3)).toBe(error);
});

it("stands on a limit of 5 % at exactly −5 %, unrounded", () => {
  const error = ratioErrorPct({ massA: "1000", massB: "361", ...spec });
  const within = (limit: number) => ({
    min: { si: toSi(-limit, "%"), inclusive: true },
    max: { si: toSi(limit, "%"), inclusive: true },
  });
  const valueSi = toSi(error ?? 0, "%");

  expect(error?.toFixed()).toBe("-5");
  expect(judge({ valueSi, uncertaintySi: 0, ...within(5) }).verdict).toBe("meets");
  expect(judge({ valueSi, uncertaintySi: 0, ...within(3) }).verdict).toBe("fails");
});

it.each([
  ["no A", { massA: 0, massB: 380, ...spec }],
  ["a negative A", { massA: -1, massB: 380, ...spec }],
  ["a negative B", { massA: 1000, massB: -1, ...spec }],
  ["no specified A", { massA: 1000, massB: 380, a: 0, b: 38 }],
  ["no specified B", { massA: 1000, massB: 380, a: 100, b: 0 }],
])("cannot be told with %s", (_fault, input) => {
  expect(ratioErrorPct(input)).toBeNull();
});

it("refuses a mass that is not finite", () => {
  expect(() => ratioErrorPct({ massA: "Infinity", massB: 380, ...spec })).toThrow(RangeError);
});
