import type { PointState } from "#lib/domain/point/state";
import type { Core } from "./pile-ring";

export interface ElevationStage {
  cleaned: boolean;
  bars: boolean;
  clamps: boolean;
  spacers: boolean;
  jacket: boolean;
  grouted: boolean;
  stripped: boolean;
}

export interface PileElevationProps {
  core: Core;
  mark: string;
  /** Levels of the jacket's top and bottom, feet; null until they are measured. */
  topFt: number | null;
  bottomFt: number | null;
  /** Height and inside diameter of the jacket, inches. */
  heightIn: number;
  insideDiameterIn: number;
  /** Width of the pile as seen, inches; without it the usual share of the jacket is drawn. */
  coreWidthIn?: number;
  spacerRings: number;
  /** Sets of ties round the jacket; they come off at the strip. */
  tieSets: number;
  clampCount?: number;
  /** From the bottom up. A lift counts as placed from its submission on. */
  lifts: { heightIn: number; state: PointState }[];
  waterFt?: number;
  stage: ElevationStage;
}

const CORE_SHARE: Record<Core, number> = { H: 0.5, square: 0.57, round: 0.68 };
const NOT_PLACED: readonly PointState[] = ["not open", "open", "draft", "not applicable", "out of scope"];

// The drawing, in its own units: 300 wide, jacket on one scale both ways, the pile above and below it cut off.
const WIDTH = 300;
const AXIS = 148;
const CAP_TOP = 20;
const CAP_BOTTOM = 38;
const JACKET_TOP = 84;
const WALL = 6;

/**
 * The pile in its jacket: left half whole, right half cut open. What is not built yet is a broken outline; the drawing
 * darkens as the work goes on. Jacket, rings and lifts are to one scale; the pile beyond them is cut.
 */
export function PileElevation(props: PileElevationProps) {
  const { core, heightIn, insideDiameterIn, lifts } = props;
  const scale = Math.min(146 / insideDiameterIn, 272 / heightIn);
  const half = (insideDiameterIn * scale) / 2;
  const frame: Frame = {
    scale,
    left: AXIS - half,
    right: AXIS + half,
    top: JACKET_TOP,
    bottom: JACKET_TOP + heightIn * scale,
    coreHalf: ((props.coreWidthIn ?? insideDiameterIn * CORE_SHARE[core]) * scale) / 2,
  };
  const height = frame.bottom + 118;
  return (
    <svg className="drawing elevation" viewBox={`0 0 ${WIDTH} ${height.toFixed(0)}`} role="img" aria-label={describe(props)}>
      <path className="thick f-tint" d={`M${AXIS - 104} ${CAP_TOP}h208v${CAP_BOTTOM - CAP_TOP}h-208z`} />
      <text x={AXIS + 104} y="14" className="soft" textAnchor="end">cap beam</text>
      <Core core={core} frame={frame} cleaned={props.stage.cleaned} />
      <CutHalf {...props} frame={frame} />
      <WholeHalf {...props} frame={frame} />
      <path className="thin centre" d={`M${AXIS} ${frame.top - 16}V${frame.bottom + 26}`} />
      <Levels {...props} frame={frame} />
      <Dimensions frame={frame} heightIn={heightIn} insideDiameterIn={insideDiameterIn} lifts={lifts} />
      <text x={AXIS} y={height - 6} className="soft" textAnchor="middle">left half whole, right half cut</text>
    </svg>
  );
}

interface Frame {
  scale: number;
  left: number;
  right: number;
  top: number;
  bottom: number;
  coreHalf: number;
}

function Core({ core, frame, cleaned }: { core: Core; frame: Frame; cleaned: boolean }) {
  const { coreHalf, top, bottom } = frame;
  const end = bottom + 84;
  const edges = [AXIS - coreHalf, AXIS + coreHalf];
  const web = coreHalf * 0.14;
  return (
    <g>
      {edges.map((x) => <path key={x} className="thin" d={`M${x} ${CAP_BOTTOM}V${end}`} />)}
      {core === "H" && <path className="thin" d={`M${edges[0]! + 5} ${CAP_BOTTOM}V${end}M${edges[1]! - 5} ${CAP_BOTTOM}V${end}M${AXIS - web} ${CAP_BOTTOM}V${top}M${AXIS + web} ${CAP_BOTTOM}V${top}M${AXIS - web} ${bottom + 9}V${end}M${AXIS + web} ${bottom + 9}V${end}`} />}
      {core === "square" && <path className="hair" d={`M${edges[0]! + 6} ${CAP_BOTTOM}V${end}M${edges[1]! - 6} ${CAP_BOTTOM}V${end}`} />}
      {core === "round" && <path className="hair" d={`M${AXIS - coreHalf * 0.6} ${CAP_BOTTOM}V${end}M${AXIS - coreHalf * 0.2} ${CAP_BOTTOM}V${end}M${AXIS + coreHalf * 0.4} ${CAP_BOTTOM}V${end}`} />}
      <path className="thin" d={`M${AXIS - coreHalf - 14} ${end + 2}q${(coreHalf + 14) / 2} -11 ${coreHalf + 14} 0t${coreHalf + 14} 0`} />
      {cleaned
        ? edges.map((x) => <path key={x} className="thick" d={`M${x} ${top - 12}V${bottom + 12}`} />)
        : edges.map((x, side) => <Growth key={x} x={x} top={top - 10} bottom={bottom + 14} outward={side === 0 ? -1 : 1} />)}
    </g>
  );
}

/** Marine growth along an edge that is not clean yet. */
function Growth({ x, top, bottom, outward }: { x: number; top: number; bottom: number; outward: 1 | -1 }) {
  const lumps = Math.floor((bottom - top) / 9);
  return <path className="thin" d={`M${x} ${top}${`q${outward * 7} 4.5 0 9`.repeat(lumps)}`} />;
}

function CutHalf({ core, frame, stage, spacerRings, clampCount = 0, lifts }: PileElevationProps & { frame: Frame }) {
  const { scale, top, bottom, right, coreHalf } = frame;
  const face = AXIS + coreHalf;
  const gap = right - face;
  const ring = (position: number) => top + ((bottom - top) * (position + 0.5)) / spacerRings;
  let level = bottom;
  return (
    <g>
      {lifts.map((lift, position) => {
        const high = lift.heightIn * scale;
        level -= high;
        const placed = stage.grouted || !NOT_PLACED.includes(lift.state);
        return placed ? (
          <g key={position}>
            <rect x={face} y={level} width={gap} height={high} fill="url(#h-grout)" />
            {core === "H" && <rect x={AXIS + coreHalf * 0.14} y={level} width={coreHalf * 0.86 - 5} height={high} fill="url(#h-grout)" />}
            <path className="thin" d={`M${face} ${level}h${gap}`} />
          </g>
        ) : (
          <path key={position} className="planned" d={`M${face} ${level}h${gap}`} />
        );
      })}
      {core === "H" && <path className="thin" d={`M${AXIS + coreHalf * 0.14} ${top}V${bottom}`} />}
      <path className={stage.bars ? "thick" : "planned"} d={`M${face + gap * 0.62} ${top + 10}V${bottom - 10}`} />
      {Array.from({ length: clampCount }, (_, position) => {
        const y = top + ((bottom - top) * (position + 0.5)) / clampCount;
        return <path key={position} className={stage.clamps ? "thin f-ink" : "planned f-sheet"} d={`M${face - 9} ${y - 5}h9v10h-9z`} />;
      })}
      {Array.from({ length: spacerRings }, (_, position) => (
        <rect key={position} className={stage.spacers ? "thin f-sheet" : "planned f-sheet"} x={face + 1} y={ring(position) - 5} width={gap - 1} height="10" />
      ))}
      {stage.jacket
        ? <rect className="f-ink" x={right} y={top} width={WALL} height={bottom - top} />
        : <rect className="planned f-none" x={right} y={top} width={WALL} height={bottom - top} />}
    </g>
  );
}

function WholeHalf({ frame, stage, tieSets }: PileElevationProps & { frame: Frame }) {
  const { left, top, bottom, right } = frame;
  const outer = left - WALL;
  const seal = `M${outer - 3} ${bottom}H${right + WALL + 3}v8H${outer - 3}z`;
  if (!stage.jacket) {
    return (
      <g>
        <path className="planned" d={`M${AXIS} ${top}H${outer}V${bottom}H${AXIS}`} />
        <path className="planned" d={seal} />
      </g>
    );
  }
  return (
    <g>
      <rect className="thick f-sheet" x={outer} y={top} width={AXIS - outer} height={bottom - top} />
      <path className="hair" d={[0.28, 0.5, 0.74].map((share) => `M${outer + (AXIS - outer) * share} ${top}V${bottom}`).join("")} />
      {!stage.stripped && Array.from({ length: tieSets }, (_, position) => (
        <rect key={position} className="thin f-sheet" x={outer - 5} y={top + ((bottom - top) * (position + 0.5)) / tieSets - 4} width={AXIS - outer + 5} height="8" />
      ))}
      {stage.grouted || stage.stripped ? <path className="f-ink" d={seal} /> : <path className="thick f-sheet" d={seal} />}
    </g>
  );
}

/** −2.20 and +1.30, with the true minus sign. */
function level(feet: number): string {
  return `${feet < 0 ? "−" : "+"}${Math.abs(feet).toFixed(2)}`;
}

/** Within this of a level, in units of the drawing, the water's word and the level's number would meet. */
const LEVEL_CLEAR = 22;

/** Levels at the left, each with its number on its line. Where the water stands close to one, the number and the word go to opposite sides of the two lines. */
function Levels({ frame, topFt, bottomFt, waterFt }: PileElevationProps & { frame: Frame }) {
  const { top, bottom, scale, left } = frame;
  const waterY = waterFt === undefined || bottomFt === null ? null : Math.min(Math.max(bottom - (waterFt - bottomFt) * 12 * scale, top - 20), bottom + 70);
  const isClose = (y: number) => waterY !== null && Math.abs(y - waterY) <= LEVEL_CLEAR;
  const isBelow = (y: number) => waterY !== null && waterY >= y;
  const wordUnder = [top, bottom].some((y) => isClose(y) && isBelow(y));
  return (
    <g>
      {[{ y: top, feet: topFt }, { y: bottom, feet: bottomFt }].map(({ y, feet }) => feet !== null && (
        <g key={y}>
          <path className="thin" d={`M0 ${y}H${left - 14}`} />
          <text x="0" y={isClose(y) && !isBelow(y) ? y + 16 : y - 5} className="vb">{level(feet)} ft</text>
        </g>
      ))}
      {waterY !== null && (
        <g>
          <path className="s-tide" d={`M0 ${waterY}H${left - 10}M${left - 22} ${waterY - 9}h12l-6 8zM${left - 22} ${waterY + 4}h12M${left - 19} ${waterY + 7}h6`} />
          <text x="0" y={wordUnder ? waterY + 15 : waterY - 5} className="t-tide">water</text>
        </g>
      )}
    </g>
  );
}

function Dimensions({ frame, heightIn, insideDiameterIn, lifts }: { frame: Frame; heightIn: number; insideDiameterIn: number; lifts: PileElevationProps["lifts"] }) {
  const { left, right, top, bottom, scale } = frame;
  const heightAt = right + 30;
  const liftsAt = right + 56;
  const ends = lifts.reduce<number[]>((levels, lift) => [...levels, levels.at(-1)! - lift.heightIn * scale], [bottom]);
  const middle = (top + bottom) / 2;
  return (
    <g>
      <path className="hair" d={`M${right + 10} ${top}H${liftsAt + 6}M${right + 12} ${bottom}H${liftsAt + 6}`} />
      <path className="thin" d={`M${heightAt} ${top}V${bottom}`} />
      <Slashes points={[[heightAt, top], [heightAt, bottom]]} />
      <rect className="f-sheet" x={heightAt - 9} y={middle - 44} width="18" height="88" />
      <text className="vb" textAnchor="middle" transform={`translate(${heightAt + 4.5} ${middle}) rotate(-90)`}>jacket {heightIn} in</text>
      {lifts.length > 0 && (
        <g>
          <text x={liftsAt} y={top - 12} textAnchor="middle">lifts, in</text>
          {lifts.map((lift, position) => {
            const [low, high] = [ends[position]!, ends[position + 1]!];
            const placed = !NOT_PLACED.includes(lift.state);
            const tall = low - high > 30;
            return (
              <g key={position}>
                <path className={placed ? "thin" : "s-held dash"} d={`M${liftsAt} ${low}V${high}`} />
                {tall && <rect className="f-sheet" x={liftsAt - 10} y={(low + high) / 2 - 9} width="20" height="18" />}
                <text className={placed ? "vb" : "vb t-held"} {...liftNumberAt(liftsAt, low, high, { tall, lowest: position === 0 })}>{lift.heightIn}</text>
              </g>
            );
          })}
          <Slashes points={ends.map((y) => [liftsAt, y])} />
        </g>
      )}
      <path className="hair" d={`M${left} ${bottom + 14}V${bottom + 56}M${right} ${bottom + 14}V${bottom + 56}`} />
      <path className="thin" d={`M${left} ${bottom + 50}H${right}`} />
      <Slashes points={[[left, bottom + 50], [right, bottom + 50]]} />
      <rect className="f-sheet" x={AXIS - 46} y={bottom + 40} width="92" height="20" />
      <text x={AXIS} y={bottom + 55} className="vb" textAnchor="middle">{insideDiameterIn} in inside</text>
    </g>
  );
}

/** A lift's number stands in its dimension; of one too short for it, beneath the lowest or beside. */
function liftNumberAt(x: number, low: number, high: number, { tall, lowest }: { tall: boolean; lowest: boolean }) {
  if (tall) return { x, y: (low + high) / 2 + 5, textAnchor: "middle" as const };
  return lowest ? { x, y: low + 20, textAnchor: "middle" as const } : { x: x + 10, y: (low + high) / 2 + 5, textAnchor: "start" as const };
}

function Slashes({ points }: { points: [number, number][] }) {
  return <path className="thin" d={points.map(([x, y]) => `M${x - 4.5} ${y + 4.5}l9 -9`).join("")} />;
}

function describe({ mark, topFt, bottomFt, heightIn, insideDiameterIn, lifts, stage }: PileElevationProps): string {
  const placedIn = lifts.filter((lift) => !NOT_PLACED.includes(lift.state)).reduce((sum, lift) => sum + lift.heightIn, 0);
  const done = [
    stage.cleaned ? "cleaned" : "not cleaned yet",
    stage.bars && "bars set",
    stage.clamps && "clamps fitted",
    stage.spacers && "spacers set",
    stage.jacket ? "jacket on" : "jacket not on",
    stage.grouted ? "grouted to the top" : placedIn > 0 && `grout placed to ${placedIn} of ${heightIn} in`,
    stage.stripped && "ties off",
  ].filter(Boolean);
  const levels = topFt === null || bottomFt === null ? "levels not measured yet" : `from ${level(bottomFt)} to ${level(topFt)} ft`;
  return `Elevation of pile ${mark}: jacket ${insideDiameterIn} in inside, ${heightIn} in high, ${levels}; ${done.join(", ")}.`;
}
