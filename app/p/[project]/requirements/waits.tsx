import type { PlanLineSpec } from "#lib/domain/requirement/set";
import { FlagTriangle, KIND_WORDS } from "../../../_ui/mark";
import { ReadAsTable } from "../../../_ui/table";
import { waitsAround, type Span, type WaitsPicture } from "./waits-layout";

interface WaitsProps {
  lines: readonly PlanLineSpec[];
  before: readonly PlanLineSpec[];
  line: string;
  type: string;
  letter: string;
}

const LANE = 44;
const TRACK = 66;

/** What a point waits for and what waits for it: flags for holds, bars for work, dimension lines for waits. Not to scale. */
export function Waits({ lines, before, line, type, letter }: WaitsProps) {
  const picture = waitsAround(lines, before, line);
  if (picture.points.length === 0) return null;
  const { points, spans } = picture;
  return (
    <figure className="waits">
      <h2>Waits around this point <small>{type}, not to scale</small></h2>
      <Picture picture={picture} letter={letter} />
      <ul className="waits-list">
        {spans.length === 0 && <li>No wait and no clock reaches over this point.</li>}
        {spans.map((span) => <li key={keyOf(span)}><b>{span.words}</b>{span.was && <> <span className="replaced">{span.was}</span> <FlagTriangle n={letter} hand="held" /></>}<small>{span.between}</small></li>)}
        {points.filter(({ hides }) => hides).map((point) => <li key={point.line}>Work at {point.line} hides {point.hides}.</li>)}
      </ul>
      <figcaption>
        <ReadAsTable
          caption={`Waits around point ${line}`} columns={["From and to", "Wait", "Before"]}
          rows={[...spans.map((span) => [span.between, span.words, span.was ?? ""]), ...points.filter(({ hides }) => hides).map((point) => [`${point.line} begins`, `hides ${point.hides}`, ""])]}
        />
      </figcaption>
    </figure>
  );
}

function keyOf({ from, to, kind, between }: Span): string {
  return `${from} ${to} ${kind} ${between}`;
}

function Picture({ picture: { points, spans, lanes }, letter }: { picture: WaitsPicture; letter: string }) {
  const share = (index: number): number => ((index + 0.5) / points.length) * 100;
  const half = Math.min(4.4, 30 / points.length);
  const at = (line: string): number => points.findIndex((one) => one.line === line);
  const x = (value: number): string => `${value.toFixed(2)}%`;
  const sentence = [
    `Points ${points.map(({ line, kind }) => `${line} (${KIND_WORDS[kind]})`).join(", ")}.`,
    ...spans.map(({ between, words, was }) => `${between}: ${words}${was ? `, was ${was}` : ""}.`),
    ...points.filter(({ hides }) => hides).map(({ line, hides }) => `Work at ${line} hides ${hides}.`),
  ].join(" ");
  return (
    <svg className="drawing fluid waits-picture" height={TRACK + 36 + lanes * LANE} role="img" aria-label={sentence}>
      <line className="hair" x1="1%" x2="99%" y1={TRACK} y2={TRACK} />
      {points.map((point, index) => (
        <g key={point.line}>
          <rect className="f-ink" x={x(share(index) - half)} width={x(2 * half)} y={TRACK - (point.open ? 7 : 5)} height={point.open ? 14 : 10} />
          <svg x={x(share(index))} y="0" className="waits-point">
            <text className={point.open ? "vb" : "soft"} y="14" textAnchor="middle">{shortName(point.name)}</text>
            <text className="vb" x="-5" y="35" textAnchor="end">{point.line}</text>
            <Kind kind={point.kind} />
          </svg>
          {point.kind === "H" && <svg x={x(share(index) + half)} y={TRACK} className="waits-point"><path className="waits-flag" d="M0 12V-20H10V-11H1.5" /></svg>}
          {point.hides && (
            <>
              <line className="cut" x1={x(share(index) - half)} x2={x(share(index) - half)} y1={TRACK - 18} y2={TRACK + 22} />
              <svg x={x(share(index) - half)} y={TRACK + 21} className="waits-point"><text className="soft halo" x="-6" textAnchor="end">hides {point.hides}</text></svg>
            </>
          )}
        </g>
      ))}
      {spans.map((span) => {
        const from = share(at(span.from)) + half;
        const to = share(at(span.to)) + (span.to === span.from ? half : -half);
        const y = TRACK + 50 + span.lane * LANE;
        const middle = (from + to) / 2;
        const anchor = middle > 82 ? "end" : middle < 18 ? "start" : "middle";
        const textAt = anchor === "end" ? 99 : anchor === "start" ? 1 : middle;
        return (
          <g key={keyOf(span)} className="hand-held">
            <line className="hair" x1={x(from)} x2={x(from)} y1={TRACK + 8} y2={y + 4} />
            <line className="hair" x1={x(to)} x2={x(to)} y1={TRACK + 8} y2={y + 4} />
            <line className="s-held" x1={x(from)} x2={x(to)} y1={y} y2={y} />
            <use href="#g-slash" x={x(from)} y={y} />
            {span.kind === "at most" ? <use href="#g-double-end" x={x(to)} y={y} /> : <use href="#g-slash" x={x(to)} y={y} />}
            <text className="vb t-held halo" x={x(textAt)} y={y - 5} textAnchor={anchor}>{span.words}{span.was ? `, was ${span.was.replace(/^at (?:least|most) /, "")} (${letter})` : ""}</text>
            <text className="soft" x={x(textAt)} y={y + 16} textAnchor={anchor}>{span.between}</text>
          </g>
        );
      })}
    </svg>
  );
}

function Kind({ kind }: { kind: PlanLineSpec["kind"] }) {
  if (kind === "H") return <><rect className="f-ink" x="1" y="22" width="16" height="16" /><text className="vb waits-on-ink" x="9" y="34.5" textAnchor="middle">H</text></>;
  if (kind === "W") return <><circle className="thin" cx="9" cy="30" r="8" /><text className="vb" x="9" y="34.5" textAnchor="middle">W</text></>;
  return <><text className="vb" x="9" y="34.5" textAnchor="middle">R</text><path className="thin" d="M3 38H15" /></>;
}

/** The first words of a name: a column of the picture is not wide. */
function shortName(name: string): string {
  const [first = name] = name.split(",");
  return first.length <= 16 ? first : (first.split(" ").slice(0, 2).join(" ").length <= 16 ? first.split(" ").slice(0, 2).join(" ") : first.split(" ")[0] ?? first);
}
