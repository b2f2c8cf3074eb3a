import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { leanWords, sequenceView, type SequenceBandView, type SequenceRowView } from "#lib/services/sequence-view";
import type { Sheet } from "#lib/services/sheet";

export interface DecisionSequence {
  rows: SequenceRowView[];
  bands: SequenceBandView[];
  coverUpAt: Instant | null;
  limits: { at: Instant; label: string }[];
  /** What the picture shows, as a sentence. */
  finding: string;
}

/** The points before this one that a decision leans on most: further back than this many the chart says no more. */
const ROWS_BEFORE = 6;

/** The pile's sequence around one point: what it stands on, itself, and the point after it. Null on the project sheet, or before anything was sent. */
export async function decisionSequence(tx: Tx, sheet: Sheet, line: PlanLine): Promise<DecisionSequence | null> {
  const whole = sheet.pile && (await sequenceView(tx, sheet));
  if (!whole) return null;
  const before = upstream(sheet.lines, line).filter((id) => sheet.lines.some((one) => one.line === id && one.gate !== "is the gate"));
  const after = sheet.lines.find((one) => one.after.includes(line.line) && !one.notApplicable)?.line;
  const shown = new Set([...before.slice(-ROWS_BEFORE), line.line, ...(after ? [after] : [])]);
  const rows = whole.rows.filter((row) => shown.has(row.line)).map((row) => ({ ...row, bars: [...row.bars.filter(({ type }) => !SETTLED_WAITS.has(type)), ...waitsFromAfar(sheet, row, shown)] }));
  const from = Math.min(...rows.flatMap(({ bars }) => bars.map((bar) => bar.from)));
  const coverUpAt = whole.coverUpAt !== null && whole.coverUpAt >= from ? whole.coverUpAt : null;
  return { rows, bands: whole.bands, coverUpAt, limits: nearestFirst(whole.limits, shown).slice(0, 1), finding: findingOf(sheet, line, rows) };
}

/** Waits that were met say nothing to a decision. */
const SETTLED_WAITS: ReadonlySet<SequenceRowView["bars"][number]["type"]> = new Set(["met-wait", "min-wait"]);

function nearestFirst(limits: DecisionSequence["limits"], shown: ReadonlySet<string>): DecisionSequence["limits"] {
  return limits.filter(({ label }) => shown.has(label.split(" ")[0]!)).sort((a, b) => a.at - b.at);
}

/** A maximum wait stands in the row whose work it runs from; where that row is not shown, in the one that has to meet it. */
function waitsFromAfar(sheet: Sheet, { line }: SequenceRowView, shown: ReadonlySet<string>): SequenceRowView["bars"] {
  const running = sheet.folded.get(line)?.runningWaits.filter(({ wait, over }) => wait.kind === "at most" && !over && !shown.has(wait.from)) ?? [];
  return running.map(({ wait, since, until }) => ({ type: "max-wait", from: since, to: until, label: `${wait.name}, at most ${wait.hours} h` }));
}

function findingOf(sheet: Sheet, line: PlanLine, rows: readonly SequenceRowView[]): string {
  const when = (at: Instant): string => formatWhen(at, sheet.project.zone, { short: true });
  const decided = rows.filter((row) => row.applicable && row.line !== line.line && row.releases.length > 0);
  const said = decided.map(({ line: id, releases }) => `${id} ${releases.at(-1)!.kind} ${when(releases.at(-1)!.at)}`).join(", ");
  const lean = rows.flatMap(leanWords).map((words) => ` ${words[0]?.toUpperCase()}${words.slice(1)}.`).join("");
  return `Sequence of pile ${sheet.pile?.mark ?? ""} around point ${line.line}: ${said || "no point near it has been decided"}.${lean}`;
}
