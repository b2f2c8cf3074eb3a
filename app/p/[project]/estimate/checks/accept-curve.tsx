import type { SamplingCheck } from "#lib/edge/schema/check/result";
import { ReadAsTable } from "../../../../_ui/table";

const WIDTH = 340;
const [LEFT, RIGHT, TOP, BOTTOM] = [44, 332, 22, 168];

/** The chance that the sample is accepted, by how many of the lot are loose: what the sample cannot show lies under the curve. */
export function AcceptCurve({ check: { lot, bad, chance, curve } }: { check: SamplingCheck }) {
  // The tail in which nothing is accepted any more says nothing.
  const end = Math.max(bad * 1.3, curve.find((point) => point.chance < 0.002)?.bad ?? lot, 4);
  const drawn = curve.filter((point) => point.bad <= end);
  const last = Math.min(end, lot);
  const x = (loose: number): number => LEFT + (loose / last) * (RIGHT - LEFT);
  const y = (share: number): number => BOTTOM - share * (BOTTOM - TOP);
  const path = drawn.map((point, i) => `${i === 0 ? "M" : "L"}${x(point.bad).toFixed(1)} ${y(point.chance).toFixed(1)}`).join("");
  const step = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000].find((one) => last / one <= 8) ?? last;
  const right = bad / last > 0.6;
  return (
    <>
      <svg className="drawing accept-curve" viewBox={`0 0 ${WIDTH} 204`} width={WIDTH} role="img" aria-label={`With ${bad} of ${lot} loose the sample is accepted with a chance of ${(chance * 100).toFixed(1)} per cent.`}>
        <text className="soft" x="0" y="11">accepted, %</text>
        {[0, 0.25, 0.5, 0.75, 1].map((share) => (
          <g key={share}>
            <path className="hair" d={`M${LEFT} ${y(share)}H${RIGHT}`} />
            <text className="soft" x={LEFT - 6} y={y(share) + 4.5} textAnchor="end">{share * 100}</text>
          </g>
        ))}
        <path className="f-bad-wash" d={`${path}L${x(drawn.at(-1)?.bad ?? 0).toFixed(1)} ${BOTTOM}H${LEFT}Z`} />
        <path className="s-bad accept-line" d={path} />
        <path className="thin dots" d={`M${x(bad)} ${BOTTOM}V${y(chance)}H${LEFT}`} />
        <path className="thick" d={`M${x(bad) - 5} ${y(chance) + 5}l10 -10`} />
        <text className="vb halo" x={x(bad) + (right ? -10 : 10)} y={Math.max(TOP + 14, y(chance) - 6)} textAnchor={right ? "end" : "start"}>{(chance * 100).toFixed(1)} % with {bad} loose</text>
        <path className="thin" d={`M${LEFT} ${BOTTOM}H${RIGHT}`} />
        {Array.from({ length: Math.floor(last / step) + 1 }, (_, i) => i * step).map((loose) => (
          <g key={loose}>
            <path className="thin" d={`M${x(loose)} ${BOTTOM}v4`} />
            <text className="soft" x={x(loose)} y={BOTTOM + 18} textAnchor="middle">{loose}</text>
          </g>
        ))}
        <text className="soft" x={RIGHT} y={BOTTOM + 34} textAnchor="end">loose, of {lot}</text>
      </svg>
      <ReadAsTable caption="Chance that the sample is accepted" columns={["Loose", "Accepted, %"]} rows={drawn.map((point) => [`${point.bad}`, (point.chance * 100).toFixed(1)])} />
    </>
  );
}
