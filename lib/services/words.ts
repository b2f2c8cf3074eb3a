import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instrument } from "#lib/db/register";

/** "2027-03-28" as "28 Mar 2027". */
export function dayWords(day: string): string {
  return formatWhen(Date.parse(`${day}T12:00:00Z`), "UTC", { offset: false }).split(",")[0]!.split(" ").slice(1).join(" ");
}

/** "± 2 %", "± 0.12 in"; empty where the register states no accuracy. */
export function accuracyWords({ accuracy, unit }: Pick<Instrument, "accuracy" | "unit">): string {
  if (!accuracy) return "";
  return accuracy.kind === "per cent" ? `± ${accuracy.value} %` : `± ${accuracy.value} ${unit ?? ""}`.trim();
}

/** "20 to 150 ft·lbf"; empty where the register states no range. */
export function rangeWords({ rangeMin, rangeMax, unit }: Pick<Instrument, "rangeMin" | "rangeMax" | "unit">): string {
  const end = unit ? ` ${unit}` : "";
  if (rangeMin !== null && rangeMax !== null) return `${rangeMin} to ${rangeMax}${end}`;
  if (rangeMin !== null) return `from ${rangeMin}${end}`;
  return rangeMax !== null ? `to ${rangeMax}${end}` : "";
}
