import type { Instant } from "#lib/domain/instant";
import type { SequenceRowView, SequenceView } from "#lib/services/sequence-view";
import type { TimeSpan } from "../../../../../_ui/sequence-layout";
import { minutes } from "./asked-view";

/** What was done, as against what is waited for. */
const DONE: ReadonlySet<SequenceRowView["bars"][number]["type"]> = new Set(["work", "waiting", "cure-done", "cure-left", "cure-stopped"]);

function instantsOf({ bars, releases, photos }: SequenceRowView): Instant[] {
  return [...bars.filter(({ type }) => DONE.has(type)).flatMap(({ from, to }) => [from, to]), ...releases.map(({ at }) => at), ...photos.flatMap(({ readings }) => readings)];
}

/** From the first to the last that is on record or awaited. */
export function wholeOf({ rows, limits, coverUpAt }: SequenceView, now: Instant): TimeSpan {
  const instants = [...rows.flatMap(instantsOf), ...limits.map(({ at }) => at), now, ...(coverUpAt === null ? [] : [coverUpAt])];
  return minutes({ from: Math.min(...instants), to: Math.max(...instants) });
}

/** Whether anything was done, decided or photographed at a point in a span of time. */
export function happensIn(row: SequenceRowView, view: TimeSpan): boolean {
  const inside = (at: Instant): boolean => at >= view.from && at <= view.to;
  return row.bars.some(({ type, from, to }) => DONE.has(type) && from <= view.to && to >= view.from)
    || row.releases.some(({ at }) => inside(at)) || row.photos.some(({ readings }) => readings.some(inside));
}

const EDGE = 0.08; // of a point's own time, kept free on both sides of it

/** The time of one point: its work, its decisions, its photos. Null where nothing happened at it. */
export function spanOf(row: SequenceRowView): TimeSpan | null {
  const instants = instantsOf(row);
  if (instants.length === 0) return null;
  const [from, to] = [Math.min(...instants), Math.max(...instants)];
  const edge = Math.max((to - from) * EDGE, 15 * 60_000);
  return minutes({ from: from - edge, to: to + edge });
}

/** The point to look at where none was asked for: the first whose photos are not all in order, else the last with photos. */
export function firstToLookAt(rows: readonly SequenceRowView[]): SequenceRowView | undefined {
  return rows.find(({ photos }) => photos.some(({ verdict }) => verdict !== "in order")) ?? rows.findLast(({ photos }) => photos.length > 0);
}

/** The finding in few words: the steps that lean back, and the photos that were taken outside their window. */
export function leadOf(rows: readonly SequenceRowView[]): string {
  const leaning = rows.filter(({ early }) => early.length > 0).map(({ line }) => line);
  const stair = leaning.length === 0 ? "No step leans back" : leaning.length === 1 ? `Point ${leaning[0]} leans back` : `Points ${leaning.join(", ")} lean back`;
  const outside = (["too early", "too late"] as const).flatMap((verdict) => {
    const count = rows.flatMap(({ photos }) => photos).filter((photo) => photo.verdict === verdict).length;
    return count === 0 ? [] : [`${count} ${count === 1 ? "photo" : "photos"} ${verdict}`];
  });
  return [stair, ...outside].join(", ");
}

/** The photos in words: how many lie in order, and of how many it cannot be said. */
export function noteOf(rows: readonly SequenceRowView[]): string {
  const verdicts = rows.flatMap(({ photos }) => photos.map(({ verdict }) => verdict));
  if (verdicts.length === 0) return "no photo yet";
  const others = [...new Set(verdicts)].filter((one) => one !== "in order" && one !== "too early" && one !== "too late").map((one) => `${verdicts.filter((other) => other === one).length} ${one}`);
  return [`${verdicts.filter((one) => one === "in order").length} of ${verdicts.length} photos in order`, ...others].join(", ");
}
