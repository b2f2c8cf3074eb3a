import { expect, it } from "vitest";
import { embedment } from "#lib/domain/estimate/embedment";
import { judge } from "#lib/domain/quantity/compare";
import { fromSi, toSi } from "#lib/domain/quantity/unit";

const inches = (number: string) => toSi(number, "in");

it("is 6.4 in for a 40.0 in bar with 33.6 in standing out, and fails 7.0 in though a hole of 7.25 in passes", () => {
  const embedded = embedment(inches("40.0"), inches("33.6"));
  const min = { si: inches("7.0"), inclusive: true };

  expect(embedded && fromSi(embedded, "in").toFixed()).toBe("6.4");
  expect(judge({ valueSi: embedded ?? 0, uncertaintySi: 0, min }).verdict).toBe("fails");
  expect(judge({ valueSi: inches("7.25"), uncertaintySi: 0, min }).verdict).toBe("meets");
});

it("is 7 1/8 in for a 40.0 in bar with 32 7/8 in standing out, and meets with a tape of ± 0.12 in", () => {
  const embedded = embedment(inches("40.0"), inches("32.875"));
  expect(embedded && fromSi(embedded, "in").toFixed()).toBe("7.125");
  expect(judge({ valueSi: embedded ?? 0, uncertaintySi: inches("0.12"), min: { si: inches("7.0"), inclusive: true } }).verdict).toBe("meets");
});

it.each([["40", "41"], ["-1", "0"], ["40", "-1"]])("cannot be told for a bar of %s in with %s in standing out", (length, projection) => {
  expect(embedment(inches(length), inches(projection))).toBeNull();
});
