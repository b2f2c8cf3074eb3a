import type { PileRecord } from "#lib/closeout/package-input";

/** Positions of the piles that have one: longitude before latitude, WGS 84, 7 decimals (about 1 cm). @source RFC 7946. */
export function pilesGeojson(piles: readonly PileRecord[]): string {
  const round = (degrees: number): number => Number(degrees.toFixed(7));
  const features = piles.flatMap(({ mark, typeWords, bent, row, state, position }) =>
    position === null
      ? []
      : [
          {
            type: "Feature",
            id: mark,
            geometry: { type: "Point", coordinates: [round(position.longitude), round(position.latitude)] },
            properties: { mark, type: typeWords, bent, row, state },
          },
        ],
  );
  return `${JSON.stringify({ type: "FeatureCollection", features }, null, 1)}\n`;
}
