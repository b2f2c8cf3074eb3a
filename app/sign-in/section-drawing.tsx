/** Drawing units per inch. */
const SCALE = 21;
const CENTRE = { x: 330, y: 318 };
const INSIDE_RADIUS_IN = 12;
/** An HP 12×53 as rolled: depth, width of flange, thicknesses, in. */
const PILE = { depthIn: 11.78, flangeIn: 12.045, flangeThickIn: 0.435, webThickIn: 0.435 };
/** Where the seam stands open, degrees clockwise from the top, and how wide. */
const SEAM = { at: 34, half: 8 };
const BARS_AT = [-128, -90, -52, 52, 90, 128];

interface Place {
  x: number;
  y: number;
}

const number = (value: number): string => value.toFixed(1);
const point = ({ x, y }: Place): string => `${number(x)} ${number(y)}`;

/** A place by direction, degrees clockwise from the top, and distance from the middle, in. */
function at(degrees: number, inches: number): Place {
  const turn = (degrees * Math.PI) / 180;
  return { x: CENTRE.x + Math.sin(turn) * inches * SCALE, y: CENTRE.y - Math.cos(turn) * inches * SCALE };
}

/** The jacket at a radius, all the way round but for the seam. */
function openRing(inches: number, half = SEAM.half): string {
  const radius = number(inches * SCALE);
  return `M${point(at(SEAM.at + half, inches))}A${radius} ${radius} 0 1 1 ${point(at(SEAM.at - half, inches))}`;
}

function pileOutline(): string {
  const { depthIn, flangeIn, flangeThickIn, webThickIn } = PILE;
  const [top, side, web] = [depthIn / 2, flangeIn / 2, webThickIn / 2];
  const inner = top - flangeThickIn;
  const corners: [number, number][] = [
    [-side, -top], [side, -top], [side, -inner], [web, -inner], [web, inner], [side, inner], [side, top], [-side, top], [-side, inner], [-web, inner], [-web, -inner], [-side, -inner],
  ];
  return `M${corners.map(([x, y]) => point({ x: CENTRE.x + x * SCALE, y: CENTRE.y + y * SCALE })).join("L")}Z`;
}

/** A leader from a place in the drawing to its two lines of lettering. */
function Leader({ from, y, title, note, hand = "ink" }: { from: Place; y: number; title: string; note: string; hand?: "ink" | "held" }) {
  const held = hand === "held";
  return (
    <>
      <path className={held ? "s-held" : "thin"} d={`M${point(from)}L650 ${y}H668`} />
      <circle className={held ? "dot-held" : "f-ink"} cx={from.x} cy={from.y} r="2.5" />
      <text className={held ? "vb t-held" : "vb"} x="674" y={y + 5}>{title}</text>
      <text className={held ? "t-held" : "soft"} x="674" y={y + 23}>{note}</text>
    </>
  );
}

/** Section of a pile in its jacket, to scale, at the moment that the tool is named after: the seam still open. */
export function SectionDrawing() {
  const { x, y } = CENTRE;
  const inside = INSIDE_RADIUS_IN * SCALE;
  const corner = { x: x + (PILE.flangeIn / 2) * SCALE, y: y + (PILE.depthIn / 2) * SCALE };
  const towardsWall = (Math.atan2(PILE.flangeIn, -PILE.depthIn) * 180) / Math.PI;
  const wall = at(towardsWall, INSIDE_RADIUS_IN);
  const base = y + inside + 58;
  return (
    <svg className="drawing section" viewBox="0 0 850 690" role="img" aria-label="Section of a steel pile in its jacket, drawn to scale, with the seam still open.">
      <circle cx={x} cy={y} r={inside} fill="url(#h-grout)" opacity=".6" />
      <path className="shell" d={openRing(INSIDE_RADIUS_IN + 0.1)} />
      <path className="thick" d={openRing(INSIDE_RADIUS_IN + 0.62, SEAM.half + 3)} />
      {[-1, 1].map((side) => (
        <path key={side} className="thick" d={`M${point(at(SEAM.at + side * SEAM.half, INSIDE_RADIUS_IN - 0.6))}L${point(at(SEAM.at + side * SEAM.half, INSIDE_RADIUS_IN + 1.1))}`} />
      ))}
      <path className="f-ink" d={pileOutline()} />
      {BARS_AT.map((degrees) => {
        const bar = at(degrees, 9);
        return (
          <g key={degrees}>
            <circle className="f-sheet" cx={bar.x} cy={bar.y} r="13" />
            <circle className="f-ink" cx={bar.x} cy={bar.y} r="8" />
          </g>
        );
      })}
      <path className="thin centre" d={`M${x} ${y - inside - 40}V${y + inside + 40}M${x - inside - 40} ${y}H${x + inside + 40}`} />

      <path className="hair" d={`M${x - inside} ${y + 20}V${base + 8}M${x + inside} ${y + 20}V${base + 8}`} />
      <path className="thin" d={`M${x - inside} ${base}H${x + inside}M${x - inside - 6} ${base + 6}l12 -12M${x + inside - 6} ${base + 6}l12 -12`} />
      <rect className="f-sheet" x={x - 60} y={base - 12} width="120" height="24" />
      <text className="vb" x={x} y={base + 5} textAnchor="middle">24 in inside</text>

      <path className="s-held range" d={`M${point(corner)}L${point(wall)}`} />
      <Leader from={at(SEAM.at, INSIDE_RADIUS_IN)} y={56} title="last look" note="then this closes" />
      <Leader from={at(52, 9)} y={150} title="anchor bars" note="length, depth, spacing" />
      <Leader from={at(68, INSIDE_RADIUS_IN + 0.62)} y={244} title="jacket, two layers" note="overlap, resin in streaks or not" />
      <Leader from={{ x: x + 5 * SCALE, y: y - (PILE.depthIn / 2 - 0.2) * SCALE }} y={338} title="steel as found" note="cleaned and measured" />
      <Leader from={{ x: (corner.x + wall.x) / 2, y: (corner.y + wall.y) / 2 }} y={474} title="clear distance" note="held by spacers" hand="held" />
    </svg>
  );
}
