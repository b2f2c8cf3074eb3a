import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import { tideHeight, tideWindows, type TideWindow } from "#lib/domain/clock/tide";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import { listTideTables, type TideTableOnFile } from "#lib/db/clock";
import { listMembers, type Project } from "#lib/db/project";
import { leftWords, timeNear, whenNear } from "#lib/services/clock-view";

interface Span {
  from: Instant;
  to: Instant;
}

/** A stretch in which the water is below the level that work stops at, with its times on site. */
export interface TideWindowView extends Span {
  opens: string;
  closes: string;
}

export type TideTable = Pick<TideTableOnFile, "waters" | "workLevelM" | "allowanceM">;

/** The windows that overlap a span, each whole. Where two tables know the same hours, the one that was kept later counts. */
export function workingWindows(tables: readonly TideTable[], span: Span): TideWindow[] {
  const taken: Span[] = [];
  const windows = [...tables].reverse().flatMap((table) => {
    const known: Span = { from: table.waters[0]?.at ?? 0, to: table.waters.at(-1)?.at ?? 0 };
    const ruled = taken.reduce((left, other) => left.flatMap((one) => without(one, other)), [known]);
    taken.push(known);
    return ruled.flatMap((own) => tideWindows(table.waters, table, own).windows.map((window): TideWindow => ({ ...window, from: Math.max(window.from, own.from), to: Math.min(window.to, own.to) })));
  });
  const joined: TideWindow[] = [];
  for (const window of windows.sort((a, b) => a.from - b.from)) {
    const before = joined.at(-1);
    if (before && before.to === window.from) Object.assign(before, { to: window.to, closes: window.closes });
    else joined.push({ ...window });
  }
  return joined.filter(({ from, to }) => from < span.to && to > span.from);
}

function without(one: Span, taken: Span): Span[] {
  return [{ from: one.from, to: Math.min(one.to, taken.from) }, { from: Math.max(one.from, taken.to), to: one.to }].filter(({ from, to }) => from < to);
}

/** Whether a table knows an instant. */
function knows({ waters }: TideTable, at: Instant): boolean {
  const [first, last] = [waters[0], waters.at(-1)];
  return first !== undefined && last !== undefined && first.at <= at && at <= last.at;
}

function viewOf({ from, to, opens, closes }: TideWindow, zone: string): TideWindowView {
  // Where the table ends, the window may go on: that is no time to be read off.
  return { from, to, opens: opens === "tide" ? siteTime(from, zone).time : "table begins", closes: closes === "tide" ? siteTime(to, zone).time : "table ends" };
}

/** The working windows that overlap a span of time. */
export function tideWindowsIn(tables: readonly TideTable[], zone: string, span: Span): TideWindowView[] {
  return workingWindows(tables, span).map((window) => viewOf(window, zone));
}

/** The table that knows an instant, the one kept last where several do; null where none does, and the water bounds nothing that is told. */
export function tideTableAt(tables: readonly TideTable[], at: Instant): TideTable | null {
  return tables.findLast((table) => knows(table, at)) ?? null;
}

const LOOK_AHEAD = 3 * 24 * HOUR;

/** Until when the water allows work now, or from when it will; null where no table was ever kept. */
export async function tideNow(tx: Tx, project: Project, at: Instant): Promise<string | null> {
  return nowWords(await listTideTables(tx, project.id), project, at);
}

function nowWords(tables: readonly TideTable[], project: Project, at: Instant): string | null {
  if (tables.length === 0) return null;
  if (!tideTableAt(tables, at)) return "no table for today";
  const next = workingWindows(tables, { from: at, to: at + LOOK_AHEAD }).find(({ to }) => to > at);
  if (!next) return "no window in the table";
  const near = (instant: Instant): string => timeNear(instant, project.zone, at);
  if (next.from > at) return `work from ${near(next.from)}`;
  return next.closes === "table" ? `work to ${near(next.to)}, where the table ends` : `work to ${near(next.to)}`;
}

/** The curve of a table over some days, ready to be drawn. */
export interface TidePictureView extends Span {
  /** Pieces of the curve; between them the table says nothing. */
  curve: { at: Instant; heightM: number }[][];
  windows: TideWindowView[];
  workLevelM: number;
  /** The level less the allowance: where the curve may stand at most. */
  limitM: number;
  finding: string;
}

const BEFORE = 12 * HOUR;
const SHOWN = 48 * HOUR;
const STEP = 10 * MINUTE;

/** Draws a table around now, or from its beginning where it does not know today. */
export function tidePicture({ waters, ...level }: TideTable, zone: string, now: Instant): TidePictureView {
  const [first, last] = [waters[0]?.at ?? now, waters.at(-1)?.at ?? now];
  const from = now >= first && now <= last ? Math.max(first, now - BEFORE) : first;
  const to = Math.min(last, from + SHOWN);
  // A turn before and after the picture are enough to draw it.
  const near = waters.filter(({ at }) => at >= from - 24 * HOUR && at <= to + 24 * HOUR);
  const windows = tideWindows(near, level, { from, to }).windows.map((window) => viewOf(window, zone));
  const workLevelM = Number(level.workLevelM);
  const limitM = workLevelM - Number(level.allowanceM);
  const said = windows.map((one) => `${formatWhen(one.from, zone, { short: true })} to ${formatWhen(one.to, zone, { short: true })}`);
  return {
    from, to, windows, workLevelM, limitM, curve: curveOf(near, from, to),
    finding: `Water below ${Number(limitM.toFixed(2))} m: ${said.length > 0 ? said.join(", ") : "never"}.`,
  };
}

function curveOf(waters: TideTable["waters"], from: Instant, to: Instant): TidePictureView["curve"] {
  const pieces: TidePictureView["curve"] = [];
  let known = false;
  const instants = [...Array.from({ length: Math.ceil((to - from) / STEP) }, (_, index) => from + index * STEP), to];
  for (const at of instants) {
    const { heightM } = tideHeight(waters, at);
    if (heightM !== null && !known) pieces.push([]);
    if (heightM !== null) pieces.at(-1)?.push({ at, heightM });
    known = heightM !== null;
  }
  return pieces;
}

export interface TidesView {
  lead: string;
  picture: TidePictureView | null;
  windows: (TideWindowView & { day: string; long: string })[];
  tables: { id: string; source: string; words: string; kept: string }[];
  last: { source: string; workLevel: string; allowance: string } | null;
}

const NEXT_WINDOWS = 8;

/** The tide tables of a project and the windows that they leave for work. */
export async function tidesView(tx: Tx, project: Project, at: Instant): Promise<TidesView> {
  const { zone } = project;
  const [tables, members] = await Promise.all([listTideTables(tx, project.id), listMembers(tx, project.id)]);
  const drawn = tideTableAt(tables, at) ?? tables.at(-1);
  const latest = tables.at(-1);
  const words = nowWords(tables, project, at);
  return {
    lead: words === null ? "No table is kept yet." : `${words[0]?.toUpperCase()}${words.slice(1)}.`,
    picture: drawn ? tidePicture(drawn, zone, at) : null,
    windows: workingWindows(tables, { from: at, to: at + 14 * 24 * HOUR }).slice(0, NEXT_WINDOWS).map((window) => ({
      ...viewOf(window, zone), day: formatWhen(window.from, zone, { offset: false }).split(" ").slice(0, 3).join(" "), long: leftWords(window.to - window.from),
    })),
    tables: [...tables].reverse().map(({ id, source, waters, workLevelM, allowanceM, byId, enteredAt }) => ({
      id, source,
      words: `${waters.length} waters, ${dayAndMonth(waters[0]?.at ?? at, zone)} to ${dayAndMonth(waters.at(-1)?.at ?? at, zone)}; work stops at ${workLevelM} m, allowance ${allowanceM} m`,
      kept: `kept by ${members.find(({ personId }) => personId === byId)?.name ?? byId} ${whenNear(enteredAt, zone, at)}`,
    })),
    last: latest ? { source: latest.source, workLevel: `${latest.workLevelM} m`, allowance: `${latest.allowanceM} m` } : null,
  };
}

function dayAndMonth(at: Instant, zone: string): string {
  return formatWhen(at, zone, { offset: false }).split(" ").slice(1, 3).join(" ");
}
