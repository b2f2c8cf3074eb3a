import { formatWhen, fromSite, siteTime } from "#lib/domain/clock/site-time";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import type { TimeSpan } from "../../../../../_ui/sequence-layout";

/** What of the sequence a reader asked to see: in the address, so that it can be kept, sent and gone back to. */
export interface AskedView {
  /** Null for the whole of it, also where what was asked for makes no sense. */
  view: TimeSpan | null;
  /** The point whose photos are drawn in detail. */
  point: string | null;
  problems: { field: "from" | "to" | "point"; message: string }[];
}

export type AskedFor = Partial<Record<string, string | string[]>>;

interface Known {
  zone: string;
  lines: readonly { line: string }[];
  /** From the first to the last that is on record. */
  whole: TimeSpan;
}

const DAY = 24 * HOUR;
const LEAST = 15 * MINUTE; // shorter than the uncertainty of most photos there is nothing to see
const FAR = 366 * DAY; // beyond the record by more than this, a date is a slip of the keyboard

/** Reads `from`, `to` and `point`. Each problem is a sentence that says what to give instead. */
export function askedView(asked: AskedFor, { zone, lines, whole }: Known): AskedView {
  const [from, to] = [readEdge(textOf(asked.from), "from", zone), readEdge(textOf(asked.to), "to", zone)];
  const named = textOf(asked.point);
  const problems: AskedView["problems"] = [from, to].flatMap((edge) => (edge.problem === null ? [] : [{ field: edge.field, message: edge.problem }]));
  if (named !== null && !lines.some(({ line }) => line === named)) problems.push({ field: "point", message: "This pile has no such point. Choose one from the list." });
  const point = named !== null && lines.some(({ line }) => line === named) ? named : null;
  if (from.problem !== null || to.problem !== null || (from.at === null && to.at === null)) return { view: null, point, problems };

  const view = { from: from.at ?? whole.from, to: to.at ?? whole.to };
  const fault = faultOf(view, whole, zone);
  return fault ? { view: null, point, problems: [...problems, fault] } : { view, point, problems };
}

function textOf(value: string | string[] | undefined): string | null {
  const text = (Array.isArray(value) ? value[0] : value)?.trim();
  return text ? text : null;
}

function faultOf(view: TimeSpan, whole: TimeSpan, zone: string): AskedView["problems"][number] | null {
  if (view.to <= view.from) return { field: "to", message: "The end lies before the beginning. Give a later end." };
  if (view.to - view.from < LEAST) return { field: "to", message: "The time shown is shorter than 15 minutes. Give a later end." };
  const far = view.from < whole.from - FAR ? "from" : view.to > whole.to + FAR ? "to" : null;
  return far && { field: far, message: `The record of this pile runs from ${formatWhen(whole.from, zone)} to ${formatWhen(whole.to, zone)}. Give a time near it.` };
}

interface Edge {
  field: "from" | "to";
  at: Instant | null;
  problem: string | null;
}

const WITH_OFFSET = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2})?)(Z|[+-]\d{2}:\d{2})$/;

/** A date means its whole day. A time that the clocks show twice means the earlier one at the beginning and the later one at the end. */
function readEdge(text: string | null, field: Edge["field"], zone: string): Edge {
  const words = field === "from" ? "beginning" : "end";
  if (text === null) return { field, at: null, problem: null };
  const [, local, offset] = WITH_OFFSET.exec(text) ?? [];
  if (local !== undefined && offset !== undefined) {
    const sound = fromSite(local, "UTC").problem === null;
    const at = sound ? Date.parse(text) : Number.NaN;
    return Number.isFinite(at) ? { field, at, problem: null } : { field, at: null, problem: `The ${words} is not a time. Give a date and a time, such as 2026-12-02T09:00.` };
  }
  const day = /^\d{4}-\d{2}-\d{2}$/.test(text);
  const { instants, problem } = fromSite(day ? `${text}T00:00` : text, zone);
  const at = field === "from" ? instants[0] : instants.at(-1);
  if (problem === "nonexistent" && !day) return { field, at: null, problem: `The ${words} is a time that the clocks on site jump over. Give another.` };
  if (at === undefined) return { field, at: null, problem: `The ${words} is not a time. Give a date and a time, such as 2026-12-02T09:00.` };
  return { field, at: day && field === "to" ? dayAfter(text, zone) : at, problem: null };
}

/** Midnight after a day of the site's calendar; where the clocks jump over it, the first moment there is. */
function dayAfter(date: string, zone: string): Instant {
  const next = new Date(Date.parse(`${date}T00:00:00Z`) + DAY).toISOString().slice(0, 10);
  return dayStart(next, zone);
}

function dayStart(date: string, zone: string): Instant {
  return fromSite(`${date}T00:00`, zone).instants[0] ?? fromSite(`${date}T01:00`, zone).instants[0] ?? Date.parse(`${date}T00:00:00Z`);
}

/** The day on site that an instant lies in. */
export function dayAround(at: Instant, zone: string): TimeSpan {
  const { date } = siteTime(at, zone);
  return { from: dayStart(date, zone), to: dayAfter(date, zone) };
}

/** Half of what is shown, within it and about an instant, or about its middle where the instant lies outside; null where it cannot be shown closer. */
export function closer({ from, to }: TimeSpan, about: Instant | null = null): TimeSpan | null {
  const half = (to - from) / 2;
  if (half < LEAST) return null;
  const middle = about !== null && about >= from && about <= to ? about : from + half;
  const start = Math.min(Math.max(middle - half / 2, from), to - half);
  return minutes({ from: start, to: start + half });
}

/** Twice of what is shown; null where that is the whole. */
export function wider({ from, to }: TimeSpan, whole: TimeSpan): TimeSpan | null {
  const half = (to - from) / 2;
  const view = minutes({ from: from - half, to: to + half });
  return view.from <= whole.from && view.to >= whole.to ? null : view;
}

/** Half of what is shown earlier (−1) or later (+1); null where nothing is on record there. */
export function moved({ from, to }: TimeSpan, direction: -1 | 1, whole: TimeSpan): TimeSpan | null {
  const by = (direction * (to - from)) / 2;
  const view = minutes({ from: from + by, to: to + by });
  return direction < 0 ? (view.to < whole.from ? null : view) : view.from > whole.to ? null : view;
}

/** To the minute, outwards: what the address can say. */
export function minutes({ from, to }: TimeSpan): TimeSpan {
  return { from: Math.floor(from / MINUTE) * MINUTE, to: Math.ceil(to / MINUTE) * MINUTE };
}

/** The address of a view. Times carry their offset, so that an hour which the clocks repeat stays the one that was meant. */
export function viewQuery({ view, point }: { view: TimeSpan | null; point: string | null }, zone: string): string {
  const iso = (at: Instant): string => {
    const { date, time, offset } = siteTime(at, zone);
    return `${date}T${time}${offset}`;
  };
  const asked = [...(view ? [["from", iso(view.from)], ["to", iso(view.to)]] : []), ...(point === null ? [] : [["point", point]])];
  return asked.length > 0 ? `?${new URLSearchParams(asked).toString()}` : "";
}

/** As a date-and-time field writes it. */
export function fieldTime(at: Instant, zone: string): string {
  const { date, time } = siteTime(at, zone);
  return `${date}T${time}`;
}
