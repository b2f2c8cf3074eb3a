import { percent } from "./sequence-axis";
import type { SequenceBar } from "./sequence-chart";
import { longestPart, type TimeScale } from "./sequence-layout";
import { isDrawn, isSeen, LETTER_PX, NOMINAL_WIDTH } from "./sequence-span";

const LEAST_WIDTH = 0.0025; // share of the width: what happened in no time still leaves a stroke

/** Work in ink, waiting for a decision hatched, cures in blue filled with ink, waits as dimension lines. */
export function Bar({ bar, scale }: { bar: SequenceBar; scale: TimeScale }) {
  if (!isSeen(scale, bar)) return null;
  const left = scale.place(bar.from);
  const width = percent(Math.max(scale.place(bar.to) - left, LEAST_WIDTH));
  const [x, end] = [percent(left), percent(scale.place(bar.to))];
  switch (bar.type) {
    case "work":
      return <rect className="f-ink" x={x} width={width} y="-16" height="8" />;
    case "waiting":
      return <rect className="thin waiting" x={x} width={width} y="-15.5" height="7" />;
    case "cure-done":
      return <><rect className="s-held" x={x} width={width} y="-16" height="9" /><rect className="f-ink" x={x} width={width} y="-14" height="5" /></>;
    case "cure-left":
      return <rect className="s-held cure-left" x={x} width={width} y="-16" height="9" />;
    case "cure-stopped":
      return <rect className="s-doubt cure-stopped" x={x} width={width} y="-16" height="9" />;
    case "max-wait":
    case "met-wait":
    case "min-wait":
      return (
        <g className="hand-held">
          <line className={bar.type === "min-wait" ? "s-held dash" : "s-held"} x1={x} x2={end} y1="-11" y2="-11" />
          {isDrawn(scale, bar.from) && <use href="#g-slash" x={x} y="-11" />}
          {isDrawn(scale, bar.to) && <use href={bar.type === "max-wait" ? "#g-double-end" : "#g-slash"} x={end} y="-11" />}
        </g>
      );
  }
}

/**
 * A wait carries its word on its line; a bar carries it after its end, or before its start, clear of ink and flag.
 * Where there is no room the word is left to the table. `lines` are the shares of the width that a line runs down through.
 */
export function BarLabel({ bar, label, scale, lines }: { bar: SequenceBar; label: string; scale: TimeScale; lines: readonly number[] }) {
  const long = label.length * LETTER_PX;
  if (bar.type.endsWith("wait")) {
    const part = longestPart(scale, bar, lines);
    return part.width * NOMINAL_WIDTH > long + 40 && <text className="t-held halo sequence-aside" x={percent(part.left + part.width / 2)} y="-7" textAnchor="middle">{label}</text>;
  }
  const segment = scale.segments.find(({ from, to }) => bar.to >= from && bar.to <= to);
  const [start, end] = [scale.place(bar.from), scale.place(bar.to)];
  if (segment && bar.type !== "cure-done" && (segment.right - end) * NOMINAL_WIDTH > long + 20) {
    return <g transform="translate(18 0)"><text className="t-held halo sequence-aside" x={percent(end)} y="-8">{label}</text></g>;
  }
  const before = scale.segments.find(({ from, to }) => bar.from >= from && bar.from <= to);
  const free = before && start - Math.max(before.left, ...lines.filter((line) => line < start));
  return free && free * NOMINAL_WIDTH > long + 6
    ? <g transform="translate(-5 0)"><text className="vb halo sequence-aside" x={percent(start)} y="-8" textAnchor="end">{label}</text></g>
    : null;
}
