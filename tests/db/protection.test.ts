import { spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { createInterface } from "node:readline";
import Database from "better-sqlite3";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { checkDatabase, databaseFile, openDatabase, WANTED_PRAGMAS } from "#lib/db/client";
import { migrate, migrationNames, migrationSql } from "#lib/db/migrations";

/** Every table for which the migrations write a trigger that refuses DELETE. */
const APPEND_ONLY = [...new Set(migrationNames().flatMap((name) => [...migrationSql(name).matchAll(/BEFORE DELETE ON "(\w+)"/g)].map((match) => match[1]!)))];

let folder: string;
let file: string;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), "lastlook-protection-"));
  file = databaseFile(folder);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function withDatabase<T>(work: (db: Database.Database) => T): T {
  const db = new Database(file);
  try {
    return work(db);
  } finally {
    db.close();
  }
}

interface Column {
  name: string;
  type: string;
  notnull: number;
  pk: number;
}

type Row = Record<string, string | number | Buffer>;

const columnsOf = (db: Database.Database, table: string): Column[] => db.pragma(`table_info("${table}")`) as Column[];

/** Text, number or bytes that differ from row to row; log entries count up from 1. */
function rowOf(db: Database.Database, table: string, n: number): Row {
  const value = ({ name, type }: Column): string | number | Buffer => {
    if (type === "BLOB") return Buffer.from(`${name} ${n}`);
    return type === "INTEGER" ? n : name === "projectId" ? "project" : `${name} ${n}`;
  };
  return Object.fromEntries(columnsOf(db, table).map((column) => [column.name, value(column)]));
}

const names = (row: Row): string => Object.keys(row).map((name) => `"${name}"`).join(", ");
const slots = (row: Row): string => Object.keys(row).map((name) => `@${name}`).join(", ");
const insert = (db: Database.Database, table: string, row: Row, verb = "INSERT"): unknown =>
  db.prepare(`${verb} INTO "${table}" (${names(row)}) VALUES (${slots(row)})`).run(row);

/** The primary key and every unique index of a table, each as the names of its columns. */
function uniqueKeys(db: Database.Database, table: string): string[][] {
  const indexes = db.pragma(`index_list("${table}")`) as { name: string; unique: number }[];
  return indexes.filter(({ unique }) => unique === 1).map(({ name }) => (db.pragma(`index_info("${name}")`) as { name: string }[]).map((one) => one.name));
}

it("protects the record and the tables of signed acts", () => {
  expect([...APPEND_ONLY].sort()).toEqual([
    "Acceptance", "Calibration", "CameraClock", "ClockPhoto", "CloseoutIssue", "Document", "Head", "LikenessAnswer", "LogEntry", "Logger", "Photo", "PhotoLimits", "PhotoReading", "PointRecord", "Reading", "Record", "Review", "Revision", "Signature", "StreakCheck", "TideTable", "Weather",
  ]);
});

describe.each(APPEND_ONLY)("table %s", (table) => {
  describe.each(["ON", "OFF"])("with recursive_triggers %s", (recursive) => {
    /** Tries a statement on two rows and gives the rows as they are afterwards; a trigger must speak. */
    function expectRefused(attempt: (db: Database.Database) => unknown, words: RegExp): void {
      migrate(file);
      withDatabase((db) => {
        db.pragma(`recursive_triggers = ${recursive}`);
        insert(db, table, rowOf(db, table, 1));
        insert(db, table, rowOf(db, table, 2));
        const rows = (): unknown[] => db.prepare(`SELECT rowid, * FROM "${table}" ORDER BY rowid`).all();
        const before = rows();
        expect(before).toHaveLength(2);
        expect(() => attempt(db)).toThrow(expect.objectContaining({ code: "SQLITE_CONSTRAINT_TRIGGER", message: expect.stringMatching(words) }));
        expect(rows()).toEqual(before);
      });
    }

    it("refuses UPDATE of every column", () => {
      expectRefused((db) => {
        const columns = columnsOf(db, table).map(({ name }) => name);
        const spoken = columns.map((name) => {
          try {
            db.prepare(`UPDATE "${table}" SET "${name}" = "${name}"`).run();
            return null;
          } catch (error) {
            return error as Error;
          }
        });
        expect(spoken.map((error) => error?.message)).toEqual(columns.map(() => `${table} is append-only: UPDATE refused`));
        throw spoken[0]!;
      }, /UPDATE refused/);
    });

    it("refuses DELETE", () => {
      expectRefused((db) => db.prepare(`DELETE FROM "${table}"`).run(), /append-only: DELETE refused/);
    });

    it("refuses UPDATE OR REPLACE onto the key of another row", () => {
      expectRefused((db) => {
        const [key] = uniqueKeys(db, table);
        const set = key!.map((name) => `"${name}" = @${name}`).join(", ");
        return db.prepare(`UPDATE OR REPLACE "${table}" SET ${set} WHERE rowid = 1`).run(rowOf(db, table, 2));
      }, /append-only: UPDATE refused/);
    });

    it("refuses INSERT OR REPLACE on each unique key", () => {
      const keys = (() => {
        migrate(file);
        return withDatabase((db) => uniqueKeys(db, table));
      })();
      expect(keys.length).toBeGreaterThan(0);
      for (const key of keys) {
        rmSync(file, { force: true });
        expectRefused((db) => {
          const [there, other] = [rowOf(db, table, 1), rowOf(db, table, 3)];
          return insert(db, table, { ...other, ...Object.fromEntries(key.map((name) => [name, there[name]!])) }, "INSERT OR REPLACE");
        }, /append-only: this row exists/);
      }
    });

    it("refuses INSERT OR REPLACE on a rowid that is taken", () => {
      expectRefused((db) => insert(db, table, { rowid: 1, ...rowOf(db, table, 3) }, "INSERT OR REPLACE"), /append-only: this row exists/);
    });
  });
});

describe("the log", () => {
  const entry = (db: Database.Database, seq: number, projectId: string): Row => ({ ...rowOf(db, "LogEntry", seq), projectId });

  it.each([
    { after: 0, seq: 2, what: "that does not begin at 1" },
    { after: 0, seq: 0, what: "before the first" },
    { after: 2, seq: 4, what: "that leaves one out" },
    { after: 2, seq: -1, what: "below the first" },
  ])("refuses an entry $what", ({ after, seq }) => {
    migrate(file);
    withDatabase((db) => {
      for (let n = 1; n <= after; n += 1) insert(db, "LogEntry", entry(db, n, "a"));
      expect(() => insert(db, "LogEntry", entry(db, seq, "a"))).toThrow("LogEntry must follow the last entry without a gap");
      expect(db.prepare("SELECT COUNT(*) FROM LogEntry").pluck().get()).toBe(after);
    });
  });

  it("counts each project on its own", () => {
    migrate(file);
    withDatabase((db) => {
      for (const [seq, projectId] of [[1, "a"], [1, "b"], [2, "a"], [2, "b"]] as const) insert(db, "LogEntry", entry(db, seq, projectId));
      expect(db.prepare("SELECT projectId || seq FROM LogEntry ORDER BY projectId, seq").pluck().all()).toEqual(["a1", "a2", "b1", "b2"]);
    });
  });
});

describe("checkDatabase", () => {
  const triggers = (): { name: string; sql: string }[] => withDatabase((db) => db.prepare("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' ORDER BY name").all() as never);

  it("reads every pragma back as wanted", () => {
    migrate(file);
    expect(checkDatabase(file).pragmas).toEqual(WANTED_PRAGMAS);
  });

  it("throws while any one trigger is missing or changed, and takes the database again once it is restored", { timeout: 60_000 }, () => {
    migrate(file);
    const all = triggers();
    expect(all).toHaveLength(APPEND_ONLY.length * 3 + 1); // no update, no delete, no replace; and no gap in the log
    for (const { name, sql } of all) {
      withDatabase((db) => db.exec(`DROP TRIGGER "${name}"`));
      expect(() => checkDatabase(file)).toThrow(`trigger ${name} is missing`);
      withDatabase((db) => db.exec(sql.replace("BEGIN SELECT RAISE(ABORT,", "BEGIN SELECT RAISE(IGNORE); SELECT RAISE(ABORT,")));
      expect(() => checkDatabase(file)).toThrow(`trigger ${name} is changed`);
      withDatabase((db) => db.exec(`DROP TRIGGER "${name}"; ${sql}`));
    }
    expect(() => checkDatabase(file)).not.toThrow();
  });

  it("throws where a trigger has been added", () => {
    migrate(file);
    withDatabase((db) => db.exec(`CREATE TRIGGER "guest" AFTER INSERT ON "Record" BEGIN DELETE FROM "Draft"; END`));
    expect(() => checkDatabase(file)).toThrow("trigger guest does not belong here");
  });

  it("throws where there is no database", () => {
    expect(() => checkDatabase(file)).toThrow();
  });
});

it("holds the wanted pragmas on the connections that read and write", async () => {
  migrate(file);
  const db = openDatabase(file);
  const pragmaOf = (name: string) => async (tx: Pick<typeof db.read, "$queryRawUnsafe">) =>
    Object.values((await tx.$queryRawUnsafe<Record<string, unknown>[]>(`PRAGMA ${name}`))[0]!)[0];
  try {
    for (const [name, wanted] of Object.entries(WANTED_PRAGMAS)) {
      expect(String(await pragmaOf(name)(db.read)), `${name} to read`).toBe(String(wanted));
      expect(String(await db.write(pragmaOf(name))), `${name} to write`).toBe(String(wanted));
      expect(String(await db.snapshot(pragmaOf(name))), `${name} of a snapshot`).toBe(String(wanted));
    }
  } finally {
    await db.close();
  }
});

/** A process of its own that says when it is ready, migrates when told to, and says what it applied. */
function migrator() {
  const script = `
    import { migrate } from "#lib/db/migrations";
    console.log("ready");
    process.stdin.once("data", () => { console.log(JSON.stringify(migrate(process.argv[1]))); process.stdin.destroy(); });`;
  const child = spawn(process.execPath, ["--import", "tsx", "--input-type=module", "-e", script, file], { stdio: ["pipe", "pipe", "inherit"] });
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const ready = lines.next();
  return {
    ready,
    go: () => child.stdin.write("go\n"),
    applied: ready.then(() => lines.next()).then(({ value }) => JSON.parse(value ?? "null") as string[]),
  };
}

describe("migrations", () => {
  const history = (): unknown[] => withDatabase((db) => db.prepare("SELECT migration_name FROM _prisma_migrations ORDER BY migration_name").pluck().all());

  it("are each applied once by two processes that start at the same time", { timeout: 60_000 }, async () => {
    const [one, other] = [migrator(), migrator()];
    await Promise.all([one.ready, other.ready]);
    one.go();
    other.go();
    const applied = (await Promise.all([one.applied, other.applied])).flat();
    expect(applied.sort()).toEqual(migrationNames());
    expect(history()).toEqual(migrationNames());
    expect(() => checkDatabase(file)).not.toThrow();
  });

  it("apply nothing the second time", () => {
    expect(migrate(file)).toEqual(migrationNames());
    expect(migrate(file)).toEqual([]);
    expect(history()).toEqual(migrationNames());
  });

  it("are refused where one was edited after it was applied", () => {
    migrate(file);
    withDatabase((db) => db.exec("UPDATE _prisma_migrations SET checksum = 'another'"));
    expect(() => migrate(file)).toThrow(/was edited after it was applied/);
  });
});
