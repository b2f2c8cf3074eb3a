import { shown } from "#lib/domain/estimate/figure";
import type { CutPart, SectionPart, SpacerPart } from "#lib/domain/estimate/jacket-estimate";

const SIZE = 176;
const MIDDLE = SIZE / 2;
const RADIUS = 66;

/** The pile in its jacket from above, to scale: the clearance is least at the corner, and a spacer has to go in there. */
export function JacketPlan({ section, cut, spacer, bars }: { section: SectionPart; cut: CutPart; spacer: SpacerPart | null; bars: number }) {
  const scale = (RADIUS * 2) / (cut.insideDiameter.si * 1_000);
  const outline = outlineOf(section, scale);
  const corner = cornerOf(section, scale);
  const turn = RADIUS / Math.hypot(corner.x, corner.y);
  const end = { x: corner.x * turn, y: corner.y * turn };
  const words = spacer ? `${shown(spacer.clearance)} at the corner, ${spacer.fits ? `a ${shown(spacer.size)} spacer goes in` : `a ${shown(spacer.size)} spacer does not go in`}` : "no spacer";
  return (
    <svg className="drawing jacket-plan" viewBox={`0 0 ${SIZE} ${SIZE}`} width={SIZE} role="img" aria-label={`Plan of ${section.words} in a jacket of ${shown(cut.insideDiameter)} inside diameter: ${words}`}>
      <g transform={`translate(${MIDDLE} ${MIDDLE})`}>
        <circle className="grout-ground" r={RADIUS} />
        {cut.layers > 0 && <circle className="thick f-none" r={RADIUS + 2} />}
        <path className="f-sheet cut-face" d={outline} />
        {Array.from({ length: bars }, (_, i) => {
          const angle = (2 * Math.PI * (i + 0.5)) / bars;
          return <circle key={i} className="f-ink" cx={RADIUS * 0.86 * Math.cos(angle)} cy={RADIUS * 0.86 * Math.sin(angle)} r="2.6" />;
        })}
        <path className={spacer && !spacer.fits ? "s-bad" : "s-held"} d={`M${corner.x} ${corner.y}L${end.x} ${end.y}`} strokeWidth="3" />
        {spacer && <text className={`vb halo ${spacer.fits ? "t-held" : "t-bad"}`} x={RADIUS + 16} y={-RADIUS - 6} textAnchor="end">{shown(spacer.clearance)}</text>}
        {spacer && <path className="hair" d={`M${RADIUS - 4} ${-RADIUS - 3}L${(corner.x + end.x) / 2} ${(corner.y + end.y) / 2}`} />}
        <path className="thin centre" d={`M${-RADIUS - 8} 0H${RADIUS + 8}M0 ${-RADIUS - 8}V${RADIUS + 8}`} opacity=".35" />
      </g>
    </svg>
  );
}

function outlineOf({ section }: SectionPart, scale: number): string {
  switch (section.kind) {
    case "HP": {
      const { depthMm, flangeWidthMm, webMm, flangeMm } = section.shape;
      const [half, wide, web, thick] = [(depthMm * scale) / 2, (flangeWidthMm * scale) / 2, (webMm * scale) / 2, flangeMm * scale];
      return `M${-wide} ${-half}H${wide}V${-half + thick}H${web}V${half - thick}H${wide}V${half}H${-wide}V${half - thick}H${-web}V${-half + thick}H${-wide}Z`;
    }
    case "square": {
      const [half, cut] = [(section.sideMm * scale) / 2, section.chamferMm * scale];
      return `M${-half + cut} ${-half}H${half - cut}L${half} ${-half + cut}V${half - cut}L${half - cut} ${half}H${-half + cut}L${-half} ${half - cut}V${-half + cut}Z`;
    }
    case "round": {
      const radius = (section.diameterMm * scale) / 2;
      return `M${-radius} 0a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0Z`;
    }
  }
}

/** A corner at the upper right; of a round pile, the point that looks there. */
function cornerOf({ section }: SectionPart, scale: number): { x: number; y: number } {
  switch (section.kind) {
    case "HP":
      return { x: (section.shape.flangeWidthMm * scale) / 2, y: (-section.shape.depthMm * scale) / 2 };
    case "square":
      return { x: (section.sideMm / 2 - section.chamferMm) * scale, y: (-section.sideMm * scale) / 2 };
    case "round":
      return { x: ((section.diameterMm * scale) / 2) * Math.SQRT1_2, y: -((section.diameterMm * scale) / 2) * Math.SQRT1_2 };
  }
}
