import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dewMarginK, dewPointC } from "#lib/domain/estimate/dew-point";
import { judge } from "#lib/domain/quantity/compare";
import { convert, toSi } from "#lib/domain/quantity/unit";

const dew = (airC: number, humidityPct: number) => dewPointC(airC, humidityPct) ?? Number.NaN;
const from3K = { si: toSi(3, "K"), inclusive: true };

describe("the dew point", () => {
  it.each([
    [21.1, 65, 14.26], [12, 84, 9.38], [18, 70, 12.44],
  ])("of air at %d °C and %d %% is %d °C", (airC, humidityPct, dewC) => {
    expect(dew(airC, humidityPct)).toBeCloseTo(dewC, 2);
  });

  it("of air at 21.1 °C and 65 % is 57.7 °F", () => {
    expect(convert(dew(21.1, 65), "°C", "°F").toFixed(1)).toBe("57.7");
  });

  // Air °C, relative humidity %, dew point °C: Magnus formula of WMO-No. 8 with the coefficients of Sonntag 1990, then
  // ASHRAE (2017 Handbook—Fundamentals, computed), which gives the frost point below 0 °C and is left out there.
  it.each<[number, number, number, number | null]>([
    [0, 30, -15.55, null],
    [0, 50, -9.202, null],
    [0, 70, -4.824, null],
    [0, 85, -2.222, null],
    [0, 100, 0, 0],
    [10, 30, -6.811, null],
    [10, 50, 0.041, 0.063],
    [10, 70, 4.776, 4.787],
    [10, 85, 7.592, 7.598],
    [10, 100, 10, 10],
    [20, 30, 1.882, 1.914],
    [20, 50, 9.255, 9.272],
    [20, 70, 14.359, 14.367],
    [20, 85, 17.399, 17.403],
    [20, 100, 20, 20],
    [30, 30, 10.529, 10.548],
    [30, 50, 18.441, 18.447],
    [30, 70, 23.927, 23.928],
    [30, 85, 27.199, 27.199],
    [30, 100, 30, 30],
    [40, 30, 19.132, 19.125],
    [40, 50, 27.598, 27.585],
    [40, 70, 33.48, 33.469],
    [40, 85, 36.991, 36.985],
    [40, 100, 40, 40],
  ])("of air at %d °C and %d %% is %d °C by Sonntag 1990 and %s °C by ASHRAE", (airC, humidityPct, sonntagC, ashraeC) => {
    expect(Math.abs(dew(airC, humidityPct) - sonntagC)).toBeLessThan(0.001);
    if (ashraeC !== null) expect(Math.abs(dew(airC, humidityPct) - ashraeC)).toBeLessThan(0.04); // °C; the formula is an approximation
  });

  // A dew-point table printed in many coating and building-physics texts (from memory), above 0 °C, to 0.1 °C.
  it.each([
    [30, 40, 14.9], [30, 55, 20], [30, 65, 22.7], [30, 75, 25.1], [30, 85, 27.2], [30, 95, 29.1],
    [25, 40, 10.5], [25, 55, 15.3], [25, 65, 18], [25, 75, 20.3], [25, 85, 22.3], [25, 95, 24.1],
    [20, 40, 6], [20, 55, 10.7], [20, 65, 13.2], [20, 75, 15.4], [20, 85, 17.4], [20, 95, 19.2],
    [15, 40, 1.5], [15, 55, 6.1], [15, 65, 8.5], [15, 75, 10.6], [15, 85, 12.5], [15, 95, 14.2],
    [10, 55, 1.4], [10, 65, 3.7], [10, 75, 5.8], [10, 85, 7.6], [10, 95, 9.2],
  ])("of air at %d °C and %d %% is printed as %d °C", (airC, humidityPct, printedC) => {
    expect(Math.abs(dew(airC, humidityPct) - printedC)).toBeLessThanOrEqual(0.1);
  });

  // Saturation vapour pressure over water, Pa: 2017 ASHRAE Handbook—Fundamentals, ch. 1, table 3.
  it("of 25 °C air is 5 °C when it carries the vapour of saturated 5 °C air", () => {
    expect(Math.abs(dew(25, (100 * 872.6) / 3169.7) - 5)).toBeLessThan(0.05);
  });

  it("of 25 °C air at 80 % is 21.309 °C, as a published psychrometric library gives it from ASHRAE", () => {
    expect(Math.abs(dew(25, 80) - 21.309)).toBeLessThan(0.04);
  });

  it("is the air temperature in saturated air, and rises with humidity and with temperature", () => {
    const air = fc.double({ min: -20, max: 59, noNaN: true });
    const humidity = fc.double({ min: 20, max: 99, noNaN: true });
    fc.assert(fc.property(air, humidity, (airC, humidityPct) => {
      expect(dew(airC, 100)).toBeCloseTo(airC, 9);
      expect(dew(airC, humidityPct)).toBeLessThan(airC);
      expect(dew(airC, humidityPct + 1)).toBeGreaterThan(dew(airC, humidityPct));
      expect(dew(airC + 1, humidityPct)).toBeGreaterThan(dew(airC, humidityPct));
    }));
  });

  it.each([
    [-45.1, 80], [60.1, 80], [20, 0], [20, -5], [20, 100.1], [Number.NaN, 50], [20, Number.NaN], [Number.POSITIVE_INFINITY, 50], [-45, 50],
  ])("cannot be told for air at %d °C and %d %%", (airC, humidityPct) => {
    expect(dewPointC(airC, humidityPct)).toBeNull();
    expect(dewMarginK(15, airC, humidityPct)).toBeNull();
  });
});

describe("the margin of a surface above the dew point", () => {
  it.each([
    [11.5, 12, 84, 2.1218],
    [14.9, 18, 70, 2.4563],
  ])("of %d °C in air at %d °C and %d %% is %d K and fails 3 K", (surfaceC, airC, humidityPct, marginK) => {
    const margin = dewMarginK(surfaceC, airC, humidityPct) ?? Number.NaN;
    expect(margin).toBeCloseTo(marginK, 4);
    expect(judge({ valueSi: margin, uncertaintySi: 0, min: from3K }).verdict).toBe("fails");
  });

  it("is negative on a surface that is wet, and cannot be told without its temperature", () => {
    expect(dewMarginK(5, 20, 80)).toBeLessThan(0);
    expect(dewMarginK(Number.NaN, 20, 80)).toBeNull();
  });
});
