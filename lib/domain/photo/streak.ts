import { deltaE00, inLight } from "#lib/domain/photo/colour";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { cellsOf, type MixCell, type MixCells, type MixPixels, placeOf, SIDE_CELLS } from "#lib/domain/photo/mix-cell";
import { fieldAtEdge, groupsOf, maybeStirrer } from "#lib/domain/photo/mix-shape";
import { median, mixSurface, type MixSurface } from "#lib/domain/photo/mix-surface";
import type { StreakVerdict } from "#lib/domain/photo/verdict";

/** A circle of the upright picture: its middle in shares of width and height, its radius in shares of the shorter side. */
export interface MixArea {
  readonly x: number;
  readonly y: number;
  readonly r: number;
}

export interface StreakFinding {
  readonly verdict: StreakVerdict;
  /** Why it cannot be told, with what was measured; empty otherwise. */
  readonly reason: string;
  /** Share of the judged cells that hang together as streaks, per cent, 0–100. */
  readonly sharePct: number;
  /** How much they differ from the mix around them in the median, CIEDE2000; 0 without any. */
  readonly contrastDeltaE: number;
  /** One letter a cell, row by row: "u" like the rest, "s" differs, "x" left out (outside the circle, rim, glare, shadow). */
  readonly cells: { readonly side: number; readonly marks: string };
}

/** Fewer judged cells than this share of the circle say too little. Chosen here, no source. */
const LEAST_JUDGED = 0.5;
/** Fewer pixels than this across the circle: a cell would have less than three, and JPEG blocks would be streaks. Chosen here, no source. */
const LEAST_PX = 100;
/** Edges smeared by more than a cell hide streaks as wide as one. Share of the circle's diameter; chosen here, no source. */
const MOST_SMEAR = 1 / SIDE_CELLS;
/** Cells that hang together; fewer are grain, a bubble or a grain of sand. Chosen here, no source. */
const LEAST_TOGETHER = 4;
/** Where this share of the judged cells differs by itself, in no streak, the picture is too grainy. Chosen here, no source. */
const MOST_SCATTERED = 0.04;
/** What is only lighter or darker, as a ridge, a reflection or a shadow is, has to differ by so many times the limit. Chosen here, no source. */
const LIGHT_TIMES = 2.5;
/** Cells from glare within which what is lighter belongs to the glare. Chosen here, no source. */
const HALO_CELLS = 3;
/** Streaks have to pass the limit this far inside too, 0–1: what differs near the edge may be the wall of the bucket. Chosen here, no source. */
const INNER = 0.75;
/** A share between this part of the limit and the limit is near enough to both. Chosen here, no source. */
const NEAR = 0.5;

/** A cell that differs: in colour, or in lightness alone. */
interface OffCell extends MixCell {
  readonly deltaE: number;
  readonly lightOnly: boolean;
}

/**
 * Whether a mix has one colour. Each cell inside the circle is held against the mix around it: a smooth surface through the
 * lightness and colour of all cells, so that a shaded bucket is no streak. Cells that differ by more than the limit and hang
 * together are streaks. It is an aid: the person who looks decides.
 *
 * @param limits streakDeltaE, CIEDE2000 from which a cell differs; streakSharePct, per cent of the judged cells.
 * @returns *streaks* past the share, *uniform* well under it. *Cannot tell* in between, where too little can be judged, and where
 * what differs may be something else: the wall of the bucket, a stirrer, a reflection, grain.
 * @source Colour difference: CIE 142-2001 (CIEDE2000) on CIELAB of D65. The method of telling streaks was chosen here, no source.
 */
export function streakFinding(pixels: MixPixels, limits: Pick<PhotoLimits, "streakDeltaE" | "streakSharePct">): StreakFinding {
  const cells = cellsOf(pixels);
  const nothing: Figures = { sharePct: 0, contrastDeltaE: 0, cells: marksOf(cells.judged, []) };
  const short = tooLittle(pixels, cells);
  if (short !== null) return { verdict: "cannot tell", reason: short, ...nothing };

  const { judged, off } = heldAgainst(mixSurface(cells.judged), cells, limits.streakDeltaE);
  const groups = groupsOf(off).filter((group) => group.length >= LEAST_TOGETHER);
  const together = groups.flat();
  const found = figures(judged, together);
  const limit = limits.streakSharePct / 100;
  const cannotTell = (reason: string): StreakFinding => ({ verdict: "cannot tell", reason, ...found });

  const scattered = (off.length - together.length) / judged.length;
  if (scattered > MOST_SCATTERED) return cannotTell(`${percent(scattered)} of the cells differ one by one: the picture is too grainy; at most ${percent(MOST_SCATTERED)} may`);
  const share = together.length / judged.length;
  if (share <= limit * NEAR) {
    const blurred = tooBlurred(pixels.smear);
    return blurred === null ? { verdict: "uniform", reason: "", ...found } : cannotTell(blurred);
  }
  if (share <= limit) return cannotTell(`${percent(share)} differ, close to the limit of ${limits.streakSharePct} %`);

  const field = new Set(fieldAtEdge(together).map(placeOf));
  const inside = (cell: MixCell): boolean => cell.radius < INNER && !field.has(placeOf(cell));
  const enough = judged.filter(inside).length * limit;
  const shapes = groupsOf(together.filter(inside));
  const sure = shapes.filter((group) => !maybeStirrer(group, INNER)).flat();
  const strong = sure.filter(({ lightOnly, deltaE }) => !lightOnly || deltaE > limits.streakDeltaE * LIGHT_TIMES);
  if (strong.length > enough) return { verdict: "streaks", reason: "", ...found };
  if (sure.length > enough) return cannotTell(`what differs does so in lightness alone, by ΔE ${round(median(sure.map(({ deltaE }) => deltaE)))}, as ridges, reflections and shadows do`);
  if (field.size > judged.length * limit) return cannotTell("another field lies at the edge of the circle: mark the mix alone; if that is mix too, it is not mixed");
  if (shapes.some((group) => maybeStirrer(group, INNER))) return cannotTell("what differs comes in straight over the edge, as a stirrer does: mark the mix beside it");
  return cannotTell("what differs lies along the edge of the circle: mark the mix alone, without the wall of the bucket");
}

/** Why there is too little to judge; null where there is enough. */
function tooLittle({ sourcePx }: MixPixels, { inside, judged }: MixCells): string | null {
  if (sourcePx < LEAST_PX) return `the marked circle is ${Math.round(sourcePx)} px wide; at least ${LEAST_PX} are wanted`;
  if (judged.length >= inside * LEAST_JUDGED) return null;
  return `${percent(judged.length / inside)} of the circle can be judged, the rest is glare, shadow or outside the picture; at least ${percent(LEAST_JUDGED)} are wanted`;
}

/** Why a picture without streaks may have hidden them; null where it is sharp. */
function tooBlurred(smear: number | null): string | null {
  if (smear === null) return "nothing in the picture shows whether it is sharp: take one with the wall of the bucket in it";
  return smear <= MOST_SMEAR ? null : `the picture is blurred: its sharpest edges are smeared over ${percent(smear)} of the circle; at most ${percent(MOST_SMEAR)} may be`;
}

/** The cells that differ from the surface, without the halo of the glare, and those that are judged then. */
function heldAgainst(around: MixSurface, { judged, glare }: MixCells, limit: number): { judged: MixCell[]; off: OffCell[] } {
  const measured = judged.map((cell) => {
    const mix = around(cell);
    const deltaE = deltaE00(cell.lab, mix);
    return { cell, deltaE, lighter: cell.lab.l > mix.l, lightOnly: deltaE > limit && deltaE00(cell.lab, inLight(mix, cell.lab.l)) <= limit };
  });
  const halo = haloOf(new Set(measured.flatMap(({ cell, deltaE, lighter }) => (lighter && deltaE > limit ? [placeOf(cell)] : []))), glare);
  const left = measured.filter(({ cell }) => !halo.has(placeOf(cell)));
  return {
    judged: left.map(({ cell }) => cell),
    off: left.flatMap(({ cell, deltaE, lightOnly }) => (deltaE > limit ? [{ ...cell, deltaE, lightOnly }] : [])),
  };
}

/** What is lighter and hangs together with glare, a few cells far. */
function haloOf(lighter: ReadonlySet<number>, glare: ReadonlySet<number>): Set<number> {
  const halo = new Set<number>();
  let front = [...glare];
  for (let step = 0; step < HALO_CELLS; step += 1) {
    front = front.flatMap((place) => [-1, 0, 1].flatMap((down) => [-1, 0, 1].map((across) => place + down * SIDE_CELLS + across))).filter((place) => lighter.has(place) && !halo.has(place));
    front.forEach((place) => halo.add(place));
  }
  return halo;
}

type Figures = Pick<StreakFinding, "sharePct" | "contrastDeltaE" | "cells">;

function figures(judged: readonly MixCell[], streaks: readonly OffCell[]): Figures {
  return { sharePct: round((100 * streaks.length) / judged.length), contrastDeltaE: round(median(streaks.map(({ deltaE }) => deltaE))), cells: marksOf(judged, streaks) };
}

function marksOf(judged: readonly MixCell[], streaks: readonly MixCell[]): StreakFinding["cells"] {
  const marks = new Map([...judged.map((cell) => [placeOf(cell), "u"] as const), ...streaks.map((cell) => [placeOf(cell), "s"] as const)]);
  return { side: SIDE_CELLS, marks: Array.from({ length: SIDE_CELLS ** 2 }, (_, place) => marks.get(place) ?? "x").join("") };
}

const round = (value: number): number => Math.round(value * 10) / 10;
const percent = (share: number): string => `${Math.round(share * 1000) / 10} %`;
