import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { pileView, type SequenceRowView } from "#lib/services/pile-view";
import type { Sheet } from "#lib/services/sheet";

export interface DecisionSequence {
  rows: SequenceRowView[];
  coverUpAt: Instant | null;
  limits: { at: Instant; label: string }[];
  /** What the picture shows, as a sentence. */
  finding: string;
}

/** The points before this one that a decision leans on most: further back than this many the chart says no more. */
const ROWS_BEFORE = 6;

/** The pile's sequence around one point: what it stands on, itself, and the point after it. Null on the project sheet, or before anything was sent. */
export async function decisionSequence(tx: Tx, sheet: Sheet, line: PlanLine, member: Member): Promise<DecisionSequence | null> {
  const whole = sheet.pile && (await pileView(tx, sheet, member)).sequence;
  if (!whole) return null;
  const before = upstream(sheet.lines, line).filter((id) => sheet.lines.some((one) => one.line === id && one.gate !== "is the gate"));
  const after = sheet.lines.find((one) => one.after.includes(line.line) && !one.notApplicable)?.line;
  const shown = new Set([...before.slice(-ROWS_BEFORE), line.line, ...(after ? [after] : [])]);
  const rows = whole.rows.filter((row) => shown.has(row.line)).map((row) => withOwnWaits(sheet, row, shown));
  const from = Math.min(...rows.flatMap(({ bars }) => bars.map((bar) => bar.from)));
  const coverUpAt = whole.coverUpAt !== null && whole.coverUpAt >= from ? whole.coverUpAt : null;
  return { rows, coverUpAt, limits: nearestFirst(whole.limits, shown).slice(0, 1), finding: findingOf(sheet, line, rows) };
}

function nearestFirst(limits: DecisionSequence["limits"], shown: ReadonlySet<string>): DecisionSequence["limits"] {
  return limits.filter(({ label }) => shown.has(label.split(" ")[0]!)).sort((a, b) => a.at - b.at);
}

/** A maximum wait stands in the row whose work it runs from; where that row is not shown, in the one that has to meet it. */
function withOwnWaits(sheet: Sheet, row: SequenceRowView, shown: ReadonlySet<string>): SequenceRowView {
  const own = sheet.folded.get(row.line)?.runningWaits.filter(({ wait, over }) => wait.kind === "at most" && !over) ?? [];
  const bars = row.bars.filter(({ type, label }) => type !== "max-wait" || !isShownElsewhere(sheet, row.line, label, shown));
  return { ...row, bars: [...bars, ...own.map(({ wait, since, until }) => ({ type: "max-wait" as const, from: since, to: until, label: `${wait.name}, at most ${wait.hours} h` }))] };
}

function isShownElsewhere(sheet: Sheet, at: string, label: string | undefined, shown: ReadonlySet<string>): boolean {
  const line = sheet.lines.find((one) => one.line === at);
  return line?.waits.some((wait) => wait.name === label && shown.has(wait.from)) ?? false;
}

function findingOf(sheet: Sheet, line: PlanLine, rows: readonly SequenceRowView[]): string {
  const when = (at: Instant): string => formatWhen(at, sheet.project.zone, { short: true });
  const decided = rows.filter((row) => row.applicable && row.line !== line.line && row.releases.length > 0);
  const said = decided.map(({ line: id, releases }) => `${id} ${releases.at(-1)!.kind} ${when(releases.at(-1)!.at)}`).join(", ");
  const early = rows.filter((row) => row.bars.some((bar) => bar.type === "work" && beganEarly(sheet, row.line, bar.from))).map((row) => row.line);
  const lean = early.length > 0 ? ` Work began before the release that it waits for: ${early.join(", ")}.` : "";
  return `Sequence of pile ${sheet.pile?.mark ?? ""} around point ${line.line}: ${said || "no point near it has been decided"}.${lean}`;
}

/** Whether work at a point began before a hold point that it stands on was released. */
function beganEarly(sheet: Sheet, id: string, began: Instant): boolean {
  const line = sheet.lines.find((one) => one.line === id);
  return (line?.after ?? []).some((before) => {
    const released = sheet.folded.get(before)?.standing.release?.at;
    return sheet.lines.some((one) => one.line === before && one.kind === "H") && released !== undefined && began < released;
  });
}
