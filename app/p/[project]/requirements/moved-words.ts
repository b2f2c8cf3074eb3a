import { followDesign, FOLLOW_WORDS, type FollowingSet, type Moved } from "#lib/domain/requirement/follow";
import { itemRule, type Rule } from "#lib/domain/requirement/rule";
import type { Quantity } from "#lib/domain/requirement/set";
import { requirementWords } from "#lib/domain/requirement/words";

interface Change {
  line: string;
  quantity: string;
  follows: string;
  /** The rule of each type as it is typed; null where it cannot be read yet. */
  rules: Readonly<Record<string, Rule | null>>;
  following: readonly FollowingSet[];
  before: Readonly<Record<string, Quantity | null>>;
}

/** "12 length on T, ≥ 129.45 in (was ≥ 128.45 in), by L = nπ(D + nt) + overlap", for each limit that a typed overlap moves. */
export function movedWords({ line, quantity, follows, rules, following, before }: Change): string[] {
  if (follows !== "overlap") return [];
  return following.flatMap((set) => {
    const rule = rules[set.type];
    const item = rule && itemRule(rule);
    if (item?.form !== "min" || !set.design?.sheet || !(set.type in before)) return [];
    const design = { ...set.design, sheet: { ...set.design.sheet, overlap: { value: item.limit, unit: item.unit } } };
    return followDesign({ ...set, design }).moved.filter((moved) => !(moved.line === line && moved.quantity === quantity)).map(wordsOfMoved);
  });
}

export function wordsOfMoved({ line, name, type, was, now, by }: Moved): string {
  return `${line} ${name.toLowerCase()} on ${type}, ${requirementWords(now)} (was ${requirementWords(was)}), by ${FOLLOW_WORDS[by]}`;
}
