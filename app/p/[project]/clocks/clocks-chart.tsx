import type { ReactNode } from "react";
import type { Instant } from "#lib/domain/instant";
import type { ClockRow, ClocksView } from "#lib/services/clocks-view";
import { KindMark } from "../../../_ui/mark";
import { percent } from "../../../_ui/sequence-axis";
import { clipped } from "../../../_ui/sequence-layout";
import { ReadAsTable } from "../../../_ui/table";
import { pointHref } from "../point/point-href";
import { BottomAxis, clocksScale, TopAxis, type ClocksScale } from "./clocks-axis";

interface Props {
  project: string;
  view: ClocksView;
  zone: string;
  now: Instant;
  formatTime(at: Instant): string;
}

/** Every clock on one axis: what it has run in ink, what is left in blue, a latest time as a line that ends double. */
export function ClocksChart({ project, view, zone, now, formatTime }: Props) {
  const axis = clocksScale(view.span, now, view.tide, zone);
  return (
    <figure className="clocks">
      <div className="clocks-head">
        <span className="letter">pile, point</span>
        <TopAxis axis={axis} nowWords={`now ${view.nowWords}`} />
      </div>
      <ol className="clocks-rows">
        {view.rows.map((row) => (
          <li key={`${row.sheet} ${row.line} ${row.clock} ${row.since}`}>
            <a className="clocks-row" href={pointHref(project, row.mark, row.line)}>
              <span className="clocks-name">
                <b className="mark">{row.mark}</b>
                <b className="number">{row.line}</b>
                <KindMark kind={row.kind} />
                <span>{row.what}<small>{row.clock}</small></span>
              </span>
              <span className={`clocks-words hand-${handOf(row)}`}>{row.words}</span>
              <ClockBar row={row} axis={axis} />
            </a>
          </li>
        ))}
      </ol>
      <div className="clocks-foot">
        {view.tide.length > 0 && <span className="key key-tide">water below working level</span>}
        <div><BottomAxis axis={axis} size="wide" /><BottomAxis axis={axis} size="narrow" /></div>
      </div>
      <ReadAsTable
        caption={view.finding}
        columns={["Pile, point", "Clock", "Since", "Ends", "What it says"]}
        rows={view.rows.map((row): ReactNode[] => [
          `${row.mark} ${row.line} ${row.name}`, row.clock, formatTime(row.since), row.until === null ? "cannot tell" : `${row.bound} ${formatTime(row.until)}`, row.words,
        ])}
      />
    </figure>
  );
}

function handOf({ state }: ClockRow): "held" | "doubt" | "bad" {
  return state === "runs" ? "held" : state === "stopped" ? "doubt" : "bad";
}

/** The bar of one clock. It stands at the middle of its field, whatever height a screen gives it. */
function ClockBar({ row, axis }: { row: ClockRow; axis: ClocksScale }) {
  const { scale, windows, now } = axis;
  const at = (instant: Instant) => percent(scale.place(instant));
  return (
    <svg className="drawing fluid clocks-field" aria-hidden="true">
      {windows.map((window) => {
        const part = clipped(scale, window)!;
        return <rect key={window.from} className="f-tide" x={percent(part.left)} width={percent(part.width)} y="0" height="100%" />;
      })}
      <svg y="50%" overflow="visible">
        {row.clock === "cure" || row.clock === "maturity" || row.clock === "equivalent age" ? <CureBar row={row} axis={axis} /> : <WaitLine row={row} axis={axis} />}
      </svg>
      <line className="thick" x1={at(now)} x2={at(now)} y1="0" y2="100%" />
      <svg y="50%" overflow="visible"><BarWords row={row} axis={axis} /></svg>
    </svg>
  );
}

function CureBar({ row, axis: { scale, now } }: { row: ClockRow; axis: ClocksScale }) {
  const done = clipped(scale, { from: row.since, to: now });
  const left = row.until === null ? null : clipped(scale, { from: now, to: row.until });
  return (
    <>
      {done && <rect className="f-ink" x={percent(done.left)} width={percent(done.width)} y="-5" height="10" />}
      {row.stopped.map((span) => {
        const part = clipped(scale, span);
        return part && (
          <g key={span.from}>
            <rect className="f-sheet" x={percent(part.left)} width={percent(part.width)} y="-5" height="10" />
            <rect className="s-doubt clocks-stopped" x={percent(part.left)} width={percent(part.width)} y="-5" height="10" />
          </g>
        );
      })}
      {left && <rect className="s-held cure-left" x={percent(left.left)} width={percent(left.width)} y="-5" height="10" />}
      {row.until !== null && <line className="s-held" x1={percent(scale.place(row.until))} x2={percent(scale.place(row.until))} y1="-12" y2="12" />}
    </>
  );
}

function WaitLine({ row, axis: { scale } }: { row: ClockRow; axis: ClocksScale }) {
  const part = row.until === null ? null : clipped(scale, { from: row.since, to: row.until });
  if (!part || row.until === null) return null;
  const [start, end] = [percent(part.left), percent(part.left + part.width)];
  return (
    <g className={row.state === "cannot be met" ? "hand-bad" : "hand-held"}>
      <line className={row.state === "cannot be met" ? "s-bad" : "s-held"} x1={start} x2={end} y1="0" y2="0" />
      {part.left > 0 && <use href="#g-slash" x={start} y="0" />}
      <use href="#g-slash" x={end} y="0" />
      {row.bound === "latest" && <use href="#g-double-end" x={end} y="0" />}
    </g>
  );
}

/** The end in words: after it while there is room, else before it, above the bar. */
function BarWords({ row, axis: { scale, now } }: { row: ClockRow; axis: ClocksScale }) {
  const end = Math.max(scale.place(row.until ?? now), row.state === "runs" ? 0 : scale.place(now));
  const after = end < 0.62;
  return (
    <g className="clocks-aside" transform={after ? "translate(12 4)" : "translate(-8 -9)"}>
      <text className={`t-${handOf(row)} halo num`} x={percent(end)} y="0" textAnchor={after ? "start" : "end"}>{row.words}</text>
    </g>
  );
}
