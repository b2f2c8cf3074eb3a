import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { dewPointC } from "#lib/domain/estimate/dew-point";

interface Psychrometrics {
  SI: number;
  SetUnitSystem(system: number): void;
  GetTDewPointFromRelHum(airC: number, relativeHumidity: number): number;
}
/** PsychroLib 1.1.1, the psychrometric equations of the 2017 ASHRAE Handbook—Fundamentals. */
const psychrolib = createRequire(import.meta.url)("psychrolib") as Psychrometrics;
psychrolib.SetUnitSystem(psychrolib.SI);

/** The same form with the coefficients of Alduchov and Eskridge 1996: 17.625 and 243.04 °C. */
function alduchovEskridgeC(airC: number, relativeHumidityPct: number): number {
  const g = Math.log(relativeHumidityPct / 100) + (17.625 * airC) / (243.04 + airC);
  return (243.04 * g) / (17.625 - g);
}

/** Frost point by the coefficients of Sonntag 1990 over ice, 22.46 and 272.62 °C, from the vapour of the air over water. */
function frostPointC(airC: number, relativeHumidityPct: number): number {
  const g = Math.log(relativeHumidityPct / 100) + (17.62 * airC) / (243.12 + airC);
  return (272.62 * g) / (22.46 - g);
}

const dew = (airC: number, relativeHumidityPct: number): number => dewPointC(airC, relativeHumidityPct) ?? Number.NaN;
const ashrae = (airC: number, relativeHumidityPct: number): number => psychrolib.GetTDewPointFromRelHum(airC, relativeHumidityPct / 100);

const GRID = [0, 5, 10, 15, 20, 25, 30, 35, 40].flatMap((airC) => [30, 40, 50, 60, 70, 80, 85, 90, 95, 100].map((humidityPct) => ({ airC, humidityPct })));

describe("the dew point against other sources", () => {
  it("lies within 0.04 °C of ASHRAE on the whole grid where it is not below 0 °C", () => {
    const above = GRID.filter(({ airC, humidityPct }) => dew(airC, humidityPct) >= 0);
    expect(above.length).toBeGreaterThan(60);
    for (const { airC, humidityPct } of above) expect(Math.abs(dew(airC, humidityPct) - ashrae(airC, humidityPct)), `${airC} °C, ${humidityPct} %`).toBeLessThan(0.04);
  });

  it("lies within 0.02 °C of Alduchov and Eskridge on the whole grid", () => {
    for (const { airC, humidityPct } of GRID) expect(Math.abs(dew(airC, humidityPct) - alduchovEskridgeC(airC, humidityPct)), `${airC} °C, ${humidityPct} %`).toBeLessThan(0.02);
  });

  // Air °C, relative humidity %, then the published coefficients worked to 0.001 °C: Sonntag 1990 (WMO-No. 8) and Alduchov and Eskridge 1996.
  it.each([
    [0, 40, -12.018, -12.011], [0, 60, -6.85, -6.846], [0, 80, -3.04, -3.039], [5, 40, -7.505, -7.497], [5, 60, -2.13, -2.126], [5, 85, 2.686, 2.688], [10, 40, -3.001, -2.993], [10, 60, 2.584, 2.588], [10, 90, 8.434, 8.435], [40, 95, 39.043, 39.044],
  ])("of air at %d °C and %d %% is %d °C, or %d °C", (airC, humidityPct, sonntagC, alduchovC) => {
    expect(Math.abs(dew(airC, humidityPct) - sonntagC)).toBeLessThan(0.001);
    expect(Math.abs(alduchovEskridgeC(airC, humidityPct) - alduchovC)).toBeLessThan(0.001);
    expect(Math.abs(dew(airC, humidityPct) - alduchovC)).toBeLessThan(0.1);
  });

  it("below 0 °C is over water: the frost point that ASHRAE gives there is higher, by up to 1.7 °C, and agrees with the coefficients over ice", () => {
    const below = GRID.filter(({ airC, humidityPct }) => dew(airC, humidityPct) < -0.05);
    expect(below.length).toBeGreaterThan(10);
    const higher = below.map(({ airC, humidityPct }) => ashrae(airC, humidityPct) - dew(airC, humidityPct));
    expect(Math.min(...higher)).toBeGreaterThan(0);
    expect(Math.max(...higher)).toBeCloseTo(1.68, 2);
    for (const { airC, humidityPct } of below) expect(Math.abs(frostPointC(airC, humidityPct) - ashrae(airC, humidityPct)), `${airC} °C, ${humidityPct} %`).toBeLessThan(0.05);
  });

  // A dew-point table printed in many coating and building-physics texts (from memory): its entries below 0 °C are frost points.
  it.each([[15, 30, -2.2], [10, 30, -6], [10, 35, -4.2], [10, 40, -2.6], [10, 45, -1.2]])("of air at %d °C and %d %% is lower than the %d °C that tables print, which is the frost point", (airC, humidityPct, printedC) => {
    expect(dew(airC, humidityPct)).toBeLessThan(printedC);
    expect(Math.abs(frostPointC(airC, humidityPct) - printedC)).toBeLessThanOrEqual(0.1);
  });
});
