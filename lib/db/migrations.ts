import { createHash, randomUUID } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, readdirSync } from "node:fs";
import path from "node:path";
import Database from "better-sqlite3";

const DIRECTORY = path.join("prisma", "migrations");

const HISTORY = `CREATE TABLE IF NOT EXISTS "_prisma_migrations" (
  "id" TEXT PRIMARY KEY NOT NULL, "checksum" TEXT NOT NULL, "finished_at" DATETIME, "migration_name" TEXT NOT NULL,
  "logs" TEXT, "rolled_back_at" DATETIME, "started_at" DATETIME NOT NULL DEFAULT current_timestamp,
  "applied_steps_count" INTEGER UNSIGNED NOT NULL DEFAULT 0)`;

export function migrationNames(): string[] {
  return readdirSync(DIRECTORY)
    .filter((name) => existsSync(path.join(DIRECTORY, name, "migration.sql")))
    .sort();
}

export function migrationSql(name: string): string {
  return readFileSync(path.join(DIRECTORY, name, "migration.sql"), "utf8");
}

/**
 * Brings a database file up to the newest migration and returns the names it applied. Each migration is one
 * immediate transaction with its history row, so two processes that start at once do not apply one twice.
 */
export function migrate(file: string): string[] {
  mkdirSync(path.dirname(file), { recursive: true });
  const db = new Database(file, { timeout: 30_000 });
  try {
    turnToWal(db);
    db.pragma("foreign_keys = OFF"); // does nothing inside a transaction, so it comes before one
    db.exec(HISTORY);
    return migrationNames().filter((name) => applyOnce(db, name, migrationSql(name)));
  } finally {
    db.close();
  }
}

const WAL_TRIES = 100;
const WAL_PAUSE_MS = 50;

/** Two processes that change a new file to WAL at once are told that it is locked without being made to wait. */
function turnToWal(db: Database.Database): void {
  for (let tries = 1; ; tries += 1) {
    try {
      db.pragma("journal_mode = WAL");
      return;
    } catch (error) {
      if ((error as { code?: string }).code !== "SQLITE_BUSY" || tries === WAL_TRIES) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, WAL_PAUSE_MS);
    }
  }
}

function applyOnce(db: Database.Database, name: string, sql: string): boolean {
  const checksum = createHash("sha256").update(sql).digest("hex");
  return db
    .transaction((): boolean => {
      const row = db.prepare("SELECT checksum FROM _prisma_migrations WHERE migration_name = ? AND finished_at IS NOT NULL").get(name) as
        | { checksum: string }
        | undefined;
      if (row && row.checksum !== checksum) throw new Error(`Migration ${name} was edited after it was applied. Restore it, and write a new one.`);
      if (row) return false;
      const startedAt = new Date().toISOString();
      db.exec(sql);
      const broken = db.pragma("foreign_key_check") as unknown[];
      if (broken.length > 0) throw new Error(`Migration ${name} leaves rows that point at nothing: ${JSON.stringify(broken.slice(0, 3))}`);
      db.prepare(
        "INSERT INTO _prisma_migrations (id, checksum, migration_name, started_at, finished_at, applied_steps_count) VALUES (?,?,?,?,?,1)",
      ).run(randomUUID(), checksum, name, startedAt, new Date().toISOString());
      return true;
    })
    .immediate();
}
