import { orderMark } from "./mark";
import { MarkLine, percent } from "./sequence-axis";
import type { SequenceBand, SequenceBar, SequenceMark, SequenceRow } from "./sequence-chart";
import { clipped, longestPart, type TimeScale } from "./sequence-layout";

const LEAST_WIDTH = 0.0025; // share of the width: what happened in no time still leaves a stroke
const LEAST_WHISKER = 0.004; // below this an uncertainty is not to be seen at this scale
const NOMINAL_WIDTH = 820; // px, the chart on a desk
const LETTER_PX = 6.2; // mean width of a letter at 12 px
const SIGNS = { released: "#g-flag", rejected: "#g-cross", reopened: "#g-reopened" };

/** The field of the chart, drawn from the ground up: bands, rules, bars, ticks, decisions, breaks, then the lines through all rows. */
export function SequenceField({ rows, scale, bands, marks }: { rows: SequenceRow[]; scale: TimeScale; bands: SequenceBand[]; marks: SequenceMark[] }) {
  const bottomOf = (row: number) => percent((row + 1) / rows.length);
  return (
    <svg className="drawing fluid sequence-field" aria-hidden="true">
      {bands.map((band) => {
        const part = clipped(scale, band);
        return part && <rect key={`${band.type} ${band.from}`} className={band.type === "night" ? "f-night" : "f-tide"} x={percent(part.left)} width={percent(part.width)} y="0" height="100%" />;
      })}
      <line className="hair strong" x1="0" x2="100%" y1="0" y2="0" />
      {rows.map((row, position) => <line key={row.line} className="hair" x1="0" x2="100%" y1={bottomOf(position)} y2={bottomOf(position)} />)}
      {rows.map((row, position) => {
        const opened = openedBy(rows, position);
        return opened && <line key={row.line} className="thin" x1={percent(scale.place(opened.at))} x2={percent(scale.place(opened.at))} y1={bottomOf(position)} y2={bottomOf(opened.row - 0.5)} />;
      })}
      {rows.map((row, position) => (
        <svg key={row.line} y={bottomOf(position)} className="sequence-row">
          <g className="sequence-marks">
            {row.bars.map((bar, place) => <Bar key={place} bar={bar} scale={scale} />)}
            {row.photos.map((photo, n) => <PhotoTick key={n} photo={photo} scale={scale} />)}
            {row.releases.map(({ at, kind }) => <use key={`${kind} ${at}`} href={SIGNS[kind]} x={percent(scale.place(at))} y={kind === "rejected" ? -10 : -4} />)}
          </g>
          {row.bars.map((bar, place) => bar.label && <BarLabel key={place} bar={bar} label={bar.label} scale={scale} />)}
        </svg>
      ))}
      {scale.breaks.map(({ left, right }) => (
        <g key={left}>
          <rect className="f-sheet" x={percent(left)} width={percent(right - left)} y="-1" height="101%" />
          <line className="hair" x1={percent(left)} x2={percent(left)} y1="0" y2="100%" />
          <line className="hair" x1={percent(right)} x2={percent(right)} y1="0" y2="100%" />
          <use className="sequence-break" href="#g-time-break" x={percent(left)} y="50%" />
          <use className="sequence-break" href="#g-time-break" x={percent(right)} y="50%" />
        </g>
      ))}
      {["limit", "cover-up", "now"].flatMap((kind) => marks.filter((mark) => mark.kind === kind)).map((mark) => (
        <MarkLine key={`${mark.kind} ${mark.at}`} kind={mark.kind} left={scale.place(mark.at)} from="0" to="100%" />
      ))}
    </svg>
  );
}

/** The next row whose work began once this one was released: a thin line drops from the release to it. */
function openedBy(rows: SequenceRow[], position: number): { at: number; row: number } | null {
  const at = rows[position]!.releases.filter(({ kind }) => kind === "released").at(-1)?.at;
  const row = rows.findIndex((candidate, later) => later > position && candidate.applicable);
  const begins = rows[row]?.bars[0]?.from;
  return at !== undefined && begins !== undefined && begins >= at ? { at, row } : null;
}

function Bar({ bar, scale }: { bar: SequenceBar; scale: TimeScale }) {
  const left = scale.place(bar.from);
  const width = percent(Math.max(scale.place(bar.to) - left, LEAST_WIDTH));
  const x = percent(left);
  switch (bar.type) {
    case "work":
      return <rect className="f-ink" x={x} width={width} y="-14" height="8" />;
    case "waiting":
      return <rect className="thin waiting" x={x} width={width} y="-13.5" height="7" />;
    case "cure-done":
      return <><rect className="s-held" x={x} width={width} y="-14" height="9" /><rect className="f-ink" x={x} width={width} y="-12" height="5" /></>;
    case "cure-left":
      return <rect className="s-held cure-left" x={x} width={width} y="-14" height="9" />;
    case "max-wait":
      return (
        <g className="hand-held">
          <line className="s-held" x1={x} x2={percent(scale.place(bar.to))} y1="-10" y2="-10" />
          <use href="#g-slash" x={x} y="-10" />
          <use href="#g-double-end" x={percent(scale.place(bar.to))} y="-10" />
        </g>
      );
  }
}

/**
 * A maximum wait carries its word on its line; a bar carries it after its end, or before its start, clear of ink and flag.
 * Where there is no room the word is left to the table.
 */
function BarLabel({ bar, label, scale }: { bar: SequenceBar; label: string; scale: TimeScale }) {
  const long = label.length * LETTER_PX;
  if (bar.type === "max-wait") {
    const part = longestPart(scale, bar);
    return part.width * NOMINAL_WIDTH > long && <text className="t-held halo sequence-aside" x={percent(part.left + part.width / 2)} y="-6" textAnchor="middle">{label}</text>;
  }
  const segment = scale.segments.find(({ from, to }) => bar.to >= from && bar.to <= to);
  const [start, end] = [scale.place(bar.from), scale.place(bar.to)];
  if (segment && (segment.right - end) * NOMINAL_WIDTH > long + 20) {
    return <g transform="translate(18 0)"><text className="t-held halo sequence-aside" x={percent(end)} y="-6">{label}</text></g>;
  }
  const before = scale.segments.find(({ from, to }) => bar.from >= from && bar.from <= to);
  return before && (start - before.left) * NOMINAL_WIDTH > long + 6
    ? <g transform="translate(-5 0)"><text className="t-held halo sequence-aside" x={percent(start)} y="-6" textAnchor="end">{label}</text></g>
    : null;
}

function PhotoTick({ photo, scale }: { photo: SequenceRow["photos"][number]; scale: TimeScale }) {
  const [early, late] = [scale.place(photo.at - photo.uncertaintyMs), scale.place(photo.at + photo.uncertaintyMs)];
  const x = percent(scale.place(photo.at));
  return (
    <g className={`tick hand-${orderMark(photo.verdict).hand}`}>
      <line x1={x} x2={x} y1="-5" y2="-1" />
      {late - early > LEAST_WHISKER && <line x1={percent(early)} x2={percent(late)} y1="-3" y2="-3" />}
    </g>
  );
}
