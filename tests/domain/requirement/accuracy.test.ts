import { describe, expect, it } from "vitest";
import { questionsOf } from "#lib/domain/point/question";
import { atLeast, between, each, quantity, recorded } from "#lib/domain/plan/line-part";
import { parseMeasured, type Measured } from "#lib/domain/quantity/measured";
import { dimensionOf, type Unit } from "#lib/domain/quantity/unit";
import { accuracyWords, instrumentMark, markLimit, unitOfRule, type InstrumentFacts } from "#lib/domain/requirement/instrument";
import { QuantitySchema, type Quantity } from "#lib/domain/requirement/set";

const wrench = (accuracy: InstrumentFacts["accuracy"], unit: Unit = "ft·lbf"): InstrumentFacts => ({
  id: "tw", mark: "TW-1", class: "torque wrench", unit, rangeMin: null, rangeMax: null, accuracy, calibrations: [{ from: "2026-09-28", dueOn: "2027-03-28" }],
});
const perCent = (value: string) => ({ kind: "per cent", value }) as const;
const absolute = (value: string) => ({ kind: "absolute", value }) as const;

function read(text: string, unit: Unit): Measured {
  const result = parseMeasured(text, { dimension: dimensionOf(unit) });
  if (!result.ok) throw new Error(result.problem.message);
  return result.measured;
}

const torque = (accuracy: Quantity["accuracy"]): Quantity => quantity("torque", "Torque", each("bolt", 20, between("65", "72", "ft·lbf")), { instrument: "torque wrench", accuracy });

describe("the accuracy that a requirement asks of its instrument", () => {
  // 1 ft·lbf = 1.3558179483314004 N·m (NIST SP 811, from memory): ± 4 % of 65 ft·lbf is ± 2.6 ft·lbf, or ± 3.525 N·m.
  it.each([
    ["nothing asked", wrench(perCent("40")), null, null],
    ["as good as asked", wrench(perCent("4")), perCent("4"), null],
    ["better", wrench(perCent("3")), perCent("4"), null],
    ["worse, both in per cent", wrench(perCent("6")), perCent("4"), "instrument not accurate enough"],
    ["an amount as good as the share", wrench(absolute("2.6")), perCent("4"), null],
    ["an amount worse than the share", wrench(absolute("2.7")), perCent("4"), "instrument not accurate enough"],
    ["a share worse than the amount", wrench(perCent("4")), absolute("2.5"), "instrument not accurate enough"],
    ["a share as good as the amount", wrench(perCent("4")), absolute("2.6"), null],
    ["an amount in another unit, better", wrench(absolute("3.5"), "N·m"), absolute("2.6"), null],
    ["an amount in another unit, worse", wrench(absolute("3.6"), "N·m"), absolute("2.6"), "instrument not accurate enough"],
    ["none stated", wrench(null), perCent("4"), "instrument accuracy not known"],
    ["stated in a unit of something else", wrench(absolute("1"), "mm"), absolute("2.6"), "instrument accuracy not known"],
  ] as const)("%s", (_what, instrument, required, mark) => {
    expect(instrumentMark(read("65 ft·lbf", "ft·lbf"), instrument, "2026-10-20", torque(required))).toBe(mark);
  });

  it("is compared kind with kind before anything is measured, and otherwise not guessed", () => {
    expect(instrumentMark(null, wrench(perCent("6")), "2026-10-20", torque(perCent("4")))).toBe("instrument not accurate enough");
    expect(instrumentMark(null, wrench(perCent("4")), "2026-10-20", torque(absolute("1")))).toBeNull();
  });

  it("comes after what is worse: no instrument, an overdue one, one outside its range", () => {
    const strict = torque(perCent("1"));
    const reading = read("65 ft·lbf", "ft·lbf");
    expect(instrumentMark(reading, null, "2026-10-20", strict)).toBe("instrument not named");
    expect(instrumentMark(reading, wrench(perCent("4")), "2027-10-20", strict)).toBe("instrument overdue");
    expect(instrumentMark(reading, { ...wrench(perCent("4")), rangeMax: "60" }, "2026-10-20", strict)).toBe("outside instrument range");
  });

  it("is an amount of difference where the rule is a temperature", () => {
    const thermometer = { ...wrench(absolute("1.8"), "°F"), class: "thermometer" };
    const base = (value: string) => quantity("base", "Base temperature", between("5", "35", "°C"), { instrument: "thermometer", accuracy: absolute(value) });
    expect(instrumentMark(read("20 °C", "°C"), thermometer, "2026-10-20", base("1"))).toBeNull(); // 1.8 °F is 1 K
    expect(instrumentMark(read("20 °C", "°C"), thermometer, "2026-10-20", base("0.9"))).toBe("instrument not accurate enough");
  });

  it("is a question of its own for each quantity, with the accuracy that is asked for", () => {
    const marks = ["Temperature of part A", "Temperature of part B"].map((name) => ({ quantity: name, instrument: "TH-2", mark: "instrument not accurate enough", limit: markLimit("instrument not accurate enough", torque(perCent("4"))) }));
    expect(questionsOf([], marks).map(({ title, limit, code }) => [title, limit, code.length])).toEqual([
      ["Temperature of part A: instrument not accurate enough", "accurate to ± 4 % or better", 40],
      ["Temperature of part B: instrument not accurate enough", "accurate to ± 4 % or better", 40],
    ]);
    expect(markLimit("instrument overdue", torque(perCent("4")))).toBeUndefined();
  });

  it("is read as null from a set that was written without it, and is never nothing", () => {
    const { accuracy, ...older } = torque(null);
    expect(accuracy).toBeNull();
    expect(QuantitySchema.parse(older).accuracy).toBeNull();
    expect(QuantitySchema.safeParse({ ...older, accuracy: perCent("0") }).success).toBe(false);
    expect(QuantitySchema.safeParse({ ...older, accuracy: perCent("-1") }).success).toBe(false);
  });

  it("is in the unit of the rule, where it has one", () => {
    expect(unitOfRule(each("bar", 6, atLeast("7.0", "in")))).toBe("in");
    expect(unitOfRule(recorded("°C"))).toBe("°C");
    expect(unitOfRule({ form: "exact", value: "#6" })).toBeNull();
    expect(accuracyWords(torque(absolute("2")))).toBe("± 2 ft·lbf");
    expect(accuracyWords(torque(null))).toBe("");
  });
});
