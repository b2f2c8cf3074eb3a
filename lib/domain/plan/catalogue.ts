import type { PlanLineSpec, RequirementSet } from "#lib/domain/requirement/set";
import {
  quantity, atLeast, atMost, between, about, exactly, noFewerThan, stated, recorded, each, photo, releasedBy, INSPECTOR, INSPECTOR_OR_DELEGATE, QC, line, wait, RESIN_LOTS, GROUT_LOT, dewQuantities, potLife, type LineParts,
} from "#lib/domain/plan/line-part";
import type { SpecificationNumbers } from "#lib/domain/plan/specification";

/**
 * Writes the requirement set of a pile type: the points of pile encasement in their order, with the specification's
 * numbers in them. No acceptance number stands here.
 *
 * @source The order and the kinds of point are common practice, no source; hold, witness and record points as in
 *         published inspection and test plans.
 */
export function writeSet(n: SpecificationNumbers): RequirementSet {
  const lines = [...beforeCover(n), ...jacketLines(n), ...groutLines(n)].map((one): PlanLineSpec => {
    const because = n.notApplicable[one.line];
    return because ? { ...one, notApplicable: because, quantities: [], photos: [], lots: [], waits: [] } : one;
  });
  return { type: n.type, name: n.name, core: n.core, coreWidthIn: n.coreWidthIn, jacket: n.jacket, design: n.design, lines };
}

/** Points 1 to 11: everything the jacket will hide, up to the last look. */
function beforeCover(n: SpecificationNumbers): PlanLineSpec[] {
  const { jacket } = n;
  return [
    line({
      line: "1", name: "Access, tide, task check", kind: "R", after: ["P1", "P4"], gate: "is the gate",
      quantities: [
        quantity("water", "Water level above chart datum", atMost(n.access.waterMaxFt, "ft"), { instrument: "staff gauge" }),
        quantity("wind", "Wind", atMost(n.access.windMaxKn, "kn")),
        quantity("wave", "Wave height", atMost(n.access.waveMaxFt, "ft")),
        quantity("platform", "Platform tag in date", stated("work-area")),
      ],
      photos: [photo("work-area", "Work area", 1)],
      submits: ["crew lead", "QC manager"],
      release: releasedBy(["QC manager"], { automatic: true }),
    }),
    line({
      line: "2", name: "Pile identity and baseline", kind: "R", after: ["1"],
      quantities: [
        quantity("mark", "Mark on the pile", { form: "exact", value: "{mark}" }),
        quantity("top", "Top of repair", recorded("ft"), { instrument: "level" }),
        quantity("bottom", "Bottom of repair", recorded("ft"), { instrument: "level" }),
      ],
      photos: [photo("tag", "Pile tag", 1), photo("faces", "Four faces", 4)],
      release: QC,
    }),
    line({
      line: "3", name: "Marine growth removal", kind: "W", after: ["2"], hiddenBy: ["15"],
      quantities: [
        quantity("zone", "Length cleaned", atLeast(n.cleaning.zoneMinIn, "in"), { instrument: "tape" }),
        quantity("residual", "Growth left", atMost(n.cleaning.residualMaxPct, "%")),
      ],
      photos: [photo("faces", "Each face, clean", 4)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "4", name: "Surface preparation", kind: "H", after: ["3"], hiddenBy: ["15"],
      quantities: n.preparation.quantities,
      photos: [photo("close-up", "Close-up with scale", 4), photo("overview", "Overview", 1)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "5", name: "Section-loss survey", kind: "H", after: ["4"], hiddenBy: ["15"],
      quantities: n.survey.quantities,
      photos: n.survey.photos,
      release: releasedBy(["inspector"], { whenFails: ["engineer"] }),
    }),
    line({
      line: "6", name: "Anchor holes", kind: "H", after: ["5"], hiddenBy: ["7"],
      quantities: [
        quantity("count", "Holes", exactly(jacket.bars)),
        quantity("diameter", "Hole diameter", each("hole", jacket.bars, between(n.holes.diameterMinIn, n.holes.diameterMaxIn, "in")), { instrument: "calipers" }),
        quantity("depth", "Hole depth", each("hole", jacket.bars, atLeast(n.holes.depthMinIn, "in")), { instrument: "depth gauge" }),
        quantity("passes", "Blow, brush, blow passes", noFewerThan(n.holes.cleaningPasses)),
      ],
      photos: [photo("depth", "Depth gauge in hole", 2), photo("clean", "Clean hole", 2)],
      release: INSPECTOR,
    }),
    line({
      line: "7", name: "Anchor bars and resin", kind: "H", after: ["6"], hiddenBy: ["15"],
      waits: [wait("at most", "6", n.holes.toResinHours, "began", "hole cleaned to resin")],
      quantities: [
        quantity("base", "Base temperature", between(n.bars.baseMinC, n.bars.baseMaxC, "°C"), { instrument: "thermometer" }),
        quantity("bars", "Bars", exactly(jacket.bars)),
        quantity("size", "Bar size", { form: "exact", value: n.bars.size }),
        quantity("bar-length", "Bar length", recorded("in"), { instrument: "tape" }),
        quantity("projection", "Projection", each("bar", jacket.bars, recorded("in")), { instrument: "tape" }),
        quantity("embedment", "Embedment", each("bar", jacket.bars, atLeast(n.bars.embedmentMinIn, "in")), {
          derived: { formula: "embedment", from: ["bar-length", "projection"] },
          hint: "Bar length less projection. A deep hole does not show it.",
        }),
        quantity("return", "Resin came back at every hole", stated("return")),
      ],
      photos: [photo("bar", "Bar with tape", jacket.bars), photo("return", "Resin return", 1), photo("label", "Resin label", 1)],
      lots: RESIN_LOTS,
      release: INSPECTOR,
    }),
    line({
      line: "8", name: n.core === "round" ? "Lag connectors fitted" : "Shear clamps fitted", kind: "R", after: ["5"], hiddenBy: ["15"],
      quantities:
        n.core === "round"
          ? [quantity("lags", "Lag connectors", exactly(jacket.clamps))]
          : [
              quantity("clamps", "Clamps", exactly(jacket.clamps)),
              quantity("bolts", "Bolts in the clamp", each("clamp", jacket.clamps, exactly(n.clamps.boltsEach))),
            ],
      photos: [photo("clamp", n.core === "round" ? "Connectors" : "Clamp", 2)],
      release: QC,
    }),
    line({
      line: "9", name: "Clamp torque, re-torque", kind: "H", after: ["8"], hiddenBy: ["15"],
      quantities: [
        quantity("torque", "Torque", each("bolt", jacket.clamps * n.clamps.boltsEach, between(n.clamps.torqueMin, n.clamps.torqueMax, "ft·lbf")), {
          instrument: "torque wrench",
        }),
        quantity("retorque", "Re-torque after the first pass", atLeast(n.clamps.retorqueHours, "h")),
        quantity("paint", "Every bolt paint-marked", stated("paint")),
      ],
      photos: [photo("wrench", "Wrench on bolt, value readable", 4), photo("paint", "Paint marks, overview", 1)],
      release: INSPECTOR,
    }),
    line({
      line: "10", name: "Spacers", kind: "W", after: ["7", "9", "8"], hiddenBy: ["15"],
      quantities: [
        quantity("rings", "Rings", exactly(jacket.spacerRings)),
        quantity("each-ring", "Spacers in the ring", each("ring", jacket.spacerRings, exactly(n.spacers.perRing))),
        quantity("size", "Spacer size", about(n.spacers.sizeIn, n.spacers.toleranceIn, "in"), { instrument: "tape" }),
      ],
      photos: [photo("ring", "Each ring", jacket.spacerRings)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "11", name: "Cover-up release", kind: "H", after: ["4", "5", "7", "9", "10"], hiddenBy: ["13"],
      waits: [
        wait("at most", "3", n.cleaning.toCoverUpHours, "released", "growth removed to cover-up"),
        wait("at most", "4", n.preparation.toCoverUpHours, "released", "preparation to cover-up"),
      ],
      quantities: [
        quantity("age", "Age of preparation", {
          form: "elapsed", from: { line: "4", event: "ended" }, to: "ended", atLeastHours: null, atMostHours: n.preparation.toCoverUpHours,
        }, { derived: { formula: "elapsed", from: [] } }),
        quantity("nothing-left", "Everything that will be hidden has been looked at", stated("overview")),
      ],
      photos: [photo("overview", "All round, taken last", 4, { window: "last look" })],
      submits: ["QC manager"],
      release: INSPECTOR,
    }),
  ];
}

/** Points 12 to 17: the jacket, from the roll to its cure. */
function jacketLines(n: SpecificationNumbers): PlanLineSpec[] {
  const { jacket } = n;
  return [
    line({
      line: "12", name: "Jacket cut", kind: "R", after: ["P3"], gate: "free",
      quantities: [
        quantity("height", "Height", about(jacket.heightIn, n.tolerances.heightIn, "in"), { instrument: "tape" }),
        quantity("length", "Length", atLeast(n.tolerances.cutLengthIn, "in"), { instrument: "tape", follows: "jacket length" }),
        quantity("edges", "Edges straight", stated("cut")),
      ],
      photos: [photo("cut", "Cut piece with tape", 1), photo("label", "Roll label", 1)],
      lots: [{ id: "jacket", name: "Jacket roll", kind: "jacket" }],
      release: QC,
    }),
    line({
      line: "13", name: "Resin batch", kind: "W", after: ["11"], batch: "jacket", hiddenBy: ["14"],
      quantities: [
        ...dewQuantities(n.resin.dewMarginK),
        quantity("part-a", "Part A temperature", between(n.resin.partMinC, n.resin.partMaxC, "°C"), { instrument: "thermometer" }),
        quantity("part-b", "Part B temperature", between(n.resin.partMinC, n.resin.partMaxC, "°C"), { instrument: "thermometer" }),
        quantity("mass-a", "Mass of A", recorded("g"), { instrument: "scale" }),
        quantity("mass-b", "Mass of B", recorded("g"), { instrument: "scale" }),
        quantity("ratio", "Mix ratio", { form: "ratio", a: n.resin.a, b: n.resin.b, tolerancePct: n.resin.tolerancePct, basis: "mass" }, {
          derived: { formula: "ratio error", from: ["mass-a", "mass-b"] },
        }),
        quantity("mixed", "Mixing time", atLeast(n.resin.mixMinMin, "min")),
        quantity("uniform", "One colour, no streaks", stated("mix")),
      ],
      photos: [photo("scale", "Scale reading, A and B", 2), photo("mix", "Streak-free mix", 1), photo("label", "Resin labels", 1)],
      lots: RESIN_LOTS,
      release: QC,
    }),
    line({
      line: "14", name: "Coating coverage", kind: "W", after: ["12", "13"], batch: "jacket",
      quantities: [
        quantity("share", "Share of strip coated", atLeast(n.coat.sharePct, "%"), { instrument: "tape", follows: "contact share" }),
        quantity("film", "Wet film", between(n.coat.filmMinMil, n.coat.filmMaxMil, "mil"), { instrument: "comb gauge" }),
      ],
      photos: [photo("coated", "Coated strip with tape", 2)],
      release: QC,
    }),
    line({
      line: "15", name: "Wrap", kind: "W", after: ["14"], batch: "jacket",
      quantities: [
        quantity("layers", "Layers", exactly(jacket.layers)),
        quantity("overlap", "Overlap", atLeast(n.tolerances.overlapIn, "in"), { instrument: "tape", follows: "overlap" }),
        quantity("diameter", "Inside diameter", about(jacket.insideDiameterIn, n.tolerances.diameterIn, "in"), { instrument: "tape" }),
        quantity("gap", "Gap to pile", each("face", 4, atLeast(n.wrap.gapMinIn, "in")), { instrument: "tape" }),
        potLife("Pot life left at the end of the wrap", n.resin.life),
      ],
      photos: [photo("edge", "Start edge", 1), photo("overlap", "Overlap", 2), photo("annulus", "Top annulus", 4)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "16", name: "Ties, seam, screws", kind: "W", after: ["15"], batch: "jacket",
      quantities: [
        quantity("sets", "Tie sets", noFewerThan(jacket.tieSets)),
        quantity("spacing", "Widest tie spacing", atMost(n.ties.spacingMaxIn, "in"), { instrument: "tape" }),
        quantity("seam", "Widest seam gap", atMost(n.ties.seamGapMaxIn, "in"), { instrument: "feeler gauge" }),
        quantity("screws", "Seam screws", noFewerThan(n.ties.screws)),
        potLife("Pot life left when the ties were set", n.resin.life),
      ],
      photos: [photo("side", "Each side", 2), photo("seam", "Seam, full length", 2)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "17", name: "Jacket cure", kind: "H", after: ["16"], gate: "free", evidenceOnly: { photos: 2 },
      quantities: [
        quantity("cure", "Cure at reference temperature", { form: "cure", from: "16", ...n.cure }, { derived: { formula: "cure", from: [] } }),
        quantity("tack-free", "Tack-free all round", stated("seam")),
      ],
      photos: [photo("seam", "Seam after cure", 1), photo("logger", "Logger screen", 1)],
      release: INSPECTOR_OR_DELEGATE,
    }),
  ];
}

/** Points 18 to 26: the grout, what is seen after the strip, and the end. */
function groutLines(n: SpecificationNumbers): PlanLineSpec[] {
  return [
    line({
      line: "18", name: "Bottom seal and test", kind: "H", after: ["17"], hiddenBy: ["19"],
      quantities: [
        quantity("kind", "Seal", { form: "exact", value: n.seal.kind }),
        quantity("width", "Seal width", atLeast(n.seal.widthMinIn, "in"), { instrument: "tape" }),
        quantity("held", "Test head held", atLeast(n.seal.heldMin, "min")),
        quantity("drop", "Drop of the head", atMost(n.seal.dropMaxIn, "in"), { instrument: "tape" }),
      ],
      photos: [photo("round", "All round", 2), photo("test", "Seal test", 2)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "19", name: "First lift and set", kind: "H", after: ["18"],
      waits: [wait("at most", "18", n.seal.toLiftHours, "began", "seal test to first lift")],
      quantities: [
        quantity("height", "Lift height", between(n.firstLift.minIn, n.firstLift.maxIn, "in"), { instrument: "tape" }),
        quantity("water", "Water for each bag", about(n.firstLift.waterQt, n.firstLift.waterToleranceQt, "qt")),
        quantity("flow", "Flow cone", between(n.firstLift.flowMinS, n.firstLift.flowMaxS, "s"), { instrument: "flow cone" }),
        quantity("grout", "Grout temperature", between(n.firstLift.groutMinC, n.firstLift.groutMaxC, "°C"), { instrument: "thermometer" }),
        quantity("set", "Set before it was probed", atLeast(n.firstLift.setHours, "h")),
        quantity("no-leak", "No leak", stated("bottom")),
      ],
      photos: [photo("top", "Top surface with stick", 1), photo("bottom", "Bottom, no leak", 2)],
      lots: GROUT_LOT,
      release: INSPECTOR,
    }),
    line({
      line: "20", name: "Lifts 2 and on", kind: "W", after: ["19"],
      quantities: [
        quantity("height", "Lift height", each("lift", null, atMost(n.lifts.heightMaxIn, "in")), { instrument: "tape" }),
        quantity("rate", "Rate", each("lift", null, atMost(n.lifts.rateMaxInH, "in/h"))),
        quantity("shift", "Jacket moved", atMost(n.lifts.shiftMaxIn, "in"), { instrument: "tape" }),
      ],
      photos: [photo("before", "Before the lifts", 2), photo("after", "After the lifts", 2)],
      lots: GROUT_LOT,
      release: QC,
    }),
    line({
      line: "21", name: "Top-off and samples", kind: "R", after: ["20"],
      quantities: [
        quantity("level", "Top level against drawing", about("0", n.topOff.levelToleranceIn, "in"), { instrument: "tape" }),
        quantity("take", "Grout placed over grout worked out", between(n.topOff.takeMin, n.topOff.takeMax, "1")),
        quantity("slope", "Slopes to shed water", stated("top")),
        quantity("specimens", "Specimens marked", noFewerThan(n.topOff.specimens)),
      ],
      photos: [photo("top", "Top of grout", 2), photo("specimens", "Specimens with tag", 1, { window: "since lift began" })],
      release: QC,
    }),
    line({
      line: "22", name: "Grout cure before strip", kind: "H", after: ["21"], gate: "free", evidenceOnly: { photos: 1 },
      quantities: [
        quantity("maturity", "Maturity", { form: "maturity", from: "21", degreeHours: n.strip.degreeHours, datumC: n.strip.datumC }, {
          derived: { formula: "maturity", from: [] },
        }),
      ],
      photos: [photo("logger", "Logger screen", 1)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "23", name: "Strip and sounding", kind: "W", after: ["22"],
      quantities: [
        quantity("ties", "All ties removed", stated("faces")),
        quantity("hollow", "Hollow area, all together", atMost(n.strip.hollowMaxIn2, "in²"), { instrument: "hammer" }),
        quantity("void", "Largest single void", atMost(n.strip.voidMaxIn2, "in²"), { instrument: "hammer" }),
      ],
      photos: [photo("faces", "Four faces", 4)],
      release: INSPECTOR,
    }),
    line({
      line: "24", name: "Seam, edges, top coat", kind: "W", after: ["23"],
      quantities: [
        ...dewQuantities(n.resin.dewMarginK),
        quantity("seal-width", "Seal width over the seam", atLeast(n.topCoat.sealWidthMinIn, "in"), { instrument: "tape" }),
        quantity("film", "Film", between(n.topCoat.filmMinMil, n.topCoat.filmMaxMil, "mil"), { instrument: "comb gauge" }),
        quantity("holidays", "No holidays", stated("seam")),
      ],
      photos: [photo("seam", "Seams", 2), photo("edge", "Top edge", 1)],
      release: INSPECTOR_OR_DELEGATE,
    }),
    line({
      line: "25", name: "Strength results", kind: "R", after: ["21"], gate: "free",
      waits: [wait("at least", "21", n.strength.afterHours, "began", "age of the specimens")],
      quantities: [quantity("strength", "Strength at 28 days", each("test", null, atLeast(n.strength.psi, "psi")))],
      documents: [{ id: "report", name: "Laboratory report", required: true }],
      submits: ["QC manager"],
      release: releasedBy(["QC manager"], { automatic: true, whenFails: ["engineer"] }),
    }),
    line({
      line: "26", name: "Final and as-built", kind: "H", after: ["23", "24", "25"],
      quantities: [
        quantity("top", "As-built top", recorded("ft"), { instrument: "level" }),
        quantity("diameter", "As-built diameter", recorded("in"), { instrument: "tape" }),
        quantity("defects", "No open defect", stated("faces")),
      ],
      photos: [photo("faces", "Four faces", 4), photo("tag", "Pile tag", 1)],
      submits: ["QC manager"],
      release: INSPECTOR,
    }),
  ];
}

/** The points that stand before any pile. */
export function writeProjectLines(n: { submittals: string[]; hollowMaxIn2: string }): PlanLineSpec[] {
  const project = (parts: LineParts): PlanLineSpec => line({ gate: "free", submits: ["QC manager"], ...parts });
  return [
    project({
      line: "P1", name: "Submittals approved", kind: "H", after: [], evidenceOnly: { photos: 0 },
      quantities: n.submittals.map((name, index) => quantity(`submittal-${index + 1}`, name, stated(), { hint: "Approved at a revision, none to revise and resubmit." })),
      documents: [{ id: "submittals", name: "Approved submittals", required: true }],
      release: releasedBy(["engineer"]),
    }),
    project({ line: "P2", name: "Instruments registered, calibrated", kind: "R", after: [], release: QC, register: "instruments" }),
    project({ line: "P3", name: "Material lots received", kind: "W", after: ["P1"], release: QC, register: "lots" }),
    project({
      line: "P4", name: "Mock-up", kind: "H", after: ["P1", "P2", "P3"],
      quantities: [
        quantity("sequence", "Full sequence carried out", stated("open")),
        quantity("hollow", "Hollow area where cut open", atMost(n.hollowMaxIn2, "in²"), { instrument: "hammer" }),
      ],
      photos: [photo("open", "Mock-up cut open", 2)],
      release: releasedBy(["inspector", "engineer"], { all: true }),
    }),
  ];
}
