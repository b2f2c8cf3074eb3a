import type Database from "better-sqlite3";
import { LastUsed } from "#lib/db/last-used";

/** So many statements are kept ready; lists of ids of every length make new ones. Common practice, no source. */
const MOST_KEPT = 400;

type Args = Parameters<Database.Statement["all"]>;
type Bound = Pick<Database.Statement, "reader" | "run" | "columns"> & { raw(): { all(): unknown[] } };

/**
 * Keeps the statements of a connection ready, the last used ones longest: reading a text of SQL costs more than most queries
 * here do. A kept statement is never bound for good, as the adapter of the database client binds each of its own once; the
 * values go with every call.
 */
export function keepStatements(client: Database.Database): void {
  const prepare = client.prepare.bind(client) as (sql: string) => Database.Statement;
  const kept = new LastUsed<Database.Statement>(MOST_KEPT);
  const ready = (sql: string): Database.Statement => {
    const statement = kept.get(sql) ?? prepare(sql);
    kept.set(sql, statement);
    return statement;
  };
  client.prepare = ((sql: string) => {
    const statement = ready(sql);
    const withValues = (...values: Args): Bound => ({
      reader: statement.reader,
      run: () => statement.run(...values),
      columns: () => statement.columns(),
      raw: () => ({ all: () => statement.raw(true).all(...values) }),
    });
    return { bind: withValues, run: (...values: Args) => statement.run(...values) };
  }) as unknown as typeof client.prepare;
}
