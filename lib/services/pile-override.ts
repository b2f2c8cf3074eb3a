import { JACKET_WORDS, overridable } from "#lib/domain/plan/override";
import { overridesAt, type PlanLine } from "#lib/domain/plan/plan";
import { requirementWords } from "#lib/domain/requirement/words";
import type { Pile } from "#lib/db/pile";
import type { Sheet } from "#lib/services/sheet";

export interface OverrideView {
  line: string;
  what: string;
  was: string;
  now: string;
  drawing: string;
  words: string;
}

/** What may be changed on a pile by a drawing, and what may be taken back. */
export interface OverrideChoices {
  requirements: { value: string; label: string }[];
  holding: { value: string; label: string }[];
}

/** What this pile's drawings change against its type, as it holds at each point. */
export function overrideRows(sheet: Sheet): OverrideView[] {
  return [...overridesOf(sheet.lines), ...jacketOverrides(sheet)];
}

function overridesOf(lines: readonly PlanLine[]): OverrideView[] {
  return lines.flatMap((line) => [
    ...line.quantities.flatMap(({ name, rule, override }) =>
      override ? [{ line: line.line, what: name, was: requirementWords(override.was), now: requirementWords(rule), drawing: override.drawing, words: override.words }] : [],
    ),
    ...line.waits.flatMap(({ name, hours, override }) => (override ? [{ line: line.line, what: name, was: `${override.was} h`, now: `${hours} h`, drawing: override.drawing, words: override.words }] : [])),
  ]);
}

function jacketOverrides({ pile, set }: Sheet): OverrideView[] {
  return overridesAt(pile?.overrides ?? [], null).flatMap(({ line, change, drawing, words }) =>
    change.kind === "jacket" ? [{ line, what: JACKET_WORDS[change.field], was: String(set?.jacket[change.field] ?? ""), now: change.value, drawing, words }] : [],
  );
}

/** Requirements of open points that no drawing changes yet; and those that one does, by their place in the pile's list. */
export function overrideChoices({ lines, folded }: Sheet, { overrides }: Pile): OverrideChoices {
  const open = lines.filter(({ line, notApplicable }) => !notApplicable && !folded.get(line)?.standing.trail);
  const changed = new Set(overridesAt(overrides, null).map(({ line, change }) => `${line}|${change.kind}|${change.kind === "quantity" ? change.quantity : change.kind === "wait" ? change.from : change.field}`));
  const requirements = overridable(open).map(({ line, lineName, kind, id, name, rule, hours }) => ({
    value: [line, kind, id].join("|"), label: `${line} ${lineName}: ${name}, ${rule ? requirementWords(rule) : `${hours ?? ""} h`}`,
  }));
  const holding = overrides.flatMap(({ override: { line, drawing, words }, untilSeq }, place) => (untilSeq === null ? [{ value: String(place), label: `${line}: ${words} (${drawing})` }] : []));
  return { requirements: requirements.filter(({ value }) => !changed.has(value)), holding };
}
