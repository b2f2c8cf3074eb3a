import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dimensionScale, dimensionSentence, drawnNumbers, limitWords, shortfall } from "../../app/_ui/dimension-layout";

const embedment = { value: "6.4", min: "7.0", unit: "in" };
const torque = { value: "64.905", min: "65", max: "72", unit: "ft·lbf" };

describe("a dimension line", () => {
  it.each([
    [embedment, "fails", "Needs at least 7.0 in, measured 6.4, 0.6 short"],
    [torque, "fails", "Needs 65 to 72 ft·lbf, measured 64.905, 0.095 short"],
    [{ value: "26", max: "24", unit: "h" }, "fails", "Needs at most 24 h, measured 26, 2 over"],
    [{ value: "68.0", min: "65", max: "72", unit: "ft·lbf" }, "meets", "Needs 65 to 72 ft·lbf, measured 68.0"],
    [{ value: "6.1", uncertainty: "0.12", min: "6.0", unit: "in" }, "meets, inside uncertainty", "Needs at least 6.0 in, measured 6.1 ± 0.12, meets, inside uncertainty"],
    [{ value: null, min: "4", max: "4", unit: "tie sets" }, "not measured", "Needs exactly 4 tie sets, not measured"],
    [{ value: "3", unit: "in" }, "cannot tell", "No limit, in in, measured 3, cannot tell"],
  ])("is read as a sentence: %j", (dimension, verdict, sentence) => {
    expect(dimensionSentence(dimension, verdict)).toBe(sentence);
  });

  it("says what is missing in decimals, where binary fractions would say 0.5999999999999996", () => {
    expect(shortfall(embedment)).toEqual({ amount: "0.6", side: "short", limit: "7.0" });
    expect(shortfall({ ...embedment, value: "7.0" })).toBeNull();
    expect(shortfall({ ...embedment, value: null })).toBeNull();
  });

  it("writes the requirement as the drawing does", () => {
    expect([limitWords(embedment), limitWords(torque), limitWords({ value: "1", max: "3", unit: "" })]).toEqual(["≥ 7.0", "65 … 72", "≤ 3"]);
  });

  it("starts at zero where the numbers allow it and shows a break where they do not", () => {
    expect(dimensionScale([3, 12]).broken).toBe(false);
    expect(dimensionScale([6.4, 7]).broken).toBe(true);
    expect(dimensionScale([-2, 4]).broken).toBe(true);
  });

  it("keeps its numbers in order and inside the drawing", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -5_000, max: 5_000 }), { minLength: 1, maxLength: 5 }), (numbers) => {
        const sorted = [...numbers].sort((a, b) => a - b);
        const places = sorted.map(dimensionScale(sorted).place);
        expect(places.every((place) => place >= 0 && place <= 0.9)).toBe(true);
        expect([...places].sort((a, b) => a - b)).toEqual(places);
      }),
    );
  });

  it("draws the whisker with the value and leaves out what is no number", () => {
    expect(drawnNumbers({ value: "66.0", uncertainty: "2.6", min: "65", max: "72", unit: "" })).toEqual([63.4, 66, 68.6, 65, 72]);
    expect(drawnNumbers({ value: "NaN", unit: "" })).toEqual([]);
  });
});
