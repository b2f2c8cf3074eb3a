import { describe, expect, it } from "vitest";
import { overridable, overrideWith, type Overridable } from "#lib/domain/plan/override";
import { OverrideSchema } from "#lib/domain/plan/plan";
import { writeProjectLines } from "#lib/domain/plan/catalogue";
import { about, atLeast, between, each, exactly, quantity, stated } from "#lib/domain/plan/line-part";

const [template] = writeProjectLines({ submittals: ["Grout"], hollowMaxIn2: "4" });
const line = {
  ...template!,
  line: "9",
  waits: [{ kind: "at most" as const, from: "6", hours: "4", until: "began" as const, name: "hole cleaned to resin" }],
  quantities: [
    quantity("torque", "Torque", each("bolt", 8, between("65", "72", "ft·lbf"))),
    quantity("zone", "Zone", atLeast("54", "in")),
    quantity("size", "Size", about("3.5", "0.25", "in")),
    quantity("rings", "Rings", exactly(3)),
    quantity("paint", "Paint", stated()),
  ],
};
const places = overridable([line]);
const place = (id: string): Overridable => places.find((one) => one.id === id)!;

describe("a requirement of one pile only", () => {
  it("can be any limit in numbers and any wait, and nothing that is only stated", () => {
    expect(places.map(({ id }) => id)).toEqual(["torque", "zone", "size", "rings", "6"]);
  });

  it.each([
    ["torque", "55", "62", { kind: "quantity", quantity: "torque", rule: { form: "each", of: "bolt", count: 8, sample: null, rule: { form: "range", min: "55", max: "62", unit: "ft·lbf", inclusiveMin: true, inclusiveMax: true } } }],
    ["zone", "48", "", { kind: "quantity", quantity: "zone", rule: { form: "min", limit: "48", unit: "in", inclusive: true } }],
    ["size", "3.0", "", { kind: "quantity", quantity: "size", rule: { form: "nominal", nominal: "3.0", plus: "0.25", minus: "0.25", unit: "in" } }],
    ["rings", "2", "", { kind: "quantity", quantity: "rings", rule: { form: "count", exactly: 2, atLeast: null } }],
    ["6", "2.5", "", { kind: "wait", from: "6", hours: "2.5" }],
  ])("keeps the form of %s and takes its new numbers", (id, first, second, change) => {
    expect(overrideWith(place(id), first, second)).toEqual(change);
    expect(OverrideSchema.safeParse({ line: "9", change, drawing: "S-114", words: "Lower." }).success).toBe(true);
  });

  it.each([
    ["torque", "62", "55", "The range ends before it begins."],
    ["torque", "62", "", "Write a plain decimal number, such as 7.0."],
    ["zone", "1e400", "", "Write a plain decimal number, such as 7.0."],
    ["zone", "NaN", "", "Write a plain decimal number, such as 7.0."],
    ["rings", "2.5", "", "Give a whole number."],
    ["rings", "-1", "", "Give a whole number."],
  ])("says why %s cannot become %s %s", (id, first, second, words) => {
    expect(overrideWith(place(id), first, second)).toBe(words);
  });
});
