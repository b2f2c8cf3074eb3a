import type { CSSProperties } from "react";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PointKind, PointState } from "#lib/domain/point/state";
import type { Instant } from "#lib/domain/instant";
import { KindMark, State } from "./mark";
import { SequenceAxis } from "./sequence-axis";
import { SequenceField } from "./sequence-field";
import { busySpans, siteHours, timeScale, type TimeScale, type TimeSpan } from "./sequence-layout";
import { isDrawn, isSeen, viewSpans } from "./sequence-span";
import { SEQUENCE_COLUMNS, sequenceCells } from "./sequence-table";
import { ReadAsTable } from "./table";
import "./sequence-chart.css";

export interface SequenceBar extends TimeSpan {
  type: "work" | "waiting" | "cure-done" | "cure-left" | "cure-stopped" | "max-wait" | "met-wait" | "min-wait";
  /** What the wait is for: "must be covered within 24 h"; of a cure, how far it has come. */
  label?: string;
}

export interface SequencePhoto {
  label: string;
  /** Every instant that it may have been taken at: one where that is known, none where nothing says. */
  readings: readonly Instant[];
  uncertaintyMs: number;
  verdict: OrderVerdict;
}

/** When photos of the point have to have been taken. Null: nothing has to come before, or nothing hides the work yet. */
export interface SequenceWindow {
  from: Instant | null;
  to: Instant | null;
}

export interface SequenceRow {
  line: number | string;
  kind: PointKind;
  name: string;
  state: PointState;
  applicable: boolean;
  /** Why the point does not apply. */
  note: string | null;
  bars: SequenceBar[];
  windows: SequenceWindow[];
  releases: { at: Instant; kind: "released" | "rejected" | "reopened" }[];
  photos: SequencePhoto[];
  /** Work that began before a hold point it stands on was released. */
  early: { began: Instant; line: number | string; releasedAt: Instant }[];
}

export interface SequenceBand extends TimeSpan {
  type: "night" | "tide";
  label?: string;
}

export interface SequenceMark {
  at: Instant;
  text: string;
  kind: "now" | "cover-up" | "limit";
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
  /** Draws this span alone, with room for the shapes of its photos. Without it everything that happened is drawn. */
  view?: TimeSpan;
  /** Where the name of a point leads. */
  pointHref?(line: number | string): string;
  /** The row whose detail is drawn beside the chart, and the span that the detail enlarges. */
  detail?: { line: number | string; letter: string; span: TimeSpan };
}

/**
 * Time along, points down: a sound record reads as one stair down to the right, and a step that leans back is the fault.
 * The drawing is fluid: every place along is a share of its width, so one markup serves the desk and the phone.
 */
export function SequenceChart({ rows, bands, now, coverUpAt, limits, finding, zone, view, pointHref, detail }: SequenceChartProps) {
  const scale = sequenceScale(rows, { now, coverUpAt, limits, view });
  const hours = siteHours(scale, zone);
  const time = new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  const marks: SequenceMark[] = [
    { at: now, text: `now ${time.format(now)}`, kind: "now" as const },
    ...(coverUpAt === null ? [] : [{ at: coverUpAt, text: `cover-up ${time.format(coverUpAt)}`, kind: "cover-up" as const }]),
    ...limits.map(({ at, label }) => ({ at, text: `${label} ${time.format(at)}`, kind: "limit" as const })),
  ].filter(({ at }) => isDrawn(scale, at));
  const drawn = bands.filter((band) => isSeen(scale, band));
  const timeless = rows.some(({ photos }) => photos.some(({ readings }) => readings.length === 0));
  return (
    <figure className={["sequence", view && "sequence-roomy", timeless && "sequence-timeless"].filter(Boolean).join(" ")} style={{ "--rows": rows.length } as CSSProperties}>
      <div className="sequence-picture">
        <div className="sequence-key" aria-hidden="true">
          {drawn.some(({ type }) => type === "tide") && <span className="key key-tide">water below working level</span>}
          {drawn.some(({ type }) => type === "night") && <span className="key key-night">night</span>}
        </div>
        <div className="sequence-axes">
          <SequenceAxis className="sequence-wide" {...{ scale, hours, marks }} bands={drawn} width={820} />
          <SequenceAxis className="sequence-narrow" {...{ scale, hours, marks, bands: [] }} width={360} />
        </div>
        <ol className="sequence-names" aria-label="Points">
          {rows.map((row) => <Name key={row.line} row={row} href={pointHref?.(row.line)} chosen={detail?.line === row.line} />)}
        </ol>
        <SequenceField {...{ rows, scale, marks, finding, now, detail }} bands={drawn} roomy={view !== undefined} />
        {timeless && <ol className="sequence-ends" aria-hidden="true">{rows.map(({ line, photos }) => <End key={line} count={photos.filter(({ readings }) => readings.length === 0).length} />)}</ol>}
      </div>
      <ReadAsTable caption={finding} columns={SEQUENCE_COLUMNS} rows={rows.map((row) => sequenceCells(row, zone))} />
    </figure>
  );
}

function Name({ row: { line, kind, name, state, applicable }, href, chosen }: { row: SequenceRow; href: string | undefined; chosen: boolean }) {
  return (
    <li className={[!applicable && "hand-soft", chosen && "chosen"].filter(Boolean).join(" ") || undefined}>
      <span className="number">{line}</span>
      <KindMark kind={kind} />
      <span className="name">{href ? <a href={href} aria-current={chosen ? "true" : undefined}>{name}</a> : name}</span>
      <State state={applicable ? state : "not applicable"} size={14} />
    </li>
  );
}

/** Photos that nothing says the time of stand at the end of their row: they have no place along it. */
function End({ count }: { count: number }) {
  return <li>{count > 0 && <><svg width="13" height="13"><use href="#v-no-time" /></svg>{count} no time</>}</li>;
}

/** The axis of a chart: all that happened, cut where nothing did, or what of it lies in the view. */
export function sequenceScale(rows: readonly SequenceRow[], { now, coverUpAt, limits, view }: Pick<SequenceChartProps, "now" | "coverUpAt" | "limits" | "view">): TimeScale {
  const happened = rows.flatMap(({ bars, releases, photos }) => [
    ...bars.flatMap(({ from, to }) => [from, to]),
    ...releases.map(({ at }) => at),
    ...photos.flatMap(({ readings }) => readings),
  ]);
  const instants = [...happened, now, ...(coverUpAt === null ? [] : [coverUpAt]), ...limits.map(({ at }) => at)];
  // The cure that runs now is the picture of its clock: it is drawn whole.
  const running = rows.flatMap(({ bars }) => bars.filter(({ type, from, to }) => type.startsWith("cure") && from <= now && to >= now));
  return timeScale(view ? viewSpans(instants, view, running) : busySpans(instants, running));
}
