import Database from "better-sqlite3";
import { afterEach, beforeEach, expect, it } from "vitest";
import { keepStatements } from "#lib/db/statement-cache";

interface Adapted {
  bind(values: unknown[]): { reader: boolean; run(): { changes: number }; columns(): { name: string }[]; raw(): { all(): unknown[] } };
}

let db: Database.Database;
let prepared: string[];

beforeEach(() => {
  db = new Database(":memory:");
  db.exec("CREATE TABLE pile (mark TEXT, bent INTEGER)");
  prepared = [];
  const prepare = db.prepare.bind(db);
  db.prepare = ((sql: string) => { prepared.push(sql); return prepare(sql); }) as typeof db.prepare;
  keepStatements(db);
});
afterEach(() => db.close());

const ask = (sql: string, values: unknown[] = []) => (db.prepare(sql) as unknown as Adapted).bind(values);

it("reads a text of SQL once and takes other values each time", () => {
  for (const [mark, bent] of [["02-A", 2], ["03-B", 3]]) expect(ask("INSERT INTO pile VALUES (?, ?)", [mark, bent]).run().changes).toBe(1);
  const found = [2, 3, 4].map((bent) => ask("SELECT mark FROM pile WHERE bent = ?", [bent]).raw().all());
  expect(found).toEqual([[["02-A"]], [["03-B"]], []]);
  expect(prepared).toEqual(["INSERT INTO pile VALUES (?, ?)", "SELECT mark FROM pile WHERE bent = ?"]);
});

it("says which statements answer rows, and what their columns are called", () => {
  expect(ask("DELETE FROM pile").reader).toBe(false);
  expect(ask("SELECT mark, bent FROM pile").columns().map(({ name }) => name)).toEqual(["mark", "bent"]);
});

it("goes on after the table has changed, and after a statement that failed", () => {
  ask("SELECT mark FROM pile").raw().all();
  db.exec("ALTER TABLE pile ADD COLUMN note TEXT");
  expect(ask("SELECT mark FROM pile").raw().all()).toEqual([]);
  db.exec("CREATE UNIQUE INDEX own_mark ON pile (mark)");
  const insert = (mark: string) => ask("INSERT INTO pile (mark, bent) VALUES (?, 1)", [mark]).run();
  insert("02-A");
  expect(() => insert("02-A")).toThrow(/UNIQUE/);
  expect(insert("02-B").changes).toBe(1);
});

it("forgets what was not used for long", () => {
  for (let i = 0; i < 500; i += 1) ask(`SELECT ${i}`).raw().all();
  ask("SELECT 499").raw().all();
  ask("SELECT 0").raw().all();
  expect(prepared.filter((sql) => sql === "SELECT 499")).toHaveLength(1);
  expect(prepared.filter((sql) => sql === "SELECT 0")).toHaveLength(2);
});
