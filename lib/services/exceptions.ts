import { PHOTO_FLAGS } from "#lib/domain/photo/flag";
import { ORDER_CODES, type Question } from "#lib/domain/point/question";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { JudgedValue } from "#lib/domain/requirement/judge-point";
import type { Standing } from "#lib/services/decide-point";

/** Something at a point that a decider has to look at: red where it stops, sepia where it cannot be told or has to be answered. */
export interface Exception {
  hand: "bad" | "doubt";
  words: string;
}

const WORTH_SAYING: ReadonlySet<ValueVerdict | null> = new Set(["fails", "cannot tell", "not measured", "meets, inside uncertainty"]);

/** What is out of the ordinary in a submission, the worst first: values, then questions about photos and instruments. Sound things are not listed. */
export function exceptionsOf({ line, judged, questions }: Standing): Exception[] {
  const values = judged.filter(({ verdict }) => WORTH_SAYING.has(verdict)).map(valueException);
  const asked = groupBy(questions, (question) => questionWords(line, question)).map(([words, same]): Exception => ({
    hand: isStop(same[0]!) ? "bad" : "doubt",
    words: same.length === 1 ? words : `${words}, ${same.length} photos`,
  }));
  const all = [...values, ...asked];
  return [...all.filter(({ hand }) => hand === "bad"), ...all.filter(({ hand }) => hand === "doubt")];
}

function valueException(value: JudgedValue): Exception {
  const { verdict, margin } = value;
  const words = verdict === "meets, inside uncertainty" ? "inside uncertainty" : margin === "" ? (verdict ?? "") : verdict === "fails" ? margin : `${verdict}, ${margin}`;
  return { hand: verdict === "fails" ? "bad" : "doubt", words: `${valueName(value)}: ${words}` };
}

/** "Embedment, bar 4" */
export function valueName({ quantity, item }: Pick<JudgedValue, "quantity" | "item">): string {
  if (item === null) return quantity.name;
  return `${quantity.name}, ${quantity.rule.form === "each" ? quantity.rule.of : "item"} ${item}`;
}

const ORDER_WORDS = new Map<string, string>(Object.entries(ORDER_CODES).map(([verdict, code]) => [code, verdict]));

/** A question in the reader's words: the subject as the plan line names it, and what was found. */
export function questionWords(line: PlanLine, { code, title }: Question): string {
  const found = ORDER_WORDS.get(code) ?? (code in PHOTO_FLAGS ? PHOTO_FLAGS[code as keyof typeof PHOTO_FLAGS].title : null);
  if (found === null) return title;
  const subject = line.photos.find(({ id }) => title.startsWith(`${id}: `))?.name;
  return subject ? `${subject}: ${found}` : found;
}

/** A photo taken for certain outside its window cannot count, whatever is answered. */
function isStop({ code }: Question): boolean {
  return code === ORDER_CODES["too early"] || code === ORDER_CODES["too late"];
}

export function groupBy<T>(list: readonly T[], keyOf: (one: T) => string): [string, T[]][] {
  const groups = new Map<string, T[]>();
  for (const one of list) groups.set(keyOf(one), [...(groups.get(keyOf(one)) ?? []), one]);
  return [...groups];
}
