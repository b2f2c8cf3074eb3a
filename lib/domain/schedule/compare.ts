import { Decimal } from "#lib/domain/quantity/decimal";
import { requirementWords } from "#lib/domain/requirement/words";
import { overrideKey } from "#lib/domain/plan/override";
import type { Override } from "#lib/domain/plan/plan";
import type { Amount, RequirementSet } from "#lib/domain/requirement/set";
import type { SchedulePile } from "#lib/domain/schedule/apply-answers";
import { columnOf, type Mapping } from "#lib/domain/schedule/mapping";
import { keysSpokenOf } from "#lib/domain/schedule/overrides";

/** One thing that a schedule says otherwise than the project has it. */
export interface FieldChange {
  field: "bent" | "row" | "type" | "position" | "top elevation" | "bottom elevation" | "requirement" | "note";
  was: string;
  now: string;
}
export interface ChangedPile<P> {
  was: P;
  now: SchedulePile;
  changes: FieldChange[];
}
export interface ScheduleDifference<P> {
  added: SchedulePile[];
  /** In the project and not in the schedule: out of scope from here on, with their records. */
  removed: P[];
  changed: ChangedPile<P>[];
  same: P[];
  /** Removed and added in one place of a bent: likely one pile under a new mark, for a person to say. */
  renumbered: { was: P; now: SchedulePile }[];
}

/**
 * Holds the piles of a schedule against those that stand in the project, by their marks. What no column of the schedule
 * speaks of stays as it is: a schedule without positions takes none away, and an override made otherwise stays.
 *
 * @param standing  the piles in scope, each with the overrides that hold now.
 */
export function compareSchedule<P extends SchedulePile>(piles: readonly SchedulePile[], standing: readonly P[], mapping: Mapping, sets: readonly RequirementSet[]): ScheduleDifference<P> {
  const before = new Map(standing.map((pile) => [pile.mark, pile]));
  const marks = new Set(piles.map(({ mark }) => mark));
  const spoken = new Map(sets.map((set) => [set.type, keysSpokenOf(mapping, set)]));
  const difference: ScheduleDifference<P> = { added: [], removed: standing.filter(({ mark }) => !marks.has(mark)), changed: [], same: [], renumbered: [] };
  for (const pile of piles) {
    const was = before.get(pile.mark);
    if (!was) {
      difference.added.push(pile);
      continue;
    }
    const now = withStanding(pile, was, mapping, new Set([...(spoken.get(was.type) ?? []), ...(spoken.get(pile.type) ?? [])]));
    const changes = changesOf(was, now);
    if (changes.length === 0) difference.same.push(was);
    else difference.changed.push({ was, now, changes });
  }
  const removedAt = new Map(difference.removed.map((pile) => [placeOf(pile), pile]));
  difference.renumbered = difference.added.flatMap((now) => {
    const was = removedAt.get(placeOf(now));
    return was ? [{ was, now }] : [];
  });
  return difference;
}

function placeOf({ bent, row }: SchedulePile): string {
  return `${bent} ${row}`;
}

/** The pile as the schedule leaves it: what it speaks of from the schedule, everything else as it stands. */
function withStanding(pile: SchedulePile, was: SchedulePile, mapping: Mapping, spoken: ReadonlySet<string>): SchedulePile {
  const says = (...fields: Parameters<typeof columnOf>[1][]): boolean => fields.some((field) => columnOf(mapping, field) !== null);
  const positioned = says("coordinates", "latitude", "grid x");
  const top = says("top elevation") ? (pile.drawn?.top ?? null) : (was.drawn?.top ?? null);
  const bottom = says("bottom elevation") ? (pile.drawn?.bottom ?? null) : (was.drawn?.bottom ?? null);
  return {
    ...pile,
    latitude: positioned ? pile.latitude : was.latitude,
    longitude: positioned ? pile.longitude : was.longitude,
    overrides: [...was.overrides.filter((override) => !spoken.has(overrideKey(override))), ...pile.overrides],
    drawn: top || bottom ? { top, bottom } : null,
    words: says("note", "drawing") ? pile.words : was.words,
  };
}

function changesOf(was: SchedulePile, now: SchedulePile): FieldChange[] {
  const change = (field: FieldChange["field"], before: string, after: string, same = before === after): FieldChange[] => (same ? [] : [{ field, was: before, now: after }]);
  return [
    ...change("bent", was.bent, now.bent),
    ...change("row", was.row, now.row),
    ...change("type", was.type, now.type),
    ...change("position", positionWords(was), positionWords(now), sameNumber(was.latitude, now.latitude) && sameNumber(was.longitude, now.longitude)),
    ...(["top", "bottom"] as const).flatMap((end) => {
      const [before, after] = [was.drawn?.[end] ?? null, now.drawn?.[end] ?? null];
      return change(`${end} elevation`, amountWords(before), amountWords(after), before?.unit === after?.unit && sameNumber(before?.value ?? null, after?.value ?? null));
    }),
    ...overrideChanges(was.overrides, now.overrides),
    ...change("note", was.words, now.words),
  ];
}

function overrideChanges(was: readonly Override[], now: readonly Override[]): FieldChange[] {
  const before = new Map(was.map((override) => [overrideKey(override), override]));
  const after = new Map(now.map((override) => [overrideKey(override), override]));
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key): FieldChange[] => {
    const [old, fresh] = [before.get(key), after.get(key)];
    const [oldWords, newWords] = [old ? overrideWords(old) : `${key}: the type's`, fresh ? overrideWords(fresh) : `${key}: the type's`];
    return oldWords === newWords ? [] : [{ field: "requirement", was: oldWords, now: newWords }];
  });
}

/** What an override changes and to what: two that say the same are no change, on whichever drawing. */
function overrideWords(override: Override): string {
  const { change } = override;
  const value = change.kind === "quantity" ? quantityWords(change.rule) : change.kind === "wait" ? `${plainNumber(change.hours)} h` : plainNumber(change.value);
  return `${overrideKey(override)}: ${value}`;
}

function quantityWords(rule: Extract<Override["change"], { kind: "quantity" }>["rule"]): string {
  return rule.form === "each" ? `each ${rule.of}${rule.count === null ? "" : ` of ${rule.count}`} ${requirementWords(rule)}` : requirementWords(rule);
}

function plainNumber(text: string): string {
  return new Decimal(text).toFixed();
}

function sameNumber(a: string | null, b: string | null): boolean {
  return a === null || b === null ? a === b : new Decimal(a).eq(b);
}

function positionWords({ latitude, longitude }: SchedulePile): string {
  return latitude === null || longitude === null ? "none" : `${latitude}, ${longitude}`;
}

function amountWords(amount: Amount | null): string {
  return amount ? `${amount.value} ${amount.unit}` : "none";
}
