import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { atLeast, atMost, each, line, QC, quantity } from "#lib/domain/plan/line-part";
import type { Unit } from "#lib/domain/quantity/unit";
import { followDesign, type FollowingSet } from "#lib/domain/requirement/follow";
import { itemRule, type Rule } from "#lib/domain/requirement/rule";
import type { Quantity } from "#lib/domain/requirement/set";

const inches = (value: string, unit: Unit = "in") => ({ value, unit });

interface Jacket {
  diameter: string;
  layers?: number;
  thickness?: ReturnType<typeof inches>;
  overlap?: ReturnType<typeof inches>;
}

const LENGTH = quantity("length", "Length", atLeast("100", "in"), { follows: "jacket length" });
const SHARE = quantity("share", "Share of strip coated", atLeast("50", "%"), { follows: "contact share" });
const OVERLAP = quantity("overlap", "Overlap", atLeast("5", "in"), { follows: "overlap" });

function set({ diameter, layers = 2, thickness = inches("0.085"), overlap = inches("8") }: Jacket, quantities: Quantity[] = [LENGTH, SHARE, OVERLAP]): FollowingSet {
  return {
    type: "T",
    jacket: { insideDiameterIn: diameter, heightIn: "36", layers, spacerRings: 2, tieSets: 4, clamps: 0, bars: 0 },
    design: {
      section: { kind: "round", diameter: inches("13") }, sheet: { thickness, overlap, rollLength: inches("720"), rollWidth: inches("48") },
      bars: null, holes: null, spacer: null, resin: null, grout: null, ties: null,
    },
    lines: [line({ line: "12", name: "Jacket cut", kind: "R", after: [], release: QC, quantities })],
  };
}

const limitOf = (rule: Rule): string => {
  const item = itemRule(rule);
  return item.form === "min" ? item.limit : item.form;
};
const limits = (one: FollowingSet): Record<string, string> => Object.fromEntries(followDesign(one).set.lines.flatMap((own) => own.quantities.map(({ id, rule }) => [id, limitOf(rule)])));

describe("a limit that follows from the design", () => {
  // Geometry of a rolled strip: L = nπ(D + nt) + overlap; each number recomputed by hand with π = 3.14159265.
  it.each([
    [{ diameter: "24" }, "159.86", "52.5"],
    [{ diameter: "28", overlap: inches("10") }, "187.00", "52.7"],
    [{ diameter: "19" }, "128.45", "53.1"],
    [{ diameter: "19", overlap: inches("9") }, "129.45", "53.5"],
    [{ diameter: "24", layers: 3 }, "236.60", "67.8"],
    [{ diameter: "24", layers: 1 }, "83.67", "9.6"],
  ] as const)("of a jacket %o is a length of %s in and a contact share of %s %%", (jacket, length, share) => {
    expect(limits(set(jacket))).toMatchObject({ length, share });
  });

  it("takes the overlap as the design writes it, and into the unit of its rule where that is another", () => {
    expect(limits(set({ diameter: "19", overlap: inches("9.0") })).overlap).toBe("9.0");
    expect(limits(set({ diameter: "19", overlap: inches("228.6", "mm") })).overlap).toBe("9.00");
  });

  it("is rounded half up to the hundredth of an inch, and to the tenth of a millimetre", () => {
    // 9.525 mm is 0.375 in: half of a hundredth goes up.
    expect(limits(set({ diameter: "19", overlap: inches("9.525", "mm") })).overlap).toBe("0.38");
    expect(limits(set({ diameter: "24" }, [{ ...LENGTH, rule: atLeast("1", "mm") }])).length).toBe("4060.6");
  });

  it("keeps its text where the number is the same, and reports only what moved", () => {
    const first = followDesign(set({ diameter: "19" }, [{ ...LENGTH, rule: atLeast("128.450", "in") }, OVERLAP]));
    expect(first.moved.map(({ quantity: id, was, now }) => [id, limitOf(was), limitOf(now)])).toEqual([["overlap", "5", "8"]]);
    expect(limitOf(first.set.lines[0]!.quantities[0]!.rule)).toBe("128.450");
  });

  it("names the line, the type and the quantity that it moved", () => {
    expect(followDesign(set({ diameter: "19", overlap: inches("9") }, [{ ...LENGTH, rule: atLeast("128.45", "in") }])).moved).toMatchObject([{ type: "T", line: "12", lineName: "Jacket cut", quantity: "length", name: "Length", by: "jacket length" }]);
  });

  it("leaves a limit of the specification's own alone", () => {
    expect(followDesign(set({ diameter: "19" }, [{ ...LENGTH, follows: null }])).moved).toEqual([]);
  });

  it("is written once: following again moves nothing", () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 9_999 }), fc.integer({ min: 1, max: 6 }), fc.integer({ min: 0, max: 400 }), (diameter, layers, overlap) => {
      const once = followDesign(set({ diameter: (diameter / 100).toFixed(2), layers, overlap: inches((overlap / 16).toFixed(4)) })).set;
      expect(followDesign(once).moved).toEqual([]);
    }));
  });

  it.each([
    ["no design", { ...set({ diameter: "19" }), design: null }, /no sheet on file/],
    ["a jacket of no diameter", set({ diameter: "0" }, [LENGTH]), /a dimension that is none/],
    ["a sheet as thick as it is heavy", set({ diameter: "19", thickness: inches("2", "kg") }, [LENGTH]), /a dimension that is none/],
    ["a rule of another form", set({ diameter: "19" }, [{ ...LENGTH, rule: atMost("100", "in") }]), /only a rule of form min/],
    ["a unit of something else", set({ diameter: "19" }, [{ ...LENGTH, rule: atLeast("100", "%") }]), /measures no length/],
  ] as const)("is not guessed with %s, and stays as it is written", (_what, one, because) => {
    const { set: after, moved, notFollowing } = followDesign(one as FollowingSet);
    expect(moved).toEqual([]);
    expect(after.lines).toEqual(one.lines);
    expect(notFollowing[0]?.because).toMatch(because);
  });

  it("follows inside a rule for each item too", () => {
    expect(limits(set({ diameter: "19" }, [{ ...LENGTH, rule: each("piece", 2, atLeast("1", "in")) }])).length).toBe("128.45");
  });
});
