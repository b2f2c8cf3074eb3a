import type { SequenceBand, SequenceMark } from "./sequence-chart";
import { clipped, dayLabels, hourLabels, raiseLabels, type SiteHour, type TimeScale } from "./sequence-layout";

export const percent = (share: number) => `${(share * 100).toFixed(3)}%`;

const TIER = 17; // px, one line of lettering
const LETTER_PX = 7.2; // mean width of a letter in a tide band's label

/**
 * What stands above the chart: hours, days, the tide's own dimension lines, then the labels of the lines that run down
 * through it. `width` is the width in px at which labels must not collide; there is one axis for the desk and one for the phone.
 */
export function SequenceAxis({ scale, hours, marks, bands, width, className }: { scale: TimeScale; hours: SiteHour[]; marks: SequenceMark[]; bands: SequenceBand[]; width: number; className: string }) {
  const labels = raiseLabels(marks.map(({ at, text }) => ({ left: scale.place(at), text })), width);
  const kinds = new Map(marks.map(({ at, text, kind }) => [`${scale.place(at)} ${text}`, kind]));
  const tides = bands.flatMap((band) => {
    const part = band.type === "tide" && band.label ? clipped(scale, band) : null;
    return part && part.width * width > band.label!.length * LETTER_PX ? [{ ...part, label: band.label! }] : [];
  });
  const tideRoom = tides.length > 0 ? 20 : 0;
  const tiers = Math.max(-1, ...labels.map(({ tier }) => tier)) + 1;
  const height = 42 + tideRoom + tiers * TIER;
  return (
    <svg className={`drawing fluid sequence-axis ${className}`} height={height} aria-hidden="true">
      {labels.map(({ left, text, tier }) => (
        <MarkLine key={text} kind={kinds.get(`${left} ${text}`)!} left={left} from={tiers * TIER - tier * TIER} to={height} />
      ))}
      {labels.map(({ left, text, tier, anchor }) => (
        <text key={text} className={`vb halo mark-word-${kinds.get(`${left} ${text}`)}`} x={percent(left)} y={(tiers - tier) * TIER - 4} textAnchor={anchor}>{text}</text>
      ))}
      {tides.map(({ left, width: long, label }) => (
        <g key={left} className="hand-tide">
          <line className="s-tide" x1={percent(left)} x2={percent(left + long)} y1={height - 41} y2={height - 41} />
          <use href="#g-slash" x={percent(left)} y={height - 41} />
          <use href="#g-slash" x={percent(left + long)} y={height - 41} />
          <text className="t-tide halo" x={percent(left + long / 2)} y={height - 45} textAnchor="middle">{label}</text>
        </g>
      ))}
      {dayLabels(hours, width).map(({ left, text }) => <text key={left} className="day halo" x={percent(left)} y={height - 23}>{text}</text>)}
      {hourLabels(hours, scale, width).map(({ left, text }) => (
        <g key={left}>
          <line className="thin" x1={percent(left)} x2={percent(left)} y1={height - 4} y2={height} />
          <text className="halo" x={percent(left)} y={height - 7} textAnchor="middle">{text}</text>
        </g>
      ))}
    </svg>
  );
}

/** The vertical lines: now thick, cover-up at the weight of a cut, a limit as a blue double line. */
export function MarkLine({ kind, left, from, to }: { kind: SequenceMark["kind"]; left: number; from: number | string; to: number | string }) {
  const x = percent(left);
  if (kind !== "limit") return <line className={kind === "now" ? "thick" : "cut"} x1={x} x2={x} y1={from} y2={to} />;
  return (
    <>
      <line className="s-held" x1={x} x2={x} y1={from} y2={to} />
      <g transform="translate(4 0)"><line className="s-held" x1={x} x2={x} y1={from} y2={to} /></g>
    </>
  );
}
