import type { ReactNode } from "react";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { SequenceRow, SequenceWindow } from "./sequence-chart";
import type { TimeSpan } from "./sequence-layout";

export const SEQUENCE_COLUMNS = ["Point", "State", "Work", "Decisions", "Window of the photos", "Photos", "Waits and clocks"];

const WAIT_WORDS = { waiting: "waiting for a decision", "cure-done": "cured", "cure-left": "cure left", "cure-stopped": "cure stands still", "max-wait": "at most", "met-wait": "met", "min-wait": "at least" };

/** One row of the chart in words, with the same times. */
export function sequenceCells({ line, kind, name, state, applicable, note, bars, windows, releases, photos, early }: SequenceRow, zone: string): ReactNode[] {
  const when = (at: Instant): string => formatWhen(at, zone);
  const span = (one: TimeSpan): string => spanWords(one, zone);
  return [
    `${line} ${kind} ${name}`,
    applicable ? state : (note ?? "not applicable"),
    listed([
      ...bars.filter(({ type }) => type === "work").map(({ from, to }) => `began ${span({ from, to }).replace(" to ", ", ended ")}`),
      ...early.map(({ line: before, releasedAt }) => `began before ${before} was released, ${when(releasedAt)}`),
    ]),
    listed(releases.map((release) => `${release.kind} ${when(release.at)}`)),
    listed(windows.map((window) => windowWords(window, zone))),
    listed(photos.map(({ label, readings, uncertaintyMs, verdict }) => `${label}: ${readingWords(readings, uncertaintyMs, zone)}, ${verdict}`)),
    listed(bars.flatMap((bar) => (bar.type === "work" ? [] : [`${bar.label ?? WAIT_WORDS[bar.type]}, ${span(bar)}`]))),
  ];
}

/** "Wed 2 Dec 2026, 10:37:12 −04:00 ± 2 s", or every reading that is left. */
export function readingWords(readings: readonly Instant[], uncertaintyMs: number, zone: string): string {
  if (readings.length === 0) return "no time";
  return `${readings.map((at) => formatWhen(at, zone, { seconds: true })).join(" or ")} ± ${Math.round(uncertaintyMs / 1000)} s`;
}

function windowWords({ from, to }: SequenceWindow, zone: string): string {
  if (from === null) return to === null ? "open" : `until ${formatWhen(to, zone)}`;
  return to === null ? `from ${formatWhen(from, zone)}` : spanWords({ from, to }, zone);
}

/** "Wed 2 Dec 2026, 08:40 −04:00 to 09:35": the day and the offset are said again where they change. */
function spanWords({ from, to }: TimeSpan, zone: string): string {
  const [began, ended] = [siteTime(from, zone), siteTime(to, zone)];
  return `${formatWhen(from, zone)} to ${began.date === ended.date && began.offset === ended.offset ? ended.time : formatWhen(to, zone)}`;
}

function listed(texts: readonly string[]): ReactNode {
  const [only] = texts;
  if (only === undefined) return "none";
  return texts.length === 1 ? only : <ul>{texts.map((text, place) => <li key={place}>{text}</li>)}</ul>;
}
