import path from "node:path";
import type { Instant } from "#lib/domain/instant";
import { dataDirectory, databaseFile, openDatabase, type LastlookDatabase } from "#lib/db/client";
import { logHead } from "#lib/db/journal";
import type { Project } from "#lib/db/project";
import { loadOrCreateKey, type SigningKey } from "#lib/records/key";
import { SheetShelf } from "#lib/services/sheet-shelf";

/** What every service works with: where records are kept, what signs them, and what time it is. */
export interface House {
  db: LastlookDatabase;
  dataDir: string;
  key: SigningKey;
  /** Sheets that photos come for. */
  sheets: SheetShelf;
  /** Real time, for sessions and invitations. */
  realNow(): Instant;
  /** The time that a project's records are made at: real, or a demonstration's own clock. */
  now(project: Pick<Project, "id" | "clockFrom">): Promise<Instant>;
}

/**
 * Opens a house over a migrated data directory.
 *
 * A demonstration's clock starts at its own instant, or after its last record, and then runs with real time; it stands
 * still while nobody serves it.
 */
export function openHouse(dataDir: string, realNow: () => Instant = Date.now): House {
  const db = openDatabase(databaseFile(dataDir));
  const offsets = new Map<string, Promise<number>>();
  const offsetOf = async (projectId: string, from: Instant): Promise<number> => {
    const head = await logHead(db.read, projectId);
    return Math.max(from, head?.at ?? 0) - realNow();
  };
  return {
    db,
    dataDir,
    key: loadOrCreateKey(path.join(dataDir, "keys")),
    sheets: new SheetShelf(),
    realNow,
    now: async ({ id, clockFrom }) => {
      if (clockFrom === null) return realNow();
      const offset = offsets.get(id) ?? offsetOf(id, clockFrom);
      offsets.set(id, offset);
      const ahead = await offset;
      return realNow() + ahead;
    },
  };
}

// The server bundle holds this module more than once; one process has one house all the same.
const shared = globalThis as { lastlookHouse?: House };

export function house(): House {
  shared.lastlookHouse ??= openHouse(dataDirectory());
  return shared.lastlookHouse;
}
