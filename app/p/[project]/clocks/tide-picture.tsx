import type { Instant } from "#lib/domain/instant";
import type { TidePictureView } from "#lib/services/tide-view";
import { percent } from "../../../_ui/sequence-axis";
import { clipped } from "../../../_ui/sequence-layout";
import { BottomAxis, clocksScale } from "./clocks-axis";

const TOP = 34; // px, the highest water
const FLOOR = 138; // px, the lowest
const HEIGHT = 152;
const NOMINAL_WIDTH = 900; // px
const STEPS = 1000; // of the curve's own grid, along and down

/** Water against time: the curve in ink, the level that work stops at in blue, and the hours below it as windows with their times. */
export function TidePicture({ picture, zone, now }: { picture: TidePictureView; zone: string; now: Instant }) {
  const { curve, windows, workLevelM, limitM, from, to, finding } = picture;
  const axis = clocksScale({ from, to }, now, windows, zone);
  const { scale } = axis;
  const heights = [...curve.flat().map(({ heightM }) => heightM), limitM];
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const y = (heightM: number): number => FLOOR - ((heightM - low) / (high - low || 1)) * (FLOOR - TOP);
  const path = curve.flatMap((piece) => piece.map(({ at, heightM }, index) => `${index === 0 ? "M" : "L"}${(scale.place(at) * STEPS).toFixed(1)} ${y(heightM).toFixed(1)}`)).join("");
  const shown = now >= from && now <= to;
  return (
    <figure className="tide-picture">
      <svg className="drawing fluid" height={HEIGHT} role="img" aria-label={finding}>
        {windows.map((window) => {
          const part = clipped(scale, window);
          return part && <rect key={window.from} className="f-tide" x={percent(part.left)} width={percent(part.width)} y={TOP - 10} height={FLOOR - TOP + 20} />;
        })}
        {[low, high].map((heightM) => <line key={heightM} className="hair" x1="0" x2="100%" y1={y(heightM)} y2={y(heightM)} />)}
        <line className="s-held" x1="0" x2="100%" y1={y(limitM)} y2={y(limitM)} />
        <svg viewBox={`0 0 ${STEPS} ${HEIGHT}`} preserveAspectRatio="none" width="100%" height={HEIGHT}><path className="thick tide-curve" d={path} /></svg>
        <text className="halo num" x="4" y={y(high) - 5}>{high.toFixed(1)} m</text>
        <text className="halo num" x="4" y={y(low) + 14}>{low.toFixed(1)} m</text>
        <text className="t-held halo num" x="99.6%" y={y(limitM) - 6} textAnchor="end">{limitWords(workLevelM, limitM)}</text>
        {windows.map((window) => {
          const part = clipped(scale, window);
          if (!part) return null;
          const middle = part.left + part.width / 2;
          const room = part.width * NOMINAL_WIDTH > 76;
          return (
            <g key={window.from} className="hand-tide">
              <line className="s-tide" x1={percent(part.left)} x2={percent(part.left + part.width)} y1="18" y2="18" />
              {part.left > 0 && <use href="#g-slash" x={percent(part.left)} y="18" />}
              {part.left + part.width < 1 && <use href="#g-slash" x={percent(part.left + part.width)} y="18" />}
              {room && <text className="t-tide halo num clocks-aside" x={percent(middle)} y="12" textAnchor="middle">{window.opens} to {window.closes}</text>}
            </g>
          );
        })}
        {shown && <line className="thick" x1={percent(scale.place(now))} x2={percent(scale.place(now))} y1={TOP - 10} y2={FLOOR + 14} />}
      </svg>
      <BottomAxis axis={axis} size="wide" />
      <BottomAxis axis={axis} size="narrow" />
    </figure>
  );
}

function limitWords(workLevelM: number, limitM: number): string {
  const allowance = workLevelM - limitM;
  return allowance === 0 ? `work level ${workLevelM} m` : `work level ${workLevelM} m, less ${Number(allowance.toFixed(2))} m allowance`;
}
