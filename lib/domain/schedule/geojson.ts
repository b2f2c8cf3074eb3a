import { z } from "zod";
import { cellNumber, columnLetter, textCell, tooLarge, type Cell, type Grid, type GridReading } from "#lib/domain/schedule/grid";

/** A pile with what its package says of it beside its place. */
export interface PlacedPile {
  mark: string;
  typeWords: string;
  bent: string;
  row: string;
  state: string;
  position: { latitude: number; longitude: number } | null;
}

/** Positions of the piles that have one: longitude before latitude, WGS 84, 7 decimals (about 1 cm). @source RFC 7946. */
export function pilesGeojson(piles: readonly PlacedPile[]): string {
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

const Feature = z.looseObject({
  type: z.literal("Feature"),
  id: z.union([z.string(), z.number()]).optional(),
  geometry: z.looseObject({ type: z.string(), coordinates: z.unknown() }).nullable(),
  properties: z.record(z.string(), z.unknown()).nullable(),
});
const Collection = z.looseObject({ type: z.literal("FeatureCollection"), features: z.array(z.unknown()) });

/**
 * Reads a collection of points into a grid, so that its properties are matched and checked like the columns of a sheet:
 * a header of property names, "latitude" and "longitude" last, and one row for each feature. Numbers keep 15 digits and 12 decimals.
 *
 * Refused: a coordinate reference system other than WGS 84 (the standard has no other), anything but points, and positions
 * that are no numbers. A point without its place has an empty one. Latitude and longitude in the wrong order cannot be told
 * from the file; the site tells.
 * @source RFC 7946, sections 3.1.1, 3.1.2, 3.2, 3.3 and 4.
 */
export function geojsonGrid(text: string): GridReading {
  const refuse = (message: string): GridReading => ({ ok: false, message });
  const parsed = parseJson(text);
  if (parsed === undefined) return refuse("The file begins like GeoJSON and is not whole. Export it again.");
  const collection = Collection.safeParse(parsed);
  if (!collection.success) return refuse("The file is JSON and not a GeoJSON collection of features. Export the piles as a FeatureCollection of points.");
  const { crs } = collection.data;
  if (crs !== undefined && !/\bCRS84\b/.test(JSON.stringify(crs))) return refuse("The file names a coordinate system of its own. GeoJSON is WGS 84 only: export it in longitude and latitude.");

  const names = new Map<string, number>();
  const points: { properties: Record<string, unknown>; place: [string, string] | null }[] = [];
  for (const [index, one] of collection.data.features.entries()) {
    const feature = Feature.safeParse(one);
    if (!feature.success) return refuse(`Feature ${index + 1} is not a GeoJSON feature. Export the piles again.`);
    const { geometry, properties, id } = feature.data;
    if (geometry && geometry.type !== "Point") return refuse(`Feature ${index + 1} is a ${geometry.type}, and a pile is a point. Export the piles as points.`);
    const place = geometry ? placeOf(geometry.coordinates) : null;
    if (place === undefined) return refuse(`Feature ${index + 1} has no longitude and latitude. Export the piles again.`);
    const named = { ...(properties && "mark" in properties ? {} : id === undefined ? {} : { mark: id }), ...(properties ?? {}) };
    Object.keys(named).filter((name) => !names.has(name)).forEach((name) => names.set(name, names.size));
    points.push({ properties: named, place });
  }
  const headers = [...names.keys(), "latitude", "longitude"];
  const large = tooLarge({ rows: points.length + 1, columns: headers.length, cells: (points.length + 1) * headers.length });
  return large ? refuse(large) : { ok: true, grid: gridOf(headers, points) };
}

function gridOf(headers: readonly string[], points: readonly { properties: Record<string, unknown>; place: [string, string] | null }[]): Grid {
  const rows = points.map(({ properties, place }) => headers.map((name, index) => {
    if (index >= headers.length - 2) return place ? numberCell(place[index === headers.length - 1 ? 0 : 1]) : null;
    return valueCell(properties[name]);
  }));
  return {
    sheetName: "GeoJSON", sheetNames: ["GeoJSON"],
    columns: headers.map((_, index) => ({ letter: columnLetter(index), hidden: false })),
    rows: [headers.map((name) => textCell(name.trim())), ...rows].map((cells, index) => ({ number: index + 1, hidden: false, cells })),
    notes: ["Row 2 is the first feature. Positions are WGS 84, longitude before latitude."],
  };
}

function valueCell(value: unknown): Cell | null {
  if (value === null || value === undefined) return null;
  if (typeof value === "number") return numberCell(cellNumber(value));
  return textCell((typeof value === "object" ? JSON.stringify(value) : String(value)).trim());
}

function numberCell(number: string): Cell | null {
  const cell = textCell(number);
  return cell && { ...cell, number };
}

/** Longitude and latitude in plain digits; undefined when they are no numbers. */
function placeOf(coordinates: unknown): [string, string] | undefined {
  const read = z.array(z.number()).min(2).max(4).safeParse(coordinates);
  const [longitude, latitude] = read.data ?? [];
  return longitude === undefined || latitude === undefined ? undefined : [cellNumber(longitude), cellNumber(latitude)];
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}
