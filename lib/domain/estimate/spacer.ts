import { finiteAbove } from "#lib/domain/estimate/amount";

/** Two sizes closer than this share of them are the same size, as in comparisons of measured values. */
const SAME_SHARE = 1e-9;

interface Annulus {
  /** Inside diameter of the jacket, mm, more than zero. */
  insideDiameterMm: number;
  /** Widest measure across the pile, mm, more than zero. */
  widestMm: number;
}

/**
 * Clearance between jacket and pile at the pile's widest point, mm, the pile standing in the middle; negative when the jacket does not go round it.
 * @throws RangeError for a size that is not more than zero.
 */
export function clearanceMm({ insideDiameterMm, widestMm }: Annulus): number {
  return (finiteAbove(insideDiameterMm, 0, "The inside diameter of a jacket") - finiteAbove(widestMm, 0, "The width of a pile")) / 2;
}

export interface SpacerFit {
  fits: boolean;
  /** What is left between spacer and jacket, mm; negative: by so much the spacer is too big. */
  playMm: number;
  /** Cover at the corner with the pile in the middle, mm. */
  centredMm: number;
  /** Cover at a corner that has moved out until its spacer touches, mm; null when the spacer does not fit. */
  leastMm: number | null;
}

/**
 * Whether a spacer goes into the gap at the pile's widest point, with what play, and the cover it keeps there. Faces have more cover, and say
 * nothing about the corner.
 * @param sizeMm  Depth of the spacer from pile to jacket, mm, more than zero.
 * @throws RangeError for a size that is not more than zero.
 */
export function spacerFits({ sizeMm, ...annulus }: Annulus & { sizeMm: number }): SpacerFit {
  const spacer = finiteAbove(sizeMm, 0, "A spacer");
  const centredMm = clearanceMm(annulus);
  const playMm = centredMm - spacer;
  const fits = playMm >= -spacer * SAME_SHARE;
  return { fits, playMm, centredMm, leastMm: fits ? Math.min(spacer, centredMm) : null };
}

export type CornerCover = "meets" | "meets only in the middle" | "fails" | "cannot tell";

/**
 * A minimum cover, held against the corner: it meets when even a pile that has moved out to its spacer keeps it, and only in the middle when
 * the play of the spacer can use it up.
 * @param coverMinMm  mm, more than zero.
 * @returns "cannot tell" when the spacer does not fit: then nothing holds the pile where it was drawn.
 * @throws RangeError for a minimum that is not more than zero.
 */
export function cornerCover({ centredMm, leastMm }: SpacerFit, coverMinMm: number): CornerCover {
  const enough = finiteAbove(coverMinMm, 0, "A minimum cover") * (1 - SAME_SHARE);
  if (centredMm < enough) return "fails";
  if (leastMm === null) return "cannot tell";
  return leastMm >= enough ? "meets" : "meets only in the middle";
}
