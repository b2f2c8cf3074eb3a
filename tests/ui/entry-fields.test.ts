import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { writeProjectLines } from "#lib/domain/plan/catalogue";
import { atMost, between, each, quantity } from "#lib/domain/plan/line-part";
import { buildPlan, type PlanLine } from "#lib/domain/plan/plan";
import type { RawSubmission } from "#lib/services/submit-point";
import { amended, besideName, changed, fieldsOf, intent, rowsOf, writingOf } from "../../app/p/[project]/point/entry/fields";

const { lines: [template] } = buildPlan({ lines: writeProjectLines({ submittals: ["Grout"], hollowMaxIn2: "4" }) }, { mark: "", overrides: [] });
const own = (quantities: ReturnType<typeof quantity>[]) => quantities.map((one) => ({ ...one, override: null }));
const LINE: PlanLine = {
  ...template!,
  quantities: own([
    quantity("torque", "Torque", each("bolt", 4, between("65", "72", "ft·lbf")), { instrument: "torque wrench" }),
    quantity("wind", "Wind", atMost("20", "kn")),
    quantity("height", "Lift height", each("lift", null, atMost("24", "in"))),
  ]),
  lots: [{ id: "resin-a", name: "Resin part A", kind: "resin A" }],
};
const EMPTY: RawSubmission = { workBegan: "", workEnded: "", values: [], lots: [], setAside: [], words: "" };
const value = (name: string, item: number | null, text: string) => ({ quantity: name, item, text, unit: "ft·lbf", instrumentId: "tw-1", unitConfirmed: false, reason: "" });

describe("the fields of an entry", () => {
  it("carry a draft there and back unchanged", () => {
    const text = fc.string({ minLength: 1, maxLength: 12 }).filter((one) => one.trim() !== "");
    const row = fc.record({ quantity: fc.constantFrom("torque"), item: fc.integer({ min: 1, max: 4 }), text, unit: fc.constantFrom("ft·lbf", "N·m"), instrumentId: fc.constant("tw-1"), unitConfirmed: fc.boolean(), reason: fc.string({ maxLength: 12 }) });
    const drafts = fc.record({
      workBegan: fc.constantFrom("", "2026-12-02T09:00", "2026-11-01T01:30-04:00"), workEnded: fc.constantFrom("", "2026-12-02T09:40"),
      values: fc.uniqueArray(row, { selector: ({ item }) => item, maxLength: 4 }), lots: fc.constantFrom<RawSubmission["lots"]>([], [{ use: "resin-a", lotId: "lot-a" }]),
      setAside: fc.constantFrom<string[]>([], ["photo-1"]), words: fc.string({ maxLength: 20 }),
    });
    fc.assert(fc.property(drafts, (draft) => {
      expect(writingOf(LINE, fieldsOf(draft), draft.setAside)).toEqual(draft);
    }));
  });

  it("ask about the unit again once the number is another one", () => {
    const kept = { ...fieldsOf({ ...EMPTY, values: [value("torque", 1, "88")] }), ...changed({ "value.torque.1": "88" }, intent.keepUnit("value.torque.1", "ft·lbf"), null) };
    expect(writingOf(LINE, kept, []).values[0]).toMatchObject({ text: "88", unit: "ft·lbf", unitConfirmed: true });
    expect(writingOf(LINE, { ...kept, "value.torque.1": "880" }, []).values[0]).toMatchObject({ text: "880", unitConfirmed: false });
  });

  it("take another unit without touching the number", () => {
    const draft = amended(LINE, { ...EMPTY, values: [value("torque", 2, "88")] }, intent.useUnit("value.torque.2", "N·m"), null);
    expect(draft.values).toEqual([{ ...value("torque", 2, "88"), unit: "N·m" }]);
  });

  it("take yesterday's instruments and lots only when they are confirmed", () => {
    const proposals = { proposal: { instruments: { torque: "tw-1" }, lots: { "resin-a": "lot-a" } }, times: null, weather: null };
    expect(amended(LINE, EMPTY, intent.keep, proposals)).toEqual(EMPTY);
    const draft = amended(LINE, EMPTY, intent.proposal, proposals);
    expect(draft.lots).toEqual([{ use: "resin-a", lotId: "lot-a" }]);
    expect(draft.values.map(({ item, instrumentId }) => [item, instrumentId])).toEqual([[1, "tw-1"], [2, "tw-1"], [3, "tw-1"], [4, "tw-1"]]);
  });

  it("take the weather as it was read only when it is confirmed", () => {
    const proposals = { proposal: null, times: null, weather: { values: [{ quantity: "air", text: "12.5", unit: "°C" }] } };
    expect(changed({}, intent.keep, proposals)).toEqual({});
    expect(changed({}, intent.weather, proposals)).toEqual({ "value.air": "12.5", "unit.air": "°C" });
  });

  it("change nothing for a button that no page of ours has", () => {
    fc.assert(fc.property(fc.string(), (asked) => {
      expect(Object.keys(changed({}, asked, null)).filter((name) => !name.startsWith("unit.") && !name.startsWith("kept."))).toEqual([]);
    }));
  });

  it("have a row more than is written where there are as many as there are", () => {
    const rule = LINE.quantities[2]!.rule;
    expect(rowsOf(LINE, rule, EMPTY)).toEqual([1]);
    expect(rowsOf(LINE, rule, { values: [{ ...value("height", 2, "12 in"), unit: null }] })).toEqual([1, 2, 3]);
    expect(rowsOf(LINE, LINE.quantities[0]!.rule, EMPTY)).toEqual([1, 2, 3, 4]);
    expect(rowsOf(LINE, LINE.quantities[1]!.rule, EMPTY)).toEqual([null]);
    expect(besideName.unit("torque", 2)).toBe("unit.torque.2");
  });
});
