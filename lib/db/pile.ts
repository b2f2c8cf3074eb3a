import type { Instant } from "#lib/domain/instant";
import type { TimedOverride } from "#lib/domain/plan/plan";
import type { PileState, PointState } from "#lib/domain/point/state";
import { DomainError } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import type { AcceptanceBody, PileFacts, ScheduleBody } from "#lib/records/kind";

export interface Pile {
  id: string;
  projectId: string;
  bent: string;
  row: string;
  mark: string;
  type: string;
  latitude: number | null;
  longitude: number | null;
  overrides: TimedOverride[];
  drawn: PileFacts["drawn"];
  words: string;
  /** Out of scope by a change order: its records stay, and nothing more is done at it. */
  scope: "in" | "out";
  /** The schedule that brought it in; null for a pile added by itself. */
  scheduleId: string | null;
  state: PileState;
  startedAt: Instant | null;
  holdsUntil: Instant | null;
}

type PileRow = NonNullable<Awaited<ReturnType<Tx["pile"]["findUnique"]>>>;

function toPile(row: PileRow): Pile {
  return {
    id: row.id,
    projectId: row.projectId,
    bent: row.bentId.slice(row.projectId.length + 1),
    row: row.row,
    mark: row.mark,
    type: row.type,
    latitude: row.latitude === null ? null : Number(row.latitude),
    longitude: row.longitude === null ? null : Number(row.longitude),
    overrides: JSON.parse(row.overrides) as TimedOverride[],
    drawn: row.drawn === null ? null : (JSON.parse(row.drawn) as PileFacts["drawn"]),
    words: row.words,
    scope: row.scope === "out" ? "out" : "in",
    scheduleId: row.scheduleId,
    state: row.state as PileState,
    startedAt: row.startedAt?.getTime() ?? null,
    holdsUntil: row.holdsUntil?.getTime() ?? null,
  };
}

export async function listPiles(tx: Tx, projectId: string): Promise<Pile[]> {
  const rows = await tx.pile.findMany({ where: { projectId }, orderBy: [{ bentId: "asc" }, { row: "asc" }] });
  return rows.map(toPile);
}

export async function findPile(tx: Tx, projectId: string, by: { id: string } | { mark: string }): Promise<Pile | null> {
  const row = await tx.pile.findFirst({ where: { projectId, ...by } });
  return row && toPile(row);
}

export async function getPile(tx: Tx, projectId: string, by: { id: string } | { mark: string }): Promise<Pile> {
  const pile = await findPile(tx, projectId, by);
  if (!pile) throw new DomainError("not-found", "There is no such pile.");
  return pile;
}

export interface PointRow {
  sheet: string;
  line: string;
  state: PointState;
  attempt: number;
  mayBegin: boolean;
  since: Instant | null;
  holdsUntil: Instant | null;
}

/** The projection of every point of a project, as the records last left it. */
export async function listPointRows(tx: Tx, projectId: string): Promise<PointRow[]> {
  const rows = await tx.point.findMany({ where: { projectId } });
  return rows.map(({ sheet, line, state, attempt, mayBegin, since, holdsUntil }) => ({
    sheet, line, state: state as PointState, attempt, mayBegin, since: since?.getTime() ?? null, holdsUntil: holdsUntil?.getTime() ?? null,
  }));
}

/** Writes the projection of one sheet. It can be made again from the log at any time with the same result. */
export async function saveProjection(
  tx: Tx,
  projectId: string,
  sheet: string,
  points: readonly Omit<PointRow, "sheet">[],
  pile: { state: PileState; startedAt: Instant | null; holdsUntil: Instant | null } | null,
): Promise<void> {
  const before = new Map((await tx.point.findMany({ where: { sheet } })).map((row) => [row.line, row]));
  const date = (instant: Instant | null): Date | null => (instant === null ? null : new Date(instant));
  for (const { line, state, attempt, mayBegin, since, holdsUntil } of points) {
    const data = { state, attempt, mayBegin, since: date(since), holdsUntil: date(holdsUntil) };
    const row = before.get(line);
    const same =
      row &&
      row.state === state &&
      row.attempt === attempt &&
      row.mayBegin === mayBegin &&
      (row.since?.getTime() ?? null) === since &&
      (row.holdsUntil?.getTime() ?? null) === holdsUntil;
    if (same) continue;
    await tx.point.upsert({ where: { sheet_line: { sheet, line } }, create: { sheet, line, projectId, ...data }, update: data });
  }
  const gone = [...before.keys()].filter((line) => !points.some((point) => point.line === line));
  if (gone.length > 0) await tx.point.deleteMany({ where: { sheet, line: { in: gone } } });
  if (pile) {
    await tx.pile.update({ where: { id: sheet }, data: { state: pile.state, startedAt: date(pile.startedAt), holdsUntil: date(pile.holdsUntil) } });
  }
}

/** Writes the projection of points that have none yet, many at once: none of them has a time. */
export async function addPointRows(tx: Tx, projectId: string, rows: readonly Pick<PointRow, "sheet" | "line" | "state" | "attempt" | "mayBegin">[]): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO "Point" ("sheet", "line", "projectId", "state", "attempt", "mayBegin")
    SELECT value ->> 'sheet', value ->> 'line', ${projectId}, value ->> 'state', value ->> 'attempt', value ->> 'mayBegin' FROM json_each(${JSON.stringify(rows)})`;
}

/** The drawing schedules brought into a project, oldest first, with the one that was taken back marked. */
export async function listSchedules(tx: Tx, projectId: string): Promise<(ScheduleBody & { seq: number; at: Instant; undone: boolean })[]> {
  const rows = await tx.schedule.findMany({ where: { projectId }, orderBy: { seq: "asc" } });
  return rows.map(({ body, seq, at, undoneSeq }) => ({ ...(JSON.parse(body) as ScheduleBody), seq, at: at.getTime(), undone: undoneSeq !== null }));
}

export type Acceptance = AcceptanceBody & { seq: number; digest: string };

export async function listAcceptances(tx: Tx, projectId: string, pileId?: string): Promise<Acceptance[]> {
  const rows = await tx.acceptance.findMany({ where: { projectId, ...(pileId ? { pileId } : {}) }, orderBy: { seq: "asc" } });
  return rows.map(({ body, seq, digest }) => ({ ...(JSON.parse(body) as AcceptanceBody), seq, digest }));
}
