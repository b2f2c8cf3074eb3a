import { withWaste } from "#lib/domain/estimate/amount";
import { figureOf, inches, inUnit, known, shown, unknown, type Figure, type Part } from "#lib/domain/estimate/figure";
import { holeVolumeMl, holesResin } from "#lib/domain/estimate/hole";
import { contactLengthMm, jacketLengthMm } from "#lib/domain/estimate/jacket-length";
import { largestBatchKg, oneBatchUpToC, resinMassKg, splitMass, type Spreading } from "#lib/domain/estimate/resin";
import { barOf, hpShape, sectionAreaMm2, widestMm, type Bar, type PileSection } from "#lib/domain/estimate/section";
import { cornerCover, spacerFits, type CornerCover } from "#lib/domain/estimate/spacer";
import { fromSi } from "#lib/domain/quantity/unit";
import type { Design, RequirementSet } from "#lib/domain/requirement/set";

type Jacket = RequirementSet["jacket"];

export interface SectionPart {
  section: PileSection;
  words: string;
  area: Figure;
  /** Across the farthest two corners. */
  widest: Figure;
}

export interface SpacerPart {
  size: Figure;
  clearance: Figure;
  /** What is left beside the spacer; negative where it does not go in. */
  play: Figure;
  fits: boolean;
  /** Cover at the corner of a pile that has moved out to its spacer; null where the spacer does not go in. */
  leastCover: Figure | null;
  /** The least cover asked for, held against the corner and not a face; null where none is. */
  cover: { min: Figure; verdict: CornerCover } | null;
}

export interface BarPart {
  size: string;
  count: number;
  bar: Bar;
  length: Figure | null;
}

export interface HolePart {
  count: number;
  diameter: Figure;
  depth: Figure;
  each: Figure;
  /** All holes, with waste. */
  all: Figure;
  wastePct: number;
  cartridge: Figure;
  cartridges: number;
}

export interface CutPart {
  insideDiameter: Figure;
  height: Figure;
  layers: number;
  thickness: Figure;
  overlap: Figure;
  length: Figure;
  /** What the strip would be short by if its thickness were left out. */
  thicknessAdds: Figure;
  rollLength: Figure;
  rollWidth: Figure;
}

export interface CoatPart {
  /** Length of the faces that touch another layer. */
  contact: Figure;
  /** Of the strip, 0 to 1. */
  share: number;
  area: Figure;
}

export interface ResinPart {
  film: Figure;
  volume: Figure;
  density: Figure;
  wastePct: number;
  net: Figure;
  mass: Figure;
  a: Figure;
  b: Figure;
  ratio: string;
  /** °C; null where it does at every temperature that the data sheet knows, or at none. */
  oneBatchUpToC: number | null;
  /** Whether one batch still does at the warmest temperature that the data sheet knows. */
  oneBatchThroughout: boolean;
  spreading: Spreading;
}

const MM_PER_M = 1_000;
/** A figure in mm, for the functions that count in mm. */
export const mm = ({ si }: Figure): number => si * MM_PER_M;
export const lengthOf = (millimetres: number): Figure => ({ si: millimetres / MM_PER_M, unit: "in" });

/** Runs one part of the arithmetic; an input that it refuses is the reason why the part is not known. */
export function worked<T>(work: () => Part<T>): Part<T> {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) return unknown(error.message);
    throw error;
  }
}

/** The section with its sizes; null for an H-pile that the table does not hold. */
function sectionOf(section: Design["section"]): PileSection | null {
  switch (section.kind) {
    case "HP": {
      const shape = hpShape(section.shape);
      return shape && { kind: "HP", shape };
    }
    case "square":
      return { kind: "square", sideMm: mm(figureOf(section.side)), chamferMm: mm(figureOf(section.chamfer)) };
    case "round":
      return { kind: "round", diameterMm: mm(figureOf(section.diameter)) };
  }
}

export function sectionPart(design: Design): Part<SectionPart> {
  return worked(() => {
    const section = sectionOf(design.section);
    if (!section) return unknown(`The table of H-piles does not hold ${design.section.kind === "HP" ? design.section.shape : "this section"}.`);
    return known({ section, words: sectionWords(design.section), area: { si: sectionAreaMm2(section) / MM_PER_M ** 2, unit: "in²" }, widest: lengthOf(widestMm(section)) });
  });
}

function sectionWords(section: Design["section"]): string {
  switch (section.kind) {
    case "HP":
      return section.shape.replace(/^HP\s*/i, "HP ").replace(/\s*[X×]\s*/i, " × ");
    case "square":
      return `${section.side.value} ${section.side.unit} square, chamfer ${section.chamfer.value} ${section.chamfer.unit}`;
    case "round":
      return `${section.diameter.value} ${section.diameter.unit} round`;
  }
}

export function spacerPart(design: Design, jacket: Jacket, section: Part<SectionPart>): Part<SpacerPart> {
  if (!section.known) return section;
  return worked(() => {
    if (!design.spacer) return unknown("The design has no spacer.");
    const size = figureOf(design.spacer.size);
    const fit = spacerFits({ sizeMm: mm(size), insideDiameterMm: mm(inches(jacket.insideDiameterIn)), widestMm: mm(section.widest) });
    const min = design.spacer.coverMin && figureOf(design.spacer.coverMin);
    return known({
      size, clearance: lengthOf(fit.centredMm), play: lengthOf(fit.playMm), fits: fit.fits, leastCover: fit.leastMm === null ? null : lengthOf(fit.leastMm),
      cover: min && { min, verdict: cornerCover(fit, mm(min)) },
    });
  });
}

export function barPart(design: Design, jacket: Jacket): Part<BarPart> {
  if (jacket.bars === 0) return unknown("No bars stand in this jacket.");
  if (!design.bars) return unknown("The design does not say the size of the bars.");
  const { size, length } = design.bars;
  const bar = barOf(size);
  return bar ? known({ size, count: jacket.bars, bar, length: length && figureOf(length) }) : unknown(`The table of bars does not hold ${size}.`);
}

export function holePart(design: Design, bars: Part<BarPart>): Part<HolePart> {
  return worked(() => {
    if (!design.holes) return unknown("No bar is set in a hole.");
    if (!bars.known) return bars;
    const [diameter, depth, cartridge, wastePct] = [figureOf(design.holes.diameter), figureOf(design.holes.depth), figureOf(design.holes.cartridge), Number(design.holes.wastePct)];
    const volumeMl = holeVolumeMl({ holeDiameterMm: mm(diameter), barDiameterMm: bars.bar.diameterMm, depthMm: mm(depth) });
    if (volumeMl === null) return unknown(`A ${bars.size} bar does not go into a hole of ${shown(diameter, 3)}.`);
    const { totalMl, cartridges } = holesResin({ volumeMl, holes: bars.count, wasteShare: wastePct / 100, cartridgeMl: inUnit({ ...cartridge, unit: "mL" }) });
    return known({ count: bars.count, diameter, depth, each: millilitres(volumeMl), all: millilitres(totalMl), wastePct, cartridge, cartridges });
  });
}

const millilitres = (ml: number): Figure => ({ si: ml / 1e6, unit: "mL" });

export function cutPart(design: Design, jacket: Jacket): Part<CutPart> {
  return worked(() => {
    if (!design.sheet) return unknown("The design does not say the sheet that the jacket is cut from.");
    const insideDiameter = inches(jacket.insideDiameterIn);
    const [thickness, overlap] = [figureOf(design.sheet.thickness), figureOf(design.sheet.overlap)];
    const roll = { insideDiameterMm: mm(insideDiameter), thicknessMm: mm(thickness), layers: jacket.layers, overlapMm: mm(overlap) };
    const length = jacketLengthMm(roll);
    return known({
      insideDiameter, height: inches(jacket.heightIn), layers: jacket.layers, thickness, overlap, length: lengthOf(length),
      thicknessAdds: lengthOf(length - jacketLengthMm({ ...roll, thicknessMm: 0 })), rollLength: figureOf(design.sheet.rollLength), rollWidth: figureOf(design.sheet.rollWidth),
    });
  });
}

export function coatPart(cut: Part<CutPart>): Part<CoatPart> {
  if (!cut.known) return cut;
  return worked(() => {
    const contact = contactLengthMm({ insideDiameterMm: mm(cut.insideDiameter), thicknessMm: mm(cut.thickness), layers: cut.layers, overlapMm: mm(cut.overlap) });
    return known({ contact: lengthOf(contact), share: contact / mm(cut.length), area: { si: (contact / MM_PER_M) * cut.height.si, unit: "ft²" } });
  });
}

export function resinPart({ resin }: Design, coat: Part<CoatPart>): Part<ResinPart> {
  if (!coat.known) return coat;
  return worked(() => {
    if (!resin) return unknown("The design does not say the resin.");
    const [film, density, wastePct] = [figureOf(resin.film), figureOf(resin.density), Number(resin.wastePct)];
    const densityKgPerL = perLitre(density);
    const massKg = resinMassKg({ areaM2: coat.area.si, filmMm: mm(film), densityKgPerL, wastePct });
    const parts = splitMass(massKg, {
      a: Number(resin.a), b: Number(resin.b), basis: resin.basis,
      densityAKgPerL: resin.densityA && perLitre(figureOf(resin.densityA)), densityBKgPerL: resin.densityB && perLitre(figureOf(resin.densityB)),
    });
    if (!parts) return unknown("The mix ratio is by volume and the densities of A and B are not given, so it says nothing of masses.");
    const spreading: Spreading = {
      life: resin.potLife, rateKgPerMin: fromSi(figureOf(resin.spreadRate).si, "kg/min").toNumber(), usableShare: Number(resin.usableShare), capKg: figureOf(resin.batchCap).si,
    };
    return known({
      film, volume: { si: coat.area.si * film.si, unit: "in³" }, density, wastePct, net: kilograms(massKg / withWaste(wastePct)), mass: kilograms(massKg),
      a: kilograms(parts.aKg), b: kilograms(parts.bKg), ratio: `${resin.a} : ${resin.b} by ${resin.basis}`, ...oneBatch(massKg, spreading), spreading,
    });
  });
}

/** A table that ends before one batch gets too large says nothing of warmer resin. */
function oneBatch(massKg: number, spreading: Spreading): Pick<ResinPart, "oneBatchUpToC" | "oneBatchThroughout"> {
  const celsius = oneBatchUpToC(massKg, spreading);
  const { life } = spreading;
  const warmest = life.kind === "table" ? Math.max(...life.rows.map((row) => Number(row.celsius))) : Number(life.referenceC);
  return { oneBatchUpToC: celsius, oneBatchThroughout: celsius === null && massKg <= (largestBatchKg(warmest, spreading) ?? 0) };
}

const kilograms = (kg: number): Figure => ({ si: kg, unit: "kg" });
const perLitre = ({ si }: Figure): number => fromSi(si, "kg/L").toNumber();
