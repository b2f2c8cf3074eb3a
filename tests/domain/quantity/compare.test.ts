import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { judge, marginWords, otherUnitThatFits, type Limit } from "#lib/domain/quantity/compare";
import { Decimal, type DecimalValue } from "#lib/domain/quantity/decimal";
import { dimensionOf, fromSi, toSi, UNIT_SYMBOLS, unitsOf, type Unit } from "#lib/domain/quantity/unit";

const limit = (number: DecimalValue, unit: Unit, inclusive = true): Limit => ({ si: toSi(number, unit), inclusive });
const torque = { min: limit(65, "ft·lbf"), max: limit(72, "ft·lbf") };

describe("judging a value against its limits", () => {
  it("fails 88.0 N·m against 65 to 72 ft·lbf by 0.095, and would have passed a limit rounded to 88 N·m", () => {
    const { verdict, beyond, slack } = judge({ valueSi: toSi("88.0", "N·m"), uncertaintySi: 0, ...torque });

    expect(verdict).toBe("fails");
    expect(beyond?.side).toBe("below");
    expect(fromSi(beyond?.si ?? 0, "ft·lbf").toFixed(3)).toBe("0.095");
    expect(slack.isNegative()).toBe(true);
    expect(judge({ valueSi: 88, uncertaintySi: 0, min: limit(88, "N·m") }).verdict).toBe("meets");
  });

  // A wrench of ±4 % at 65 ft·lbf has an uncertainty of 2.6 ft·lbf.
  it.each([
    ["64.9", "fails"], ["65", "meets, inside uncertainty"], ["67.5", "meets, inside uncertainty"], ["67.6", "meets"], ["68", "meets"], ["69.4", "meets"],
    ["69.5", "meets, inside uncertainty"], ["72", "meets, inside uncertainty"], ["72.001", "fails"],
  ])("with an uncertainty of 2.6 finds that %s ft·lbf %s", (reading, verdict) => {
    const uncertaintySi = toSi(new Decimal("0.04").times(65), "ft·lbf");
    expect(judge({ valueSi: toSi(reading, "ft·lbf"), uncertaintySi, ...torque }).verdict).toBe(verdict);
  });

  it("meets an inclusive limit exactly at it, and fails an exclusive one", () => {
    const valueSi = toSi("7.0", "in");
    expect(judge({ valueSi, uncertaintySi: 0, min: limit(7, "in") })).toMatchObject({ verdict: "meets", beyond: null });
    const exclusive = judge({ valueSi, uncertaintySi: 0, min: limit(7, "in", false) });
    expect(exclusive.verdict).toBe("fails");
    expect(exclusive.beyond?.si.toFixed()).toBe("0");
  });

  it("takes the same value in another unit for the same value, and the least visible difference for a difference", () => {
    expect(judge({ valueSi: toSi("177.8", "mm"), uncertaintySi: 0, min: limit(7, "in") }).verdict).toBe("meets");
    expect(judge({ valueSi: toSi("12", "°C"), uncertaintySi: 0, min: limit("53.6", "°F"), max: limit("53.6", "°F") }).verdict).toBe("meets");
    expect(judge({ valueSi: toSi("6.999999", "in"), uncertaintySi: 0, min: limit(7, "in") }).verdict).toBe("fails");
    expect(judge({ valueSi: toSi("6.99999999999", "in"), uncertaintySi: 0, min: limit(7, "in") }).verdict).toBe("meets"); // within 1e-9
  });

  it("judges a margin of 2.9 K differently under a rule of 5 F° and under one of 3 K", () => {
    expect(judge({ valueSi: "2.9", uncertaintySi: 0, min: limit(5, "F°") }).verdict).toBe("meets");
    expect(judge({ valueSi: "2.9", uncertaintySi: 0, min: limit(3, "K") }).verdict).toBe("fails");
  });

  it("has the distance to the nearer limit as slack", () => {
    const { slack } = judge({ valueSi: toSi(70, "ft·lbf"), uncertaintySi: 0, ...torque });
    expect(fromSi(slack, "ft·lbf").toFixed(6)).toBe("2.000000");
  });

  it("finds what fails, meets and lies in between without ever turning to the better as the value moves away or doubt grows", () => {
    const rank = { meets: 0, "meets, inside uncertainty": 1, fails: 2 };
    const amount = fc.integer({ min: 0, max: 1_000 }).map((n) => new Decimal(n).div(100));
    fc.assert(fc.property(amount, amount, amount, amount, (value, lower, doubt, more) => {
      const min = limit(5, "in");
      const at = (number: Decimal, uncertainty: Decimal) => rank[judge({ valueSi: toSi(number, "in"), uncertaintySi: toSi(uncertainty, "in"), min }).verdict];
      expect(at(value.minus(lower), doubt)).toBeGreaterThanOrEqual(at(value, doubt));
      expect(at(value, doubt.plus(more))).toBeGreaterThanOrEqual(at(value, doubt));
      expect(at(value, doubt) === 2).toBe(value.lt(5));
    }));
  });

  it.each([
    ["a value that is no number", { valueSi: Number.NaN, uncertaintySi: 0, min: limit(1, "m") }],
    ["an endless value", { valueSi: "Infinity", uncertaintySi: 0, min: limit(1, "m") }],
    ["a negative uncertainty", { valueSi: 1, uncertaintySi: -1, min: limit(1, "m") }],
    ["an endless limit", { valueSi: 1, uncertaintySi: 0, max: { si: new Decimal("Infinity"), inclusive: true } }],
    ["no limit", { valueSi: 1, uncertaintySi: 0 }],
  ])("refuses %s", (_what, input) => {
    expect(() => judge(input)).toThrow(RangeError);
  });
});

describe("a value against its limits in words", () => {
  it.each<[string, Unit, { min?: Limit; max?: Limit }, string]>([
    ["6.4", "in", { min: limit(7, "in") }, "6.4 in, needs at least 7.0 in: 0.6 in short"],
    ["7.3", "in", { min: limit(7, "in") }, "7.3 in, needs at least 7.0 in: 0.3 in to spare"],
    ["7", "in", { min: limit(7, "in") }, "7 in, needs at least 7 in"],
    ["7", "in", { min: limit(7, "in", false) }, "7 in, needs more than 7 in: exactly at the limit"],
    ["70", "ft·lbf", torque, "70 ft·lbf lies in 65 to 72 ft·lbf"],
    ["74", "ft·lbf", torque, "74 ft·lbf, needs 65 to 72 ft·lbf: 2 ft·lbf over"],
    ["88", "N·m", torque, "88 N·m, needs 88.128 to 97.619 N·m: 0.128 N·m short"],
    ["8", "1", { max: limit(6, "1") }, "8, needs at most 6: 2 over"],
    ["5", "1", { min: limit(6, "1"), max: limit(6, "1") }, "5, needs 6: 1 short"],
    ["6", "1", { min: limit(6, "1"), max: limit(6, "1") }, "6, needs 6"],
    ["3.5", "%", { max: limit(3, "%", false) }, "3.5 %, needs less than 3.0 %: 0.5 % over"],
    ["6", "°C", { min: limit(8, "°C") }, "6 °C, needs at least 8 °C: 2 °C short"],
    ["-3", "°C", { min: limit(-1, "°C") }, "−3 °C, needs at least −1 °C: 2 °C short"],
    ["6.99996", "in", { min: limit(7, "in") }, "6.99996 in, needs at least 7.0 in: 0.00004 in short"],
  ])("puts %s %s as its sentence", (number, unit, limits, words) => {
    expect(marginWords({ valueSi: toSi(number, unit), unit, ...limits })).toBe(words);
  });

  it("shows 88 N·m in ft·lbf visibly below 65", () => {
    expect(marginWords({ valueSi: 88, unit: "ft·lbf", ...torque })).toBe("64.905 ft·lbf, needs 65.0 to 72.0 ft·lbf: 0.095 ft·lbf short");
  });

  it("never shows a value that fails as standing on its limit", () => {
    const anyUnit = fc.constantFrom(...UNIT_SYMBOLS.filter((unit) => dimensionOf(unit) !== "temperature"));
    fc.assert(fc.property(anyUnit, fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 1, max: 1_000_000 }), (unit, whole, millionths) => {
      const value = new Decimal(whole).minus(new Decimal(millionths).times("1e-6"));
      const other = unitsOf(dimensionOf(unit))[0] ?? unit;
      const min = limit(whole, unit);
      fc.pre(judge({ valueSi: toSi(value, unit), uncertaintySi: 0, min }).verdict === "fails");
      const words = marginWords({ valueSi: toSi(value, unit), unit: other, min });
      const [shown, needed, missing] = [...words.matchAll(/(?:^|least |: )(−?[\d.]+)/g)].map(([, number]) => Number(number?.replace("−", "-")));
      expect(shown).toBeLessThan(needed ?? Number.NaN);
      expect(missing).toBeGreaterThan(0);
    }));
  });
});

describe("asking whether another unit was meant", () => {
  it.each<[string, Unit, Limit | undefined, Limit | undefined, Unit | null]>([
    ["88", "ft·lbf", torque.min, torque.max, "N·m"],
    ["95", "ft·lbf", torque.min, torque.max, "N·m"],
    ["70", "ft·lbf", torque.min, torque.max, null],
    ["60", "ft·lbf", torque.min, torque.max, null],
    ["64.9", "ft·lbf", torque.min, torque.max, null],
    ["820", "N·m", torque.min, torque.max, "in·lbf"],
    ["42", "ft", limit(41, "in"), limit(43, "in"), "in"],
    ["60", "°C", limit(10, "°C"), limit(30, "°C"), "°F"],
    ["60", "°C", undefined, limit(25, "°C"), "°F"],
    ["470", "in", undefined, limit(20, "in"), "mm"],
    ["21", "in", undefined, limit(20, "in"), null],
    ["0.6", "in", limit(7, "in"), undefined, "ft"],
    ["6.4", "in", limit(7, "in"), undefined, null],
    ["5", "1", limit(6, "1"), limit(6, "1"), null],
    ["5", "in", undefined, undefined, null],
  ])("for %s %s", (number, unit, min, max, meant) => {
    expect(otherUnitThatFits({ number, unit }, min, max)).toBe(meant);
  });
});
