import type { Instant } from "#lib/domain/instant";
import type { RegisterRow } from "#lib/services/register-view";
import { percent } from "../../../_ui/sequence-axis";

const DAY = 86_400_000;
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
/** Days shown before and after now: what is further off is written, not drawn. Chosen so that a season's work and a half year ahead stand in one picture. */
const BEFORE_DAYS = 75;
const AFTER_DAYS = 190;

export interface DateAxis {
  from: Instant;
  to: Instant;
  months: { left: number; text: string }[];
  place(at: Instant): number;
}

export function dateAxis(now: Instant): DateAxis {
  const from = now - BEFORE_DAYS * DAY;
  const to = now + AFTER_DAYS * DAY;
  const place = (at: Instant): number => Math.min(1, Math.max(0, (at - from) / (to - from)));
  const first = new Date(from);
  const starts = Array.from({ length: 10 }, (_, index) => Date.UTC(first.getUTCFullYear(), first.getUTCMonth() + 1 + index, 1)).filter((at) => at < to);
  return { from, to, place, months: starts.map((at) => ({ left: place(at), text: monthWords(new Date(at)) })) };
}

function monthWords(first: Date): string {
  return first.getUTCMonth() === 0 ? `Jan ${first.getUTCFullYear()}` : MONTHS[first.getUTCMonth()]!;
}

export function DateHead({ axis, now }: { axis: DateAxis; now: Instant }) {
  return (
    <svg className="drawing fluid date-head" height="34" aria-hidden="true">
      {axis.months.map(({ left, text }) => <g key={left}><line className="hair" x1={percent(left)} x2={percent(left)} y1="18" y2="34" /><g transform="translate(4 0)"><text x={percent(left)} y="30">{text}</text></g></g>)}
      <line className="thick" x1={percent(axis.place(now))} x2={percent(axis.place(now))} y1="14" y2="34" />
      <text className="vb halo" x={percent(axis.place(now))} y="11" textAnchor="middle">now</text>
    </svg>
  );
}

/** From when and to when it is good: an open bar for a lot, a line on its feet for an instrument; a stroke for each use. */
export function DateLine({ row, axis, now, open }: { row: RegisterRow; axis: DateAxis; now: Instant; open: boolean }) {
  const day = (text: string | null): Instant | null => (text === null ? null : Date.parse(`${text}T12:00:00Z`));
  const from = day(row.from);
  const until = day(row.until);
  const x = (at: Instant): string => percent(axis.place(at));
  const end = until ?? axis.to;
  const uses = row.uses.filter((at) => at >= axis.from);
  return (
    <svg className="drawing fluid date-line" role="img" aria-label={`${row.mark}: ${row.stateWords}, used ${row.uses.length} times`}>
      {axis.months.map(({ left }) => <line key={left} className="hair" x1={percent(left)} x2={percent(left)} y1="0" y2="100%" />)}
      <svg y="50%" className="sequence-row">
        {from !== null && open && <rect className="s-held f-sheet" x={x(from)} width={percent(axis.place(end) - axis.place(from))} y="-7" height="14" />}
        {from !== null && !open && <line className="s-held" x1={x(from)} x2={x(end)} y1="0" y2="0" />}
        {until !== null && until < now && <rect fill="url(#h-doubt)" x={x(until)} width={percent(axis.place(now) - axis.place(until))} y="-7" height="14" />}
        {until !== null && until < axis.to && <g className="hand-held"><use href="#g-double-end" x={x(until)} y="0" /></g>}
        {row.calibrations.map(({ day: on, certificate }) => <Foot key={certificate + on} x={x(day(on) ?? axis.from)} />)}
        {uses.map((at, index) => <line key={`${at} ${index}`} className="thin" x1={x(at)} x2={x(at)} y1="-9" y2="9" />)}
      </svg>
      <line className="thick" x1={x(now)} x2={x(now)} y1="0" y2="100%" />
    </svg>
  );
}

/** A calibration stands on a foot. */
function Foot({ x }: { x: string }) {
  return (
    <svg x={x} className="sequence-row">
      <path className="thick" d="M0 -12V14M-5 14H5" />
    </svg>
  );
}
