import { SIDE_CELLS, type MixCell, placeOf } from "#lib/domain/photo/mix-cell";

/** Cells that touch by side or corner. */
export function groupsOf<Cell extends Pick<MixCell, "column" | "row">>(cells: readonly Cell[]): Cell[][] {
  const left = new Map(cells.map((cell) => [placeOf(cell), cell]));
  const groups: Cell[][] = [];
  for (const start of cells) {
    if (!left.delete(placeOf(start))) continue;
    const group = [start];
    for (const { column, row } of group) {
      for (const [across, down] of AROUND) {
        const next = left.get(placeOf({ column: column + across, row: row + down }));
        if (next === undefined || Math.abs(next.column - column) > 1) continue;
        left.delete(placeOf(next));
        group.push(next);
      }
    }
    groups.push(group);
  }
  return groups;
}

const AROUND = [-1, 0, 1].flatMap((down) => [-1, 0, 1].map((across) => [across, down] as const));

/** A stick's half width, and the reach of the blade at its end, as shares of the circle's diameter. Chosen here on drawn stirrers, no source. */
const STICK = { halfWidth: 0.09, blade: 0.24, share: 0.94, least: 0.2 } as const;
/** A stick comes in within this angle of the radius: what lies along the wall is no stick. Chosen here, no source. */
const COMES_IN_WITHIN_DEGREES = 55;
/** So near to the edge a cell lies at it, as a share of the radius: two cells. */
const AT_EDGE = 0.13;
/** Where the field has to reach to be one at the edge, 0–1. */
const EDGE = 0.8;
const DIRECTIONS = Array.from({ length: 36 }, (_, i) => (i * Math.PI) / 36);

/**
 * Whether a group of cells may be a stirrer: one straight thing that comes in from outside a part of the circle, with no more
 * than a blade at its end. A single straight streak that runs to the wall has the same shape, and nothing here tells the two apart.
 *
 * @param within The part of the circle that the group was cut out of, 0–1 of its radius.
 */
export function maybeStirrer(group: readonly MixCell[], within: number): boolean {
  const edge = group.filter(({ radius }) => radius > within - AT_EDGE);
  if (edge.length === 0) return false;
  return DIRECTIONS.some((angle) => edgeEntries(edge, angle).some((entry) => explainedByStick(group, entry, angle)));
}

interface Point {
  readonly x: number;
  readonly y: number;
}

const pointOf = ({ column, row }: MixCell): Point => ({ x: (column + 0.5) / SIDE_CELLS - 0.5, y: (row + 0.5) / SIDE_CELLS - 0.5 });

/** Where a stick in a direction could come in: the middles of the edge cells that lie side by side across it. */
function edgeEntries(edge: readonly MixCell[], angle: number): Point[] {
  return edge.map(pointOf).filter(({ x, y }) => {
    const along = Math.abs(x * Math.cos(angle) + y * Math.sin(angle)) / Math.hypot(x, y);
    return along >= Math.cos((COMES_IN_WITHIN_DEGREES * Math.PI) / 180);
  });
}

function explainedByStick(group: readonly MixCell[], entry: Point, angle: number): boolean {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const placed = group.map((cell) => {
    const { x, y } = pointOf(cell);
    return { x, y, along: (x - entry.x) * cos + (y - entry.y) * sin, across: Math.abs((y - entry.y) * cos - (x - entry.x) * sin) };
  });
  const stick = placed.filter(({ across }) => across <= STICK.halfWidth);
  const alongs = stick.map(({ along }) => along);
  const [from, to] = [Math.min(...alongs), Math.max(...alongs)];
  if (to - from < STICK.least) return false;
  // The end that lies farther inside carries the blade.
  const ends = [from, to].map((along) => ({ x: entry.x + along * cos, y: entry.y + along * sin }));
  const [one, other] = ends as [Point, Point];
  const end = Math.hypot(one.x, one.y) < Math.hypot(other.x, other.y) ? one : other;
  const explained = placed.filter(({ x, y, across }) => across <= STICK.halfWidth || Math.hypot(x - end.x, y - end.y) <= STICK.blade);
  return explained.length >= placed.length * STICK.share;
}

/** A field is wider than this many cells; streaks are narrower. An odd number; chosen here, no source. */
const FIELD_CELLS = 5;

/**
 * The cells that belong to another field at the edge of the circle: wide, and reaching the edge, as where the circle lies over
 * the wall of the bucket. The part of a mix that is not mixed at all looks the same.
 */
export function fieldAtEdge<Cell extends MixCell>(off: readonly Cell[]): Cell[] {
  const reach = (FIELD_CELLS - 1) / 2;
  const differs = new Map(off.map((cell) => [placeOf(cell), cell]));
  // What lies outside the circle belongs to a field that reaches it.
  const within = (column: number, row: number): boolean => differs.has(placeOf({ column, row })) || Math.hypot(column + 0.5 - SIDE_CELLS / 2, row + 0.5 - SIDE_CELLS / 2) > (SIDE_CELLS / 2) * EDGE_OF_GRID;
  const hearts = off.filter(({ column, row }) => square(reach).every(([across, down]) => within(column + across, row + down)));
  // Grown back, and by a cell more: its border is a mixture of both colours.
  const grown = (group: readonly Cell[]): Cell[] => [...new Set(group.flatMap(({ column, row }) => square(reach + 1).flatMap(([across, down]) => {
    const cell = differs.get(placeOf({ column: column + across, row: row + down }));
    return cell !== undefined && Math.abs(cell.column - column) <= reach + 1 ? [cell] : [];
  })))];
  return groupsOf(hearts).filter((group) => group.some(({ radius }) => radius > EDGE)).flatMap(grown);
}

const EDGE_OF_GRID = 0.94;
const square = (reach: number): (readonly [number, number])[] => {
  const steps = Array.from({ length: 2 * reach + 1 }, (_, i) => i - reach);
  return steps.flatMap((down) => steps.map((across) => [across, down] as const));
};
