import { wantedOf, type WantedPart } from "./wanted";

const CORNERS = "M16 44V14H46M344 14h30v30M374 296v30h-30M46 326H16V296";
const TAG = { width: 92, height: 36 } as const;

/** The wanted picture as a broken outline with numbered leaders, and the numbers again as a list. */
export function Outline({ subject, mark, hint }: { subject: string; mark: string | null; hint: string | null }) {
  const { says, drawing, tag: [x, y], parts } = wantedOf(subject);
  const tagged = mark !== null && x > 0;
  const right = x >= 195;
  const tag: WantedPart[] = tagged
    ? [{ words: `tag ${mark}, readable`, at: [x + (right ? TAG.width / 2 : -TAG.width / 2), y], number: [right ? 356 : 34, y < 170 ? Math.max(40, y - 16) : y - 40] }]
    : [];
  const all = [...parts, ...tag];
  return (
    <>
      <figure className="outline">
        <svg className="drawing" viewBox="0 0 390 340" role="img" aria-label={`Outline of the wanted picture. ${says}.`}>
          <rect className="f-tint" width="390" height="340" />
          <path className="thick" d={CORNERS} />
          {drawing}
          {tagged && (
            <g>
              <rect className="thick f-sheet" x={x - TAG.width / 2} y={y - TAG.height / 2} width={TAG.width} height={TAG.height} />
              <text className="outline-tag" x={x} y={y + 7} textAnchor="middle">{mark}</text>
            </g>
          )}
          {all.map(({ words, at, number }, position) => <Leader key={words} at={at} number={number} n={position + 1} />)}
        </svg>
      </figure>
      <ol className="wanted" aria-label="What the picture has to show">
        {all.map(({ words }, position) => <li key={words}><b aria-hidden="true">{position + 1}</b><span>{words}</span></li>)}
      </ol>
      {hint && <p className="letter">{hint}</p>}
    </>
  );
}

function Leader({ at: [x, y], number: [nx, ny], n }: { at: WantedPart["at"]; number: WantedPart["number"]; n: number }) {
  return (
    <g>
      <path className="thin" d={`M${x} ${y}L${nx} ${ny}`} />
      <circle className="f-ink" cx={x} cy={y} r="2.5" />
      <circle className="thick f-sheet" cx={nx} cy={ny} r="13" />
      <text className="outline-number" x={nx} y={ny + 6} textAnchor="middle">{n}</text>
    </g>
  );
}
