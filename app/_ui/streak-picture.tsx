import type { StreakFinding } from "#lib/domain/photo/streak";

/** The marks of a finding, where each of them stands for a cell. */
type Mark = "u" | "s" | "x";

/** Where in the circle the mix differs, as cells beside the photo and never over it. */
export function StreakPicture({ cells, verdict }: Pick<StreakFinding, "cells" | "verdict">) {
  const { side } = cells;
  const middle = side / 2;
  const count = (mark: Mark): number => placesOf(cells, mark).length;
  const label = `The cells of the circle: ${count("u")} like the rest, ${count("s")} differ${where(placesOf(cells, "s"), side)}, ${count("x")} left out. Verdict: ${verdict}.`;
  return (
    <figure className="streak-picture">
      <svg viewBox={`-0.4 -0.4 ${side + 0.8} ${side + 0.8}`} role="img" aria-label={label}>
        <path className="streak-even" d={drawn(cells, "u", ([x, y]) => `M${x + 0.34} ${y + 0.34}h.32v.32h-.32z`)} />
        <path className="streak-left" d={drawn(cells, "x", ([x, y]) => `M${x + 0.2} ${y + 0.8}l.6 -.6`)} />
        <path className={verdict === "cannot tell" ? "streak-off streak-doubt" : "streak-off"} d={drawn(cells, "s", ([x, y]) => `M${x} ${y}h1v1h-1z`)} />
        <circle className="streak-rim" cx={middle} cy={middle} r={middle} />
      </svg>
      <figcaption className="letter">Dot: like the rest. Block: differs. Stroke: left out, as glare, shadow, rim or outside the picture.</figcaption>
    </figure>
  );
}

type Place = readonly [x: number, y: number];

/** The cells with a mark that lie in the circle: what is left out around it is no news. */
function placesOf({ side, marks }: StreakFinding["cells"], mark: Mark): Place[] {
  return [...marks].flatMap((one, cell): Place[] => {
    const [x, y] = [cell % side, Math.trunc(cell / side)];
    return one === mark && Math.hypot(x + 0.5 - side / 2, y + 0.5 - side / 2) <= side / 2 ? [[x, y]] : [];
  });
}

const drawn = (cells: StreakFinding["cells"], mark: Mark, shape: (place: Place) => string): string => placesOf(cells, mark).map(shape).join("");

/** ", most of them at the upper left": for who cannot see the picture. */
function where(places: readonly Place[], side: number): string {
  if (places.length === 0) return "";
  const mean = (part: 0 | 1): number => places.reduce((sum, place) => sum + place[part] + 0.5, 0) / places.length / side;
  const word = (value: number, low: string, high: string): string => (value < 0.4 ? low : value > 0.6 ? high : "");
  const words = [word(mean(1), "upper", "lower"), word(mean(0), "left", "right")].filter((one) => one !== "");
  return words.length === 0 ? ", spread over it" : `, most of them at the ${words.join(" ")}`;
}
