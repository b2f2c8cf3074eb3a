/** Magnus coefficients over water: 17.62 without unit, 243.12 °C. */
const A = 17.62;
const B_C = 243.12;
/** The range in which they hold, °C. */
const COLDEST_C = -45;
const WARMEST_C = 60;

/**
 * Dew point over water, °C.
 * @param airC  Air temperature, −45 to 60 °C.
 * @param relativeHumidityPct  Relative humidity over water, more than 0 and at most 100 %.
 * @returns null outside those ranges, or for a dew point under −45 °C: it cannot be told. Where the dew point lies under 0 °C printed tables may
 *   give the frost point, which is up to 1.7 °C higher.
 * @source WMO-No. 8, Annex 4.B, with the coefficients of Sonntag 1990 (from memory).
 */
export function dewPointC(airC: number, relativeHumidityPct: number): number | null {
  if (!(airC >= COLDEST_C && airC <= WARMEST_C && relativeHumidityPct > 0 && relativeHumidityPct <= 100)) return null;
  const g = Math.log(relativeHumidityPct / 100) + (A * airC) / (B_C + airC);
  const dewC = (B_C * g) / (A - g);
  return dewC >= COLDEST_C ? dewC : null;
}

/**
 * How far a surface is above the dew point of the air around it, K; negative when it is wet.
 * @param surfaceC  Temperature of the pile's own surface, °C, finite.
 * @returns null when the dew point cannot be told.
 */
export function dewMarginK(surfaceC: number, airC: number, relativeHumidityPct: number): number | null {
  const dewC = dewPointC(airC, relativeHumidityPct);
  return dewC === null || !Number.isFinite(surfaceC) ? null : surfaceC - dewC;
}
