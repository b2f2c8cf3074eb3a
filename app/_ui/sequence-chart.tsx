import type { CSSProperties } from "react";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PointKind, PointState } from "#lib/domain/point/state";
import type { Instant } from "#lib/domain/instant";
import { KindMark, State } from "./mark";
import { SequenceAxis } from "./sequence-axis";
import { SequenceField } from "./sequence-field";
import { busySpans, siteHours, timeScale, type TimeSpan } from "./sequence-layout";
import { ReadAsTable } from "./table";

export interface SequenceBar extends TimeSpan {
  type: "work" | "waiting" | "cure-done" | "cure-left" | "max-wait";
  /** What the wait is for: "must be covered within 24 h". */
  label?: string;
}

export interface SequenceRow {
  line: number | string;
  kind: PointKind;
  name: string;
  state: PointState;
  applicable: boolean;
  bars: SequenceBar[];
  releases: { at: Instant; kind: "released" | "rejected" | "reopened" }[];
  photos: { at: Instant; uncertaintyMs: number; verdict: OrderVerdict; label: string }[];
}

export interface SequenceBand extends TimeSpan {
  type: "night" | "tide";
  label?: string;
}

export interface SequenceChartProps {
  /** In plan order. */
  rows: SequenceRow[];
  bands: SequenceBand[];
  now: Instant;
  coverUpAt: Instant | null;
  /** Latest and earliest times, said before the time: "strip from", "preparation expires". */
  limits: { at: Instant; label: string }[];
  /** The finding as a sentence: what the picture shows, not what its axes are. */
  finding: string;
  /** The site's IANA zone. */
  zone: string;
  formatTime(at: Instant): string;
}

/**
 * Time along, points down: a sound record reads as one stair down to the right, and a step that leans back is the fault.
 * The drawing is fluid: every place along is a share of its width, so one markup serves the desk and the phone.
 */
export function SequenceChart({ rows, bands, now, coverUpAt, limits, finding, zone, formatTime }: SequenceChartProps) {
  const scale = timeScale(busySpans(instantsOf(rows, now, coverUpAt, limits), runningCures(rows, now)));
  const hours = siteHours(scale, zone);
  const time = new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  const marks = [
    { at: now, text: `now ${time.format(now)}`, kind: "now" as const },
    ...(coverUpAt === null ? [] : [{ at: coverUpAt, text: `cover-up ${time.format(coverUpAt)}`, kind: "cover-up" as const }]),
    ...limits.map(({ at, label }) => ({ at, text: `${label} ${time.format(at)}`, kind: "limit" as const })),
  ];
  return (
    <figure className="sequence" style={{ "--rows": rows.length } as CSSProperties}>
      <div className="sequence-picture" role="img" aria-label={finding}>
        <div className="sequence-key" aria-hidden="true">
          {bands.some(({ type }) => type === "tide") && <span className="key key-tide">water below working level</span>}
          {bands.some(({ type }) => type === "night") && <span className="key key-night">night</span>}
        </div>
        <SequenceAxis className="sequence-wide" {...{ scale, hours, marks, bands }} width={820} />
        <SequenceAxis className="sequence-narrow" {...{ scale, hours, marks, bands: [] }} width={360} />
        <ol className="sequence-names" aria-hidden="true">
          {rows.map((row) => (
            <li key={row.line} className={row.applicable ? undefined : "hand-soft"}>
              <span className="number">{row.line}</span>
              <KindMark kind={row.kind} />
              <span className="name">{row.name}</span>
              <State state={row.applicable ? row.state : "not applicable"} size={14} />
            </li>
          ))}
        </ol>
        <SequenceField {...{ rows, scale, bands, marks }} />
      </div>
      <ReadAsTable
        caption={finding}
        columns={["Point", "State", "Work", "Waits and clocks", "Decisions", "Photos"]}
        rows={rows.map((row) => tableRow(row, formatTime))}
      />
    </figure>
  );
}

export interface SequenceMark {
  at: Instant;
  text: string;
  kind: "now" | "cover-up" | "limit";
}

function instantsOf(rows: SequenceRow[], now: Instant, coverUpAt: Instant | null, limits: { at: Instant }[]): Instant[] {
  const happened = rows.flatMap(({ bars, releases, photos }) => [
    ...bars.flatMap(({ from, to }) => [from, to]),
    ...releases.map(({ at }) => at),
    ...photos.map(({ at }) => at),
  ]);
  return [...happened, now, ...(coverUpAt === null ? [] : [coverUpAt]), ...limits.map(({ at }) => at)];
}

/** The cure that runs now is the picture of its clock: it is drawn whole. */
function runningCures(rows: SequenceRow[], now: Instant): TimeSpan[] {
  return rows.flatMap(({ bars }) => bars.filter(({ type, from, to }) => type.startsWith("cure") && from <= now && to >= now));
}

const WAIT_WORDS = { waiting: "waiting", "cure-done": "cured", "cure-left": "cure left", "max-wait": "at most" };

function tableRow({ line, kind, name, state, applicable, bars, releases, photos }: SequenceRow, formatTime: (at: Instant) => string) {
  const span = ({ from, to }: TimeSpan) => `${formatTime(from)} to ${formatTime(to)}`;
  const listed = (texts: string[]) => (texts.length === 0 ? "none" : texts.join("; "));
  return [
    `${line} ${kind} ${name}`,
    applicable ? state : "not applicable",
    listed(bars.filter(({ type }) => type === "work").map(span)),
    listed(bars.flatMap((bar) => (bar.type === "work" ? [] : [`${bar.label ?? WAIT_WORDS[bar.type]} ${span(bar)}`]))),
    listed(releases.map((release) => `${release.kind} ${formatTime(release.at)}`)),
    listed(photos.map((photo) => `${photo.label} ${formatTime(photo.at)} ± ${Math.round(photo.uncertaintyMs / 1000)} s, ${photo.verdict}`)),
  ];
}
