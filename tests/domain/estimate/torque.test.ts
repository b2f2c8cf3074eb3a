import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { rejudgedTorque, trueTorque } from "#lib/domain/estimate/torque";
import { fromSi, toSi } from "#lib/domain/quantity/unit";
import { near } from "#tests/support/near";

const found = { indicated: "65", delivered: "57.85" };
const limit = (number: number) => ({ si: toSi(number, "ft·lbf"), inclusive: true });
const again = (number: string, uncertaintySi = "0", delivered = "57.85") =>
  rejudgedTorque({ readingSi: toSi(number, "ft·lbf"), found: { indicated: "65", delivered }, uncertaintySi, min: limit(65), max: limit(72) });

describe("a torque read on a wrench that clicks at 65 and delivers 57.85", () => {
  it.each([["65", "57.85"], ["72", "64.08"], ["0", "0"]])("was %s and stood for %s", (reading, stoodFor) => {
    expect(trueTorque(reading, found).toFixed()).toBe(stoodFor);
  });

  it.each(["65", "68", "72"])("of %s ft·lbf fails 65 to 72 once it is judged again", (reading) => {
    expect(again(reading)).toMatchObject({ verdict: "fails", beyond: { side: "below" } });
  });

  it("is short by what it stood for, unrounded", () => {
    expect(fromSi(again("72").beyond?.si ?? 0, "ft·lbf").toFixed(6)).toBe("0.920000");
  });

  // NIST SP 811 (2008), Appendix B: 1 ft·lbf is 1.355818 N·m.
  it("is the same in N·m", () => near(again("72").trueSi.toNumber(), 64.08 * 1.355818, 1e-6));
});

it("still meets on a wrench that was right, and inside uncertainty at the limit", () => {
  expect(again("68", "0", "65").verdict).toBe("meets");
  expect(again("65", "1", "65").verdict).toBe("meets, inside uncertainty");
});

it("can lie above the limit on a wrench that delivers too much", () => {
  expect(again("70", "0", "70").beyond?.side).toBe("above");
});

it("is never more than was read where the wrench delivers less than it shows", () => {
  fc.assert(
    fc.property(fc.double({ min: 0, max: 500, noNaN: true }), fc.double({ min: 1, max: 500, noNaN: true }), fc.double({ min: 0.1, max: 1, noNaN: true }), (reading, indicated, share) => {
      expect(trueTorque(reading, { indicated, delivered: indicated * share }).lte(reading)).toBe(true);
    }),
  );
});

it.each([["-1", found], ["Infinity", found], ["1e400", { indicated: "0", delivered: "1" }], ["70", { indicated: "65", delivered: "NaN" }]])("refuses a reading of %s with %j", (reading, readings) => {
  expect(() => trueTorque(reading, readings)).toThrow(RangeError);
});
