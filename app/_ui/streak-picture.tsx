import type { StreakFinding } from "#lib/domain/photo/streak";

const WORDS: Readonly<Record<string, string>> = { u: "like the rest", s: "differs", x: "left out" };

/** Where in the circle the mix differs, as cells beside the photo and never over it. */
export function StreakPicture({ cells, verdict }: { cells: StreakFinding["cells"]; verdict: StreakFinding["verdict"] }) {
  const { side, marks } = cells;
  const count = (mark: string): number => [...marks].filter((one) => one === mark).length;
  const label = `Cells of the circle: ${count("u")} ${WORDS.u}, ${count("s")} ${WORDS.s}, ${count("x")} ${WORDS.x}. Verdict ${verdict}.`;
  return (
    <figure className="streak-picture">
      <svg viewBox={`-0.3 -0.3 ${side + 0.6} ${side + 0.6}`} role="img" aria-label={label}>
        <circle className="streak-rim" cx={side / 2} cy={side / 2} r={side / 2} />
        {[...marks].map((mark, cell) => {
          const [x, y] = [cell % side, Math.trunc(cell / side)];
          if (mark === "u") return <circle key={cell} className="streak-even" cx={x + 0.5} cy={y + 0.5} r="0.16" />;
          if (mark === "s") return <rect key={cell} className="streak-off" x={x + 0.06} y={y + 0.06} width="0.88" height="0.88" />;
          return null;
        })}
      </svg>
      <figcaption className="letter">Dot: like the rest. Block: differs. Empty: rim, glare, shadow or outside.</figcaption>
    </figure>
  );
}
