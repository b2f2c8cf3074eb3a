import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { listPhotos } from "#lib/db/evidence";
import { viewPhotos } from "#lib/services/evidence";
import { firstWait } from "#lib/services/round-view";
import { clockOf, type Sheet } from "#lib/services/sheet";

export interface SequenceBarView {
  from: Instant;
  to: Instant;
  type: "work" | "waiting" | "cure-done" | "cure-left" | "max-wait";
  label?: string;
}

export interface SequenceRowView {
  line: string;
  kind: PointKind;
  name: string;
  state: PointState;
  applicable: boolean;
  bars: SequenceBarView[];
  releases: { at: Instant; kind: "released" | "rejected" | "reopened" }[];
  photos: { at: Instant; uncertaintyMs: number; verdict: OrderVerdict; label: string }[];
}

export interface DecisionSequence {
  rows: SequenceRowView[];
  coverUpAt: Instant | null;
  limits: { at: Instant; label: string }[];
  /** What the picture shows, as a sentence. */
  finding: string;
}

/** The points before this one that a decision leans on most: further back than this many the chart says no more. */
const ROWS_BEFORE = 6;

/** The sequence around one point: what it stands on, itself, and the point that comes after it. */
export async function decisionSequence(tx: Tx, sheet: Sheet, line: PlanLine): Promise<DecisionSequence> {
  const before = upstream(sheet.lines, line).filter((id) => sheet.lines.some((one) => one.line === id));
  const after = sheet.lines.find((one) => one.after.includes(line.line) && !one.notApplicable)?.line;
  const shown = new Set([...before.slice(-ROWS_BEFORE), line.line, ...(after ? [after] : [])]);
  const rows: SequenceRowView[] = [];
  for (const one of sheet.lines.filter((candidate) => shown.has(candidate.line))) rows.push(await rowOf(tx, sheet, one));
  const wait = firstWait(sheet, line);
  return {
    rows,
    coverUpAt: coverUpAt(sheet),
    limits: wait && !wait.over ? [{ at: wait.until, label: wait.wait.name }] : [],
    finding: findingOf(sheet, line, rows),
  };
}

async function rowOf(tx: Tx, sheet: Sheet, line: PlanLine): Promise<SequenceRowView> {
  const status = sheet.folded.get(line.line);
  const trails = status?.standing.attempts.flatMap(({ submissions }) => submissions).filter(({ withdrawn }) => !withdrawn) ?? [];
  const work = trails.map(({ submission }): SequenceBarView => ({ type: "work", from: submission.workBegan, to: submission.workEnded }));
  const waiting = trails.flatMap(({ submission, decisions, checks }): SequenceBarView[] => {
    const ended = decisions[0]?.at ?? checks.find(({ outcome }) => outcome === "sent back")?.at ?? sheet.at;
    return ended > submission.workEnded ? [{ type: "waiting", from: submission.workEnded, to: ended }] : [];
  });
  const waits = (status?.runningWaits ?? []).map(({ wait, since, until }): SequenceBarView => ({ type: "max-wait", from: since, to: until, label: `${wait.name}, at most ${wait.hours} h` }));
  const standing = status?.standing.trail?.submission;
  const photos = await listPhotos(tx, sheet.id, line.line);
  const views = viewPhotos(sheet, line, photos, { attempt: status?.attempt ?? 1, beforeSeq: standing?.seq ?? Number.POSITIVE_INFINITY });
  return {
    line: line.line,
    kind: line.kind,
    name: line.name,
    state: status?.state ?? "not open",
    applicable: !line.notApplicable,
    bars: [...work, ...cureBars(sheet, line), ...waiting, ...waits],
    releases: trails.flatMap(({ decisions }) => decisions.map(({ at, outcome }) => ({ at, kind: OUTCOME_WORDS[outcome] }))),
    photos: views.flatMap(({ derived, order, photo }) =>
      derived.instant === null
        ? []
        : [{ at: derived.instant, uncertaintyMs: (derived.uncertaintySeconds ?? 0) * 1_000, verdict: order.verdict, label: line.photos.find(({ id }) => id === photo.subject)?.name ?? photo.subject }],
    ),
  };
}

const OUTCOME_WORDS = { release: "released", reject: "rejected", reopen: "reopened" } as const;

function cureBars(sheet: Sheet, line: PlanLine): SequenceBarView[] {
  const clock = clockOf(sheet, line);
  if (!clock) return [];
  const done = clock.doneAt ?? sheet.at;
  const left = clock.doneAt === null && clock.earliest !== null ? [{ type: "cure-left" as const, from: done, to: clock.earliest }] : [];
  return [{ type: "cure-done", from: clock.from, to: done }, ...left];
}

/** When the jacket began to hide the work: the work that covers what the last look saw. */
function coverUpAt(sheet: Sheet): Instant | null {
  const lastLook = sheet.lines.find(({ photos }) => photos.some(({ window }) => window === "last look"));
  const began = (lastLook?.hiddenBy ?? []).flatMap((id) => sheet.folded.get(id)?.standing.trail?.submission.workBegan ?? []);
  return began.length > 0 ? Math.min(...began) : null;
}

function findingOf(sheet: Sheet, line: PlanLine, rows: readonly SequenceRowView[]): string {
  const when = (at: Instant): string => formatWhen(at, sheet.project.zone, { short: true });
  const before = rows.filter((row) => row.applicable && row.line !== line.line && row.releases.length > 0);
  const early = before.filter((row) => row.bars.some((bar) => bar.type === "work" && startedEarly(sheet, row, bar.from)));
  const released = before.map(({ line: id, releases }) => `${id} ${releases.at(-1)?.kind} ${when(releases.at(-1)!.at)}`).join(", ");
  const lean = early.length > 0 ? ` Work began before what it stands on was released: ${early.map((row) => row.line).join(", ")}.` : "";
  return `Sequence of ${sheet.pile ? `pile ${sheet.pile.mark}` : "the project sheet"} around point ${line.line}: ${released || "nothing before it has been decided"}.${lean}`;
}

/** Whether work of a row began before a hold point that it stands on was released. */
function startedEarly(sheet: Sheet, row: SequenceRowView, began: Instant): boolean {
  const line = sheet.lines.find((one) => one.line === row.line);
  return (line?.after ?? []).some((id) => {
    const before = sheet.lines.find((one) => one.line === id);
    const released = sheet.folded.get(id)?.standing.release?.at;
    return before?.kind === "H" && released !== undefined && began < released;
  });
}
