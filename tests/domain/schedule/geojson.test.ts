import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { geojsonGrid, pilesGeojson } from "#lib/domain/schedule/geojson";
import type { Grid } from "#lib/domain/schedule/grid";
import { readRows } from "#lib/domain/schedule/read-rows";
import { faultsOf, proposed } from "./sheet";

function gridOf(value: unknown): Grid {
  const reading = geojsonGrid(typeof value === "string" ? value : JSON.stringify(value));
  if (!reading.ok) throw new Error(reading.message);
  return reading.grid;
}
const point = (coordinates: unknown, properties: object | null = { mark: "17-A", type: "H" }) => ({ type: "Feature", geometry: { type: "Point", coordinates }, properties });
const collection = (...features: object[]) => ({ type: "FeatureCollection", features });

describe("points of a GeoJSON collection", () => {
  it("become rows, matched and read like those of a sheet", () => {
    const grid = gridOf(collection(point([-63.5, 44.0012345]), { type: "Feature", geometry: null, properties: { mark: "17-B", type: "H", note: "no fix" } }));
    expect(faultsOf(grid, proposed(grid))).toEqual([]);
    expect(readRows(grid, proposed(grid)).map(({ number, pile }) => [number, pile?.mark, pile?.place, pile?.words])).toEqual([
      [2, "17-A", { latitude: "44.0012345", longitude: "-63.5" }, ""], [3, "17-B", null, "no fix"],
    ]);
  });

  it("take a feature's id for its mark when no property says it", () => {
    const grid = gridOf(collection({ ...point([0, 0], { type: "H" }), id: "17-A" }));
    expect(readRows(grid, proposed(grid))[0]?.pile?.mark).toBe("17-A");
  });

  it.each<[string, unknown, RegExp]>([
    ["text that breaks off", "{\"type\":", /not whole/],
    ["another kind of JSON", { a: 1 }, /not a GeoJSON collection/],
    ["another coordinate system", { ...collection(point([0, 0])), crs: { type: "name", properties: { name: "urn:ogc:def:crs:EPSG::2961" } } }, /coordinate system/],
    ["lines", collection({ type: "Feature", geometry: { type: "LineString", coordinates: [[0, 0], [1, 1]] }, properties: {} }), /is a LineString/],
    ["positions in words", collection(point(["-63.5", "44"])), /no longitude and latitude/],
    ["half a position", collection(point([44])), /no longitude and latitude/],
    ["something else among the features", collection({ type: "Point" }), /not a GeoJSON feature/],
  ])("refuse %s", (_, value, message) => {
    const reading = geojsonGrid(typeof value === "string" ? value : JSON.stringify(value));
    expect(reading).toEqual({ ok: false, message: expect.stringMatching(message) as string });
  });

  it("allow the one coordinate system that the standard has, by its name", () => {
    expect(geojsonGrid(JSON.stringify({ ...collection(point([0, 0])), crs: { type: "name", properties: { name: "urn:ogc:def:crs:OGC:1.3:CRS84" } } })).ok).toBe(true);
  });

  it("come back from what is written, with every place that has seven decimals", () => {
    const degrees = (max: number) => fc.integer({ min: -max * 1e7, max: max * 1e7 }).map((units) => units / 1e7);
    fc.assert(
      fc.property(fc.array(fc.record({ latitude: degrees(90), longitude: degrees(180) }), { minLength: 1, maxLength: 20 }), (places) => {
        const piles = places.map((position, index) => ({ mark: `17-${index + 1}`, typeWords: "H", bent: "17", row: String(index + 1), state: "not started", position }));
        const grid = gridOf(pilesGeojson([...piles, { mark: "18-A", typeWords: "H", bent: "18", row: "A", state: "not started", position: null }]));
        const read = readRows(grid, proposed(grid));
        expect(read.map(({ pile }) => pile && { mark: pile.mark, bent: pile.bent, row: pile.row, latitude: Number(pile.place?.latitude), longitude: Number(pile.place?.longitude) })).toEqual(
          piles.map(({ mark, bent, row, position }) => ({ mark, bent, row, latitude: position.latitude + 0, longitude: position.longitude + 0 })),
        );
      }),
      { numRuns: 50 },
    );
  });
});
