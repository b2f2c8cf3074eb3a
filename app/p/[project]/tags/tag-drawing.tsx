import type { PileTag } from "#lib/services/tag-view";
import { Qr } from "../../../_ui/qr";

// Lengths in mm, as on the printed sheet.
const WIDE = 92;
const HIGH = 55;
const CLEAR = 11;
const CODE = 30.8;
const MARK = 27.5;
/** Letters of the bold face are so wide on average, of their size. */
const LETTER = 0.64;

/** A pile's tag as it is printed: mark, place, code, and where it is punched. Black on white in every theme. */
export function TagDrawing({ tag, project }: { tag: PileTag; project: string }) {
  const { mark, bent, row, type, core, top, code } = tag;
  const lines = [...wrapped(type), ...(top === null ? [] : [`top ${top}`]), ...wrapped(project)].slice(0, 4);
  const size = Math.min(MARK, (WIDE - 2 * CLEAR) / (LETTER * mark.length));
  return (
    <svg className="tag-drawing" viewBox={`0 0 ${WIDE} ${HIGH}`} role="group" aria-label={`Tag of pile ${mark}`}>
      <rect className="tag-card" x=".15" y=".15" width={WIDE - 0.3} height={HIGH - 0.3} />
      {[5.5, WIDE - 5.5].map((x) => <g className="tag-hole" key={x} aria-hidden="true"><circle cx={x} cy={HIGH / 2} r="2.5" /><path d={`M${x - 1} ${HIGH / 2}h2M${x} ${HIGH / 2 - 1}v2`} /></g>)}
      <text className="tag-mark" x={CLEAR} y={3.4 + 0.73 * size} fontSize={size}>{mark}</text>
      <g className="tag-ring" transform={`translate(${CLEAR + 5} 31.2)`} aria-hidden="true">
        <path d="M2.1 -4.54A5 5 0 1 1 -2.1 -4.54" />
        {core === "H" && <path d="M-2.3 -2.3H2.3M-2.3 2.3H2.3M0 -2.3V2.3" />}
        {core === "square" && <rect x="-2.3" y="-2.3" width="4.6" height="4.6" />}
        {core === "round" && <circle r="2.3" />}
      </g>
      <text className="tag-place" x={CLEAR + 12.5} y="30.2">bent {bent}</text>
      <text className="tag-place" x={CLEAR + 12.5} y="34.4">row {row}</text>
      {lines.map((line, i) => <text className="tag-line" key={i} x={CLEAR} y={40.8 + i * 3.9}>{line}</text>)}
      <svg x={WIDE - CLEAR - CODE} y={HIGH - CODE - 0.6} width={CODE} height={CODE}><Qr text={code} label={`QR code of pile ${mark}`} size="100%" /></svg>
    </svg>
  );
}

/** Words in lines of what fits beside the code. */
function wrapped(text: string, most = 24): string[] {
  return text.split(" ").reduce<string[]>((lines, word) => {
    const last = lines.at(-1);
    return last === undefined || last.length + word.length >= most ? [...lines, word] : [...lines.slice(0, -1), `${last} ${word}`];
  }, []);
}
