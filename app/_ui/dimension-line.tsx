import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import { dimensionScale, dimensionSentence, drawnNumbers, limitWords, shortfall, type Dimension } from "./dimension-layout";

const percent = (share: number) => `${(share * 100).toFixed(2)}%`;

/** Keeps a word inside the drawing: near an edge it hangs from the edge side of its point. */
function anchorAt(share: number): "start" | "middle" | "end" {
  if (share < 0.2) return "start";
  return share > 0.78 ? "end" : "middle";
}

/**
 * A value against its limits, to scale: limits blue, measured ink between 45° slashes, what is missing red with its
 * amount, the instrument's uncertainty a whisker. As wide as its place; `compact` is the one without words, for tables.
 */
export function DimensionLine({ verdict, compact = false, ...dimension }: Dimension & { verdict: ValueVerdict; compact?: boolean }) {
  const numbers = drawnNumbers(dimension);
  const sentence = dimensionSentence(dimension, verdict);
  if (numbers.length === 0) return <p className="letter">{sentence}</p>;
  const { broken, place } = dimensionScale(numbers);
  const at = (number: string | number) => percent(place(Number(number)));
  return compact ? <CompactLine {...{ dimension, verdict, sentence, at }} /> : <FullLine {...{ dimension, sentence, broken, place, at }} />;
}

type At = (number: string | number) => string;

function FullLine({ dimension, sentence, broken, place, at }: { dimension: Dimension; sentence: string; broken: boolean; place: (n: number) => number; at: At }) {
  const { value, uncertainty, min, max, unit } = dimension;
  const outside = shortfall(dimension);
  const exact = min !== undefined && min === max;
  const limitAt = min ?? max;
  const wordsAt = exact || min === undefined || max === undefined ? Number(limitAt) : (Number(min) + Number(max)) / 2;
  return (
    <svg className="drawing fluid dimension" height="82" role="img" aria-label={sentence}>
      <line className="hair" x1="2%" x2="100%" y1="46" y2="46" />
      {min !== undefined && max !== undefined && !exact && <line className="s-held range" x1={at(min)} x2={at(max)} y1="46" y2="46" />}
      {[min, max].map((limit, side) => limit !== undefined && <line className="s-held" key={side} x1={at(limit)} x2={at(limit)} y1="23" y2="58" />)}
      {limitAt !== undefined && (
        <text className="t-held" x={percent(place(wordsAt))} y="15" textAnchor={anchorAt(place(wordsAt))}>
          needs {limitWords(dimension)} {unit}
        </text>
      )}
      {value !== null && (
        <>
          <line className="thin" x1="2%" x2={at(value)} y1="46" y2="46" />
          <line className="thin" x1="2%" x2="2%" y1="36" y2="56" />
          <use className="hand-ink" href="#g-slash" x="2%" y="46" />
          {broken && <use className="hand-ink" href="#g-scale-break" x="9%" y="46" />}
          <line className="thin" x1={at(value)} x2={at(value)} y1="35" y2="57" />
          {outside && (
            <>
              <line className="s-bad" x1={at(value)} x2={at(outside.limit)} y1="46" y2="46" />
              <use className="hand-bad" href="#g-slash" x={at(outside.limit)} y="46" />
              <text className="t-bad vb" x={percent(place((Number(value) + Number(outside.limit)) / 2))} y="77" textAnchor={anchorAt(place(Number(value)))}>
                {outside.amount} {outside.side}
              </text>
            </>
          )}
          <use className={outside ? "hand-bad" : "hand-ink"} href="#g-slash" x={at(value)} y="46" />
          {uncertainty !== undefined && <Whisker from={at(Number(value) - Number(uncertainty))} to={at(Number(value) + Number(uncertainty))} y={outside ? 40 : 52} />}
          <text className="vb halo" x={percent(Math.max(place(Number(value)) - 0.02, 0.16))} y="40" textAnchor="end">measured {value}</text>
        </>
      )}
    </svg>
  );
}

function CompactLine({ dimension, verdict, sentence, at }: { dimension: Dimension; verdict: ValueVerdict; sentence: string; at: At }) {
  const { value, uncertainty, min, max } = dimension;
  return (
    <svg className="drawing fluid dimension-compact" height="30" role="img" aria-label={sentence}>
      <line className="hair" x1="0" x2="100%" y1="18" y2="18" />
      {(min !== undefined || max !== undefined) && (
        <line className="s-held range" x1={min === undefined ? "0" : at(min)} x2={max === undefined ? "100%" : at(max)} y1="18" y2="18" />
      )}
      {[min, max].map((limit, side) => limit !== undefined && <line className="s-held" key={side} x1={at(limit)} x2={at(limit)} y1="9" y2="25" />)}
      {value !== null && (
        <>
          {uncertainty !== undefined && <Whisker from={at(Number(value) - Number(uncertainty))} to={at(Number(value) + Number(uncertainty))} y={12} />}
          <use className={verdict === "fails" ? "hand-bad" : "hand-ink"} href="#g-slash-bold" x={at(value)} y="18" />
        </>
      )}
    </svg>
  );
}

function Whisker({ from, to, y }: { from: string; to: string; y: number }) {
  return (
    <g className="hand-ink whisker">
      <line className="thin" x1={from} x2={to} y1={y} y2={y} />
      <use href="#g-whisker-end" x={from} y={y} />
      <use href="#g-whisker-end" x={to} y={y} />
    </g>
  );
}
