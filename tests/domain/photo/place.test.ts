import { describe, expect, it } from "vitest";

import { claimsWith } from "#tests/domain/photo/claims-factory";
import { ASSUMED_ERROR_M, distanceBetweenM, placeVerdict } from "#lib/domain/photo/place";
import { bestPosition, devicePosition, filePosition, signedDegrees } from "#lib/domain/photo/position";

const at = (latitude: number, longitude: number) => ({ latitude, longitude });

describe("distance", () => {
  // Published: GeographicLib test suite (geographiclib-python, test_geodesic.py); Karney, J. Geodesy 87 (2013), table 3 (from memory).
  // Computed: GeodSolve 2.1.2 (Debian geographiclib-tools). The product's own lines carry four digits.
  it.each([
    ["published, half round the Earth", at(35.60777, -139.44815), at(-11.17491, -69.95921), 8935244.56048183, 1e-6],
    ["published, across 180°", at(55.52454, 106.05087), at(77.03196, 197.18234), 4105086.171392441, 1e-6],
    ["published, worked example", at(-30.12345, 0), at(-30.12344, 0.00005), 4.944208, 1e-6],
    ["published, GeodSolve4", at(36.493349428792, 0), at(36.49334942879201, 0.0000008), 0.072, 0.0005],
    ["3 m bay, east", at(27.95, -82.45), at(27.95, -82.4499695), 3.001421, 1e-6],
    ["50 m", at(40.7, -74.02), at(40.70035, -74.01962), 50.418811, 1e-6],
    ["across the antimeridian", at(-17, 179.9998), at(-17, -179.9998), 42.594332, 1e-6],
    ["over the pole", at(89.9999, 0), at(89.9999, 180), 22.338796, 1e-6],
    ["64 m", at(44, -63.5), at(44.00045, -63.5005), 64.096, 5e-4],
    ["133 m", at(44, -63.5), at(44.0012, -63.5), 133.335, 5e-4],
    ["a bay of the wharf", at(44, -63.5), at(44.00002, -63.50003), 3.2754, 5e-5],
  ])("%s", (_name, a, b, metres, tolerance) => {
    expect(Math.abs(distanceBetweenM(a, b) - metres)).toBeLessThanOrEqual(tolerance);
  });
});

describe("the place verdict", () => {
  const site = { latitude: 44, longitude: -63.5, radiusM: 100, assumedErrorM: ASSUMED_ERROR_M.openSky };
  const photo = (latitude: number, longitude: number, errorM: number | null) => placeVerdict({ latitude, longitude, errorM }, site);

  it.each([
    ["64 m off, ± 48 m under the deck", photo(44.00045, -63.5005, 48), "place cannot tell"],
    ["64 m off, ± 15 m", photo(44.00045, -63.5005, 15), "at site"],
    ["64 m off, ± 20 m reaches over the edge", photo(44.00045, -63.5005, 20), "place cannot tell"],
    ["133 m off, ± 15 m", photo(44.0012, -63.5, 15), "elsewhere"],
    ["133 m off, ± 20 m", photo(44.0012, -63.5, 20), "place cannot tell"],
    ["64 m off, no error stated", photo(44.00045, -63.5005, null), "at site"],
    ["in the middle, ± 50 m exactly", photo(44, -63.5, 50), "at site"],
    ["no position", placeVerdict(null, site), "no place"],
  ])("%s", (_name, finding, verdict) => {
    expect(finding.verdict).toBe(verdict);
  });

  it("never calls a coarse position elsewhere", () => {
    expect(placeVerdict({ latitude: 44.0012, longitude: -63.5, errorM: null }, { ...site, assumedErrorM: ASSUMED_ERROR_M.underDeck })).toMatchObject({ verdict: "place cannot tell", errorM: 60 });
  });
});

describe("a position in a file", () => {
  const LATITUDE = { positive: "N", negative: "S", max: 90 };
  const good = { latitude: "44/1 0/1 0/1", latitudeRef: "N", longitude: "63/1 30/1 0/1", longitudeRef: "W" };

  it.each([
    // Fractions of real files; degrees as exiftool 12.57 reads them.
    ["43/1 28/1 281400000/100000000", "N", 43.4674483333333],
    ["60/1 8/1 4814/100", "N", 60.1467055555556],
    ["40/1 26/1 4910/100", "S", -40.4469722222222],
    ["90/1 0/1 0/1", "S", -90],
    ["0/1 0/1 0/1", "S", 0],
    ["43 28 2.814", "N", 43.4674483333333],
    ["40 26 49.1", "S", -40.4469722222222],
    ["44.0000123 0 0", "N", 44.0000123],
  ])("reads %s %s", (text, letter, degrees) => {
    expect(signedDegrees(text, letter, LATITUDE)).toBeCloseTo(degrees, 10);
  });

  it.each([
    ["44/1 0/1 0/0", "N"],
    ["44/0 0/1 0/1", "N"],
    ["44/1 60/1 0/1", "N"],
    ["44/1 0/1 60/1", "N"],
    ["91/1 0/1 0/1", "N"],
    ["90/1 0/1 1/1", "N"],
    ["-44/1 0/1 0/1", "N"],
    ["44/1 0/1", "N"],
    ["44.5", "N"],
    ["44 0 NaN", "N"],
    ["Infinity 0 0", "N"],
    ["44 0 60", "N"],
    ["-44 0 0", "N"],
    ["0x2c 0 0", "N"],
    ["44  0", "N"],
    ["44/1 0/1 0/1", null],
    ["44/1 0/1 0/1", "n"],
    ["44/1 0/1 0/1", "X"],
    ["44/1 0/1 0/1", "E"],
    [null, "N"],
  ])("takes %j with letter %j for invalid", (text, letter) => {
    expect(signedDegrees(text, letter, LATITUDE)).toBeNull();
  });

  it.each([
    ["both halves good", good, "position"],
    ["nothing there", {}, "missing"],
    ["longitude missing", { ...good, longitude: null }, "invalid"],
    ["letter missing: not north by default", { ...good, latitudeRef: null }, "invalid"],
    ["letters swapped", { ...good, latitudeRef: "W", longitudeRef: "N" }, "invalid"],
    ["exactly 0, 0", { latitude: "0/1 0/1 0/1", latitudeRef: "N", longitude: "0/1 0/1 0/1", longitudeRef: "E" }, "invalid"],
    ["measurement interrupted", { ...good, status: "V" }, "invalid"],
    ["measurement in progress", { ...good, status: "A" }, "position"],
  ])("%s", (_name, gps, kind) => {
    expect(filePosition(claimsWith({ gps }).gps).kind).toBe(kind);
  });

  it.each([
    ["48/1", 48],
    ["485/10", 48.5],
    ["0/1", null],
    ["1/0", null],
    ["38.81300435", 38.81300435],
    ["0", null],
    ["Infinity", null],
    [null, null],
  ])("states an error of %j as %j m", (hPositioningError, errorM) => {
    expect(bestPosition(claimsWith({ gps: { ...good, hPositioningError } }))).toEqual({ latitude: 44, longitude: -63.5, errorM });
  });

  it("gives way to the phone's page, whose 95 % radius is halved, only when the file has none", () => {
    const device = { latitude: 44.1, longitude: -63.4, accuracyM: 30 };
    expect(bestPosition(claimsWith({ device }))).toEqual({ latitude: 44.1, longitude: -63.4, errorM: 15 });
    expect(bestPosition(claimsWith({ gps: good, device }))).toEqual({ latitude: 44, longitude: -63.5, errorM: null });
    expect(devicePosition({ latitude: 44.1 }).kind).toBe("missing");
  });
});
