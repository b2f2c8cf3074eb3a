import type { ReactNode } from "react";
import type { Instant } from "#lib/domain/instant";
import { percent } from "./sequence-axis";
import { timeScale, type TimeSpan } from "./sequence-layout";
import { ReadAsTable } from "./table";

/** A clock on the sheet: the time in words first, then what it is worth, then the drawing. Paused clocks are written in sepia. */
export function Clock({ title, amount, headline, note, paused = false, children }: { title: string; amount?: string; headline: string; note: ReactNode; paused?: boolean; children?: ReactNode }) {
  return (
    <section className={paused ? "clock clock-paused" : "clock"}>
      <p className="clock-title"><span>{title}</span>{amount && <span>{amount}</span>}</p>
      <h2>{headline}</h2>
      <p className="letter">{note}</p>
      {children}
    </section>
  );
}

export interface CureChartProps {
  startedAt: Instant;
  now: Instant;
  /** The earliest instant, not a permission; null while it cannot be told. */
  earliest: Instant | null;
  /** Each reading holds until the next. `assumed` marks a gap that was filled with the lower of its two ends. */
  readings: { at: Instant; temperature: number; assumed?: boolean }[];
  temperatureUnit: "°C" | "°F";
  /** Under this the clock stands still. */
  minimum?: number;
  /** Progress and what is required, in `unit`: 264 of 400 °C·h. */
  progress: number;
  required: number;
  unit: string;
  /** Hours in which the clock stood still. */
  stopped?: TimeSpan[];
  formatTime(at: Instant): string;
  /** The same, short, for the axis: "Thu 23:20". */
  formatShort(at: Instant): string;
}

const TOP = 26; // px, highest temperature
const LOW = 78; // px, lowest temperature
const BAR = 92;

/** Temperature as steps over the progress: what is cured in ink, what is left in blue hatch up to the earliest time. */
export function CureChart(props: CureChartProps) {
  const { startedAt, now, earliest, readings, temperatureUnit, minimum, progress, required, unit, stopped = [], formatTime, formatShort } = props;
  const end = Math.max(now, earliest ?? now);
  const scale = timeScale([{ from: startedAt, to: end + (end - startedAt) / 40 }]);
  const temperatures = [...readings.map(({ temperature }) => temperature), ...(minimum === undefined ? [] : [minimum])];
  const [coldest, warmest] = [Math.min(...temperatures), Math.max(...temperatures)];
  const y = (temperature: number) => (warmest === coldest ? (TOP + LOW) / 2 : TOP + ((warmest - temperature) / (warmest - coldest)) * (LOW - TOP));
  const held = readings.map((reading, position) => ({ ...reading, to: readings[position + 1]?.at ?? now }));
  const last = readings.at(-1);
  const at = (instant: Instant) => percent(scale.place(instant));
  const name = `${progress} of ${required} ${unit}; ${earliest === null ? "cannot tell yet when it is reached" : `earliest ${formatTime(earliest)}`}.`;
  return (
    <figure className="cure">
      <svg className="drawing fluid" height="132" role="img" aria-label={name}>
        {stopped.map((span) => <rect key={span.from} fill="url(#h-doubt)" x={at(span.from)} width={percent(scale.place(span.to) - scale.place(span.from))} y={TOP - 12} height={BAR - TOP + 26} />)}
        {[...new Set([warmest, coldest])].map((temperature) => <line key={temperature} className="hair" x1="0" x2="100%" y1={y(temperature)} y2={y(temperature)} />)}
        {minimum !== undefined && <line className="s-held" x1="0" x2="100%" y1={y(minimum)} y2={y(minimum)} />}
        {held.map(({ at: from, to, temperature, assumed }, position) => (
          <g key={from}>
            <line className={assumed ? "thick dash" : "thick"} x1={at(from)} x2={at(to)} y1={y(temperature)} y2={y(temperature)} />
            {position > 0 && <line className="thick" x1={at(from)} x2={at(from)} y1={y(held[position - 1]!.temperature)} y2={y(temperature)} />}
          </g>
        ))}
        {last && earliest !== null && earliest > now && <line className="s-held dash" x1={at(now)} x2={at(earliest)} y1={y(last.temperature)} y2={y(last.temperature)} />}
        {warmest !== minimum && <text className="halo" x="0" y={y(warmest) - 5}>{warmest} {temperatureUnit}</text>}
        {minimum === undefined
          ? warmest !== coldest && <text className="halo" x="0" y={y(coldest) - 5}>{coldest} {temperatureUnit}</text>
          : <text className="t-held halo" x="0" y={y(minimum) - 5}>minimum {minimum} {temperatureUnit}</text>}
        <rect className="f-ink" x="0" width={at(Math.min(now, earliest ?? now))} y={BAR} height="13" />
        {earliest !== null && earliest > now && <rect className="s-held cure-left" x={at(now)} width={percent(scale.place(earliest) - scale.place(now))} y={BAR} height="13" />}
        <line className="thick" x1={at(now)} x2={at(now)} y1="8" y2={BAR + 17} />
        {earliest !== null && (
          <>
            <line className="s-held" x1={at(earliest)} x2={at(earliest)} y1="14" y2={BAR + 17} />
            <g transform="translate(4 0)"><line className="s-held" x1={at(earliest)} x2={at(earliest)} y1="14" y2={BAR + 17} /></g>
          </>
        )}
        <text x="0" y="128">{formatShort(startedAt)}</text>
        <NowAndEarliest place={scale.place} {...{ now, earliest, formatShort }} />
      </svg>
      <ReadAsTable caption={name} columns={["From", "Temperature"]} rows={readings.map((reading) => [formatTime(reading.at), `${reading.temperature} ${temperatureUnit}${reading.assumed ? ", assumed" : ""}`])} />
    </figure>
  );
}

/** The two words under the bar; "now" gives way where they would touch, its line stays. */
function NowAndEarliest({ place, now, earliest, formatShort }: { place: (at: Instant) => number; now: Instant; earliest: Instant | null; formatShort: (at: Instant) => string }) {
  const here = place(now);
  const clear = here > 0.3 && (earliest === null || place(earliest) - here > 0.24);
  return (
    <>
      {clear && <text className="vb" x={percent(here)} y="128" textAnchor={here > 0.94 ? "end" : "middle"}>now</text>}
      {earliest !== null && <text className="vb t-held" x={percent(place(earliest))} y="128" textAnchor="end">{formatShort(earliest)}</text>}
    </>
  );
}
