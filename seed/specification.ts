import { writeProjectLines, writeSet } from "#lib/domain/plan/catalogue";
import { atLeast, atMost, between, each, photo, quantity, recorded, stated } from "#lib/domain/plan/line-part";
import type { SpecificationNumbers } from "#lib/domain/plan/specification";
import type { PotLife } from "#lib/domain/requirement/rule";
import type { Amount, Design, Revision } from "#lib/domain/requirement/set";

/** The resin's data sheet. */
const POT_LIFE: PotLife = {
  kind: "table",
  rows: [["5", "160"], ["10", "113"], ["15", "80"], ["20", "57"], ["25", "40"], ["30", "28"], ["35", "20"], ["40", "14"], ["45", "10"]].map(([celsius = "", minutes = ""]) => ({ celsius, minutes })),
};

const inches = (value: string): Amount => ({ value, unit: "in" });

/** What estimates are worked out from. */
function design(type: { section: Design["section"]; overlapIn: string; bar: string; hole: { diameterIn: string; depthIn: string } | null; spacerIn: string; firstLiftIn: string; liftMaxIn: string; tieSpacingIn: string }): Design {
  const { section, overlapIn, bar, hole, spacerIn, firstLiftIn, liftMaxIn, tieSpacingIn } = type;
  return {
    section,
    sheet: { thickness: inches("0.085"), overlap: inches(overlapIn), rollLength: inches("720"), rollWidth: inches("48") },
    bars: { size: bar, length: inches("40.0") },
    holes: hole && { diameter: inches(hole.diameterIn), depth: inches(hole.depthIn), wastePct: "25", cartridge: { value: "380", unit: "mL" } },
    spacer: { size: inches(spacerIn), coverMin: null },
    resin: {
      a: "100", b: "38", basis: "mass", density: { value: "1.10", unit: "kg/L" }, densityA: null, densityB: null, film: { value: "20", unit: "mil" }, wastePct: "10",
      potLife: POT_LIFE, batchCap: { value: "2.0", unit: "kg" }, spreadRate: { value: "0.09", unit: "kg/min" }, usableShare: "0.8",
    },
    grout: {
      density: { value: "135", unit: "lb/ft³" }, bagYield: { value: "0.43", unit: "ft³" }, wastePct: "8", firstLift: inches(firstLiftIn), liftMax: inches(liftMaxIn), setHours: "4",
      takeMin: "0.97", takeMax: "1.15",
    },
    ties: { spacing: inches(tieSpacingIn), rating: { value: "120", unit: "lbf" }, factor: "2" },
  };
}

/** What all three types have in common. Every number is invented. */
const COMMON = {
  tolerances: { heightIn: "0.25", diameterIn: "0.25" },
  // The platform hangs 6.6 ft above datum.
  access: { waterMaxFt: "6.6", windMaxKn: "22", waveMaxFt: "1.5" },
  holes: { cleaningPasses: 2, toResinHours: "4" },
  bars: { baseMinC: "5", baseMaxC: "35" },
  clamps: { boltsEach: 4, torqueMin: "65", torqueMax: "72", retorqueHours: "12" },
  resin: { a: "100", b: "38", tolerancePct: "3", partMinC: "15", partMaxC: "30", mixMinMin: "3", dewMarginK: "3", life: POT_LIFE },
  wrap: { gapMinIn: "2.0" },
  seal: { kind: "foam and paste", widthMinIn: "2.0", heldMin: "30", dropMaxIn: "0.25", toLiftHours: "48" },
  topOff: { levelToleranceIn: "0.25", takeMin: "0.97", takeMax: "1.15", specimens: 6 },
  topCoat: { sealWidthMinIn: "4", filmMinMil: "12", filmMaxMil: "20" },
} as const;

const mix = { waterQt: "3.75", waterToleranceQt: "0.25", flowMinS: "20", flowMaxS: "30", groutMinC: "8", groutMaxC: "30", setHours: "4" };

export function specificationNumbers(letter: "B" | "C"): Record<"H" | "C" | "T", SpecificationNumbers> {
  const cure = { hours: letter === "B" ? "18" : "20", referenceC: "20", minimumC: "8", underMinimum: "pause" } as const;
  const timberOverlapIn = letter === "B" ? "8" : "9";
  // Share of the strip that touches another layer, as it follows from each jacket.
  const coat = (sharePct: string) => ({ sharePct, filmMinMil: "16", filmMaxMil: "24" });
  const cleaning = (zoneMinIn: string) => ({ zoneMinIn, residualMaxPct: "2", toCoverUpHours: "168" });
  return {
    H: {
      ...COMMON, type: "H", name: "Steel HP 12 × 53", core: "H", coreWidthIn: "12.045", notApplicable: {},
      design: design({ section: { kind: "HP", shape: "HP12X53" }, overlapIn: "8", bar: "#6", hole: { diameterIn: "1.000", depthIn: "7.25" }, spacerIn: "3.5", firstLiftIn: "3", liftMaxIn: "24", tieSpacingIn: "10.5" }),
      jacket: { insideDiameterIn: "24", heightIn: "42", layers: 2, spacerRings: 3, tieSets: 4, clamps: 5, bars: 6 },
      tolerances: { ...COMMON.tolerances, cutLengthIn: "159.86", overlapIn: "8" },
      coat: coat("52.5"),
      cleaning: cleaning("54"),
      preparation: {
        quantities: [
          quantity("grade", "Visual grade", { form: "grade", atLeast: "Sa 2½", chains: [["Sa 1", "Sa 2", "Sa 2½", "Sa 3"]] }),
          quantity("salt", "Soluble salt", atMost("5", "µg/cm²"), { instrument: "salt kit" }),
          quantity("profile", "Profile", each("face", 4, between("2.0", "4.0", "mil")), { instrument: "replica tape" }),
        ],
        toCoverUpHours: "96",
      },
      survey: {
        quantities: [
          quantity("thickness", "Flange thickness", each("reading", 6, atLeast("0.350", "in")), { instrument: "thickness gauge" }),
          quantity("left", "Area left", atLeast("85", "%"), { hint: "Of 15.5 in² as rolled." }),
        ],
        photos: [photo("gauge", "Gauge on metal", 2), photo("map", "Map of the readings", 1)],
      },
      holes: { ...COMMON.holes, diameterMinIn: "0.97", diameterMaxIn: "1.06", depthMinIn: "7.25" },
      bars: { ...COMMON.bars, size: "#6", embedmentMinIn: "7.0" },
      spacers: { perRing: 6, sizeIn: "3.5", toleranceIn: "0.125" },
      ties: { spacingMaxIn: "11", seamGapMaxIn: "0.06", screws: 8 },
      cure,
      firstLift: { minIn: "2.5", maxIn: "3.5", ...mix },
      lifts: { heightMaxIn: "24", rateMaxInH: "24", shiftMaxIn: "0.25" },
      strip: { degreeHours: "400", datumC: "0", hollowMaxIn2: "12", voidMaxIn2: "4" },
      strength: { psi: "6000", afterHours: "672" },
    },
    C: {
      ...COMMON, type: "C", name: "Concrete 16 in square", core: "square", coreWidthIn: "16",
      design: design({ section: { kind: "square", side: inches("16"), chamfer: inches("0.75") }, overlapIn: "10", bar: "#5", hole: { diameterIn: "0.875", depthIn: "6.25" }, spacerIn: "3", firstLiftIn: "3.5", liftMaxIn: "24", tieSpacingIn: "10" }),
      notApplicable: { "8": "No shear clamps on a concrete pile.", "9": "No clamp bolts on a concrete pile." },
      jacket: { insideDiameterIn: "28", heightIn: "48", layers: 2, spacerRings: 3, tieSets: 5, clamps: 0, bars: 8 },
      tolerances: { ...COMMON.tolerances, cutLengthIn: "187.00", overlapIn: "10" },
      coat: coat("52.7"),
      cleaning: cleaning("60"),
      preparation: {
        quantities: [
          quantity("amplitude", "Profile amplitude", each("face", 4, atLeast("0.25", "in")), { instrument: "depth gauge" }),
          quantity("sound", "No loose concrete under the hammer", stated("overview")),
        ],
        toCoverUpHours: "96",
      },
      survey: {
        quantities: [
          quantity("delaminated", "Delaminated area", atMost("2.0", "ft²"), { instrument: "hammer" }),
          quantity("bar-loss", "Section lost, worst bar", atMost("15", "%"), { instrument: "calipers" }),
          quantity("left", "Area left, worst bar", atLeast("85", "%"), { instrument: "calipers" }),
        ],
        photos: [photo("spot", "Worst spot", 1), photo("map", "Map of the survey", 1)],
      },
      holes: { ...COMMON.holes, diameterMinIn: "0.85", diameterMaxIn: "0.93", depthMinIn: "6.25" },
      bars: { ...COMMON.bars, size: "#5", embedmentMinIn: "6.0" },
      spacers: { perRing: 8, sizeIn: "3", toleranceIn: "0.125" },
      ties: { spacingMaxIn: "10", seamGapMaxIn: "0.06", screws: 10 },
      cure,
      firstLift: { minIn: "3", maxIn: "4", ...mix },
      lifts: { heightMaxIn: "24", rateMaxInH: "24", shiftMaxIn: "0.25" },
      strip: { degreeHours: "400", datumC: "0", hollowMaxIn2: "14", voidMaxIn2: "4" },
      strength: { psi: "6000", afterHours: "672" },
    },
    T: {
      ...COMMON, type: "T", name: "Timber 13 in", core: "round", coreWidthIn: "13",
      design: design({ section: { kind: "round", diameter: inches("13") }, overlapIn: timberOverlapIn, bar: "#5", hole: null, spacerIn: "2.5", firstLiftIn: "3", liftMaxIn: "18", tieSpacingIn: "9" }),
      notApplicable: {
        "6": "No holes in a timber pile: its bars stand free.",
        "7": "No bars in resin: four #5 stand free, tied to the spacers.",
        "9": "Lag connectors are not torqued.",
      },
      jacket: { insideDiameterIn: "19", heightIn: "36", layers: 2, spacerRings: 2, tieSets: 4, clamps: 12, bars: 4 },
      tolerances: { ...COMMON.tolerances, cutLengthIn: letter === "B" ? "128.45" : "129.45", overlapIn: timberOverlapIn },
      coat: coat(letter === "B" ? "53.1" : "53.5"),
      cleaning: cleaning("48"),
      preparation: {
        quantities: [
          quantity("bright", "Sound bright wood all round", stated("overview")),
          quantity("probe", "Probe goes in", each("face", 4, atMost("0.25", "in")), { instrument: "depth gauge" }),
        ],
        toCoverUpHours: "96",
      },
      survey: {
        quantities: [
          quantity("diameter", "Diameter left", each("level", 3, atLeast("11.5", "in")), { instrument: "tape" }),
          quantity("borers", "Borer holes seen", recorded(null)),
        ],
        photos: [photo("spot", "Worst spot", 1), photo("map", "Map of the survey", 1)],
      },
      holes: { ...COMMON.holes, diameterMinIn: "0.85", diameterMaxIn: "0.93", depthMinIn: "6.25" },
      bars: { ...COMMON.bars, size: "#5", embedmentMinIn: "6.0" },
      clamps: { ...COMMON.clamps, boltsEach: 1 },
      spacers: { perRing: 6, sizeIn: "2.5", toleranceIn: "0.125" },
      ties: { spacingMaxIn: "9", seamGapMaxIn: "0.06", screws: 8 },
      cure,
      firstLift: { minIn: "2.5", maxIn: "3.5", ...mix },
      lifts: { heightMaxIn: "18", rateMaxInH: "18", shiftMaxIn: "0.25" },
      strip: { degreeHours: "300", datumC: "0", hollowMaxIn2: "10", voidMaxIn2: "4" },
      strength: { psi: "4500", afterHours: "672" },
    },
  };
}

const SUBMITTALS = [
  "Grout mix for H and C, 6000 psi", "Grout mix for T, 4500 psi", "Jacket resin data", "Jacket and spacers", "Method statement", "Safety plan", "Inspection and test plan",
];

/** A whole revision. C raises the timber overlap to 9 in and the jacket cure to 20 h at 20 °C. */
export function writeRevision(letter: "B" | "C"): Revision {
  const { H, C, T } = specificationNumbers(letter);
  return {
    format: 1,
    letter,
    title: letter === "B" ? "Issued for the work" : "Timber overlap 9 in, jacket cure 20 h at 20 °C",
    projectLines: writeProjectLines({ submittals: SUBMITTALS, hollowMaxIn2: "4" }),
    sets: [writeSet(H), writeSet(C), writeSet(T)],
  };
}
