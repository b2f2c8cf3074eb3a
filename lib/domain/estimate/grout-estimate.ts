import { figureOf, inches, known, unknown, type Figure, type Part } from "#lib/domain/estimate/figure";
import { annulusMm2, bagsByLift, groutL } from "#lib/domain/estimate/grout";
import { footPressureKpa, hoopForceNPerMm, hoopStressMpa, sealForceN, tieAllowedN, tieHeadLimitMm, tiesCarry } from "#lib/domain/estimate/head";
import { lengthOf, mm, worked, type BarPart, type CutPart, type SectionPart } from "#lib/domain/estimate/jacket-estimate";
import { liftHeightsMm } from "#lib/domain/estimate/lift";
import type { Design, RequirementSet } from "#lib/domain/requirement/set";

type Jacket = RequirementSet["jacket"];

export interface GroutPart {
  insideDiameter: Figure;
  height: Figure;
  annulus: Figure;
  volume: Figure;
  /** Grout that fills the section that is lost; null where no loss is known. */
  lossAdds: Figure | null;
  wastePct: number;
  withWaste: Figure;
  bagYield: Figure;
  /** Before they are rounded up. */
  bagsExact: number;
  bags: number;
  takeMin: number;
  takeMax: number;
  /** `bags`: parts of bags, since an opened bag goes on into the next lift. */
  lifts: { height: Figure; volume: Figure; bags: number }[];
}

/** A head of grout that has not set, and what it does. */
export interface HeadRow {
  head: Figure;
  pressure: Figure;
  sealForce: Figure;
  /** The same with water outside as high as the grout. */
  pressureUnderWater: Figure;
  /** Hoop force on each inch of a cured jacket's height, and the stress in its layers; null where the sheet is not known. */
  hoopPerInch: Figure;
  hoopStress: Figure | null;
}

export interface HeadPart {
  density: Figure;
  setHours: number;
  /** The whole jacket in one pour. */
  atOnce: HeadRow;
  firstLift: HeadRow;
  /** The highest lift of the rest. */
  nextLift: HeadRow;
  /** The highest head that the specification lets a lift have. */
  most: HeadRow;
}

export interface TiePart {
  spacing: Figure;
  rating: Figure;
  factor: number;
  allowed: Figure;
  rows: { head: Figure; load: Figure; carries: boolean }[];
  /** Up to this head of unset grout the ties carry a jacket that has not cured. */
  headLimit: Figure;
}

const LITRES_PER_M3 = 1_000;

export function groutPart({ grout }: Design, jacket: Jacket, section: Part<SectionPart>, bars: Part<BarPart>, areaLost: number | null): Part<GroutPart> {
  if (!section.known) return section;
  if (jacket.bars > 0 && !bars.known) return bars;
  return worked(() => {
    if (!grout) return unknown("The design does not say the grout.");
    const [insideDiameter, height] = [inches(jacket.insideDiameterIn), inches(jacket.heightIn)];
    const inside = { insideDiameterMm: mm(insideDiameter), pileAreaMm2: section.area.si * 1e6, bars: jacket.bars, barAreaMm2: bars.known ? bars.bar.areaMm2 : 0 };
    const sound = annulusMm2(inside);
    const annulus = annulusMm2({ ...inside, lost: areaLost ?? 0 });
    const litres = groutL(annulus, mm(height));
    const wastePct = Number(grout.wastePct);
    const bagYield = figureOf(grout.bagYield);
    const heights = liftHeightsMm({ totalMm: mm(height), firstMm: mm(figureOf(grout.firstLift)), mostMm: mm(figureOf(grout.liftMax)) });
    const { lifts, exact, whole } = bagsByLift(annulus, heights, { bagYieldL: bagYield.si * LITRES_PER_M3, wastePct });
    const volume = (l: number): Figure => ({ si: l / LITRES_PER_M3, unit: bagYield.unit });
    return known({
      insideDiameter, height, annulus: { si: annulus / 1e6, unit: "in²" }, volume: volume(litres), lossAdds: areaLost === null ? null : volume(groutL(annulus, mm(height)) - groutL(sound, mm(height))),
      wastePct, withWaste: volume(exact * bagYield.si * LITRES_PER_M3), bagYield, bagsExact: exact, bags: whole, takeMin: Number(grout.takeMin), takeMax: Number(grout.takeMax),
      lifts: heights.map((one, index) => ({ height: lengthOf(one), volume: volume(groutL(annulus, one)), bags: lifts[index] ?? 0 })),
    });
  });
}

export function headPart({ grout }: Design, part: Part<GroutPart>, cut: Part<CutPart>): Part<HeadPart> {
  if (!part.known) return part;
  if (!grout) return unknown("The design does not say the grout.");
  return worked(() => {
    const density = figureOf(grout.density);
    const metric = density.unit === "kg/m³" || density.unit === "kg/L";
    const row = (headMm: number): HeadRow => {
      const kpa = footPressureKpa(headMm, { groutKgM3: density.si });
      const pressure = (value: number): Figure => ({ si: value * 1_000, unit: metric ? "kPa" : "psi" });
      return {
        head: lengthOf(headMm), pressure: pressure(kpa), sealForce: { si: sealForceN(kpa, part.annulus.si * 1e6), unit: metric ? "N" : "lbf" },
        pressureUnderWater: pressure(footPressureKpa(headMm, { groutKgM3: density.si, waterMm: headMm })),
        hoopPerInch: { si: hoopForceNPerMm(kpa, mm(part.insideDiameter)) * 25.4, unit: metric ? "N" : "lbf" },
        hoopStress: cut.known ? { si: hoopStressMpa(kpa, { insideDiameterMm: mm(part.insideDiameter), layers: cut.layers, thicknessMm: mm(cut.thickness) }) * 1e6, unit: metric ? "MPa" : "psi" } : null,
      };
    };
    const [first, ...rest] = part.lifts.map(({ height }) => mm(height));
    return known({
      density, setHours: Number(grout.setHours), atOnce: row(mm(part.height)), firstLift: row(first ?? mm(part.height)), nextLift: row(Math.max(...rest, 0) || (first ?? mm(part.height))),
      most: row(Math.min(mm(figureOf(grout.liftMax)), mm(part.height))),
    });
  });
}

/** Heads that are told of beside the lifts of the jacket itself, inches. */
const TOLD_HEADS_IN = [12];

export function tiePart({ ties, grout }: Design, part: Part<GroutPart>): Part<TiePart> {
  if (!part.known) return part;
  return worked(() => {
    if (!ties) return unknown("The design does not say the ties.");
    if (!grout) return unknown("The design does not say the grout.");
    const [spacing, rating] = [figureOf(ties.spacing), figureOf(ties.rating)];
    const tie = { spacingMm: mm(spacing), ratingN: rating.si, factor: Number(ties.factor) };
    const inside = { groutKgM3: figureOf(grout.density).si, insideDiameterMm: mm(part.insideDiameter) };
    const allowed = tieAllowedN(tie);
    const heads = new Set([...part.lifts.map(({ height }) => rounded(mm(height))), ...TOLD_HEADS_IN.map((head) => head * 25.4), rounded(mm(figureOf(grout.liftMax)))]);
    const rows = [...heads].filter((head) => head <= mm(part.height)).sort((a, b) => a - b).map((head) => {
      const { loadN, carries } = tiesCarry(head, tie, inside);
      return { head: lengthOf(head), load: { si: loadN, unit: rating.unit }, carries };
    });
    return known({ spacing, rating, factor: tie.factor, allowed: { si: allowed, unit: rating.unit }, rows, headLimit: lengthOf(tieHeadLimitMm(tie, inside)) });
  });
}

/** Two lifts that differ by what computing leaves behind are one head. */
const rounded = (value: number): number => Number(value.toPrecision(12));
