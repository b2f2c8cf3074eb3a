import { itemRule } from "#lib/domain/requirement/rule";
import type { PlanLineSpec, Quantity } from "#lib/domain/requirement/set";
import { requirementWords } from "#lib/domain/requirement/words";

/** A wait, or a clock, that begins at one point and has to do with another. */
export interface Span {
  from: string;
  to: string;
  kind: "at least" | "at most";
  /** "at most 24 h", "at least 20 h at 20 °C". */
  words: string;
  /** From what to what, in words. */
  between: string;
  was: string | null;
  lane: number;
}

export interface WaitsPicture {
  /** Points in the order of the plan, evenly spaced: not to scale. */
  points: { line: string; name: string; kind: PlanLineSpec["kind"]; open: boolean; hides: string }[];
  spans: Span[];
  lanes: number;
}

/** More than these do not stand side by side in one picture. */
const MOST_POINTS = 9;

/** The points around one, what it stands on and what stands on it, with the waits and clocks that reach over it. */
export function waitsAround(lines: readonly PlanLineSpec[], before: readonly PlanLineSpec[], id: string): WaitsPicture {
  const order = lines.filter(({ notApplicable }) => !notApplicable);
  const index = (line: string): number => order.findIndex((one) => one.line === line);
  const at = index(id);
  const self = order[at];
  if (!self) return { points: [], spans: [], lanes: 0 };
  const old = new Map(before.flatMap(spansOf).map((one) => [keyOf(one), one.words]));
  const behind = order.filter(({ after }) => after.includes(id)).map(({ line }) => line);
  const near = [id, ...self.after, ...behind].filter((line) => index(line) >= 0);
  const all = order.flatMap(spansOf).filter(({ from }) => index(from) >= 0);
  const over = all.filter(({ from, to }) => index(from) <= at && at <= index(to));
  const ends = new Set([id, ...over.flatMap(({ from, to }) => [from, to])]);
  // Waits of the point come first, then what stands beside it, nearest first, then the waits that begin and end there.
  const beside = near.filter((line) => !ends.has(line)).sort((a, b) => Math.abs(index(a) - at) - Math.abs(index(b) - at));
  const chosen = new Set([...ends, ...beside].slice(0, Math.max(MOST_POINTS, ends.size)));
  const further = all.filter(({ from, to }) => behind.includes(from) || self.after.includes(to)).filter(({ from, to }) => {
    const added = [from, to].filter((line) => !chosen.has(line));
    if (chosen.size + added.length > MOST_POINTS) return false;
    for (const line of added) chosen.add(line);
    return true;
  });
  const spans = [...over, ...further.filter((one) => !over.includes(one))];
  const shown = [...chosen].sort((a, b) => index(a) - index(b));
  const drawn = spans.filter(({ from, to }) => shown.includes(from) && shown.includes(to)).map((one) => {
    const was = old.get(keyOf(one)) ?? null;
    return { ...one, was: was !== null && was !== one.words ? was : null };
  });
  const placed = inLanes(drawn, (line) => (shown.indexOf(line) + 0.5) / shown.length);
  return {
    points: shown.flatMap((line) => {
      const one = order[index(line)];
      return one ? [{ line, name: one.name, kind: one.kind, open: line === id, hides: hidesWords(order.filter(({ hiddenBy }) => hiddenBy.includes(line)).map((hidden) => hidden.line)) }] : [];
    }),
    spans: placed,
    lanes: Math.max(0, ...placed.map(({ lane }) => lane + 1)),
  };
}

function keyOf({ from, to, kind, between }: Omit<Span, "lane" | "was">): string {
  return JSON.stringify([from, to, kind, between]);
}

function spansOf({ line, waits, quantities }: PlanLineSpec): Omit<Span, "lane" | "was">[] {
  const waited = waits.map(({ kind, from, hours, until }) => ({ from, to: line, kind, words: `${kind} ${hours} h`, between: `${from} work ended to ${line} ${until}` }));
  // A wait that a quantity repeats is drawn once.
  const clocks = quantities.flatMap((one) => clockOf(line, one)).filter(({ from, kind, words }) => !waited.some((other) => other.from === from && other.kind === kind && other.words === words));
  return [...waited, ...clocks];
}

function clockOf(line: string, { rule }: Quantity): Omit<Span, "lane" | "was">[] {
  const item = itemRule(rule);
  switch (item.form) {
    case "cure":
    case "equivalent age":
      return [{ from: item.from, to: line, kind: "at least", words: `at least ${item.hours} h at ${item.referenceC} °C`, between: `${item.from} work ended to ${line}, clock` }];
    case "maturity":
      return [{ from: item.from, to: line, kind: "at least", words: `at least ${requirementWords(item)}`, between: `${item.from} work ended to ${line}, clock` }];
    case "elapsed":
      return [
        ...(item.atLeastHours === null ? [] : [{ from: item.from.line, to: line, kind: "at least" as const, words: `at least ${item.atLeastHours} h`, between: `${item.from.line} work ${item.from.event} to ${line} work ${item.to}` }]),
        ...(item.atMostHours === null ? [] : [{ from: item.from.line, to: line, kind: "at most" as const, words: `at most ${item.atMostHours} h`, between: `${item.from.line} work ${item.from.event} to ${line} work ${item.to}` }]),
      ];
    case "pot life":
      return [{ from: item.from, to: line, kind: "at most", words: "pot life", between: `${item.from} mixed to ${line} work ended` }];
    default:
      return [];
  }
}

/** Share of the picture's width that a letter takes: 7 px of some 740. */
const LETTER = 7 / 740;

/** Spans whose lines or words would lie over each other go into lanes. */
function inLanes(spans: readonly Omit<Span, "lane">[], place: (line: string) => number): Span[] {
  const ends: number[] = [];
  const extent = ({ from, to, words, was, between }: Omit<Span, "lane">): { start: number; end: number } => {
    const middle = (place(from) + place(to)) / 2;
    const half = Math.max((place(to) - place(from)) / 2, (Math.max(words.length + (was ? was.length + 6 : 0), between.length) * LETTER) / 2);
    // Words near an edge are moved inwards.
    const centre = Math.min(1 - half, Math.max(half, middle));
    return { start: Math.min(place(from), centre - half), end: Math.max(place(to), centre + half) };
  };
  return spans.map((span) => ({ span, ...extent(span) })).sort((a, b) => a.start - b.start || a.end - b.end).map(({ span, start, end }) => {
    const free = ends.findIndex((taken) => taken <= start + 1e-9);
    const lane = free < 0 ? ends.length : free;
    ends[lane] = end;
    return { ...span, lane };
  });
}

/** "4–8, 10": points in a row as a range. */
function hidesWords(lines: readonly string[]): string {
  const numbers = lines.map(Number);
  if (numbers.some(Number.isNaN)) return lines.join(", ");
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last && last[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : to === from + 1 ? `${from}, ${to}` : `${from}–${to}`)).join(", ");
}
