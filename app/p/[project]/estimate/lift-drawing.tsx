import { shown, shownDigits, written, writtenDigits } from "#lib/domain/estimate/figure";
import type { GroutPart, HeadRow, TiePart } from "#lib/domain/estimate/grout-estimate";

/** Pixels for each metre; every pile of a page is drawn at it. */
const SCALE = 96;

/** The lifts of one pile to scale, in its jacket: the first one low, to be set before the next. */
export function LiftDrawing({ type, grout }: { type: string; grout: GroutPart }) {
  const wide = grout.insideDiameter.si * SCALE;
  const high = grout.height.si * SCALE;
  const top = 10;
  const foot = top + high;
  let level = 0;
  const lifts = grout.lifts.map(({ height }) => {
    level += height.si;
    return { height, y: foot - level * SCALE, deep: height.si * SCALE };
  });
  const words = `${type}: ${grout.lifts.map(({ height }) => writtenDigits(height)).join(", ")} in, ${grout.bags} bags`;
  return (
    <svg className="drawing lift-drawing" viewBox={`0 0 ${wide + 40} ${foot + 40}`} width={wide + 40} role="img" aria-label={`Lifts of a ${words}`}>
      {lifts.map(({ height, y, deep }, i) => {
        const narrow = deep < 18;
        return (
          <g key={i}>
            <rect className="thin lift" x="4" y={y} width={wide} height={deep} />
            {!narrow && <rect className="f-sheet" x={4 + wide / 2 - 20} y={y + deep / 2 - 9} width="40" height="17" />}
            <text className="vb" x={narrow ? wide + 9 : 4 + wide / 2} y={narrow ? y + deep / 2 + 4 : y + deep / 2 + 4.5} textAnchor={narrow ? "start" : "middle"}>{writtenDigits(height)}</text>
          </g>
        );
      })}
      <path className="thick" d={`M4 ${top - 6}V${foot}M${4 + wide} ${top - 6}V${foot}`} />
      <rect className="f-ink" x="0" y={foot} width={wide + 8} height="5" />
      <text className="vb" x="2" y={foot + 20}>{type}, {written(grout.height)}</text>
      <text className="soft" x="2" y={foot + 36}>{grout.bags} bags</text>
    </svg>
  );
}

const WIDTH = 340;
const BARS_FROM = 44;
const ROW = 27;

/** The load of the bottom tie by head of unset grout, before the jacket is cured: ink up to what it may carry, red beyond. */
export function TieBars({ type, ties: { rows, allowed, rating, factor } }: { type: string; ties: TiePart }) {
  const most = Math.max(...rows.map(({ load }) => load.si), allowed.si);
  const at = (newtons: number): number => BARS_FROM + (newtons / most) * (WIDTH - BARS_FROM - 82);
  const height = 18 + rows.length * ROW + 4;
  const sentence = `Load on the bottom tie of a ${type} jacket that is not cured, by head of unset grout: ${rows.map(({ head, load }) => `${written(head)} ${shown(load, 1)}`).join(", ")}. It may carry ${shown(allowed, 0)}.`;
  return (
    <svg className="drawing tie-bars" viewBox={`0 0 ${WIDTH} ${height}`} width={WIDTH} role="img" aria-label={sentence}>
      <text className="soft" x="0" y="12">head, in</text>
      <text className="t-held" x={at(allowed.si)} y="12" textAnchor={at(allowed.si) > WIDTH - 130 ? "end" : "start"}>{written(rating)} / {factor} = {shownDigits(allowed, 0)}</text>
      {rows.map(({ head, load, carries }, i) => {
        const y = 22 + i * ROW;
        return (
          <g key={head.si}>
            <text className="vb" x="32" y={y + 10} textAnchor="end">{writtenDigits(head)}</text>
            <rect className="f-ink" x={BARS_FROM} y={y} width={Math.max(1.5, at(Math.min(load.si, allowed.si)) - BARS_FROM)} height="11" />
            {!carries && <rect className="f-bad" x={at(allowed.si)} y={y} width={at(load.si) - at(allowed.si)} height="11" />}
            <text className={carries ? "halo" : "t-bad halo"} x={Math.max(at(load.si), carries ? 0 : at(allowed.si)) + 7} y={y + 10}>{shown(load, 1)}</text>
          </g>
        );
      })}
      <path className="s-held limit" d={`M${at(allowed.si)} 16V${height}`} />
    </svg>
  );
}

export function headWords({ pressure, sealForce }: HeadRow): string {
  return `${shown(pressure)}, ${shown(sealForce, 0)}`;
}
