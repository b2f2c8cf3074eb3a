import { many } from "#lib/domain/many";
import type { Applies, ImpactFinding } from "#lib/domain/plan/compose";
import type { Change } from "#lib/domain/requirement/difference";
import type { RevisionImpact, SignedUnder } from "#lib/services/revision-impact";
import type { Sheet } from "#lib/services/sheet";
import { markWords } from "#lib/services/words";

/** What a change is held against: the project as it stands, under the letters of both revisions. */
export interface ChangeContext {
  impact: RevisionImpact;
  from: string;
  to: string;
  /** Names of the pile types. */
  names: ReadonlyMap<string, string>;
}

/** A point at a changed line where nothing stands signed. */
export interface OpenPoint {
  sheet: Sheet;
  line: string;
}

export interface AnswerOption {
  applies: Applies;
  label: string;
  consequence: string;
}

export const ANSWER_LABELS: Record<Applies, string> = { "piles that start": "From now, piles that start", "open points": "From now, open points", retroactive: "Retroactive" };

/** The answers that a change can be given, each with what follows from it. */
export function answerOptions(change: Change, signed: readonly SignedUnder[], open: readonly OpenPoint[], context: ChangeContext): AnswerOption[] {
  const option = (applies: Applies, consequence: string): AnswerOption => ({ applies, label: ANSWER_LABELS[applies], consequence });
  return [option("piles that start", laterWords(change, context)), option("open points", openWords(signed, open, context)), option("retroactive", retroactiveWords(signed, context))];
}

export function markOf(sheet: Sheet | undefined): string {
  return sheet?.pile?.mark ?? "Project sheet";
}

/** The sheets in few words: "07-A … D (4 piles)". */
export function sheetWords(sheets: readonly Sheet[], { impact }: ChangeContext): string {
  if (sheets.some(({ pile }) => pile === null)) return "the project sheet";
  const words = markWords(sheets.map(markOf), impact.sheets.flatMap(({ pile }) => pile ?? []));
  return sheets.length > 3 ? `${words} (${sheets.length} piles)` : words;
}

function laterWords({ types }: Change, { impact, from, to }: ChangeContext): string {
  const own = impact.sheets.filter(({ pile }) => types.includes(pile?.type ?? null));
  const begun = own.filter(({ history }) => history.submissions.size > 0);
  if (types.includes(null)) return begun.length > 0 ? `The project sheet keeps ${from} and says so.` : `The project sheet has not begun: it is judged by ${to}.`;
  const keep = `${many(begun.length, "pile")} in work keep${begun.length === 1 ? "s" : ""} ${from} and say${begun.length === 1 ? "s" : ""} so`;
  return `${[begun.length > 0 ? keep : "", `${many(own.length - begun.length, "pile")} not started take${own.length - begun.length === 1 ? "s" : ""} ${to}`].filter(Boolean).join("; ")}.`;
}

function openWords(signed: readonly SignedUnder[], open: readonly OpenPoint[], context: ChangeContext): string {
  const sheets = [...new Set(open.map(({ sheet }) => sheet))];
  const lines = [...new Set(open.map(({ line }) => line))].join(" and ");
  const moved = open.length === 0 ? "No point is open" : `${many(open.length, "open point")} take${open.length === 1 ? "s" : ""} ${context.to}: ${lines} on ${sheetWords(sheets, context)}`;
  return `${moved}. ${signed.length === 0 ? "Nothing is signed." : "Nothing signed is touched."}`;
}

function retroactiveWords(signed: readonly SignedUnder[], { impact }: ChangeContext): string {
  if (signed.length === 0) return "Nothing is signed: the same, but at once.";
  const mark = (sheet: string): string => markOf(impact.sheets.find(({ id }) => id === sheet));
  const shaken = signed.filter(({ impact: { finding } }) => finding !== "still meets");
  const of = (finding: ImpactFinding): SignedUnder[] => signed.filter((one) => one.impact.finding === finding);
  const marks = (list: readonly SignedUnder[]): string => markList([...new Set(list.map(({ sheet }) => mark(sheet)))]);
  const [fail, need, meet] = [of("would fail"), of("needs a value"), of("still meets")];
  const said = [
    fail.length > 0 ? `${fail.length} in doubt (${marks(fail)})` : "",
    need.length > 0 ? `${need.length} need${need.length === 1 ? "s" : ""} a value (${marks(need)})` : "",
    meet.length > 0 ? `${meet.length} still meet${meet.length === 1 ? "s" : ""}` : "",
  ].filter(Boolean).join(", ");
  const own = new Set(shaken.map(({ sheet, line }) => `${sheet} ${line}`));
  const behind = new Set(shaken.flatMap(({ sheet, downstream }) => downstream.map((line) => `${sheet} ${line}`)).filter((one) => !own.has(one)));
  const standing = behind.size === 0 ? "" : ` ${many(behind.size, "point")} that stand${behind.size === 1 ? "s" : ""} on them too.`;
  return `${said}.${standing} Open points at once.`;
}

/** More marks than these are a number. */
const MOST_MARKS = 6;

function markList(marks: readonly string[]): string {
  return marks.length > MOST_MARKS ? `${marks.slice(0, MOST_MARKS - 1).join(", ")} and ${marks.length - MOST_MARKS + 1} more` : marks.join(", ");
}
