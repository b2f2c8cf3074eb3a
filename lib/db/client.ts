import path from "node:path";
import { PrismaBetterSqlite3 } from "@prisma/adapter-better-sqlite3";
import Database from "better-sqlite3";
import { PrismaClient, type Prisma } from "#lib/db/generated/client";
import { addLookBits } from "#lib/db/likeness";
import { migrationNames, migrationSql } from "#lib/db/migrations";
import { keepStatements } from "#lib/db/statement-cache";

/** Every query module takes this as its first argument, so that nobody forgets which transaction a query belongs to. */
export type Tx = Prisma.TransactionClient;

/** Read back from every connection; a database that does not hold them is not used. */
export const WANTED_PRAGMAS = {
  journal_mode: "wal",
  synchronous: 2, // FULL: an acknowledged commit survives loss of power
  foreign_keys: 1,
  recursive_triggers: 1,
  busy_timeout: 5_000,
} as const;

/** SQLite versions with the fault that can lose a write-ahead log on reset. */
const FAULTY_SQLITE = { from: [3, 7, 0], to: [3, 51, 2] } as const;

export interface DatabaseFacts {
  sqliteVersion: string;
  pragmas: Record<string, string | number>;
}

export interface LastlookDatabase {
  file: string;
  /** For pages: sees committed records only. */
  read: PrismaClient;
  /** Runs `work` as one immediate transaction; nobody else writes meanwhile. */
  write<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  /** Runs `work` over the database as it stands now, however long it takes and whatever is written meanwhile. */
  snapshot<T>(work: (tx: Tx) => Promise<T>): Promise<T>;
  facts(): DatabaseFacts;
  close(): Promise<void>;
}

class RecordDatabaseFactory extends PrismaBetterSqlite3 {
  override async connect(): ReturnType<PrismaBetterSqlite3["connect"]> {
    const adapter = await super.connect();
    const client = clientOf(adapter);
    setPragmas(client);
    addLookBits(client);
    keepStatements(client);
    return adapter;
  }
}

/** The adapter opens transactions with a deferred BEGIN, which can fail half-way when another process writes. */
class WritingDatabaseFactory extends RecordDatabaseFactory {
  override async connect(): ReturnType<PrismaBetterSqlite3["connect"]> {
    const adapter = await super.connect();
    const client = clientOf(adapter);
    const prepare = client.prepare.bind(client) as (sql: string) => Database.Statement;
    client.prepare = ((sql: string) => prepare(sql === "BEGIN" ? "BEGIN IMMEDIATE" : sql)) as typeof client.prepare;
    return adapter;
  }
}

function clientOf(adapter: unknown): Database.Database {
  return (adapter as { client: Database.Database }).client;
}

function setPragmas(client: Database.Database): void {
  client.pragma("journal_mode = WAL");
  client.pragma("synchronous = FULL");
  client.pragma("foreign_keys = ON");
  client.pragma("recursive_triggers = ON");
  client.pragma("busy_timeout = 5000");
  for (const [name, wanted] of Object.entries(WANTED_PRAGMAS)) {
    const found = client.pragma(name, { simple: true }) as string | number | bigint;
    if (String(found) !== String(wanted)) throw new Error(`The database has ${name} = ${found}, and ${wanted} is needed to keep records safe.`);
  }
}

/** Opens a migrated database file, after checking the SQLite version, the pragmas and the triggers. */
export function openDatabase(file: string): LastlookDatabase {
  const facts = checkDatabase(file);
  const read = new PrismaClient({ adapter: new RecordDatabaseFactory({ url: `file:${file}` }) });
  const writer = new PrismaClient({
    adapter: new WritingDatabaseFactory({ url: `file:${file}` }),
    transactionOptions: { maxWait: 60_000, timeout: 60_000 },
  });
  let last: Promise<unknown> = Promise.resolve();
  return {
    file,
    read,
    write: (work) => {
      const next = last.then(() => writer.$transaction(work));
      last = next.catch(() => undefined);
      return next;
    },
    snapshot: async (work) => {
      const client = new PrismaClient({
        adapter: new RecordDatabaseFactory({ url: `file:${file}` }),
        transactionOptions: { maxWait: 60_000, timeout: 600_000 },
      });
      return client.$transaction(work).finally(() => client.$disconnect());
    },
    facts: () => facts,
    close: async () => {
      await Promise.all([read.$disconnect(), writer.$disconnect()]);
    },
  };
}

/** Refuses a database whose SQLite, pragmas or triggers could lose or change a record. */
export function checkDatabase(file: string): DatabaseFacts {
  const db = new Database(file, { fileMustExist: true });
  try {
    const sqliteVersion = db.prepare("SELECT sqlite_version() AS version").pluck().get() as string;
    if (isFaulty(sqliteVersion)) throw new Error(`SQLite ${sqliteVersion} can lose records when its log is reset. Use 3.51.3 or newer.`);
    setPragmas(db);
    const faults = triggerFaults(db);
    if (faults.length > 0) throw new Error(`The database does not protect its records: ${faults.join("; ")}. Restore it from a backup.`);
    const pragmas = Object.fromEntries(Object.keys(WANTED_PRAGMAS).map((name) => [name, db.pragma(name, { simple: true }) as string | number]));
    return { sqliteVersion, pragmas };
  } finally {
    db.close();
  }
}

function isFaulty(version: string): boolean {
  const parts = version.split(".").map(Number);
  const compare = (other: readonly number[]): number => other.map((part, i) => (parts[i] ?? 0) - part).find((difference) => difference !== 0) ?? 0;
  return compare(FAULTY_SQLITE.from) >= 0 && compare(FAULTY_SQLITE.to) <= 0;
}

/** Compares the triggers in the database with those that the migrations make; empty when they are the same. */
export function triggerFaults(db: Database.Database): string[] {
  const wanted = new Database(":memory:");
  try {
    for (const name of migrationNames()) wanted.exec(migrationSql(name));
    const list = (one: Database.Database): Map<string, string> =>
      new Map(
        (one.prepare("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").all() as { name: string; sql: string }[]).map(({ name, sql }) => [name, sql]),
      );
    const [want, have] = [list(wanted), list(db)];
    return [
      ...[...want].filter(([name, sql]) => have.get(name) !== sql).map(([name]) => `trigger ${name} is ${have.has(name) ? "changed" : "missing"}`),
      ...[...have.keys()].filter((name) => !want.has(name)).map((name) => `trigger ${name} does not belong here`),
    ];
  } finally {
    wanted.close();
  }
}

/** Where everything of this installation lies: the database, originals, renditions, keys and packages. */
export function dataDirectory(): string {
  return path.resolve(/* turbopackIgnore: true */ process.env.DATA_DIR ?? "data");
}

export function databaseFile(directory: string = dataDirectory()): string {
  return path.join(directory, "lastlook.db");
}
