import type { RequirementRow } from "#lib/services/requirements-view";
import { percent } from "../../../_ui/sequence-axis";

/** Closer than this on the axis, and two types share one letter's place. */
const NEAR = 0.07;

/** The limits of all types on one small axis: a stroke with its letter, and what meets as a heavy line. */
export function LimitAxis({ drawn: { unit, limits }, name }: { drawn: NonNullable<RequirementRow["drawn"]>; name: string }) {
  const numbers = limits.flatMap(({ min, max }) => [min, max]).filter((one): one is number => one !== null);
  const [least, most] = [Math.min(...numbers), Math.max(...numbers)];
  const spread = most - least || Math.abs(most) || 1;
  const place = (number: number): number => (most === least ? 0.4 : 0.24 + ((number - least) / spread) * 0.52);
  const loosest = { min: limits.some(({ min }) => min === null) ? null : Math.min(...limits.map(({ min }) => min ?? 0)), max: limits.some(({ max }) => max === null) ? null : Math.max(...limits.map(({ max }) => max ?? 0)) };
  const ticks = grouped(limits.flatMap(({ type, min, max }) => [min, max].flatMap((number) => (number === null ? [] : [{ type, at: place(number) }]))));
  return (
    <svg className="drawing fluid limit-axis" height="36" role="img" aria-label={`${name}: ${limits.map(({ type, min, max }) => `${type} ${wordsOf(min, max)}`).join(", ")} ${unit}`}>
      <line className="hair" x1="3%" x2="97%" y1="27" y2="27" />
      <line className="s-held range" x1={loosest.min === null ? "3%" : percent(place(loosest.min))} x2={loosest.max === null ? "97%" : percent(place(loosest.max))} y1="27" y2="27" />
      {ticks.map(({ types, at }) => (
        <g key={`${types} ${at}`}>
          <line className="s-held" x1={percent(at)} x2={percent(at)} y1="18" y2="34" />
          <text className="vb t-held" x={percent(at)} y="13" textAnchor="middle">{types}</text>
        </g>
      ))}
    </svg>
  );
}

function wordsOf(min: number | null, max: number | null): string {
  return [min !== null && `from ${min}`, max !== null && `to ${max}`].filter(Boolean).join(" ");
}

/** Types that lie on one another are named together. */
function grouped(ticks: readonly { type: string; at: number }[]): { types: string; at: number }[] {
  const groups: { types: string[]; at: number }[] = [];
  for (const { type, at } of [...ticks].sort((a, b) => a.at - b.at)) {
    const near = groups.find((group) => Math.abs(group.at - at) < NEAR);
    if (!near) groups.push({ types: [type], at });
    else if (!near.types.includes(type)) near.types.push(type);
  }
  return groups.map(({ types, at }) => ({ types: types.join(""), at }));
}
