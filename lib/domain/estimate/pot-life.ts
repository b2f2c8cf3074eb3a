import type { PotLife } from "#lib/domain/requirement/rule";

/**
 * Minutes that mixed resin can be worked at a temperature: from the data sheet's table by interpolation on the logarithm of the
 * time, or from one time that falls by a factor for each 10 °C.
 *
 * @param celsius  Temperature of the mixed resin, °C, finite.
 * @returns minutes, more than zero; null outside the table, where the data sheet says nothing.
 * @throws RangeError for a temperature that is not finite.
 * @source The data sheet decides. "Half for each 10 °C more" is common practice, no source; real factors lie between 1.5 and 2.5.
 */
export function potLifeMinutes(life: PotLife, celsius: number): number | null {
  if (!Number.isFinite(celsius)) throw new RangeError("A temperature has to be a number.");
  if (life.kind === "doubling") return Number(life.minutes) * Number(life.factor) ** ((Number(life.referenceC) - celsius) / 10);
  const rows = life.rows.map((row) => ({ celsius: Number(row.celsius), minutes: Number(row.minutes) })).sort((a, b) => a.celsius - b.celsius);
  const above = rows.findIndex((row) => row.celsius >= celsius);
  const [below, upper] = [rows[above - 1], rows[above]];
  if (!upper) return null;
  if (upper.celsius === celsius) return upper.minutes;
  if (!below) return null;
  const share = (celsius - below.celsius) / (upper.celsius - below.celsius);
  return below.minutes * (upper.minutes / below.minutes) ** share;
}

/**
 * The temperature at which a pot life lasts so long, °C: above it, it is shorter.
 *
 * @param minutes  More than zero.
 * @returns null outside the table, or where the pot life does not depend on the temperature.
 * @throws RangeError for minutes that are not more than zero.
 */
export function celsiusOfPotLife(life: PotLife, minutes: number): number | null {
  if (!(minutes > 0 && Number.isFinite(minutes))) throw new RangeError("A pot life has to be more than nothing.");
  if (life.kind === "doubling") {
    const factor = Number(life.factor);
    return factor === 1 ? null : Number(life.referenceC) + (10 * Math.log(Number(life.minutes) / minutes)) / Math.log(factor);
  }
  const rows = life.rows.map((row) => ({ celsius: Number(row.celsius), minutes: Number(row.minutes) })).sort((a, b) => a.celsius - b.celsius);
  // The warmest stretch in which the time is still reached.
  for (let i = rows.length - 1; i > 0; i--) {
    const [cool, warm] = [rows[i - 1], rows[i]];
    if (!cool || !warm || cool.minutes < minutes || warm.minutes > minutes) continue;
    if (warm.minutes === minutes) return warm.celsius;
    return cool.celsius + ((warm.celsius - cool.celsius) * Math.log(minutes / cool.minutes)) / Math.log(warm.minutes / cool.minutes);
  }
  return null;
}
