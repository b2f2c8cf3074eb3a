import { deltaE00, inLight } from "#lib/domain/photo/colour";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import { cellsOf, type MixCell, type MixCells, type MixPixels, placeOf, SIDE_CELLS } from "#lib/domain/photo/mix-cell";
import { fieldAtEdge, groupsOf, isPatch, maybeStirrer } from "#lib/domain/photo/mix-shape";
import { median, mixSurface, quantile, type MixSurface } from "#lib/domain/photo/mix-surface";
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
/** Glare over more of the circle than this, or longer than this part of its diameter, may be a white streak. Chosen here, no source. */
const MOST_GLARE = { share: 0.05, across: 0.4 } as const;
/** Where more of the mix is as bright in a colour as the picture can say, streaks are lost in it. Chosen here, no source. */
const MOST_CLIPPED = 0.1;
/** Under this lightness (L*, 0–100) a difference shrinks with the light: of ΔE 12 on a mix of L* 66 some 5 are left. Chosen here, no source. */
const LEAST_LIGHTNESS = 35;
/** Cells that hang together; fewer are grain, a bubble or a grain of sand. Chosen here, no source. */
const LEAST_TOGETHER = 4;
/** Where this share of the judged cells differs by itself, in no streak, the picture is too grainy. Chosen here, no source. */
const MOST_SCATTERED = 0.04;
/** Where cells beside each other differ by more than this part of the limit even in the calmest part of the circle, the picture is too grainy. Chosen here, no source. */
const [MOST_GRAIN, CALM_SHARE] = [0.25, 0.1];
/** What is only lighter or darker, as a ridge, a reflection or a shadow is, has to differ by so many times the limit. Chosen here, no source. */
const LIGHT_TIMES = 2.5;
/** Cells from glare within which what is lighter belongs to the glare. Chosen here, no source. */
const HALO_CELLS = 3;
/** Streaks have to pass the limit this far inside too, 0–1: what differs near the edge may be the wall of the bucket. Chosen here, no source. */
const INNER = 0.75;
/** A share or a difference between this part of its limit and the limit is near enough to both. Chosen here, no source. */
const NEAR = { share: 0.5, deltaE: 0.8 } as const;

/** A cell and how it differs from the mix around it. */
interface OffCell extends MixCell {
  readonly deltaE: number;
  /** Lighter, with no more colour than the same mix has in more light. */
  readonly paler: boolean;
  /** In its colour it differs by less than the limit. */
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

  const { judged, measured } = heldAgainst(mixSurface(cells.judged), cells, limits.streakDeltaE);
  const { together, scattered } = streaksPast(measured, limits.streakDeltaE);
  const found = figures(judged, together);
  const limit = limits.streakSharePct / 100;
  const cannotTell = (reason: string): StreakFinding => ({ verdict: "cannot tell", reason, ...found });

  const rough = tooRough(judged, scattered, limits.streakDeltaE);
  if (rough !== null) return cannotTell(rough);
  const share = together.length / judged.length;
  if (share <= limit * NEAR.share) {
    const nearly = streaksPast(measured, limits.streakDeltaE * NEAR.deltaE).together;
    const hidden = nearly.length > judged.length * limit ? `${percent(nearly.length / judged.length)} differ by ΔE ${round(limits.streakDeltaE * NEAR.deltaE)} and more, close to the limit of ${limits.streakDeltaE}` : mayBeHidden(pixels, cells);
    return hidden === null ? { verdict: "uniform", reason: "", ...found } : cannotTell(hidden);
  }
  if (share <= limit) return cannotTell(`${percent(share)} differ, close to the limit of ${limits.streakSharePct} %`);

  const other = somethingElse(together, judged.filter(({ radius }) => radius < INNER).length * limit, limits.streakDeltaE);
  return other === null ? { verdict: "streaks", reason: "", ...found } : cannotTell(other);
}

/** The finding where the picture itself cannot be read. */
export function unreadMix(): StreakFinding {
  return { verdict: "cannot tell", reason: "the picture cannot be read", sharePct: 0, contrastDeltaE: 0, cells: marksOf([], []) };
}

/** What the cells that differ may be instead of streaks; null where more than `enough` of them are streaks all the same. */
function somethingElse(together: readonly OffCell[], enough: number, limit: number): string | null {
  const field = new Set<MixCell>(fieldAtEdge(together));
  const inner = together.filter(({ radius }) => radius < INNER);
  // First by itself, then cut off from the wall that it may lean on.
  const stirrer = new Set<MixCell>(stirrerIn(inner) ?? stirrerIn(inner.filter((cell) => !field.has(cell))));
  const lines = inner.filter((cell) => !field.has(cell) && !stirrer.has(cell));
  const gloss = new Set<MixCell>(groupsOf(lines).filter((group) => group.every(({ paler }) => paler) && isPatch(group)).flat());
  const sure = lines.filter((cell) => !gloss.has(cell));
  if (sure.filter(({ lightOnly, deltaE }) => !lightOnly || deltaE > limit * LIGHT_TIMES).length > enough) return null;
  if (sure.length > enough) return `what differs does so in lightness alone, by ΔE ${round(median(sure.map(({ deltaE }) => deltaE)))}, as ridges, reflections and shadows do`;
  if (stirrer.size > 0) return "what differs comes in straight over the edge, as a stirrer does: mark the mix beside it";
  if (field.size > enough) return "a wide part at the edge of the circle has another colour: mark the mix alone; if that is mix too, it is not mixed";
  if (gloss.size > 0) return "what differs is a paler patch, as a reflection is: mark the mix beside it, or take it from another side";
  return "what differs lies along the edge of the circle: mark the mix alone, without the wall of the bucket";
}

/** The cells past a difference that hang together, and how many do not. */
function streaksPast(measured: readonly OffCell[], deltaE: number): { together: OffCell[]; scattered: number } {
  const off = measured.filter((cell) => cell.deltaE > deltaE);
  const together = groupsOf(off).filter((group) => group.length >= LEAST_TOGETHER).flat();
  return { together, scattered: off.length - together.length };
}

/** Why the picture is too rough for cells to be compared; null where it is not. */
function tooRough(judged: readonly MixCell[], scattered: number, limit: number): string | null {
  const single = scattered / judged.length;
  if (single > MOST_SCATTERED) return `${percent(single)} of the cells differ one by one, as grain and bubbles do; at most ${percent(MOST_SCATTERED)} may`;
  // Between streaks lies some calm mix, in grain none does.
  const at = new Map(judged.map((cell) => [placeOf(cell), cell]));
  const beside = judged.flatMap((cell) => [at.get(placeOf(cell) + 1), at.get(placeOf(cell) + SIDE_CELLS)].flatMap((next) => (next === undefined ? [] : [deltaE00(cell.lab, next.lab)])));
  const calm = quantile(beside, CALM_SHARE);
  return calm > limit * MOST_GRAIN ? `the picture is too grainy: even in its calmest tenth parts beside each other differ by ΔE ${round(calm)}; at most ${round(limit * MOST_GRAIN)} may be` : null;
}

/** A bucket has one stirrer: of several things that look like one the largest is taken for it, and the others are streaks. */
function stirrerIn(cells: readonly OffCell[]): OffCell[] | undefined {
  return groupsOf(cells).sort((one, other) => other.length - one.length).find((group) => maybeStirrer(group, INNER));
}

/** Why there is too little to judge; null where there is enough. */
function tooLittle({ sourcePx }: MixPixels, { inside, judged }: MixCells): string | null {
  if (sourcePx < LEAST_PX) return `the marked circle is ${Math.round(sourcePx)} px wide; at least ${LEAST_PX} are wanted`;
  if (judged.length >= inside * LEAST_JUDGED) return null;
  return `${percent(judged.length / inside)} of the circle can be judged, the rest is glare, shadow or outside the picture; at least ${percent(LEAST_JUDGED)} are wanted`;
}

/** Why streaks may be there although none were found; null where they would be seen. */
function mayBeHidden({ smear }: MixPixels, { inside, judged, glare }: MixCells): string | null {
  const lightness = median(judged.map(({ lab }) => lab.l));
  if (lightness < LEAST_LIGHTNESS) return `the mix is too dark in the picture: lightness ${Math.round(lightness)} of 100; at least ${LEAST_LIGHTNESS} is wanted`;
  const clipped = judged.filter((cell) => cell.clipped).length / judged.length;
  if (clipped > MOST_CLIPPED) return `${percent(clipped)} of the mix is as bright in a colour as the picture can say, at most ${percent(MOST_CLIPPED)} may be: take it with less light`;
  const across = Math.max(0, ...groupsOf(glare).map(extent)) / SIDE_CELLS;
  if (glare.length > inside * MOST_GLARE.share || across > MOST_GLARE.across) return `${percent(glare.length / inside)} of the circle is white as glare is, up to ${percent(across)} of it across: a white streak would look the same`;
  if (smear === null) return "nothing in the picture shows whether it is sharp: take one with the wall of the bucket in it";
  return smear <= MOST_SMEAR ? null : `the picture is blurred: its sharpest edges are smeared over ${percent(smear)} of the circle; at most ${percent(MOST_SMEAR)} may be`;
}

/** Cells that a group is long, across or down. */
function extent(group: readonly Pick<MixCell, "column" | "row">[]): number {
  const span = (values: readonly number[]): number => Math.max(...values) - Math.min(...values) + 1;
  return Math.max(span(group.map(({ column }) => column)), span(group.map(({ row }) => row)));
}

/** Every cell with how it differs from the surface, without the halo of the glare. */
function heldAgainst(around: MixSurface, { judged, glare }: MixCells, limit: number): { judged: MixCell[]; measured: OffCell[] } {
  const all = judged.map((cell): OffCell => {
    const mix = around(cell);
    const [lighter, fuller] = [cell.lab.l > mix.l, chroma(cell.lab) > chroma(inLight(mix, cell.lab.l)) + 1];
    return { ...cell, deltaE: deltaE00(cell.lab, mix), paler: lighter && !fuller, lightOnly: deltaE00(cell.lab, inLight(mix, cell.lab.l)) <= limit };
  });
  const halo = haloOf(new Set(all.flatMap((cell) => (cell.paler && cell.deltaE > limit ? [placeOf(cell)] : []))), glare);
  const measured = all.filter((cell) => !halo.has(placeOf(cell)));
  return { judged: measured, measured };
}

const chroma = ({ a, b }: MixCell["lab"]): number => Math.hypot(a, b);

/** What is lighter and hangs together with glare, a few cells far. */
function haloOf(lighter: ReadonlySet<number>, glare: MixCells["glare"]): Set<number> {
  const halo = new Set<number>();
  let front = glare.map(placeOf);
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
