import { orderMark } from "./mark";
import { percent } from "./sequence-axis";
import type { SequencePhoto } from "./sequence-chart";
import type { TimeScale } from "./sequence-layout";
import { isDrawn, LETTER_PX, NOMINAL_WIDTH, wordPlace } from "./sequence-span";

const LEAST_WHISKER = 0.004; // share of the width: below this an uncertainty is not to be seen at this scale

/** The photos of a row: ink ticks for those in order, the verdict's own shape for every other, and its word where there is room. */
export function PhotoMarks({ photos, scale, roomy }: { photos: readonly SequencePhoto[]; scale: TimeScale; roomy: boolean }) {
  const timed = photos.filter(({ readings }) => readings.some((at) => isDrawn(scale, at)));
  const ordered = [...timed.filter(({ verdict }) => verdict === "in order"), ...timed.filter(({ verdict }) => verdict !== "in order")];
  const marked = ordered.filter(({ verdict }) => verdict !== "in order");
  const places = timed.flatMap(({ readings }) => readings).map(scale.place);
  return (
    <>
      {ordered.map((photo, place) => <PhotoMark key={place} photo={photo} scale={scale} roomy={roomy} />)}
      {[...new Set(marked.map(({ verdict }) => verdict))].map((verdict) => {
        const own = marked.filter((photo) => photo.verdict === verdict);
        const words = own.length === 1 ? verdict : `${own.length} ${verdict}`;
        const here = Math.max(...own.flatMap(({ readings }) => readings).filter((at) => isDrawn(scale, at)).map(scale.place));
        const word = wordPlace(scale, here, places, words.length * LETTER_PX, NOMINAL_WIDTH);
        return word && (
          <g key={verdict} className="sequence-aside" transform={`translate(${word.shift} 0)`}>
            <text className={`halo photo-word hand-${orderMark(verdict).hand}`} x={percent(word.left)} y="0" textAnchor={word.anchor}>{words}</text>
          </g>
        );
      })}
    </>
  );
}

/** One photo. Where several readings are left it is a broken span over all of them. */
function PhotoMark({ photo: { readings, uncertaintyMs, verdict }, scale, roomy }: { photo: SequencePhoto; scale: TimeScale; roomy: boolean }) {
  const { symbol, hand } = orderMark(verdict);
  const [first, last] = [readings[0]!, readings.at(-1)!];
  const [early, late] = [scale.place(first - uncertaintyMs), scale.place(last + uncertaintyMs)];
  const size = roomy ? 12 : 10;
  const shown = readings.filter((at) => isDrawn(scale, at));
  return (
    <g className={`tick hand-${hand}`}>
      {late - early > LEAST_WHISKER && <line className={readings.length > 1 ? "dash" : undefined} x1={percent(early)} x2={percent(late)} y1="-3.5" y2="-3.5" />}
      {shown.map((at, place) => (verdict === "in order" || place > 0
        ? <line key={at} x1={percent(scale.place(at))} x2={percent(scale.place(at))} y1="-8" y2="1" />
        : (
          <svg key={at} x={percent(scale.place(at))} className="sequence-row">
            <use className="sequence-glyph" href={`#${symbol}`} x={-size / 2} y={-3.5 - size / 2} width={size} height={size} />
          </svg>
        )))}
    </g>
  );
}
