import type { Instant } from "#lib/domain/instant";
import type { CardView } from "#lib/services/card-view";
import { percent } from "../../../_ui/sequence-axis";
import { busySpans, minuteLabels, timeScale } from "../../../_ui/sequence-layout";

const ROW = 22;
const MOST_WINDOWS = 6;

/** The photos of the card along time, by group, under the windows of the points they are proposed to. */
export function CardStrip({ view, zone }: { view: CardView; zone: string }) {
  const dated = view.groups.flatMap(({ letter, shots, proposal, certainty }) => shots.flatMap(({ at }) => (at === null ? [] : [{ at, letter, sure: proposal !== null, out: certainty === "for no point" }])));
  const instants = dated.map(({ at }) => at);
  if (instants.length === 0) return null;
  const points = [...new Map(view.groups.flatMap(({ proposal, candidates }) => (proposal ? [proposal] : candidates.slice(0, 2))).map((point) => [`${point.sheet} ${point.line}`, point])).values()].slice(0, MOST_WINDOWS);
  const scale = timeScale(busySpans(instants));
  const foot = points.length * ROW + 34;
  const place = (at: Instant): number => Math.min(1, Math.max(0, scale.place(at)));
  return (
    <figure className="card-strip">
      <svg className="drawing fluid" height={foot + 46} role="img" aria-label={`${instants.length} photos with a time, in ${view.groups.length} groups, under the windows of ${points.map(({ mark, line }) => `${mark ?? "project"} ${line}`).join(", ") || "no open point"}.`}>
        {points.map(({ sheet, line, mark, name, from, to }, row) => (
          <g key={`${sheet} ${line}`} className="card-window">
            <line x1={percent(from === null ? 0 : place(from))} x2={percent(place(to))} y1={row * ROW + 16} y2={row * ROW + 16} />
            <text className="halo" x={percent(from === null ? 0 : place(from))} dx="4" y={row * ROW + 11}>{mark ?? "Project"}, {line} {name}, open</text>
          </g>
        ))}
        <line className="hair" x1="0" x2="100%" y1={foot - 10} y2={foot - 10} />
        {dated.map(({ at, letter, sure, out }, i) => <line key={`${letter} ${i}`} className={out ? "card-tick card-tick-out" : sure ? "card-tick" : "card-tick card-tick-doubt"} x1={percent(place(at))} x2={percent(place(at))} y1={foot - 20} y2={foot} />)}
        {view.groups.flatMap(({ letter, shots }) => { const at = shots.find((shot) => shot.at !== null)?.at; return at == null ? [] : [<text key={letter} className="vb" x={percent(place(at))} y={foot + 15} textAnchor="middle">{letter}</text>]; })}
        {minuteLabels(scale, zone, 900).map(({ left, text }) => <text key={left} className="card-hour" x={percent(left)} y={foot + 38} textAnchor="middle">{text}</text>)}
      </svg>
    </figure>
  );
}
