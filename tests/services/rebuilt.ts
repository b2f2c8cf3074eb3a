import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { expect } from "vitest";
import { databaseFile, openDatabase } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import type { House } from "#lib/services/house";
import { rebuildFromLog, viewDifferences } from "#lib/services/rebuild";

/** Expects that the log alone gives the same tables again. */
export async function expectRebuilt({ db }: House): Promise<void> {
  const folder = mkdtempSync(path.join(tmpdir(), "lastlook-again-"));
  migrate(databaseFile(folder));
  const again = openDatabase(databaseFile(folder));
  try {
    await rebuildFromLog(db, again);
    expect(await viewDifferences(db, again)).toEqual([]);
  } finally {
    await again.close();
    rmSync(folder, { recursive: true, force: true });
  }
}
