import type { CSSProperties, ReactNode } from "react";
import type { Instant } from "#lib/domain/instant";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import { FlagTriangle, orderMark } from "./mark";
import { percent } from "./sequence-axis";
import { minuteLabels, type TimeScale } from "./sequence-layout";
import { isDrawn } from "./sequence-span";
import { windowScale } from "./sequence-window";
import { ReadAsTable } from "./table";
import "./sequence-chart.css";

export interface WindowPhoto {
  /** What the photo shows: "N face". */
  label: string;
  /** The derived instant; null where the photo has none. */
  at: Instant | null;
  /** Every instant that it may have been taken at, where more than one is left. */
  readings?: readonly Instant[];
  uncertaintyMs: number;
  verdict: OrderVerdict;
  /** The flag to answer, if one stands against this photo. */
  flag?: number;
  /** What the camera said, where a correction moved it. */
  cameraAt?: Instant;
  /** Where the photo is shown. */
  href?: string;
}

export interface PhotoWindowDetailProps {
  /** The detail's letter, as at the chart it enlarges. */
  letter?: string;
  title: string;
  note?: string;
  /** The instant the window opens and what opened it: "11:34 point 10 released". Null where nothing has to come before. */
  from: { at: Instant; label: string } | null;
  /** The instant the window closes, and by what; null while nothing closes it. */
  to: { at: Instant; label: string } | null;
  /** Drawn where nothing closes the window; null where that is long past, and the window runs out of the picture. */
  now: Instant | null;
  photos: WindowPhoto[];
  zone: string;
  formatTime(at: Instant): string;
  /** A column with when each photo was taken, where there is room for one. */
  times?: boolean;
}

const HEAD = 40; // px, above the rows
const FOOT = 26;
const CAMERA_ROW = 1.5; // of a row: with the arrow from what the camera said, and its words
const NOMINAL_WIDTH = { narrow: 240, wide: 640 }; // px, at which the labels of the axis do not collide
const LETTER_PX = 6.1; // mean width of a letter at 13 px
const SECOND = 1_000; // ms

/** The photos of one point against their window: what lies in the hatch or past the line does not count. Whiskers 95 %. */
export function PhotoWindowDetail({ letter, title, note, from, to, now, photos, zone, formatTime, times = false }: PhotoWindowDetailProps) {
  const scale = windowScale(photos, from?.at ?? null, to?.at ?? now);
  const heights = photos.map(({ cameraAt }) => (cameraAt === undefined ? 1 : CAMERA_ROW));
  const total = heights.reduce((sum, one) => sum + one, 0);
  const tops = heights.map((_, row) => heights.slice(0, row).reduce((sum, one) => sum + one, 0) / total);
  const rowHeight = (row: number) => ({ "--rows": heights[row] }) as CSSProperties;
  return (
    <figure className={times ? "photo-window photo-window-timed" : "photo-window"}>
      <figcaption>
        {letter && <span className="bubble" aria-hidden="true">{letter}</span>}
        <span>{title}</span>
        <span className="letter">{note ?? "whiskers 95 %"}</span>
      </figcaption>
      <div className="photo-window-picture">
        <Labels photos={photos} rowHeight={rowHeight} />
        <div>
          <svg className="drawing fluid" height={HEAD} aria-hidden="true"><Edges {...{ scale, from, to, now }} /></svg>
          <svg className="drawing fluid photo-window-field" style={{ "--rows": total } as CSSProperties} role="img" aria-label={finding(photos, from, to, formatTime)}>
            <Ground {...{ scale, from, to, now }} />
            {tops.slice(1).map((top) => <line key={top} className="hair" x1="0" x2="100%" y1={percent(top)} y2={percent(top)} />)}
            <line className="hair" x1="0" x2="100%" y1="100%" y2="100%" />
            {photos.map((photo, row) => <svg key={row} y={percent(tops[row]! + 0.5 / total)} className="sequence-row"><PhotoMark photo={photo} scale={scale} formatTime={formatTime} /></svg>)}
            {scale.breaks.map(({ left, right }) => (
              <g key={left}>
                <rect className="f-sheet" x={percent(left)} width={percent(right - left)} y="-1" height="102%" />
                <use href="#g-time-break" x={percent(left)} y="50%" />
                <use href="#g-time-break" x={percent(right)} y="50%" />
              </g>
            ))}
          </svg>
          {times && <MinuteAxis className="window-wide" scale={scale} zone={zone} width={NOMINAL_WIDTH.wide} />}
          <MinuteAxis className={times ? "window-narrow" : undefined} scale={scale} zone={zone} width={NOMINAL_WIDTH.narrow} />
        </div>
        {times && <ol className="photo-times" aria-hidden="true">{photos.map(({ at, readings = [], uncertaintyMs }, row) => <li key={row} style={rowHeight(row)}>{takenWords(at, readings, uncertaintyMs, formatTime)}</li>)}</ol>}
      </div>
      <ReadAsTable
        caption={title}
        columns={["Photo", "Taken", "Order", "Flag", "The camera said"]}
        rows={photos.map(({ label, at, readings = [], uncertaintyMs, verdict, flag, cameraAt }) => [label, takenWords(at, readings, uncertaintyMs, formatTime), verdict, flag ?? "none", cameraAt === undefined ? "the same, or nothing" : formatTime(cameraAt)])}
      />
    </figure>
  );
}

/** What the photos show; names that lead somewhere stand outside the drawing, which is one image to a reader. */
function Labels({ photos, rowHeight }: { photos: WindowPhoto[]; rowHeight(row: number): CSSProperties }) {
  const leads = photos.some(({ href }) => href !== undefined);
  const label = ({ label: words, href }: WindowPhoto): ReactNode => (href ? <a href={href}>{words}</a> : words);
  return <ol aria-hidden={leads ? undefined : true} aria-label={leads ? "Photos" : undefined}>{photos.map((photo, row) => <li key={row} style={rowHeight(row)}>{label(photo)}</li>)}</ol>;
}

function MinuteAxis({ className, scale, zone, width }: { className: string | undefined; scale: TimeScale; zone: string; width: number }) {
  return (
    <svg className={["drawing fluid", className].filter(Boolean).join(" ")} height={FOOT} aria-hidden="true">
      {minuteLabels(scale, zone, width).map(({ left, text }) => (
        <g key={left}>
          <line className="thin" x1={percent(left)} x2={percent(left)} y1="0" y2="4" />
          <text x={percent(left)} y="18" textAnchor="middle">{text}</text>
        </g>
      ))}
    </svg>
  );
}

type WindowEdges = Pick<PhotoWindowDetailProps, "from" | "to" | "now"> & { scale: TimeScale };

function edgesOf({ scale, from, to, now }: WindowEdges): { opensAt: number; closesAt: number } {
  const closes = to?.at ?? now;
  return { opensAt: from === null ? 0 : scale.place(from.at), closesAt: closes === null ? 1 : scale.place(closes) };
}

/** Above the rows: the window as a blue bar, and what its edges are. */
function Edges(edges: WindowEdges) {
  const { from, to, now } = edges;
  const closer = to ? to.label : now === null ? null : "now";
  const { opensAt, closesAt } = edgesOf(edges);
  // A word may not be struck through by the line of the other: the one whose line stands at the left goes on top.
  const [opensY, closesY] = closesAt < opensAt ? [29, 12] : [12, 29];
  const side = (at: number) => (at > 0.5 ? "end" : "start");
  return (
    <>
      {closesAt > opensAt && <rect className="sequence-window" x={percent(opensAt)} width={percent(closesAt - opensAt)} y={HEAD - 5} height="5" />}
      {from && <line className="s-held" x1={percent(opensAt)} x2={percent(opensAt)} y1={opensY + 4} y2={HEAD} />}
      {closer && <line className={to ? "cut" : "thick dash"} x1={percent(closesAt)} x2={percent(closesAt)} y1={closesY + 4} y2={HEAD} />}
      {from && <text className="t-held halo" x={percent(opensAt)} y={opensY} textAnchor={side(opensAt)}>{from.label}</text>}
      {closer && <text className="vb halo" x={percent(closesAt)} y={closesY} textAnchor={side(closesAt)}>{closer}</text>}
    </>
  );
}

/** The rows' ground: open inside the window, hatched outside it. */
function Ground(edges: WindowEdges) {
  const { from, to, now } = edges;
  const { opensAt, closesAt } = edgesOf(edges);
  return (
    <>
      {from && <rect fill="url(#h-hidden)" x="0" width={percent(opensAt)} y="0" height="100%" />}
      {to && <rect fill="url(#h-hidden)" x={percent(closesAt)} width={percent(1 - closesAt)} y="0" height="100%" />}
      {from && <line className="thick" x1={percent(opensAt)} x2={percent(opensAt)} y1="0" y2="100%" />}
      {(to ?? now) !== null && <line className={to ? "cut" : "thick dash"} x1={percent(closesAt)} x2={percent(closesAt)} y1="0" y2="100%" />}
    </>
  );
}

function PhotoMark({ photo, scale, formatTime }: { photo: WindowPhoto; scale: TimeScale; formatTime: PhotoWindowDetailProps["formatTime"] }) {
  const { at, readings = [], uncertaintyMs, verdict, flag, cameraAt } = photo;
  const { symbol, hand } = orderMark(verdict);
  const all = readings.length > 1 ? readings : at === null ? readings : [at];
  if (all.length === 0) return <Words share={0.04} room={0} hand={hand} verdict={verdict} flag={flag} symbol={symbol} />;
  const [first, last] = [Math.min(...all), Math.max(...all)];
  const [early, late] = [scale.place(first - uncertaintyMs), scale.place(last + uncertaintyMs)];
  const marked = verdict !== "in order";
  const here = scale.place(first);
  return (
    <g className={`hand-${hand}`}>
      {cameraAt !== undefined && <Corrected from={cameraAt} to={first} scale={scale} formatTime={formatTime} />}
      <line className={all.length > 1 ? "photo-whisker dash" : "photo-whisker"} x1={percent(early)} x2={percent(late)} y1="0" y2="0" />
      <use href="#g-whisker-end" x={percent(early)} y="0" />
      <use href="#g-whisker-end" x={percent(late)} y="0" />
      {all.filter((one) => isDrawn(scale, one)).map((one) => (marked
        ? <svg key={one} x={percent(scale.place(one))} className="sequence-row"><use href={`#${symbol}`} x="-8" y="-8" width="16" height="16" /></svg>
        : <line key={one} className="photo-tick" x1={percent(scale.place(one))} x2={percent(scale.place(one))} y1="-8" y2="8" />))}
      <Words share={here < 0.6 ? late : early} room={here < 0.6 ? 14 : -14} hand={hand} verdict={verdict} flag={flag} symbol={undefined} />
    </g>
  );
}

/** A dashed arrow from what the camera's clock said to where the photo belongs. */
function Corrected({ from, to, scale, formatTime }: { from: Instant; to: Instant; scale: TimeScale; formatTime: PhotoWindowDetailProps["formatTime"] }) {
  const [said, belongs] = [scale.place(from), scale.place(to)];
  const ahead = from > to;
  const anchor = said > 0.6 ? "end" : "start";
  return (
    <g className="hand-doubt">
      <line className="s-doubt" x1={percent(said)} x2={percent(said)} y1="10" y2="20" />
      <line className="s-doubt dash" x1={percent(said)} x2={percent(belongs)} y1="15" y2="15" />
      <line className="s-doubt" x1={percent(belongs)} x2={percent(belongs)} y1="8" y2="15" />
      <use href={ahead ? "#g-arrow-left" : "#g-arrow-right"} x={percent(belongs)} y="15" />
      <text className="photo-word halo hand-doubt" x={percent(said)} y="31" textAnchor={anchor}>camera said {formatTime(from)}<tspan className="photo-shift">, {shiftWords(from - to)}</tspan></text>
    </g>
  );
}

/** "1 h ahead", "50 s behind". */
function shiftWords(ms: number): string {
  const seconds = Math.round(Math.abs(ms) / SECOND);
  const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor((seconds % 3600) / 60)];
  const parts = hours >= 48 ? [`${Math.round(hours / 24)} days`] : [hours > 0 && `${hours} h`, minutes > 0 && `${minutes} min`, hours === 0 && seconds % 60 > 0 && `${seconds % 60} s`];
  return `${parts.filter(Boolean).join(" ")} ${ms > 0 ? "ahead" : "behind"}`;
}

/** The verdict beside its mark, on the side that has room, with the number of its flag. */
function Words({ share, room, hand, verdict, flag, symbol }: { share: number; room: number; hand: string; verdict: OrderVerdict; flag: number | undefined; symbol: string | undefined }) {
  const start = room >= 0;
  const words = room + (start ? 1 : -1) * (verdict.length * LETTER_PX + (symbol ? 22 : 0));
  return (
    <svg x={percent(share)} className={`sequence-row hand-${hand}`}>
      {symbol && <use href={`#${symbol}`} x={start ? room : room - 16} y="-8" width="16" height="16" />}
      <text className="photo-word halo" x={symbol ? room + (start ? 22 : -22) : room} y="5" textAnchor={start ? "start" : "end"}>{verdict}</text>
      {flag !== undefined && <g transform={`translate(${start ? words + 8 : words - 34} -12)`}><FlagTriangle n={flag} /></g>}
    </svg>
  );
}

function takenWords(at: Instant | null, readings: readonly Instant[], uncertaintyMs: number, formatTime: (at: Instant) => string): string {
  const all = readings.length > 1 ? readings : at === null ? readings : [at];
  return all.length === 0 ? "no time" : `${all.map(formatTime).join(" or ")} ± ${Math.round(uncertaintyMs / SECOND)} s`;
}

function finding(photos: WindowPhoto[], from: { at: Instant } | null, to: { at: Instant } | null, formatTime: (at: Instant) => string): string {
  const inOrder = photos.filter(({ verdict }) => verdict === "in order").length;
  const others = photos.filter(({ verdict }) => verdict !== "in order").map(({ label, verdict }) => `${label}: ${verdict}`);
  const opens = from && formatTime(from.at);
  const window = to ? (opens ? `${opens} to ${formatTime(to.at)}` : `until ${formatTime(to.at)}`) : opens ? `from ${opens} on` : "open";
  return [`${inOrder} of ${photos.length} photos in order, window ${window}`, ...others].join("; ");
}
