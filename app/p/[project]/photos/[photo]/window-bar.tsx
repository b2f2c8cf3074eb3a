import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PhotoPageView } from "#lib/services/photo-view";
import { orderMark } from "../../../../_ui/mark";

interface WindowBarProps {
  window: PhotoPageView["window"];
  at: number | null;
  uncertaintyMs: number;
  verdict: OrderVerdict;
  from: string;
  to: string;
  taken: string;
}

const EDGE = { left: 22, right: 78 } as const; // per cent of the width; the rest is what lies outside

/** The window as a blue bar with the photo as a tick and its whisker: outside the bar is outside the window. Not to scale beyond it. */
export function WindowBar({ window, at, uncertaintyMs, verdict, from, to, taken }: WindowBarProps) {
  const { symbol, hand } = orderMark(verdict);
  const opens = window.from ?? window.to - 12 * 3_600_000;
  const share = (instant: number): number => {
    const inside = (instant - opens) / Math.max(1, window.to - opens);
    return Math.min(97, Math.max(3, EDGE.left + inside * (EDGE.right - EDGE.left)));
  };
  const x = at === null ? null : share(at);
  const whisker = at === null ? null : [share(at - uncertaintyMs), share(at + uncertaintyMs)];
  return (
    <svg className={`drawing fluid window-bar hand-${hand}`} height="92" role="img" aria-label={`Window ${from} to ${to}, photo at ${taken}: ${verdict}`}>
      <rect className="window-wash" x={`${EDGE.left}%`} width={`${EDGE.right - EDGE.left}%`} y="12" height="38" />
      <line className="s-held thin" x1={`${EDGE.left}%`} x2={`${EDGE.right}%`} y1="31" y2="31" />
      {window.from !== null && <line className="s-held thin" x1={`${EDGE.left}%`} x2={`${EDGE.left}%`} y1="4" y2="60" />}
      <line className={window.closed ? "s-held thick" : "s-held thin"} x1={`${EDGE.right}%`} x2={`${EDGE.right}%`} y1="4" y2="60" />
      <text x={`${EDGE.left}%`} y="76" textAnchor="middle">{from}</text>
      <text x={`${EDGE.right}%`} y="76" textAnchor="middle">{to}</text>
      {x !== null && whisker !== null && (
        <g className="window-photo">
          <line className="thin" x1={`${whisker[0]}%`} x2={`${whisker[1]}%`} y1="31" y2="31" />
          <line className="thick" x1={`${x}%`} x2={`${x}%`} y1="17" y2="45" />
          <svg x={`${x}%`} className="sequence-row" y="0"><use href={`#${symbol}`} x="6" y="0" width="15" height="15" /></svg>
        </g>
      )}
    </svg>
  );
}
