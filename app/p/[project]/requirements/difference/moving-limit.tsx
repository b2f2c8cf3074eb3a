import type { FigureView, RowView } from "#lib/services/change-view";
import { dimensionScale } from "../../../../_ui/dimension-layout";

type Axis = NonNullable<FigureView["axis"]>;

export interface AxisScale {
  broken: boolean;
  place(number: number): number;
  /** Round numbers to read the axis by, away from the limits. */
  ticks: number[];
}

/** One scale for all values of a change and both of its limits. */
export function axisScale({ was, now }: Axis, values: readonly (string | null)[]): AxisScale {
  const limits = [was.min, was.max, now.min, now.max].filter((one) => one !== null).map(Number);
  const measured = values.filter((one) => one !== null).map(Number);
  const all = [...limits, ...measured];
  const { broken, place } = measured.length === 0 ? bareScale(all) : dimensionScale(all);
  const [least, most] = [Math.min(...all), Math.max(...all)];
  const clear = (tick: number): boolean => limits.every((limit) => Math.abs(place(tick) - place(limit)) > 0.08) && place(tick) > 0.12;
  return { broken, place, ticks: roundNumbers(broken ? least : 0, most).filter(clear) };
}

/** Limits alone need no more room than to tell them apart. */
function bareScale(limits: readonly number[]): Pick<AxisScale, "broken" | "place"> {
  const [least, most] = [Math.min(...limits), Math.max(...limits)];
  return { broken: true, place: (number) => 0.32 + (most === least ? 0.12 : ((number - least) / (most - least)) * 0.24) };
}

/** Steps of 1, 2 or 5 that give about four numbers. */
function roundNumbers(from: number, to: number): number[] {
  const rough = (to - from) / 4 || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((times) => times * power).find((one) => one >= rough) ?? rough;
  const first = Math.ceil(from / step);
  return Array.from({ length: Math.max(0, Math.floor(to / step) - first + 1) }, (_, index) => Number(((first + index) * step).toPrecision(12)));
}

const percent = (share: number): string => `${(share * 100).toFixed(2)}%`;

const SIDES = ["min", "max"] as const;
const SIGN = { min: "≥", max: "≤" } as const;

/** The wash between an old limit and the new one, with both lines: the old blue and broken, the new heavy. */
function Limits({ axis, scale, height, top = 0 }: { axis: Axis; scale: AxisScale; height: number; top?: number }) {
  return SIDES.map((side) => {
    const [was, now] = [axis.was[side], axis.now[side]].map((limit) => (limit === null ? null : scale.place(Number(limit))));
    return (
      <g key={side}>
        {was !== null && was !== undefined && now !== null && now !== undefined && was !== now && (
          <rect className="f-held-wash" x={percent(Math.min(was, now))} y={top} width={percent(Math.abs(now - was))} height={height - top} />
        )}
        {was !== null && was !== undefined && was !== now && <line className="s-held dash" x1={percent(was)} x2={percent(was)} y1={top} y2={height} />}
        {now !== null && now !== undefined && <line className="s-held moved" x1={percent(now)} x2={percent(now)} y1={top} y2={height} />}
      </g>
    );
  });
}

/** The words at both limits, each hanging away from the other. */
function LimitWords({ axis, scale, from, to, y }: { axis: Axis; scale: AxisScale; from: string; to: string; y: number }) {
  const word = (side: "min" | "max", letter: string, limit: string): string => `${letter} ${SIGN[side]} ${limit}${axis.unit ? ` ${axis.unit}` : ""}`;
  return SIDES.map((side) => {
    const [was, now] = [axis.was[side], axis.now[side]];
    const right = was === null || now === null || Number(now) >= Number(was);
    const at = (limit: string, after: boolean, words: string, heavy: boolean) => (
      <g transform={`translate(${after ? 4 : -4} 0)`}>
        <text className={heavy ? "t-held vb halo" : "t-held halo"} x={percent(scale.place(Number(limit)))} y={y} textAnchor={after ? "start" : "end"}>{words}</text>
      </g>
    );
    return (
      <g key={side}>
        {was !== null && was !== now && at(was, !right, word(side, from, was), false)}
        {now !== null && at(now, right, word(side, was === now ? `${from}, ${to}` : to, now), true)}
      </g>
    );
  });
}

/** The head of the column in which values stand: where the limits are, and round numbers. */
export function AxisHead({ axis, scale, from, to }: { axis: Axis; scale: AxisScale; from: string; to: string }) {
  return (
    <svg className="drawing fluid axis-head" height="40" aria-hidden="true">
      <Limits axis={axis} scale={scale} height={40} top={16} />
      <LimitWords axis={axis} scale={scale} from={from} to={to} y={12} />
      {scale.ticks.map((tick) => <text key={tick} className="soft halo" x={percent(scale.place(tick))} y="36" textAnchor="middle">{tick}</text>)}
    </svg>
  );
}

/** A limit that moves where nothing is measured yet. */
export function LimitStrip({ axis, scale, from, to, title, words }: { axis: Axis; scale: AxisScale; from: string; to: string; title: string; words: string }) {
  return (
    <svg className="drawing fluid limit-strip" height="50" role="img" aria-label={`${title}: ${sentenceOf(axis, from, to)}${words ? `, ${words}` : ""}`}>
      <Limits axis={axis} scale={scale} height={50} top={18} />
      <line className="hair" x1="2%" x2="100%" y1="34" y2="34" />
      <LimitWords axis={axis} scale={scale} from={from} to={to} y={12} />
    </svg>
  );
}

function sentenceOf({ was, now, unit }: Axis, from: string, to: string): string {
  const words = (limits: Axis["was"]): string => SIDES.flatMap((side) => (limits[side] === null ? [] : [`${side === "min" ? "at least" : "at most"} ${limits[side]} ${unit}`])).join(" and ") || "nothing";
  return `${from} asks for ${words(was)}, ${to} for ${words(now)}`;
}

/** One value: its slash in ink, what falls short of the new limit red, what was never taken dotted to a broken ring. */
export function ValueLine({ row, axis, scale, title }: { row: RowView; axis: Axis; scale: AxisScale; title: string }) {
  const { mark, value, finding, amount, shown } = row;
  const outside = value !== null && finding === "would fail" ? passedLimit(axis, Number(value)) : null;
  const label = `${mark}, ${title}: ${value === null ? shown : `${value} ${axis.unit}`}, ${finding}${amount ? `, ${amount}` : ""}`;
  return (
    <svg className="drawing fluid value-line" height="34" role="img" aria-label={label}>
      <Limits axis={axis} scale={scale} height={34} />
      {value === null ? <NeverTaken axis={axis} scale={scale} amount={amount} /> : (
        <>
          <line className="thin" x1="1.5%" x2={percent(scale.place(Number(value)))} y1="17" y2="17" />
          {scale.broken && <use className="hand-ink" href="#g-scale-break" x="6%" y="17" />}
          {outside && <Short from={Number(value)} to={outside.limit} scale={scale} amount={amount} />}
          <use className={outside ? "hand-bad" : finding === "needs a value" ? "hand-doubt" : "hand-ink"} href="#g-slash-bold" x={percent(scale.place(Number(value)))} y="17" />
        </>
      )}
    </svg>
  );
}

function passedLimit({ now }: Axis, value: number): { limit: number } | null {
  if (now.min !== null && value < Number(now.min)) return { limit: Number(now.min) };
  return now.max !== null && value > Number(now.max) ? { limit: Number(now.max) } : null;
}

function Short({ from, to, scale, amount }: { from: number; to: number; scale: AxisScale; amount: string }) {
  const rightmost = Math.max(scale.place(from), scale.place(to));
  return (
    <>
      <line className="s-bad" x1={percent(scale.place(from))} x2={percent(scale.place(to))} y1="17" y2="17" />
      <use className="hand-bad" href="#g-slash" x={percent(scale.place(to))} y="17" />
      <g transform="translate(9 0)"><text className="t-bad halo" x={percent(rightmost)} y="21.5">{amount}</text></g>
    </>
  );
}

function NeverTaken({ axis, scale, amount }: { axis: Axis; scale: AxisScale; amount: string }) {
  const limits = [axis.was, axis.now].flatMap(({ min, max }) => [min, max]).filter((one) => one !== null).map((limit) => scale.place(Number(limit)));
  const [from, ring] = [Math.min(...limits), Math.min(0.8, Math.max(...limits) + 0.1)];
  return (
    <>
      <line className="s-doubt dotted" x1={percent(from)} x2={percent(ring)} y1="17" y2="17" />
      <g transform="translate(8 0)" className="hand-doubt"><svg x={percent(ring)} y="8" width="18" height="18" overflow="visible"><use href="#v-tell" width="18" height="18" /></svg></g>
      <g transform="translate(32 0)"><text className="t-doubt halo" x={percent(ring)} y="21.5">{amount}</text></g>
    </>
  );
}
