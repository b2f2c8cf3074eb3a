import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import type { LoggerBody, TideTableBody, WeatherBody } from "#lib/records/kind";

export interface LoggerOnFile {
  id: string;
  title: string;
  sha256: string;
  enteredAt: Instant;
}

/** The loggers' files read at one point, in the order they came. */
export async function listLoggers(tx: Tx, sheet: string, line: string): Promise<LoggerOnFile[]> {
  const rows = await tx.logger.findMany({ where: { sheet, line }, orderBy: { seq: "asc" } });
  return rows.map(({ id, enteredAt, body }) => {
    const { title, sha256 } = JSON.parse(body) as LoggerBody;
    return { id, title, sha256, enteredAt: enteredAt.getTime() };
  });
}

export interface WeatherReading {
  at: Instant;
  airC: string;
  humidityPct: string;
  surfaceC: string | null;
}

export interface WeatherOnFile {
  id: string;
  title: string;
  sha256: string | null;
  byId: string;
  enteredAt: Instant;
  readings: WeatherReading[];
}

/** Everything read of the weather in a project, in the order it came. */
export async function listWeather(tx: Tx, projectId: string): Promise<WeatherOnFile[]> {
  const rows = await tx.weather.findMany({ where: { projectId }, orderBy: { seq: "asc" } });
  return rows.map(({ id, byId, enteredAt, body }) => {
    const { title, sha256, readings } = JSON.parse(body) as WeatherBody;
    return { id, title, sha256, byId, enteredAt: enteredAt.getTime(), readings: readings.map((one) => ({ ...one, at: Date.parse(one.at) })) };
  });
}

export interface TideTableOnFile {
  id: string;
  source: string;
  byId: string;
  enteredAt: Instant;
  workLevelM: string;
  allowanceM: string;
  /** By time. */
  waters: { at: Instant; heightM: string; turn: "high" | "low" }[];
}

/** The tide tables kept in a project, in the order they came. */
export async function listTideTables(tx: Tx, projectId: string): Promise<TideTableOnFile[]> {
  const rows = await tx.tideTable.findMany({ where: { projectId }, orderBy: { seq: "asc" } });
  return rows.map(({ id, byId, enteredAt, body }) => {
    const { source, rows: waters, workLevelM, allowanceM } = JSON.parse(body) as TideTableBody;
    return { id, byId, enteredAt: enteredAt.getTime(), source, workLevelM, allowanceM, waters: waters.map((one) => ({ ...one, at: Date.parse(one.at) })) };
  });
}

export interface CalendarLink {
  tokenHash: string;
  projectId: string;
  personId: string;
  createdAt: Instant;
  revokedAt: Instant | null;
}

type CalendarLinkRow = NonNullable<Awaited<ReturnType<Tx["calendarLink"]["findUnique"]>>>;

function toCalendarLink(row: CalendarLinkRow): CalendarLink {
  return { ...row, createdAt: row.createdAt.getTime(), revokedAt: row.revokedAt?.getTime() ?? null };
}

export async function saveCalendarLink(tx: Tx, { createdAt, ...link }: Omit<CalendarLink, "revokedAt">): Promise<void> {
  await tx.calendarLink.create({ data: { ...link, createdAt: new Date(createdAt) } });
}

export async function findCalendarLink(tx: Tx, tokenHash: string): Promise<CalendarLink | null> {
  const row = await tx.calendarLink.findUnique({ where: { tokenHash } });
  return row && toCalendarLink(row);
}

/** A person's links in a project that still open the feed, oldest first. */
export async function listCalendarLinks(tx: Tx, projectId: string, personId: string): Promise<CalendarLink[]> {
  const rows = await tx.calendarLink.findMany({ where: { projectId, personId, revokedAt: null }, orderBy: { createdAt: "asc" } });
  return rows.map(toCalendarLink);
}

export async function revokeCalendarLinks(tx: Tx, projectId: string, personId: string, at: Instant): Promise<void> {
  await tx.calendarLink.updateMany({ where: { projectId, personId, revokedAt: null }, data: { revokedAt: new Date(at) } });
}
