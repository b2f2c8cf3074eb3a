import type { Instant } from "#lib/domain/instant";

export interface TimeSpan {
  from: Instant;
  to: Instant;
}

export interface PlacedSpan extends TimeSpan {
  /** Shares of the chart's width, 0 to 1. */
  left: number;
  right: number;
}

/** A time axis on one scale, cut with a break where nothing happens for long. It is never bent. */
export interface TimeScale {
  segments: PlacedSpan[];
  breaks: { left: number; right: number }[];
  /** Width of one hour, as a share of the chart's width. */
  hour: number;
  /** Where an instant stands; before the start is 0, after the end is 1, inside a break is in the break. */
  place(at: Instant): number;
}

const HOUR = 3_600_000; // ms
const MARGIN = 1.5 * HOUR; // kept free on both sides of what happens, so that a bar does not touch a break
const LEAST_GAP = 9 * HOUR; // shorter stretches of nothing stay on the axis: a night is part of the story
const MOST_SEGMENTS = 12; // more breaks than this and the eye loses the scale
const BREAK_WIDTH = 0.011; // share of the chart's width: 9 px at 820

/**
 * The stretches of time worth drawing.
 *
 * @param instants  Where something begins, ends or is decided; at least one.
 * @param whole     Spans that must not be cut, such as the cure that is running now.
 */
export function busySpans(instants: readonly Instant[], whole: readonly TimeSpan[] = []): TimeSpan[] {
  const ordered = [...new Set([...instants, ...whole.flatMap(({ from, to }) => [from, to])])].sort((a, b) => a - b);
  for (let gap = LEAST_GAP; ; gap *= 2) {
    const spans = joined(ordered, whole, gap);
    if (spans.length <= MOST_SEGMENTS) return spans;
  }
}

function joined(ordered: readonly Instant[], whole: readonly TimeSpan[], gap: number): TimeSpan[] {
  const spans: TimeSpan[] = [];
  for (const at of ordered) {
    const last = spans.at(-1);
    const heldTogether = last !== undefined && whole.some(({ from, to }) => from < at && to > last.to - MARGIN);
    if (last !== undefined && (heldTogether || at - (last.to - MARGIN) <= gap)) last.to = at + MARGIN;
    else spans.push({ from: at - MARGIN, to: at + MARGIN });
  }
  return spans;
}

/** Lays spans side by side on one scale with a break between each two. */
export function timeScale(spans: readonly TimeSpan[]): TimeScale {
  const drawn = spans.reduce((sum, { from, to }) => sum + to - from, 0);
  const share = (1 - BREAK_WIDTH * (spans.length - 1)) / drawn;
  const segments: PlacedSpan[] = [];
  for (const { from, to } of spans) {
    const left = segments.length === 0 ? 0 : segments.at(-1)!.right + BREAK_WIDTH;
    segments.push({ from, to, left, right: left + (to - from) * share });
  }
  const breaks = segments.slice(1).map((segment, position) => ({ left: segments[position]!.right, right: segment.left }));

  function place(at: Instant): number {
    const next = segments.findIndex(({ to }) => at <= to);
    if (next === -1) return 1;
    const segment = segments[next]!;
    if (at >= segment.from) return segment.left + (at - segment.from) * share;
    const before = segments[next - 1];
    if (before === undefined) return 0;
    return before.right + ((at - before.to) / (segment.from - before.to)) * BREAK_WIDTH;
  }

  return { segments, breaks, hour: HOUR * share, place };
}

export interface SiteHour {
  at: Instant;
  left: number;
  hour: number;
  /** "Wed", "2", "Dec". */
  weekday: string;
  day: string;
  month: string;
  /** The first hour drawn after a break, or the first of all. */
  opensSegment: boolean;
}

const clocks = new Map<string, Intl.DateTimeFormat>();

function siteClock(at: Instant, zone: string): Record<string, string> {
  let clock = clocks.get(zone);
  if (!clock) {
    clock = new Intl.DateTimeFormat("en-GB", { timeZone: zone, weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
    clocks.set(zone, clock);
  }
  return Object.fromEntries(clock.formatToParts(at).map(({ type, value }) => [type, value]));
}

/** Every full hour of the site's wall clock that is drawn. Steps on instants, so a clock change skips or repeats its hour. */
export function siteHours(scale: TimeScale, zone: string): SiteHour[] {
  return scale.segments.flatMap((segment) => {
    const hours: SiteHour[] = [];
    let at = Math.ceil(segment.from / 60_000) * 60_000;
    while (at <= segment.to) {
      const { weekday = "", day = "", month = "", hour, minute } = siteClock(at, zone);
      if (Number(minute) === 0) hours.push({ at, left: scale.place(at), hour: Number(hour), weekday, day, month, opensSegment: hours.length === 0 });
      at += (60 - Number(minute)) * 60_000;
    }
    return hours;
  });
}

export interface AxisLabel {
  left: number;
  text: string;
}

/** Hour labels as dense as the width bears, at hours that divide the day. `width` in px. */
export function hourLabels(hours: readonly SiteHour[], scale: TimeScale, width: number, labelPx = 24): AxisLabel[] {
  const step = [1, 2, 3, 6, 12].find((every) => every * scale.hour * width >= labelPx + 10) ?? 12;
  const labels: AxisLabel[] = [];
  for (const { left, hour } of hours) {
    const last = labels.at(-1);
    const clear = last === undefined || (left - last.left) * width >= labelPx + 6;
    const inside = left * width >= labelPx / 2 && (1 - left) * width >= labelPx / 2;
    if (hour % step === 0 && clear && inside) labels.push({ left, text: String(hour).padStart(2, "0") });
  }
  return labels;
}

/** A day's name where it begins and after each break: long where there is room, short where not, left out before it collides. */
export function dayLabels(hours: readonly SiteHour[], width: number, letterPx = 6.6): AxisLabel[] {
  const starts = hours.filter(({ hour, opensSegment }, position) => opensSegment || hour === 0 || hours[position - 1]!.day !== hours[position]!.day);
  const labels: AxisLabel[] = [];
  let free = 0;
  starts.forEach((start, position) => {
    const next = starts[position + 1];
    const sameDay = position > 0 && starts[position - 1]!.day === start.day && starts[position - 1]!.month === start.month;
    const room = ((next === undefined ? 1 : next.left) - start.left) * width;
    const words = [`${start.weekday} ${start.day} ${start.month}`, `${start.weekday} ${start.day}`, start.day];
    const word = words.find((text) => text.length * letterPx + 6 <= room);
    if (word === undefined || sameDay || start.left * width < free) return;
    labels.push({ left: start.left, text: word });
    free = start.left * width + word.length * letterPx + 6;
  });
  return labels;
}

export interface RaisedLabel extends AxisLabel {
  anchor: "start" | "middle" | "end";
  /** 0 is nearest to the chart. */
  tier: number;
}

const ANCHOR_ORDER = { middle: 0, end: 1, start: 2 };

/**
 * Puts labels over their lines without overlap, in as few tiers as it takes; near an edge they hang inward. `width` in px.
 * A label goes above the labels whose lines it would otherwise be struck through by.
 */
export function raiseLabels(labels: readonly AxisLabel[], width: number, letterPx = 7.8): RaisedLabel[] {
  const measured = labels.map((label) => {
    const long = label.text.length * letterPx;
    const at = label.left * width;
    const anchor: RaisedLabel["anchor"] = at - long / 2 < 0 ? "start" : at + long / 2 > width ? "end" : "middle";
    const from = anchor === "start" ? at : anchor === "end" ? at - long : at - long / 2;
    return { label, at, anchor, from, to: from + long };
  });
  const struckBy = (one: (typeof measured)[number]) => measured.filter((other) => other !== one && other.at > one.from - 3 && other.at < one.to + 3);
  const inOrder = measured.sort((a, b) => struckBy(a).length - struckBy(b).length || ANCHOR_ORDER[a.anchor] - ANCHOR_ORDER[b.anchor] || (a.anchor === "start" ? b.from - a.from : a.to - b.to));
  const taken: { from: number; to: number; at: number; tier: number }[] = [];
  return inOrder.map((one) => {
    const { label, at, anchor, from, to } = one;
    let tier = Math.max(0, ...taken.filter((other) => struckBy(one).some((line) => line.at === other.at)).map((other) => other.tier + 1));
    while (taken.some((other) => other.tier === tier && from < other.to + 6 && to > other.from - 6)) tier += 1;
    taken.push({ from, to, at, tier });
    return { ...label, anchor, tier };
  });
}

/** The longest stretch of a span between breaks, and between `lines` that run through the chart, where a word about it can stand. */
export function longestPart(scale: TimeScale, { from, to }: TimeSpan, lines: readonly number[] = []): { left: number; width: number } {
  const parts = scale.segments.flatMap((segment) => {
    const [left, right] = [scale.place(Math.max(from, segment.from)), scale.place(Math.min(to, segment.to))];
    const cuts = [left, ...lines.filter((line) => line > left && line < right).sort((a, b) => a - b), right];
    return cuts.slice(1).map((end, position) => ({ left: cuts[position]!, width: end - cuts[position]! }));
  });
  return parts.reduce((longest, part) => (part.width > longest.width ? part : longest));
}

const MINUTE_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720, 1440, 2880, 10_080]; // minutes that divide a day, then whole days

/** Labels "11:35" for a short scale, as dense as the width bears. `width` in px. */
export function minuteLabels(scale: TimeScale, zone: string, width: number, labelPx = 44): AxisLabel[] {
  const step = MINUTE_STEPS.find((minutes) => (minutes / 60) * scale.hour * width >= labelPx + 10) ?? 10_080;
  const labels: AxisLabel[] = [];
  for (const segment of scale.segments) {
    const start = Math.ceil(segment.from / 60_000) * 60_000;
    const opening = siteClock(start, zone);
    const minuteOfDay = Number(opening.hour) * 60 + Number(opening.minute);
    for (let at = start + ((step - (minuteOfDay % step)) % step) * 60_000; at <= segment.to; at += step * 60_000) {
      const { hour = "", minute = "", day = "", month = "" } = siteClock(at, zone);
      const left = scale.place(at);
      const clear = labels.length === 0 || (left - labels.at(-1)!.left) * width >= labelPx + 6;
      if (!clear || left * width < labelPx / 2 || (1 - left) * width < labelPx / 2) continue;
      labels.push({ left, text: step >= 1440 ? `${day} ${month}` : `${hour}:${minute}` });
    }
  }
  return labels;
}

/** The part of a band that is drawn, as shares of the width; null when none of it is. */
export function clipped(scale: TimeScale, { from, to }: TimeSpan): { left: number; width: number } | null {
  const left = scale.place(from);
  const width = scale.place(to) - left;
  return width > 0 ? { left, width } : null;
}
