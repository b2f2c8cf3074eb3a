import type { RoundAxis } from "./round-axis";
import { percent } from "../../../_ui/sequence-axis";

/** The wait that runs for one row: a blue dimension line from now to its double end, or what it says when it lies elsewhere. */
export function WaitLine({ until, words, when, axis, now }: { until: number | null; words: string; when: string; axis: RoundAxis; now: number }) {
  if (until === null) return <p className="wait-none letter">no limit runs</p>;
  if (until <= now) return <p className="wait-none doubtful">{words} ended {when}</p>;
  const beyond = until > axis.to;
  const end = beyond ? 1 : axis.place(until);
  // The word stands after the end of the line while there is room for it, else before it, above the line.
  const after = end < 0.55;
  return (
    <svg className="drawing fluid wait-line" height="56" role="img" aria-label={`${words} runs out ${when}`}>
      <line className="s-held" x1="0" x2={percent(end)} y1="30" y2="30" />
      {beyond ? <g className="hand-held"><use href="#g-arrow-right" x="99%" y="30" /></g> : <g className="hand-held"><use href="#g-slash" x={percent(end)} y="30" /><use href="#g-double-end" x={percent(end)} y="30" /></g>}
      <g transform={after ? "translate(10 0)" : "translate(-6 0)"}>
        <text className="t-held halo" x={percent(end)} y={after ? 34 : 22} textAnchor={after ? "start" : "end"}>{when} {words}</text>
      </g>
    </svg>
  );
}
