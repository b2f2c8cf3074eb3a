import { finiteAbove, notNegative } from "#lib/domain/estimate/amount";

const MM_PER_IN = 25.4;
const MM2_PER_IN2 = MM_PER_IN ** 2;
const KG_PER_M_PER_LB_PER_FT = 0.45359237 / 0.3048;

/** A rolled H section as its table prints it, in mm and mm². */
export interface HpShape {
  designation: string;
  depthMm: number;
  flangeWidthMm: number;
  webMm: number;
  flangeMm: number;
  areaMm2: number;
}

/** Designation, then depth, flange width, web and flange thickness, in, and area, in². */
type HpRow = readonly [string, number, number, number, number, number];

/**
 * @source AISC Steel Construction Manual, 15th edition, Table 1-4, as AISC Shapes Database v15.0 carries it. Manuals before the 13th edition
 *   print three decimals, up to 0.045 in away (HP12X53: depth 11.78, flange 12.045); the area is the same.
 */
const HP_ROWS: readonly HpRow[] = [
  ["HP18X204", 18.3, 18.1, 1.13, 1.13, 60.2],
  ["HP18X181", 18.0, 18.0, 1.0, 1.0, 53.2],
  ["HP18X157", 17.7, 17.9, 0.87, 0.87, 46.2],
  ["HP18X135", 17.5, 17.8, 0.75, 0.75, 39.9],
  ["HP16X183", 16.5, 16.3, 1.13, 1.13, 54.1],
  ["HP16X162", 16.3, 16.1, 1.0, 1.0, 47.7],
  ["HP16X141", 16.0, 16.0, 0.875, 0.875, 41.7],
  ["HP16X121", 15.8, 15.9, 0.75, 0.75, 35.8],
  ["HP16X101", 15.5, 15.8, 0.625, 0.625, 29.9],
  ["HP16X88", 15.3, 15.7, 0.54, 0.54, 25.8],
  ["HP14X117", 14.2, 14.9, 0.805, 0.805, 34.4],
  ["HP14X102", 14.0, 14.8, 0.705, 0.705, 30.1],
  ["HP14X89", 13.8, 14.7, 0.615, 0.615, 26.1],
  ["HP14X73", 13.6, 14.6, 0.505, 0.505, 21.4],
  ["HP12X89", 12.4, 12.3, 0.72, 0.72, 25.9],
  ["HP12X84", 12.3, 12.3, 0.685, 0.685, 24.6],
  ["HP12X74", 12.1, 12.2, 0.605, 0.61, 21.8],
  ["HP12X63", 11.9, 12.1, 0.515, 0.515, 18.4],
  ["HP12X53", 11.8, 12.0, 0.435, 0.435, 15.5],
  ["HP10X57", 9.99, 10.2, 0.565, 0.565, 16.7],
  ["HP10X42", 9.7, 10.1, 0.415, 0.42, 12.4],
  ["HP8X36", 8.02, 8.16, 0.445, 0.445, 10.6],
];

export const HP_SHAPES: readonly HpShape[] = HP_ROWS.map(([designation, depth, flangeWidth, web, flange, area]) => ({
  designation,
  depthMm: depth * MM_PER_IN,
  flangeWidthMm: flangeWidth * MM_PER_IN,
  webMm: web * MM_PER_IN,
  flangeMm: flange * MM_PER_IN,
  areaMm2: area * MM2_PER_IN2,
}));

/** The shape of a designation however it is spaced ("HP 12 × 53", "hp12x53"); null when the table has none such. */
export function hpShape(designation: string): HpShape | null {
  const key = designation.replace(/\s+/gu, "").replace(/×/gu, "X").toUpperCase();
  return HP_SHAPES.find((shape) => shape.designation === key) ?? null;
}

/** A deformed bar with its nominal sizes. */
export interface Bar {
  size: string;
  diameterMm: number;
  areaMm2: number;
  kgPerM: number;
}

/** @source ASTM A615/A615M-20, Table 1, inch-pound columns: size, diameter in, area in², mass lb/ft. Nominal area is not quite π/4·d². */
const BAR_ROWS: readonly (readonly [string, number, number, number])[] = [
  ["#3", 0.375, 0.11, 0.376],
  ["#4", 0.5, 0.2, 0.668],
  ["#5", 0.625, 0.31, 1.043],
  ["#6", 0.75, 0.44, 1.502],
  ["#7", 0.875, 0.6, 2.044],
  ["#8", 1.0, 0.79, 2.67],
  ["#9", 1.128, 1.0, 3.4],
  ["#10", 1.27, 1.27, 4.303],
  ["#11", 1.41, 1.56, 5.313],
];

export const BARS: readonly Bar[] = BAR_ROWS.map(([name, diameter, area, mass]) => ({
  size: name,
  diameterMm: diameter * MM_PER_IN,
  areaMm2: area * MM2_PER_IN2,
  kgPerM: mass * KG_PER_M_PER_LB_PER_FT,
}));

/** The bar of a size such as "#6"; null when the table has none such. */
export function barOf(name: string): Bar | null {
  const key = name.replace(/\s+/gu, "");
  return BARS.find((bar) => bar.size === key) ?? null;
}

export type PileSection =
  | { kind: "HP"; shape: HpShape }
  /** `chamferMm`: what each chamfer takes off either face, at 45°; zero where the corners are sharp. */
  | { kind: "square"; sideMm: number; chamferMm: number }
  | { kind: "round"; diameterMm: number };

/**
 * Area of a pile's section, mm².
 * @throws RangeError for a size that is not more than zero, or a chamfer of half the side or more.
 */
export function sectionAreaMm2(section: PileSection): number {
  switch (section.kind) {
    case "HP":
      return finiteAbove(section.shape.areaMm2, 0, "The area of a shape");
    case "square": {
      const { side, chamfer } = square(section);
      return side ** 2 - 2 * chamfer ** 2;
    }
    case "round":
      return (Math.PI / 4) * finiteAbove(section.diameterMm, 0, "The diameter of a pile") ** 2;
  }
}

/**
 * Widest measure across a pile's section, mm: from flange tip to opposite flange tip, or between two opposite corners that the chamfers
 * leave, which is more than across the chamfers' faces and less than the square's diagonal.
 * @throws RangeError as `sectionAreaMm2` does.
 */
export function widestMm(section: PileSection): number {
  switch (section.kind) {
    case "HP":
      return Math.hypot(finiteAbove(section.shape.depthMm, 0, "The depth of a shape"), finiteAbove(section.shape.flangeWidthMm, 0, "The flange width of a shape"));
    case "square": {
      const { side, chamfer } = square(section);
      return 2 * Math.hypot(side / 2, side / 2 - chamfer);
    }
    case "round":
      return finiteAbove(section.diameterMm, 0, "The diameter of a pile");
  }
}

function square({ sideMm, chamferMm }: Extract<PileSection, { kind: "square" }>): { side: number; chamfer: number } {
  const side = finiteAbove(sideMm, 0, "The side of a pile");
  const chamfer = notNegative(chamferMm, "A chamfer");
  if (chamfer >= side / 2) throw new RangeError("A chamfer has to be less than half the side.");
  return { side, chamfer };
}
