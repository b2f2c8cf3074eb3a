import type { Instant } from "#lib/domain/instant";
import type { TideWindowView } from "#lib/services/tide-view";
import { percent } from "../../../_ui/sequence-axis";
import { clipped, dayLabels, hourLabels, siteHours, timeScale, type SiteHour, type TimeScale, type TimeSpan } from "../../../_ui/sequence-layout";

export interface ClocksScale {
  scale: TimeScale;
  hours: SiteHour[];
  now: Instant;
  windows: readonly TideWindowView[];
}

export function clocksScale(span: TimeSpan, now: Instant, windows: readonly TideWindowView[], zone: string): ClocksScale {
  const scale = timeScale([span]);
  return { scale, hours: siteHours(scale, zone), now, windows: windows.filter((one) => clipped(scale, one)) };
}

const NOMINAL = { wide: 580, narrow: 360 }; // px, the width at which labels must not collide

/** Above the rows: now, and the tide's own dimension lines with its times. */
export function TopAxis({ axis: { scale, now, windows }, nowWords }: { axis: ClocksScale; nowWords: string }) {
  const here = scale.place(now);
  return (
    <svg className="drawing fluid" height="46" aria-hidden="true">
      {windows.map((window) => {
        const { left, width } = clipped(scale, window)!;
        const right = left + width;
        return (
          <g key={window.from} className="hand-tide">
            <line className="s-tide" x1={percent(left)} x2={percent(right)} y1="36" y2="36" />
            {left > 0 && <use href="#g-slash" x={percent(left)} y="36" />}
            {right < 1 && <use href="#g-slash" x={percent(right)} y="36" />}
            {left > 0.06 && Math.abs(left - here) > 0.02 && <g transform="translate(-7 0)"><text className="t-tide halo num" x={percent(left)} y="40" textAnchor="end">{window.opens}</text></g>}
            {right < 0.94 && <g transform="translate(7 0)"><text className="t-tide halo num" x={percent(right)} y="40">{window.closes}</text></g>}
          </g>
        );
      })}
      <line className="thick" x1={percent(here)} x2={percent(here)} y1="20" y2="46" />
      <text className="vb halo" x={percent(here)} y="14" textAnchor={here < 0.08 ? "start" : "middle"}>{nowWords}</text>
    </svg>
  );
}

/** Below the rows: the hours, and each day where it begins. */
export function BottomAxis({ axis: { scale, hours }, size }: { axis: ClocksScale; size: keyof typeof NOMINAL }) {
  const width = NOMINAL[size];
  return (
    <svg className={`drawing fluid clocks-${size}`} height="42" aria-hidden="true">
      {hourLabels(hours, scale, width, 30).map(({ left, text }) => (
        <g key={left}>
          <line className="thin" x1={percent(left)} x2={percent(left)} y1="0" y2="5" />
          <text className="num" x={percent(left)} y="19" textAnchor="middle">{text}</text>
        </g>
      ))}
      {dayLabels(hours, width).map(({ left, text }, position) => (
        // The first day began before the axis does.
        <g key={left}>
          {position > 0 && <line className="thin" x1={percent(left)} x2={percent(left)} y1="24" y2="40" />}
          <g transform={position > 0 ? "translate(6 0)" : undefined}><text className="day" x={position > 0 ? percent(left) : "0"} y="37">{text}</text></g>
        </g>
      ))}
    </svg>
  );
}
