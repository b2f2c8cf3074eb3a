import type { ImportRun } from "#lib/domain/schedule/apply-answers";
import type { RequirementSet } from "#lib/domain/requirement/set";
import { Block } from "../../../_ui/block";
import { ReadAsTable } from "../../../_ui/table";

const STEP = 14;
const TOP = 26;
const LEFT = 6;

/** The piles as they would stand: bents along, rows down, what needs a person crossed red. Counts by type below. */
export function DryRun({ run, sets }: { run: ImportRun; sets: readonly RequirementSet[] }) {
  const core = new Map(sets.map((set) => [set.type, set.core]));
  const deep = Math.max(1, ...run.byBent.map(({ piles }) => piles.length));
  const width = LEFT * 2 + run.byBent.length * STEP;
  const height = TOP + deep * STEP + 4;
  const every = Math.max(1, Math.ceil(run.byBent.length / 8));
  return (
    <Block title="Dry run" note="by type and bent">
      <div className="dry-run">
        {run.byBent.length > 0 && (
          <div className="dry-plan">
            <svg className="drawing" width={width} height={height} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={`${run.ready.length} piles in ${run.byBent.length} bents are ready, ${run.aside.length} need you`}>
              {run.byBent.map(({ bent, piles }, column) => (
                <g key={bent} transform={`translate(${LEFT + column * STEP} 0)`}>
                  {column % every === 0 && <text className="t-lead" x={STEP / 2} y="14" textAnchor={column === 0 ? "start" : "middle"}>{bent}</text>}
                  {piles.map(({ row, type, state }, index) => <Core key={row} core={core.get(type)} x={STEP / 2} y={TOP + index * STEP} aside={state === "aside"} />)}
                </g>
              ))}
            </svg>
          </div>
        )}
        <ul className="dry-types">
          {run.byType.map(({ type, ready, aside, bents }) => (
            <li key={type}><b className="num">{ready + aside}</b> {type}, {sets.find((set) => set.type === type)?.name ?? "no such type"}<small>bents {bents[0]}{bents.length > 1 && ` – ${bents.at(-1)}`}{aside > 0 && `, ${aside} need you`}</small></li>
          ))}
        </ul>
        <ReadAsTable caption="Dry run by bent" columns={["Bent", "Ready", "Need you"]} rows={run.byBent.map(({ bent, piles }) => [bent, piles.filter(({ state }) => state === "ready").length, piles.filter(({ state }) => state === "aside").length])} />
      </div>
    </Block>
  );
}

function Core({ core, x, y, aside }: { core: RequirementSet["core"] | undefined; x: number; y: number; aside: boolean }) {
  if (aside) return <path className="s-bad" d={`M${x - 4} ${y - 4}l8 8m0-8l-8 8`} />;
  if (core === "H") return <path className="thin" d={`M${x - 4} ${y - 4}v8m8-8v8m-8-4h8`} />;
  if (core === "round") return <circle className="thin" cx={x} cy={y} r="4" />;
  return <rect className="thin" x={x - 4} y={y - 4} width="8" height="8" />;
}
