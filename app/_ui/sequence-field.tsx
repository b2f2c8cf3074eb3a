import type { Instant } from "#lib/domain/instant";
import { MarkLine, percent } from "./sequence-axis";
import { Bar, BarLabel } from "./sequence-bar";
import type { SequenceBand, SequenceChartProps, SequenceMark, SequenceRow, SequenceWindow } from "./sequence-chart";
import { clipped, longestPart, type TimeScale } from "./sequence-layout";
import { PhotoMarks } from "./sequence-photo";
import { isDrawn, LETTER_PX, NOMINAL_WIDTH, wordPlace } from "./sequence-span";

const SIGNS = { released: "#g-flag", rejected: "#g-cross", reopened: "#g-reopened" };

interface SequenceFieldProps extends Pick<SequenceChartProps, "finding" | "now" | "detail"> {
  rows: SequenceRow[];
  scale: TimeScale;
  bands: SequenceBand[];
  marks: SequenceMark[];
  roomy: boolean;
}

/** The field of the chart, drawn from the ground up: bands, rules, windows, bars, photos, decisions, breaks, then the lines through all rows. */
export function SequenceField({ rows, scale, bands, marks, finding, now, detail, roomy }: SequenceFieldProps) {
  const bottomOf = (row: number) => percent((row + 1) / rows.length);
  const lines = marks.map(({ at }) => scale.place(at));
  return (
    <svg className="drawing fluid sequence-field" role="img" aria-label={finding}>
      {bands.map((band) => {
        const part = clipped(scale, band);
        return part && <rect key={`${band.type} ${band.from}`} className={band.type === "night" ? "f-night" : "f-tide"} x={percent(part.left)} width={percent(part.width)} y="0" height="100%" />;
      })}
      <line className="hair strong" x1="0" x2="100%" y1="0" y2="0" />
      {rows.map((row, position) => <line key={row.line} className="hair" x1="0" x2="100%" y1={bottomOf(position)} y2={bottomOf(position)} />)}
      {rows.map((row, position) => {
        const opened = openedBy(rows, position);
        return opened && isDrawn(scale, opened.at) && <line key={row.line} className="thin" x1={percent(scale.place(opened.at))} x2={percent(scale.place(opened.at))} y1={bottomOf(position)} y2={bottomOf(opened.row - 0.5)} />;
      })}
      {rows.map((row, position) => (
        <svg key={row.line} y={bottomOf(position)} className="sequence-row">
          <g className="sequence-marks">
            {row.windows.map((window) => <Window key={`${window.from} ${window.to}`} window={window} scale={scale} now={now} />)}
            {row.bars.map((bar, place) => <Bar key={place} bar={bar} scale={scale} />)}
          </g>
          {row.bars.map((bar, place) => bar.label && <BarLabel key={place} bar={bar} label={bar.label} scale={scale} lines={lines} />)}
          <PhotoMarks photos={row.photos} scale={scale} roomy={roomy} />
          {row.releases.filter(({ at }) => isDrawn(scale, at)).map(({ at, kind }) => (
            <svg key={`${kind} ${at}`} x={percent(scale.place(at))} className="sequence-row"><use className="sequence-glyph" href={SIGNS[kind]} y={kind === "rejected" ? -12 : -5} /></svg>
          ))}
          {row.bars.length === 0 && row.note && <Note words={row.note} scale={scale} />}
        </svg>
      ))}
      {rows.flatMap((row, position) => row.early.map((early) => <Lean key={`${row.line} ${early.line}`} {...{ early, scale, bottomOf, position }} released={rows.findIndex(({ line }) => line === early.line)} />))}
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
        <MarkLine key={`${mark.kind} ${mark.at} ${mark.text}`} kind={mark.kind} left={scale.place(mark.at)} from="0" to="100%" />
      ))}
      {detail && rows.some(({ line }) => line === detail.line) && <Enlarged detail={detail} scale={scale} bottom={bottomOf(rows.findIndex(({ line }) => line === detail.line))} />}
    </svg>
  );
}

/** Why nothing happens in a row, in the longest stretch between two breaks. */
function Note({ words, scale }: { words: string; scale: TimeScale }) {
  const { left, width } = longestPart(scale, { from: scale.segments[0]!.from, to: scale.segments.at(-1)!.to });
  return width * NOMINAL_WIDTH > words.length * LETTER_PX + 12 && <g transform="translate(8 0)"><text className="soft halo sequence-aside" x={percent(left)} y="-6">{words}</text></g>;
}

/** When photos of the point have to have been taken: a blue bar under the work, open at an end that nothing bounds. */
function Window({ window: { from, to }, scale, now }: { window: SequenceWindow; scale: TimeScale; now: Instant }) {
  const left = from === null ? 0 : scale.place(from);
  const right = scale.place(to ?? now);
  if (right <= left) return null;
  return (
    <>
      <rect className="sequence-window" x={percent(left)} width={percent(right - left)} y="-6" height="5" />
      {from !== null && isDrawn(scale, from) && <line className="s-held" x1={percent(left)} x2={percent(left)} y1="-8" y2="0" />}
      {to !== null && isDrawn(scale, to) && <line className="s-held" x1={percent(right)} x2={percent(right)} y1="-8" y2="0" />}
    </>
  );
}

/** The next row whose work began once this one was released: a thin line drops from the release to it. */
function openedBy(rows: SequenceRow[], position: number): { at: number; row: number } | null {
  const at = rows[position]!.releases.filter(({ kind }) => kind === "released").at(-1)?.at;
  const row = rows.findIndex((candidate, later) => later > position && candidate.applicable);
  const begins = rows[row]?.bars.find(({ type }) => type === "work" || type === "cure-done")?.from;
  return at !== undefined && begins !== undefined && begins >= at ? { at, row } : null;
}

interface LeanProps {
  early: SequenceRow["early"][number];
  scale: TimeScale;
  bottomOf(row: number): string;
  position: number;
  /** The row of the release that the work did not wait for; −1 where it is not shown. */
  released: number;
}

/** A step that leans back, in red: from the release that it did not wait for, down and back to where its work began. */
function Lean({ early: { began, line, releasedAt }, scale, bottomOf, position, released }: LeanProps) {
  const [back, at] = [scale.place(began), scale.place(releasedAt)];
  const words = `began before ${line} was released`;
  const word = wordPlace(scale, back, [], words.length * LETTER_PX, NOMINAL_WIDTH);
  return (
    <g className="hand-bad">
      {released >= 0 && released < position && <line className="s-bad" x1={percent(at)} x2={percent(at)} y1={bottomOf(released)} y2={bottomOf(position)} />}
      <svg y={bottomOf(position)} className="sequence-row">
        <line className="s-bad" x1={percent(back)} x2={percent(at)} y1="-12" y2="-12" />
        <use href="#g-arrow-left" x={percent(back)} y="-12" />
        {word?.anchor === "end" && <g transform={`translate(${word.shift} 0)`}><text className="t-bad halo sequence-aside" x={percent(word.left)} y="-6" textAnchor="end">{words}</text></g>}
      </svg>
    </g>
  );
}

/** A frame with a letter around what the detail draws at another scale. */
function Enlarged({ detail: { letter, span }, scale, bottom }: { detail: NonNullable<SequenceChartProps["detail"]>; scale: TimeScale; bottom: string }) {
  const part = clipped(scale, span);
  if (!part) return null;
  // At the left edge of the chart the letter stands inside the frame.
  const shift = part.left * NOMINAL_WIDTH > 30 ? -14 : 14;
  return (
    <svg y={bottom} className="sequence-row sequence-enlarged">
      <rect className="thin" x={percent(part.left)} width={percent(Math.max(part.width, 0.012))} y="-23" height="24" />
      <svg x={percent(part.left)} className="sequence-row">
        <g transform={`translate(${shift} -11)`}><circle className="f-sheet thin" r="9" /><text className="vb" y="4" textAnchor="middle">{letter}</text></g>
      </svg>
    </svg>
  );
}
