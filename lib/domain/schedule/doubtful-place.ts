import { distanceBetweenM } from "#lib/domain/photo/place";
import { placeWords, type PlaceText } from "#lib/domain/schedule/position";
import { capital, keep, leaveOut, rowWords, STOP, type Question } from "#lib/domain/schedule/question";
import type { ReadRow } from "#lib/domain/schedule/row";

/** Where the piles can be: within so many metres of the middle of the site. */
export interface SiteLimit {
  latitude: number;
  longitude: number;
  limitM: number;
}

/** Piles of one bent stand further apart than this, metres. Common practice, no source. */
const TOO_NEAR_M = 0.3;
/** Metres of one degree along a meridian, at the least (at the equator): for passing over pairs that cannot be near. */
const DEGREE_M = 110_574;

interface Placed {
  number: number;
  mark: string;
  latitude: number;
  longitude: number;
  place: PlaceText;
}

/** Asks about positions that lie outside the site and about piles that stand on each other. */
export function doubtfulPlaces(rows: readonly ReadRow[], site: SiteLimit | null): Question[] {
  const placed = rows.flatMap(({ number, pile }): Placed[] =>
    pile?.place ? [{ number, mark: pile.mark, latitude: Number(pile.place.latitude), longitude: Number(pile.place.longitude), place: pile.place }] : [],
  );
  const far = site ? placed.filter((one) => distanceBetweenM(one, site) > site.limitM) : [];
  const away = new Set(far.map(({ number }) => number));
  return [...(site ? farQuestions(far, site) : []), ...nearQuestions(placed.filter(({ number }) => !away.has(number)))];
}

type Remedy = "swapped" | "other side" | null;

function farQuestions(far: readonly Placed[], site: SiteLimit): Question[] {
  const inSite = (latitude: number, longitude: number): boolean => Math.abs(latitude) <= 90 && distanceBetweenM({ latitude, longitude }, site) <= site.limitM;
  const remedyOf = ({ latitude, longitude }: Placed): Remedy =>
    inSite(longitude, latitude) ? "swapped" : inSite(latitude, -longitude) ? "other side" : null;
  return (["swapped", "other side", null] as const).flatMap((remedy): Question[] => {
    const alike = far.filter((one) => remedyOf(one) === remedy);
    const [first] = alike;
    if (!first) return [];
    const rows = alike.map(({ number }) => number);
    const fixes = {
      swapped: { label: "latitude and longitude are swapped", words: "With latitude and longitude swapped they lie on the site." },
      "other side": { label: `the longitude is ${site.longitude < 0 ? "west" : "east"}`, words: `With the longitude ${site.longitude < 0 ? "west" : "east"} they lie on the site.` },
    };
    return [
      {
        id: `far-${first.number}-${remedy ?? "off"}`, code: "far", row: first.number, rows, column: null,
        message: `${capital(rowWords(rows))}: ${distanceWords(distanceBetweenM(first, site))} from the middle of the site`,
        detail: `${first.mark} at ${placeWords(first.place)}. ${remedy ? fixes[remedy].words : `Piles are looked for within ${distanceWords(site.limitM)}.`}`,
        answers: [
          ...(remedy ? [{ id: remedy.replace(" ", "-"), label: fixes[remedy].label, effect: { kind: "place" as const, rows, as: remedy } }] : []),
          { id: "no-place", label: "take them without a position", effect: { kind: "place", rows, as: "none" } },
          keep("the position is right"),
          leaveOut(rows),
          STOP,
        ],
      },
    ];
  });
}

function nearQuestions(placed: readonly Placed[]): Question[] {
  const sorted = [...placed].sort((a, b) => a.latitude - b.latitude || a.number - b.number);
  const nearest = new Map<Placed, { other: Placed; distanceM: number }>();
  sorted.forEach((one, index) => {
    for (let at = index + 1; at < sorted.length; at += 1) {
      const other = sorted[at];
      if (!other || (other.latitude - one.latitude) * DEGREE_M > TOO_NEAR_M) break;
      if (eastM(one, other) > 2 * TOO_NEAR_M) continue;
      const distanceM = distanceBetweenM(one, other);
      if (distanceM >= TOO_NEAR_M) continue;
      const [first, later] = one.number < other.number ? [one, other] : [other, one];
      const before = nearest.get(later);
      if (!before || first.number < before.other.number) nearest.set(later, { other: first, distanceM });
    }
  });
  return [...nearest].map(([one, { other, distanceM }]): Question => {
    const rows = [one.number];
    return {
      id: `near-${one.number}-${other.number}`, code: "near", row: one.number, rows, column: null,
      message: `Row ${one.number}: ${one.mark} stands ${distanceWords(distanceM)} from ${other.mark}, row ${other.number}`,
      detail: `Piles nearer than ${TOO_NEAR_M} m are likely one position written twice.`,
      answers: [{ id: "no-place", label: "take it without a position", effect: { kind: "place", rows, as: "none" } }, keep("both are right"), leaveOut(rows), STOP],
    };
  }).sort((a, b) => a.row - b.row);
}

/** Metres between two meridians at the latitude of the first, roughly: only for passing over pairs. */
function eastM(a: Placed, b: Placed): number {
  const degrees = Math.abs(((b.longitude - a.longitude + 540) % 360) - 180);
  return degrees * DEGREE_M * Math.cos((a.latitude * Math.PI) / 180);
}

function distanceWords(metres: number): string {
  return metres >= 1000 ? `${(metres / 1000).toFixed(metres >= 100_000 ? 0 : 1)} km` : `${metres.toFixed(metres >= 10 ? 0 : 2)} m`;
}
