import { proposeSubjects, type OpenPoint } from "#lib/domain/photo/card";
import { DomainError, type Fault } from "#lib/domain/refusal";
import type { CardChoice } from "#lib/services/take-card-photos";

/**
 * Reads what a person chose for each group of a card. A group without a choice waits, unless it has a proposal and the proposed ones
 * are asked for.
 *
 * @param open The points that take photos now.
 */
export function readCardForm(form: FormData, open: readonly OpenPoint[]): CardChoice {
  const text = (name: string): string => { const value = form.get(name); return typeof value === "string" ? value : ""; };
  const letters = [...new Set([...form.keys()].flatMap((name) => /^photo-([A-Z]+)$/.exec(name)?.[1] ?? []))];
  const proposed = text("intent") === "proposed";
  const taken: CardChoice["taken"][number][] = [];
  const left: string[] = [];
  const faults: Fault[] = [];
  for (const letter of letters) {
    const photos = form.getAll(`photo-${letter}`).filter((id): id is string => typeof id === "string");
    const choice = text(`choice-${letter}`) || (proposed && text(`proposal-${letter}`) ? "take" : "");
    if (choice === "") continue;
    if (choice === "out") {
      left.push(...photos);
      continue;
    }
    const target = choice === "take" ? text(`proposal-${letter}`) : choice === "other" ? text(`other-${letter}`) : choice.replace(/^to:/, "");
    const [sheet, line] = target.split("|");
    const point = open.find((one) => one.sheet === sheet && one.line === line);
    if (!point) {
      faults.push({ field: letter, message: choice === "other" && target === "" ? `Group ${letter}: choose the point.` : `Group ${letter}: this point takes no photos now. Choose another.` });
      continue;
    }
    const subjects = proposeSubjects(photos.map((id) => ({ id })), point);
    for (const id of photos) {
      const subject = text(`subject-${id}`) || subjects.get(id) || "";
      if (!point.subjects.some((one) => one.id === subject)) faults.push({ field: letter, message: `Group ${letter}: point ${point.line} asks for no such photo.` });
      else taken.push({ photo: id, sheet: point.sheet, line: point.line, subject });
    }
  }
  if (faults.length > 0) throw new DomainError("invalid", faults.length === 1 ? "1 group needs you. Nothing was taken yet." : `${faults.length} groups need you. Nothing was taken yet.`, faults);
  if (taken.length === 0 && left.length === 0) throw new DomainError("invalid", "Nothing is chosen.", [{ field: letters[0] ?? null, message: "Choose for at least one group what becomes of it." }]);
  return { taken, left };
}
