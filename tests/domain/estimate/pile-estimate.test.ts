import { describe, expect, it } from "vitest";
import { fromSi } from "#lib/domain/quantity/unit";
import type { Figure } from "#lib/domain/estimate/figure";
import { orderList, type PileToOrder } from "#lib/domain/estimate/order-list";
import { notWorkedOut, pileEstimate, type PileEstimate } from "#lib/domain/estimate/pile-estimate";
import { batchPlan } from "#lib/domain/estimate/resin";
import { RequirementSetSchema, type Design, type RequirementSet } from "#lib/domain/requirement/set";
import { each, exactly, line, quantity, INSPECTOR } from "#lib/domain/plan/line-part";
import type { Override } from "#lib/domain/plan/plan";

const inches = (value: string) => ({ value, unit: "in" as const });

interface TypeNumbers {
  section: Design["section"];
  overlap: string;
  bar: string;
  hole: { diameter: string; depth: string } | null;
  spacer: string;
  firstLift: string;
  liftMax: string;
  tieSpacing: string;
}

function design({ section, overlap, bar, hole, spacer, firstLift, liftMax, tieSpacing }: TypeNumbers): Design {
  return {
    section,
    sheet: { thickness: inches("0.085"), overlap: inches(overlap), rollLength: inches("720"), rollWidth: inches("48") },
    bars: { size: bar, length: inches("40.0") },
    holes: hole && { diameter: inches(hole.diameter), depth: inches(hole.depth), wastePct: "25", cartridge: { value: "380", unit: "mL" } },
    spacer: { size: inches(spacer), coverMin: null },
    resin: {
      a: "100", b: "38", basis: "mass", density: { value: "1.10", unit: "kg/L" }, densityA: null, densityB: null, film: { value: "20", unit: "mil" }, wastePct: "10",
      potLife: { kind: "doubling", referenceC: "25", minutes: "40", factor: "2" }, batchCap: { value: "2.0", unit: "kg" }, spreadRate: { value: "0.09", unit: "kg/min" }, usableShare: "0.8",
    },
    grout: {
      density: { value: "135", unit: "lb/ft³" }, bagYield: { value: "0.43", unit: "ft³" }, wastePct: "8", firstLift: inches(firstLift), liftMax: inches(liftMax), setHours: "4", takeMin: "0.97", takeMax: "1.15",
    },
    ties: { spacing: inches(tieSpacing), rating: { value: "120", unit: "lbf" }, factor: "2" },
  };
}

const jacket = (insideDiameterIn: string, heightIn: string, spacerRings: number, bars: number, clamps: number): RequirementSet["jacket"] => ({ insideDiameterIn, heightIn, layers: 2, spacerRings, tieSets: 4, clamps, bars });

function setOf(type: string, core: RequirementSet["core"], own: RequirementSet["jacket"], parts: Design | null): RequirementSet {
  const spacers = line({ line: "10", name: "Spacers", kind: "W", after: [], quantities: [quantity("each-ring", "Spacers in the ring", each("ring", own.spacerRings, exactly(6)))], release: INSPECTOR });
  return RequirementSetSchema.parse({ type, name: `Type ${type}`, core, coreWidthIn: "12", jacket: own, design: parts, lines: [spacers] });
}

const H = setOf("H", "H", jacket("24", "42", 3, 6, 5), design({ section: { kind: "HP", shape: "HP 12 × 53" }, overlap: "8", bar: "#6", hole: { diameter: "1.000", depth: "7.0" }, spacer: "3.5", firstLift: "3", liftMax: "24", tieSpacing: "10.5" }));
const C = setOf("C", "square", jacket("28", "48", 3, 8, 0), design({ section: { kind: "square", side: inches("16"), chamfer: inches("0.75") }, overlap: "10", bar: "#5", hole: null, spacer: "3", firstLift: "3.5", liftMax: "24", tieSpacing: "10" }));
const T = setOf("T", "round", jacket("19", "36", 2, 4, 12), design({ section: { kind: "round", diameter: inches("13") }, overlap: "8", bar: "#5", hole: null, spacer: "2.5", firstLift: "3", liftMax: "18", tieSpacing: "9" }));

const number = ({ si, unit }: Figure): number => fromSi(si, unit).toNumber();
const of = (set: RequirementSet, overrides: readonly Override[] = [], areaLost: number | null = null): PileEstimate => pileEstimate(set, overrides, { areaLost });
/** The values of a part that has to be known. */
function valuesOf<P extends { known: boolean }>(part: P): Extract<P, { known: true }> {
  if (!part.known) throw new Error(`not known: ${JSON.stringify(part)}`);
  return part as Extract<P, { known: true }>;
}

// Worked by hand: L = nπ(D + nt) + overlap; contact = π(D + 2t) + overlap; mass = contact × height × film × density × 1.10;
// annulus = π/4·D² − pile − bars; bags = volume × 1.08 / 0.43.
describe("one pile", () => {
  it.each([
    { set: H, length: 159.8646, contact: 83.9323, share: 0.525, mass: 1.398, a: 1.013, b: 0.385, annulus: 434.2493, exact: 26.5094, bags: 27 },
    { set: C, length: 186.9973, contact: 98.4987, share: 0.5267, mass: 1.8749, a: 1.3586, b: 0.5163, annulus: 358.3972, exact: 25.0045, bags: 26 },
    { set: T, length: 128.4487, contact: 68.2244, share: 0.5311, mass: 0.974, a: 0.7058, b: 0.2682, annulus: 149.5564, exact: 7.8256, bags: 8 },
  ])("of type $set.type is cut $length in long and takes $bags bags", ({ set, length, contact, share, mass, a, b, annulus, exact, bags }) => {
    const estimate = of(set);
    expect(number(valuesOf(estimate.cut).length)).toBeCloseTo(length, 4);
    const coat = valuesOf(estimate.coat);
    expect([number(coat.contact), coat.share]).toEqual([expect.closeTo(contact, 3), expect.closeTo(share, 4)]);
    const resin = valuesOf(estimate.resin);
    expect([resin.mass, resin.a, resin.b].map(number)).toEqual([expect.closeTo(mass, 3), expect.closeTo(a, 3), expect.closeTo(b, 3)]);
    const grout = valuesOf(estimate.grout);
    expect([number(grout.annulus), grout.bagsExact]).toEqual([expect.closeTo(annulus, 3), expect.closeTo(exact, 3)]);
    expect(grout.bags).toBe(bags);
    expect(grout.lifts.reduce((sum, lift) => sum + lift.bags, 0)).toBeCloseTo(grout.bagsExact, 9);
  });

  it("of steel would come out 1.07 in short if the sheet's thickness were left out", () => {
    expect(number(valuesOf(of(H).cut).thicknessAdds)).toBeCloseTo(1.068, 3);
  });

  it.each([{ set: H, celsius: 35.41 }, { set: C, celsius: 31.18 }, { set: T, celsius: 40.63 }])("of type $set.type is one batch up to $celsius °C", ({ set, celsius }) => {
    expect(valuesOf(of(set).resin).oneBatchUpToC).toBeCloseTo(celsius, 1);
  });

  it("of steel is one batch at 33 °C and two at 38 °C", () => {
    const { mass, spreading } = valuesOf(of(H).resin);
    expect(batchPlan(mass.si, 33, spreading)).toMatchObject({ batches: 1, largestKg: expect.closeTo(1.6541, 3) as number });
    expect(batchPlan(mass.si, 38, spreading)).toMatchObject({ batches: 2, largestKg: expect.closeTo(1.1696, 3) as number });
  });

  it("fills six holes of 1 in round #6 bars with 295.6 mL, one cartridge", () => {
    const holes = valuesOf(of(H).holes);
    expect([number(holes.each), number(holes.all), holes.cartridges]).toEqual([expect.closeTo(39.416, 2), expect.closeTo(295.616, 2), 1]);
  });

  it("of square concrete has 3.204 in at the corner, so that a 3 in spacer goes in", () => {
    const spacer = valuesOf(of(C).spacer);
    expect([number(spacer.clearance), number(spacer.play), spacer.fits]).toEqual([expect.closeTo(3.2036, 3), expect.closeTo(0.2036, 3), true]);
    const tooBig = { ...C, design: { ...C.design!, spacer: { size: inches("3.25"), coverMin: inches("3.21") } } };
    expect(valuesOf(of(tooBig).spacer)).toMatchObject({ fits: false, leastCover: null, cover: { verdict: "fails" } });
  });

  it("presses on its seal with all grout that has not set: 3.281 psi and 1425 lbf for 42 in, 0.234 psi and 101.8 lbf for 3 in", () => {
    const { atOnce, firstLift, most } = valuesOf(of(H).head);
    expect([atOnce.pressure, atOnce.sealForce].map(number)).toEqual([expect.closeTo(3.281, 3), expect.closeTo(1424.88, 1)]);
    expect([firstLift.pressure, firstLift.sealForce].map(number)).toEqual([expect.closeTo(0.2344, 3), expect.closeTo(101.78, 1)]);
    expect([number(most.pressure), number(most.hoopPerInch), number(most.hoopStress!)]).toEqual([expect.closeTo(1.875, 4), expect.closeTo(22.5, 3), expect.closeTo(132.35, 1)]);
    // Sea water weighs 64 lb/ft³: what it takes off is 64/135.
    expect(number(atOnce.pressureUnderWater) / number(atOnce.pressure)).toBeCloseTo(1 - 63.99 / 135, 3);
  });

  it("needs a cured jacket before the second lift: 184.6 lbf on a tie that may carry 60", () => {
    const { rows, allowed } = valuesOf(of(H).ties);
    expect(number(allowed)).toBeCloseTo(60, 9);
    const told = rows.map(({ head, load, carries }) => ({ head: Number(number(head).toFixed(3)), load: Number(number(load).toFixed(1)), carries }));
    expect(told).toEqual([
      { head: 3, load: 4.2, carries: true },
      { head: 12, load: 66.4, carries: false },
      { head: 19.5, load: 140.3, carries: false },
      { head: 24, load: 184.6, carries: false },
    ]);
  });

  it("takes 1.07 % more grout where 30 % of the section is lost", () => {
    const [sound, lost] = [valuesOf(of(H).grout), valuesOf(of(H, [], 0.3).grout)];
    expect(lost.volume.si / sound.volume.si - 1).toBeCloseTo(0.0107, 4);
    expect(number(lost.lossAdds!)).toBeCloseTo(0.113, 3);
    expect(sound.lossAdds).toBeNull();
  });

  it("follows its own drawing", () => {
    const wider: Override = { line: "12", change: { kind: "jacket", field: "insideDiameterIn", value: "26" }, drawing: "S-7", words: "Wider at the collar." };
    expect(number(valuesOf(of(H, [wider]).cut).length)).toBeCloseTo(159.8646 + 2 * Math.PI * 2, 3);
  });

  it("says why a part is not worked out", () => {
    const bare = { ...H, design: { ...H.design!, sheet: null, ties: null, section: { kind: "HP" as const, shape: "HP13X60" } } };
    expect(notWorkedOut(of(bare))).toEqual([
      { parts: ["Section", "Spacers", "Grout", "Head and pressure", "Ties"], because: "The table of H-piles does not hold HP13X60." },
      { parts: ["Jacket cut", "Coat", "Jacket resin"], because: "The design does not say the sheet that the jacket is cut from." },
    ]);
    expect(notWorkedOut(of({ ...H, design: null }))).toHaveLength(1);
    expect(notWorkedOut(of(T))).toEqual([]);
    const tight = { ...H, jacket: { ...H.jacket, insideDiameterIn: "4" } };
    expect(notWorkedOut(of(tight))).toContainEqual({ parts: ["Grout", "Head and pressure", "Ties"], because: "The jacket is smaller than what stands in it." });
  });
});

describe("a selection", () => {
  const ALL = { inside: true, cut: true, wrap: true, grout: true };
  const rows = (set: RequirementSet, bents: readonly string[]): PileToOrder[] => bents.flatMap((bent) => ["A", "B", "C", "D"].map((row) => ({ mark: `${bent}-${row}`, estimate: of(set), toDo: ALL })));
  const piles = [...rows(H, ["02", "03"]), ...rows(C, ["04", "05", "06"]), ...rows(T, ["07"])];

  it("of 24 piles takes 6 rolls, used to 93.44 %, and no plan takes fewer", () => {
    const { sheets, uncut } = orderList(piles, { lots: [], celsius: null });
    expect(uncut).toEqual([]);
    const [sheet] = sheets;
    expect(sheet).toMatchObject({ bound: 6, best: true, pieces: 24 });
    expect(sheet!.rolls).toHaveLength(6);
    expect(sheet!.share).toBeCloseTo(0.9344, 4);
    expect(number(sheet!.used)).toBeCloseTo(4036.7, 1);
    expect(new Set(sheet!.rolls.flatMap((roll) => roll.pieces.map(({ mark }) => mark))).size).toBe(24);
  });

  it("takes 37.6 kg of resin, A to B as 100 to 38, and 560 bags", () => {
    const { resin, bags, lines } = orderList(piles, { lots: [], celsius: 33 });
    expect(resin.mass.si).toBeCloseTo(37.58, 2);
    expect(resin.b.si / resin.a.si).toBeCloseTo(0.38, 12);
    // At 33 °C only the twelve concrete jackets take two batches.
    expect(resin.batches).toBe(8 + 24 + 4);
    expect(bags).toBe(8 * 27 + 12 * 26 + 4 * 8);
    expect(lines.map(({ item, order }) => `${item}: ${order}`)).toEqual([
      "Jacket sheet: 6 rolls", "Jacket resin, part A: 27.23 kg", "Jacket resin, part B: 10.35 kg", "Resin batches: 36 batches", "Grout: 560 bags", "Bars: 112 bars", "Bars: 48 bars", "Anchor resin: 8 cartridges",
      "Spacers: 48 spacers", "Spacers: 216 spacers", "Spacers: 144 spacers", "Shear clamps: 40 clamps", "Lag connectors: 48 connectors", "Tie sets: 96 sets",
    ]);
  });

  it("leaves out what is done", () => {
    const wrapped = piles.map((pile) => ({ ...pile, toDo: { inside: false, cut: false, wrap: false, grout: true } }));
    const { sheets, resin, bags, lines } = orderList(wrapped, { lots: [], celsius: 20 });
    expect([sheets, resin.piles, bags, lines.map(({ item }) => item)]).toEqual([[], 0, 560, ["Grout"]]);
  });

  it("uses a lot up before the next, and says what is to be bought", () => {
    const { sheets } = orderList(piles, { lots: [{ lot: "J-1", rolls: 2 }, { lot: "J-2", rolls: 1 }], celsius: null });
    const lots = sheets[0]!.rolls.map(({ lot }) => lot);
    expect(lots.slice(0, 3)).toEqual(["J-1", "J-1", "J-2"]);
    expect(lots.slice(3).every((lot) => lot === null)).toBe(true);
    expect(lots.length).toBeGreaterThanOrEqual(6);
  });

  it("names the jacket that comes out of no roll", () => {
    const long = { ...H, jacket: { ...H.jacket, insideDiameterIn: "240" } };
    expect(orderList([{ mark: "99-A", estimate: of(long), toDo: ALL }], { lots: [], celsius: null })).toMatchObject({ sheets: [], uncut: [{ mark: "99-A", because: "The jacket does not come out of a roll: it is longer than a roll." }] });
  });

  it("tells no batches where the data sheet is silent", () => {
    const table = { ...H, design: { ...H.design!, resin: { ...H.design!.resin!, potLife: { kind: "table" as const, rows: [{ celsius: "10", minutes: "90" }, { celsius: "30", minutes: "28" }] } } } };
    expect(orderList([{ mark: "02-A", estimate: of(table), toDo: ALL }], { lots: [], celsius: 35 }).resin).toMatchObject({ batches: null, because: "The data sheet gives no pot life at 35 °C." });
  });
});
