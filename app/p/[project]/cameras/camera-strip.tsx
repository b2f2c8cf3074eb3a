import type { ReactNode } from "react";
import type { CameraStrip, StripMark, StripRun } from "#lib/services/camera-strip";
import { percent } from "../../../_ui/sequence-axis";
import { heightScale, stripScale, type HeightScale, type StripScale } from "./strip-layout";

interface Props {
  strip: CameraStrip;
  /** The finding, which is the drawing's name. */
  finding: string;
  zone: string;
}

const PLOT = 132; // px, the height that seconds are drawn on
const TOP = 22; // px above it, for what stands over the plot
const FOOT = 24; // px under it, for the time axis
const MOST_WORDS = 2; // dropped references that are explained in the drawing; the table explains all

/** How far a camera's clock stood from the truth, over time: a stroke for each reference, the median and the drift between them. */
export function CameraStripDrawing({ strip, finding, zone }: Props) {
  const scale = stripScale(strip, zone);
  const height = heightScale(strip);
  const y = (seconds: number): number => TOP + PLOT * (1 - (Math.min(height.high, Math.max(height.low, seconds)) - height.low) / (height.high - height.low));
  return (
    <div className="strip">
      <svg className="drawing strip-side" width="60" height={TOP + PLOT + FOOT} aria-hidden="true">
        {height.lines.map((line) => <text key={line} x="54" y={y(line) + 4} textAnchor="end" className={line === 0 ? "vb" : undefined}>{secondsText(line)}</text>)}
      </svg>
      <svg className="drawing fluid" height={TOP + PLOT + FOOT} role="img" aria-label={finding}>
        <Ground scale={scale} height={height} y={y} />
        {strip.runs.map((run, i) => <Run key={run.from} run={run} before={strip.runs[i - 1]} scale={scale} y={y} />)}
        {strip.dropped.map((mark, i) => <Dropped key={`${mark.at} ${i}`} mark={mark} scale={scale} height={height} y={y} words={i < MOST_WORDS} />)}
        <Ahead strip={strip} y={y} />
        {strip.confirmedAt !== null && <Confirmed left={scale.place(strip.confirmedAt)} />}
      </svg>
    </div>
  );
}

function secondsText(seconds: number): string {
  if (seconds === 0) return "on time";
  return `${seconds > 0 ? "+" : "−"}${Math.abs(seconds)} s`;
}

type Y = (seconds: number) => number;

function Ground({ scale, height, y }: { scale: StripScale; height: HeightScale; y: Y }) {
  return (
    <>
      {height.lines.map((line) => <line key={line} className={line === 0 ? "hair strong" : "hair"} x1="0" x2="100%" y1={y(line)} y2={y(line)} />)}
      <line className="thin" x1="0" x2="100%" y1={TOP + PLOT} y2={TOP + PLOT} />
      {scale.ticks.map(({ left, text }) => (
        <g key={left}>
          <line className="thin" x1={percent(left)} x2={percent(left)} y1={TOP + PLOT} y2={TOP + PLOT + 5} />
          <text x={percent(left)} y={TOP + PLOT + 19} textAnchor={left > 0.95 ? "end" : left < 0.03 ? "start" : "middle"}>{text}</text>
        </g>
      ))}
    </>
  );
}

/** A stretch in which nobody set the clock. Before it stands, in blue, to what it was set. */
function Run({ run, before, scale, y }: { run: StripRun; before: StripRun | undefined; scale: StripScale; y: Y }) {
  const [left, right] = [scale.place(run.from), scale.place(run.to)];
  const hand = run.firm ? "thin" : "s-doubt";
  const bound = before ? (scale.place(before.to) + left) / 2 : null;
  return (
    <>
      {bound !== null && <line className="s-held dash" x1={percent(bound)} x2={percent(bound)} y1={TOP - 4} y2={TOP + PLOT} />}
      <line className={`${hand} strip-median`} x1={percent(left)} x2={percent(right)} y1={y(run.medianSeconds)} y2={y(run.medianSeconds)} />
      {run.drift && <line className={`${hand} dash`} x1={percent(left)} x2={percent(right)} y1={y(run.drift.fromSeconds)} y2={y(run.drift.toSeconds)} />}
      {run.marks.map((mark, i) => <Mark key={`${mark.at} ${i}`} mark={mark} x={percent(scale.place(mark.at))} y={y} firm={run.firm} />)}
      <text className={run.onSiteTime ? "halo" : "halo t-doubt vb"} x={percent(bound ?? left)} dx={bound === null ? 0 : 5} y={TOP - 8} textAnchor="start">
        {run.onSiteTime ? `set to ${run.zone}, as the site` : `set to ${run.zone}, not the site's`}
      </text>
    </>
  );
}

/** How far the clock was off at the end, as a dimension between the true time and the median. */
function Ahead({ strip, y }: { strip: CameraStrip; y: Y }) {
  const run = strip.runs.findLast(({ firm }) => firm);
  if (!run) return null;
  const x = percent(AHEAD_AT);
  const [zero, at] = [y(0), y(run.medianSeconds)];
  const words = ahead(run.medianSeconds);
  if (Math.abs(zero - at) < LEAST_DIMENSION) return <text className="vb halo" x={x} y={Math.min(zero, at) - 6} textAnchor="middle">{words}</text>;
  return (
    <>
      <line className="thin" x1={x} x2={x} y1={zero} y2={at} />
      <svg x={x} y={zero} overflow="visible"><use href="#g-slash" /></svg>
      <svg x={x} y={at} overflow="visible"><use href="#g-slash" /></svg>
      <text className="vb halo" x={x} dx="-8" y={(zero + at) / 2 + 4} textAnchor="end">{words}</text>
    </>
  );
}

const AHEAD_AT = 0.955; // share of the width, right of where time ends
const LEAST_DIMENSION = 26; // px; a shorter one has no room for its slashes

function ahead(seconds: number): string {
  const whole = Math.round(Math.abs(seconds));
  return whole === 0 ? "on time" : `${whole} s ${seconds > 0 ? "fast" : "slow"}`;
}

/** GPS time is a stroke, a photo of the clock page stands on a foot, a phone's own clock is a ring. */
function Mark({ mark: { restSeconds, goodToSeconds, source }, x, y, firm }: { mark: StripMark; x: string; y: Y; firm: boolean }) {
  const hand = firm ? "thin" : "s-doubt";
  const at = y(restSeconds);
  return (
    <>
      {goodToSeconds > 0 && <line className="strip-whisker" x1={x} x2={x} y1={y(restSeconds - goodToSeconds)} y2={y(restSeconds + goodToSeconds)} />}
      <svg x={x} y={at} overflow="visible">{source === "phone clock" ? <circle className={`${hand} f-sheet`} r="3.5" /> : <path className={hand} d={source === "clock page" ? "M0 -11V9M-5 9H5" : "M0 -6V6"} />}</svg>
    </>
  );
}

/** What does not count stays where it lies, struck; what lies off the paper stands at its edge with an arrow. */
function Dropped({ mark, scale, height, y, words }: { mark: CameraStrip["dropped"][number]; scale: StripScale; height: HeightScale; y: Y; words: boolean }) {
  const left = scale.place(mark.at);
  const off = mark.restSeconds > height.high ? "up" : mark.restSeconds < height.low ? "down" : null;
  const at = off === "up" ? TOP + 10 : off === "down" ? TOP + PLOT - 10 : y(mark.restSeconds);
  const right = left > 0.6;
  return (
    <svg x={percent(left)} y={at} overflow="visible" className="hand-doubt">
      <path className="s-doubt" d={off === "up" ? "M0 6V-8M-4 -4L0 -8L4 -4" : off === "down" ? "M0 -6V8M-4 4L0 8L4 4" : "M0 -6V6"} />
      <use href="#g-slash-bold" />
      {words && <text className="t-doubt halo strip-why" x={right ? -9 : 9} y="4" textAnchor={right ? "end" : "start"}>dropped: {shortWhy(mark.why)}</text>}
    </svg>
  );
}

const WHY_LETTERS = 44; // that stand in the drawing without running out of it

function shortWhy(why: string): ReactNode {
  const [first = why] = why.split(", camera less");
  return first.length > WHY_LETTERS ? `${first.slice(0, WHY_LETTERS - 1)}…` : first;
}

function Confirmed({ left }: { left: number }) {
  return (
    <>
      <line className="thin" x1={percent(left)} x2={percent(left)} y1={TOP} y2={TOP + PLOT} />
      <svg x={percent(left)} y={TOP + PLOT / 2 + 8} overflow="visible"><use href="#g-flag" /><text className="vb halo" x={left > 0.7 ? -6 : 14} y="-7" textAnchor={left > 0.7 ? "end" : "start"}>confirmed</text></svg>
    </>
  );
}
