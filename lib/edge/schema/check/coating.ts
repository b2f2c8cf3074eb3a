import { dewMarginK, dewPointC } from "#lib/domain/estimate/dew-point";
import { averageFilmMm } from "#lib/domain/estimate/resin";
import { judge } from "#lib/domain/quantity/compare";
import { Decimal } from "#lib/domain/quantity/decimal";
import { formatSi } from "#lib/domain/quantity/measured";
import { fromSi } from "#lib/domain/quantity/unit";
import type { Form } from "#lib/edge/schema/check-form";
import type { CheckResult } from "#lib/edge/schema/check/result";

export function dew(form: Form): CheckResult | null {
  const air = form.si("air", "temperature", "the air temperature with its unit, such as 12 °C");
  const surface = form.si("surface", "temperature", "the pile’s own surface temperature with its unit");
  const humidity = form.si("humidity", "share", "the relative humidity, such as 84 %");
  const least = form.siOrNull("margin-least", "temperature difference");
  if (form.failed) return null;
  const [airC, surfaceC, humidityPct] = [fromSi(air, "°C").toNumber(), fromSi(surface, "°C").toNumber(), humidity.times(100).toNumber()];
  const [point, margin] = [dewPointC(airC, humidityPct), dewMarginK(surfaceC, airC, humidityPct)];
  if (point === null || margin === null) return { verdict: "cannot tell", words: "The dew point cannot be told outside −45 to 60 °C and 0 to 100 %.", notes: [] };
  const held = least && judge({ valueSi: margin, uncertaintySi: 0, min: { si: least, inclusive: true } });
  return {
    verdict: held?.verdict ?? null,
    words: `${formatSi(margin, "K", 2)} (${formatSi(margin, "F°", 2)}) over a dew point of ${formatSi(point + 273.15, "°C", 2)}${least ? `, needs ${formatSi(least, "K", 2)}` : ""}.`,
    notes: ["3 °C and 5 °F are not the same: 5 °F is 2.78 K. Give the form that the specification uses."],
  };
}

/** The film that a spread mass comes to on average. */
export function film(form: Form): CheckResult | null {
  const mass = form.positive("film-mass", "mass", "the mass that was spread with its unit, such as 1.3 kg");
  const area = form.positive("film-area", "area", "the area with its unit, such as 2.27 m²");
  const density = form.positive("film-density", "density", "the density of the mixed resin with its unit, such as 1.1 kg/L");
  if (form.failed) return null;
  const filmM = new Decimal(averageFilmMm({ massKg: mass.toNumber(), areaM2: area.toNumber(), densityKgPerL: density.div(1_000).toNumber() })).div(1_000);
  return { verdict: null, words: `${formatSi(filmM, "mm")} (${formatSi(filmM, "mil", 1)}) of wet film on average.`, notes: ["An average says nothing of the thinnest place, and what stays in the pail was not spread."] };
}
