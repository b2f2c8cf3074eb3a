import { JUDGED_WITHIN, SIDE_CELLS, type MixCell, placeOf } from "#lib/domain/photo/mix-cell";

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

/**
 * A stick's half width, how far its middle may stray from a straight line, its least length and the reach of the blade at its end,
 * as shares of the circle's diameter; and the share of the group that stick and blade have to make up. Chosen here on drawn stirrers, no source.
 */
const STICK = { halfWidth: 0.09, strays: 0.08, least: 0.2, blade: 0.24, share: 0.94 } as const;
/** Seen from the middle, two ends of what runs through the circle lie further apart than this. Chosen here, no source. */
const THROUGH_DEGREES = 140;
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
  // What runs from edge to edge has no blade.
  const through = edge.some((one) => edge.some((other) => angleBetween(pointOf(one), pointOf(other)) > THROUGH_DEGREES));
  return DIRECTIONS.some((angle) => edgeEntries(edge, angle).some((entry) => explainedByStick(group, entry, angle, through)));
}

interface Point {
  readonly x: number;
  readonly y: number;
}

const pointOf = ({ column, row }: MixCell): Point => ({ x: (column + 0.5) / SIDE_CELLS - 0.5, y: (row + 0.5) / SIDE_CELLS - 0.5 });

function angleBetween(one: Point, other: Point): number {
  const cos = (one.x * other.x + one.y * other.y) / (Math.hypot(one.x, one.y) * Math.hypot(other.x, other.y));
  return (Math.acos(Math.max(-1, Math.min(1, cos))) * 180) / Math.PI;
}

/** Where a stick in a direction could come in: the cells at the edge from which it runs inwards and not along the wall. */
function edgeEntries(edge: readonly MixCell[], angle: number): Point[] {
  return edge.map(pointOf).filter(({ x, y }) => {
    const along = Math.abs(x * Math.cos(angle) + y * Math.sin(angle)) / Math.hypot(x, y);
    return along >= Math.cos((COMES_IN_WITHIN_DEGREES * Math.PI) / 180);
  });
}

function explainedByStick(group: readonly MixCell[], entry: Point, angle: number, through: boolean): boolean {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const placed = group.map((cell) => {
    const { x, y } = pointOf(cell);
    return { x, y, along: (x - entry.x) * cos + (y - entry.y) * sin, across: (y - entry.y) * cos - (x - entry.x) * sin };
  });
  const stick = placed.filter(({ across }) => Math.abs(across) <= STICK.halfWidth);
  const alongs = stick.map(({ along }) => along);
  const [from, to] = [Math.min(...alongs), Math.max(...alongs)];
  if (to - from < STICK.least) return false;
  // The blade sits at the end that lies farther inside; how far the stick reaches into it is not known.
  const [near, far] = Math.hypot(entry.x + from * cos, entry.y + from * sin) > Math.hypot(entry.x + to * cos, entry.y + to * sin) ? [from, to] : [to, from];
  const back = Math.sign(near - far) * STICK.blade;
  return [0, 0.5, 1].some((part) => {
    const [x, y] = [entry.x + (far + part * back) * cos, entry.y + (far + part * back) * sin];
    const inBlade = (cell: Point): boolean => !through && Math.hypot(cell.x - x, cell.y - y) <= STICK.blade;
    const explained = placed.filter((cell) => Math.abs(cell.across) <= STICK.halfWidth || inBlade(cell));
    return explained.length >= placed.length * STICK.share && strays(stick.filter((cell) => !inBlade(cell))) <= STICK.strays;
  });
}

/** How far the middle of a stick wanders across its direction, cell by cell along it. */
function strays(stick: readonly { along: number; across: number }[]): number {
  const rows = new Map<number, number[]>();
  for (const { along, across } of stick) {
    const row = Math.round(along * SIDE_CELLS);
    rows.set(row, [...(rows.get(row) ?? []), across]);
  }
  const middles = [...rows.values()].map((row) => row.reduce((sum, across) => sum + across, 0) / row.length);
  return middles.length === 0 ? 0 : Math.max(...middles) - Math.min(...middles);
}

/** How round a patch is at least: breadth by length, and its cells by those of an ellipse of its spread. Chosen here on drawn reflections, no source. */
const PATCH = { breadth: 0.35, filled: 0.75 } as const;

/** Whether a group of cells is one compact patch, as the reflection of a lamp or a window is, and no line. */
export function isPatch(group: readonly MixCell[]): boolean {
  const points = group.map(pointOf);
  const mean = (of: (point: Point) => number): number => points.reduce((sum, point) => sum + of(point), 0) / points.length;
  const [x, y] = [mean((point) => point.x), mean((point) => point.y)];
  // A single cell has a spread of its own, a twelfth of its side squared.
  const own = 1 / (12 * SIDE_CELLS ** 2);
  const [xx, yy, xy] = [mean((point) => (point.x - x) ** 2) + own, mean((point) => (point.y - y) ** 2) + own, mean((point) => (point.x - x) * (point.y - y))];
  const root = Math.hypot((xx - yy) / 2, xy);
  const [long, short] = [(xx + yy) / 2 + root, (xx + yy) / 2 - root];
  const area = points.length / SIDE_CELLS ** 2;
  return Math.sqrt(short / long) >= PATCH.breadth && area >= 4 * Math.PI * Math.sqrt(short * long) * PATCH.filled;
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
  const within = (column: number, row: number): boolean => differs.has(placeOf({ column, row })) || Math.hypot(column + 0.5 - SIDE_CELLS / 2, row + 0.5 - SIDE_CELLS / 2) > (SIDE_CELLS / 2) * JUDGED_WITHIN;
  const hearts = off.filter(({ column, row }) => square(reach).every(([across, down]) => within(column + across, row + down)));
  // Grown back, and by a cell more: its border is a mixture of both colours.
  const grown = (group: readonly Cell[]): Cell[] => [...new Set(group.flatMap(({ column, row }) => square(reach + 1).flatMap(([across, down]) => {
    const cell = differs.get(placeOf({ column: column + across, row: row + down }));
    return cell !== undefined && Math.abs(cell.column - column) <= reach + 1 ? [cell] : [];
  })))];
  return groupsOf(hearts).filter((group) => group.some(({ radius }) => radius > EDGE)).flatMap(grown);
}

const square = (reach: number): (readonly [number, number])[] => {
  const steps = Array.from({ length: 2 * reach + 1 }, (_, i) => i - reach);
  return steps.flatMap((down) => steps.map((across) => [across, down] as const));
};
