import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Decimal } from "#lib/domain/quantity/decimal";
import { gridToPlace, parseAngle, parsePlace, placeWords, type Axis, type LocalGrid } from "#lib/domain/schedule/position";

describe("reading an angle", () => {
  it.each<[string, Axis, string]>([
    ["44.0021", "latitude", "44.0021"],
    ["-63.5", "longitude", "-63.5"],
    ["−63.5", "longitude", "-63.5"],
    ["44,0021", "latitude", "44.0021"],
    ["63.5 W", "longitude", "-63.5"],
    ["W63.5", "longitude", "-63.5"],
    ["44.0021°N", "latitude", "44.0021"],
    ["44°00'00.0\"N", "latitude", "44"],
    ["44 00 00 N", "latitude", "44"],
    ["N 44 00 36", "latitude", "44.01"],
    ["44° 0.6' N", "latitude", "44.01"],
    ["44:00:36 N", "latitude", "44.01"],
    ["63º30′00.0″W", "longitude", "-63.5"],
    ["63 30 00 w", "longitude", "-63.5"],
    ["-63 30 00", "longitude", "-63.5"],
    ["33°52'07.2\"S", "latitude", "-33.868666667"],
    ["90 N", "latitude", "90"],
    ["180", "longitude", "180"],
    ["0 S", "latitude", "0"],
  ])("reads %s as %s %s", (text, axis, degrees) => {
    expect(parseAngle(text, axis)).toEqual({ ok: true, degrees });
  });

  it.each<[string, Axis, RegExp]>([
    ["", "latitude", /no latitude/],
    ["44 N", "longitude", /other axis/],
    ["63.5 W", "latitude", /other axis/],
    ["-44 N", "latitude", /a sign and a letter/],
    ["N 44 S", "latitude", /not clear/],
    ["44 NORTH", "latitude", /not clear/],
    ["44 60 00 N", "latitude", /60 or more/],
    ["44 00 60 N", "latitude", /60 or more/],
    ["44.5 30 N", "latitude", /above its last part/],
    ["63 30 00", "longitude", /does not say E or W/],
    ["90.0001 N", "latitude", /beyond 90/],
    ["180 00 00.1 W", "longitude", /beyond 180/],
    ["1e400", "latitude", /not clear/],
    ["NaN", "latitude", /not clear/],
    ["44 -30 00 N", "latitude", /not an angle/],
    ["forty-four", "latitude", /not clear/],
    ["44,002,100", "latitude", /beyond 90/],
  ])("refuses %s as %s", (text, axis, message) => {
    expect(parseAngle(text, axis)).toEqual({ ok: false, message: expect.stringMatching(message) });
  });
});

describe("reading a place in one cell", () => {
  it.each([
    ["44°00'00.0\"N 63°30'00.0\"W", "44", "-63.5"],
    ["63°30'00.0\"W, 44°00'00.0\"N", "44", "-63.5"],
    ["N44 00 36 W63 30 00", "44.01", "-63.5"],
    ["44.0021, -63.5003", "44.0021", "-63.5003"],
    ["44.0021 -63.5003", "44.0021", "-63.5003"],
    ["44.0021,-63.5003", "44.0021", "-63.5003"],
    ["44,0021; -63,5003", "44.0021", "-63.5003"],
    ["44.0021 N / 63.5003 W", "44.0021", "-63.5003"],
  ])("reads %s", (text, latitude, longitude) => {
    expect(parsePlace(text)).toEqual({ ok: true, place: { latitude, longitude } });
  });

  it.each(["", "44.0021", "44 N 63 N", "44.0, -63.5, 12.0", "91.0, -63.5", "bent 17"])("refuses %s", (text) => {
    expect(parsePlace(text).ok).toBe(false);
  });

  it("reads back what it writes, to the last second that is written", () => {
    const degrees = (max: number) => fc.integer({ min: -max * 36_000, max: max * 36_000 }).map((tenths) => new Decimal(tenths).div(36_000).toDecimalPlaces(9).toFixed());
    fc.assert(
      fc.property(degrees(90), degrees(180), (latitude, longitude) => {
        expect(parsePlace(placeWords({ latitude, longitude }))).toEqual({ ok: true, place: { latitude, longitude } });
      }),
    );
  });
});

describe("a grid of the drawings", () => {
  const at = (latitude: string, longitude: string, bearingDeg = "0", unit: LocalGrid["unit"] = "m"): LocalGrid => ({ origin: { latitude, longitude }, bearingDeg, unit });

  // Published lines of the GeographicLib test suite (geographiclib-python, test_geodesic.py): start, azimuth, length, end.
  it.each([
    [35.60777, -139.44815, 111.09874842956033, 8935244.56048183, -11.17491, -69.95921],
    [55.52454, 106.05087, 22.0200598809828, 4105086.171392441, 77.03196, 197.18234],
    [-21.97856, 142.59065, -32.44456876433189, 8394328.894657671, 41.84138, 98.56635],
  ])("goes from %s, %s along its bearing to the published end", (lat1, lon1, azimuth, lengthM, lat2, lon2) => {
    const { latitude, longitude } = gridToPlace(at(String(lat1), String(lon1), String(azimuth)), new Decimal(0), new Decimal(lengthM));
    // The published ends have five decimals, of which nothing is lost; a hundred-millionth of a degree is about a millimetre.
    expect(Math.abs(Number(latitude) - lat2)).toBeLessThan(1e-8);
    expect(Math.abs(((Number(longitude) - lon2 + 540) % 360) - 180)).toBeLessThan(1e-8);
  });

  // GeodSolve 2.1.2: 12.004612 m at 41.605126° from 27.95 N 82.45 W ends 0.000081° north and east.
  it("turns x and y by the bearing, and reads feet", () => {
    const turned = gridToPlace(at("27.95", "-82.45", "-48.394874", "ft"), new Decimal(12.004612).div("0.3048"), new Decimal(0));
    expect(Math.abs(Number(turned.latitude) - 27.950081)).toBeLessThan(2e-9 * 5);
    expect(Math.abs(Number(turned.longitude) + 82.449919)).toBeLessThan(2e-9 * 5);
  });
});
