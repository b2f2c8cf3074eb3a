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
  const [least, most] = [rangeMin, rangeMax].map((number) => number?.replace("-", "−") ?? null);
  if (least && most) return `${least} to ${most}${end}`;
  if (least) return `from ${least}${end}`;
  return most ? `to ${most}${end}` : "";
}

/** Neighbours in plan order as one: "02-A … D, 03-B". */
export function markWords(marks: readonly string[], inOrder: readonly { mark: string; bent: string; row: string }[]): string {
  const runs: { from: number; to: number }[] = [];
  inOrder.forEach(({ mark, bent }, place) => {
    if (!marks.includes(mark)) return;
    const last = runs.at(-1);
    if (last && last.to === place - 1 && inOrder[last.to]?.bent === bent) last.to = place;
    else runs.push({ from: place, to: place });
  });
  const known = runs.flatMap(({ from, to }) => {
    const [first, end] = [inOrder[from]!, inOrder[to]!];
    if (to - from >= 2) return [`${first.mark} … ${end.row}`];
    return to === from ? [first.mark] : [first.mark, end.mark];
  });
  return [...known, ...marks.filter((mark) => !inOrder.some((pile) => pile.mark === mark))].join(", ");
}

/** "4.2 MB", "38 kB". */
export function sizeWords(bytes: number): string {
  return bytes >= 1e6 ? `${(bytes / 1e6).toFixed(1)} MB` : `${Math.ceil(bytes / 1e3)} kB`;
}
