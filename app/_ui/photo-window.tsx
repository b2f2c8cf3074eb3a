import type { Instant } from "#lib/domain/instant";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import { FlagTriangle, orderMark } from "./mark";
import { percent } from "./sequence-axis";
import { minuteLabels, timeScale } from "./sequence-layout";
import { ReadAsTable } from "./table";

export interface WindowPhoto {
  /** What the photo shows: "N face". */
  label: string;
  /** The derived instant; null where the photo has none. */
  at: Instant | null;
  uncertaintyMs: number;
  verdict: OrderVerdict;
  /** The flag to answer, if one stands against this photo. */
  flag?: number;
  /** What the camera said, where a correction moved it. */
  cameraAt?: Instant;
}

export interface PhotoWindowDetailProps {
  /** The detail's letter, as at the chart it enlarges. */
  letter?: string;
  title: string;
  note?: string;
  /** The instant the window opens and what opened it: "11:34 point 10 released". */
  from: { at: Instant; label: string };
  /** The instant the window closes, and by what; null while nothing closes it. */
  to: { at: Instant; label: string } | null;
  now: Instant;
  photos: WindowPhoto[];
  zone: string;
  formatTime(at: Instant): string;
}

const ROW = 34; // px
const HEAD = 26;
const FOOT = 26;
const LETTER_PX = 6.1; // mean width of a letter at 13 px

/** The photos of one point against their window: what lies in the hatch or past the line does not count. Whiskers 95 %. */
export function PhotoWindowDetail({ letter, title, note, from, to, now, photos, zone, formatTime }: PhotoWindowDetailProps) {
  const closes = to?.at ?? now;
  const scale = timeScale([viewOf(from.at, closes, photos)]);
  const [opensAt, closesAt] = [scale.place(from.at), scale.place(closes)];
  const height = HEAD + photos.length * ROW + FOOT;
  const foot = height - FOOT;
  return (
    <figure className="photo-window">
      <figcaption>
        {letter && <span className="bubble" aria-hidden="true">{letter}</span>}
        <span>{title}</span>
        <span className="letter">{note ?? "whiskers 95 %"}</span>
      </figcaption>
      <div className="photo-window-picture" role="img" aria-label={finding(photos, from, to, formatTime)}>
        <ol aria-hidden="true">{photos.map((photo) => <li key={photo.label}>{photo.label}</li>)}</ol>
        <svg className="drawing fluid" height={height} aria-hidden="true">
          <rect fill="url(#h-hidden)" x="0" width={percent(opensAt)} y={HEAD} height={foot - HEAD} />
          {to && <rect fill="url(#h-hidden)" x={percent(closesAt)} width={percent(1 - closesAt)} y={HEAD} height={foot - HEAD} />}
          {photos.map((photo, row) => <line key={photo.label} className="hair" x1="0" x2="100%" y1={HEAD + (row + 1) * ROW} y2={HEAD + (row + 1) * ROW} />)}
          <line className="thick" x1={percent(opensAt)} x2={percent(opensAt)} y1={HEAD} y2={foot} />
          <use href="#g-flag" x={percent(opensAt)} y={HEAD} />
          <g transform="translate(14 0)"><text className="halo" x={percent(opensAt)} y="14">{from.label}</text></g>
          <line className={to ? "thick" : "thick dash"} x1={percent(closesAt)} x2={percent(closesAt)} y1={to ? 18 : HEAD} y2={foot} />
          {!to && <text className="vb halo" x={percent(closesAt)} y="14" textAnchor="middle">now</text>}
          {minuteLabels(scale, zone, 300).map(({ left, text }) => (
            <g key={left}>
              <line className="thin" x1={percent(left)} x2={percent(left)} y1={foot} y2={foot + 4} />
              <text x={percent(left)} y={foot + 18} textAnchor="middle">{text}</text>
            </g>
          ))}
          {photos.map((photo, row) => <svg key={photo.label} y={HEAD + (row + 0.5) * ROW} className="sequence-row"><PhotoMark photo={photo} place={scale.place} /></svg>)}
        </svg>
      </div>
      <ReadAsTable
        caption={title}
        columns={["Photo", "Taken", "Order", "Flag"]}
        rows={photos.map(({ label, at, uncertaintyMs, verdict, flag }) => [label, at === null ? "no time" : `${formatTime(at)} ± ${Math.round(uncertaintyMs / 1000)} s`, verdict, flag ?? "none"])}
      />
    </figure>
  );
}

/** The window with a quarter of its length on both sides, and every photo that lies within one length of it. */
function viewOf(from: Instant, to: Instant, photos: WindowPhoto[]) {
  const length = Math.max(to - from, 60_000);
  const near = photos.flatMap(({ at, uncertaintyMs }) => (at !== null && at > from - length && at < to + length ? [at - uncertaintyMs, at + uncertaintyMs] : []));
  return { from: Math.min(from, ...near) - length / 5, to: Math.max(to, ...near) + length / 5 };
}

function PhotoMark({ photo, place }: { photo: WindowPhoto; place: (at: Instant) => number }) {
  const { at, uncertaintyMs, verdict, flag, cameraAt } = photo;
  const { symbol, hand } = orderMark(verdict);
  if (at === null) return <Words share={0.04} room={0} hand={hand} verdict={verdict} flag={flag} symbol={symbol} />;
  const here = place(at);
  const outside = here === 0 || here === 1;
  const [early, late] = [place(at - uncertaintyMs), place(at + uncertaintyMs)];
  const marked = verdict !== "in order";
  return (
    <g className={`hand-${hand}`}>
      {cameraAt !== undefined && (
        <g className="hand-doubt">
          <line className="s-doubt dash" x1={percent(late + 0.02)} x2={percent(place(cameraAt))} y1="9" y2="9" />
          <use href={cameraAt > at ? "#g-arrow-left" : "#g-arrow-right"} x={percent(cameraAt > at ? late + 0.02 : early - 0.02)} y="9" />
        </g>
      )}
      {outside && <use href={here === 0 ? "#g-arrow-left" : "#g-arrow-right"} x={here === 0 ? "1%" : "99%"} y="0" />}
      {!outside && (
        <>
          {!marked && <line className="photo-tick" x1={percent(here)} x2={percent(here)} y1="-8" y2="8" />}
          <line className="photo-whisker" x1={percent(early)} x2={percent(late)} y1="0" y2="0" />
          <use href="#g-whisker-end" x={percent(early)} y="0" />
          <use href="#g-whisker-end" x={percent(late)} y="0" />
          {marked && <svg x={percent(here)} className="sequence-row"><use href={`#${symbol}`} x="-8" y="-8" width="16" height="16" /></svg>}
        </>
      )}
      <Words share={here < 0.6 ? late : early} room={here < 0.6 ? 12 : -12} hand={hand} verdict={verdict} flag={flag} symbol={outside ? symbol : undefined} />
    </g>
  );
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

function finding(photos: WindowPhoto[], from: { at: Instant }, to: { at: Instant } | null, formatTime: (at: Instant) => string): string {
  const inOrder = photos.filter(({ verdict }) => verdict === "in order").length;
  const others = photos.filter(({ verdict }) => verdict !== "in order").map(({ label, verdict }) => `${label}: ${verdict}`);
  const window = to ? `${formatTime(from.at)} to ${formatTime(to.at)}` : `from ${formatTime(from.at)} on`;
  return [`${inOrder} of ${photos.length} photos in order, window ${window}`, ...others].join("; ");
}
