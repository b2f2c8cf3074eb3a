import { ReadAsTable } from "../../../_ui/table";

/** One jacket's resin on the curve: up to `oneTo` it is one batch, above it several. */
export interface BatchLine {
  name: string;
  kg: number;
  /** °C; null where one batch is enough at every temperature shown, or at none. */
  oneTo: number | null;
}

export interface BatchCurveProps {
  /** Largest batch by temperature, kg; null where the data sheet says nothing. */
  points: { celsius: number; kg: number | null; minutes: number | null }[];
  capKg: number;
  lines: BatchLine[];
  /** The temperature asked about, °C. */
  at: number | null;
}

const WIDTH = 340;
const HEIGHT = 210;
const [LEFT, RIGHT, TOP, BOTTOM] = [38, 332, 34, 168];

/** What one batch may be, by the temperature of the resin: the curve bounds the wash, and a jacket's line that leaves it turns red and broken. */
export function BatchCurve({ points, capKg, lines, at }: BatchCurveProps) {
  const told = points.filter((point): point is { celsius: number; kg: number; minutes: number } => point.kg !== null && point.minutes !== null);
  const [first, last] = [told[0], told.at(-1)];
  if (!first || !last) return null;
  const low = Math.min(...lines.map(({ kg }) => kg), last.kg);
  const least = Math.max(0, Math.floor(low * 2 - 0.5) / 2);
  const most = Math.max(capKg, ...lines.map(({ kg }) => kg)) * 1.02;
  const x = (celsius: number): number => LEFT + ((celsius - first.celsius) / (last.celsius - first.celsius)) * (RIGHT - LEFT);
  const y = (kg: number): number => BOTTOM - ((kg - least) / (most - least)) * (BOTTOM - TOP);
  const path = told.map(({ celsius, kg }, i) => `${i === 0 ? "M" : "L"}${x(celsius).toFixed(1)} ${y(Math.max(kg, least)).toFixed(1)}`).join("");
  const crossings = lines.flatMap(({ oneTo }) => (oneTo !== null && oneTo > first.celsius && oneTo < last.celsius ? [oneTo] : []));
  const named = nameAt(told.filter(({ kg }) => kg < capKg * 0.97 && kg > least), lines.map(({ kg }) => y(kg)), y);
  return (
    <svg className="drawing batch-curve" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} width={WIDTH} role="img" aria-label={curveSentence(lines, capKg)}>
      <text className="soft" x="0" y="11">kg in one batch</text>
      {steps(least, most, 0.5).map((kg) => (
        <g key={kg}>
          <path className="hair" d={`M${LEFT} ${y(kg)}H${RIGHT}`} />
          <text className="soft" x={LEFT - 6} y={y(kg) + 4.5} textAnchor="end">{kg.toFixed(1)}</text>
        </g>
      ))}
      <path className="f-held" d={`${path}V${BOTTOM}H${LEFT}Z`} />
      <path className="s-held curve" d={path} />
      <text className="t-held" x={LEFT + 6} y={y(capKg) - 6}>at most {capKg.toFixed(1)} kg, data sheet</text>
      {named && <text className="t-held halo" x={x(named.celsius) - 52} y={y(named.kg) + 4.5} textAnchor="end">pot life limits</text>}
      {named && <path className="s-held" d={`M${x(named.celsius) - 48} ${y(named.kg)}H${x(named.celsius)}`} />}
      {lines.map(({ name, kg, oneTo }) => {
        const turn = oneTo === null ? (kg <= (told.at(-1)?.kg ?? 0) ? RIGHT : LEFT) : Math.min(RIGHT, Math.max(LEFT, x(oneTo)));
        return (
          <g key={name}>
            <path className="thick" d={`M${LEFT} ${y(kg)}H${turn}`} />
            {turn < RIGHT && <path className="s-bad dash" d={`M${turn} ${y(kg)}H${RIGHT}`} />}
            {turn < RIGHT && <text className="t-bad halo" x={RIGHT} y={y(kg) - 6} textAnchor="end">two</text>}
            {turn < RIGHT && turn > LEFT && <path className="thick" d={`M${turn - 5} ${y(kg) + 5}l10 -10`} />}
            {turn < RIGHT && turn > LEFT && <path className="thin dots" d={`M${turn} ${y(kg)}V${BOTTOM + 4}`} />}
            <text className="vb" x={LEFT + 6} y={y(kg) + 15}>{name} {kg.toFixed(3)} kg</text>
          </g>
        );
      })}
      {at !== null && at >= first.celsius && at <= last.celsius && (
        <g>
          <path className="thick" d={`M${x(at)} ${TOP - 8}V${BOTTOM}`} />
          <text className="vb halo" x={x(at)} y={TOP - 12} textAnchor="middle">{at} °C</text>
        </g>
      )}
      <path className="thin" d={`M${LEFT} ${BOTTOM}H${RIGHT}`} />
      {steps(first.celsius, last.celsius, 5).map((celsius) => (
        <g key={celsius}>
          <path className="thin" d={`M${x(celsius)} ${BOTTOM}v4`} />
          {celsius !== last.celsius && crossings.every((one) => Math.abs(x(one) - x(celsius)) > 24) && <text className="soft" x={x(celsius)} y={BOTTOM + 17} textAnchor="middle">{celsius}</text>}
        </g>
      ))}
      <text className="soft" x={RIGHT} y={BOTTOM + 17} textAnchor="end">{crossings.some((one) => x(last.celsius) - x(one) < 60) ? "°C" : `${last.celsius} °C`}</text>
      {crossings.map((celsius) => <text className="vb" key={celsius} x={x(celsius)} y={BOTTOM + 17} textAnchor="middle">{celsius.toFixed(1)}</text>)}
      <text className="soft" x="0" y={BOTTOM + 36}>pot life</text>
      {told.filter(({ celsius }) => celsius % 10 === 5).map(({ celsius, minutes }) => <text key={celsius} x={Math.max(x(celsius), 62)} y={BOTTOM + 36} textAnchor="middle">{minutes.toFixed(0)}</text>)}
      <text className="soft" x={RIGHT} y={BOTTOM + 36} textAnchor="end">min</text>
    </svg>
  );
}

export function BatchTable({ points, lines }: BatchCurveProps) {
  return (
    <ReadAsTable
      caption="Largest batch by temperature of the resin"
      columns={["Resin, °C", "Pot life, min", "Largest batch, kg", ...lines.map(({ name }) => `${name}, batches`)]}
      rows={points.filter(({ celsius }) => celsius % 5 === 0).map(({ celsius, kg, minutes }) => [
        `${celsius}`, minutes === null ? "cannot tell" : minutes.toFixed(0), kg === null ? "cannot tell" : kg.toFixed(2), ...lines.map((line) => (kg === null ? "cannot tell" : `${Math.ceil(line.kg / kg - 1e-9)}`)),
      ])}
    />
  );
}

function curveSentence(lines: readonly BatchLine[], capKg: number): string {
  const each = lines.map(({ name, kg, oneTo }) => `${name}, ${kg.toFixed(3)} kg, ${oneTo === null ? "does not change with the temperatures shown" : `one batch up to ${oneTo.toFixed(1)} °C`}`);
  return `Largest batch by temperature of the resin, at most ${capKg} kg. ${each.join(". ")}.`;
}

function steps(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from / step - 1e-9) * step;
  return Array.from({ length: Math.floor((to - first) / step + 1e-9) + 1 }, (_, i) => Number((first + i * step).toFixed(6)));
}

/** The point of the falling curve that lies farthest from the lines and their names, for the leader of its own name. */
function nameAt<P extends { kg: number }>(points: readonly P[], heights: readonly number[], y: (kg: number) => number): P | undefined {
  const room = ({ kg }: P): number => Math.min(BOTTOM - y(kg), ...heights.flatMap((height) => [Math.abs(height - y(kg)), Math.abs(height + 11 - y(kg))]));
  return [...points].sort((a, b) => room(b) - room(a))[0];
}
