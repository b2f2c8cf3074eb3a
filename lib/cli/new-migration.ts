import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import os from "node:os";
import path from "node:path";
import { PrismaBetterSqlite3 } from "@prisma/adapter-better-sqlite3";
import { bindMigrationAwareSqlAdapterFactory } from "@prisma/driver-adapter-utils";
import { migrate } from "#lib/db/migrations";

// The schema engine as WebAssembly compares the database that the migrations make with prisma/schema.prisma and writes
// the SQL between them. The engine that Prisma would download is not needed.
const require = createRequire(import.meta.url);

async function difference(): Promise<string> {
  const glue = await import("@prisma/schema-engine-wasm/schema_engine_bg" as string);
  const wasm = readFileSync(require.resolve("@prisma/schema-engine-wasm/schema_engine_bg").replace(/\.js$/, ".wasm"));
  const { instance } = await WebAssembly.instantiate(wasm, { "./schema_engine_bg.js": glue });
  glue.__wbg_set_wasm(instance.exports);
  (instance.exports.__wbindgen_start as () => void)();

  const content = readFileSync("prisma/schema.prisma", "utf8");
  const folder = mkdtempSync(path.join(os.tmpdir(), "lastlook-migration-"));
  try {
    const file = path.join(folder, "shadow.db");
    migrate(file);
    const adapter = new PrismaBetterSqlite3({ url: `file:${file}` }, { shadowDatabaseUrl: ":memory:" });
    const engine = await glue.SchemaEngine.new(
      { datamodels: [["schema.prisma", content]] },
      () => undefined,
      bindMigrationAwareSqlAdapterFactory(adapter),
    );
    const files = [{ path: "prisma/schema.prisma", content }];
    const result = await engine.diff({
      from: { tag: "schemaDatasource", files, configDir: "." },
      to: { tag: "schemaDatamodel", files },
      script: true,
      exitCode: true,
      filters: { externalTables: [], externalEnums: [] },
    });
    return result.exitCode === 2 ? String(result.stdout) : "";
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const [command, name] = process.argv.slice(2);
const sql = await difference();
if (command === "check") {
  if (sql) {
    console.error(`prisma/schema.prisma has changes without a migration:\n${sql}`);
    process.exit(1);
  }
  console.log("Schema and migrations agree.");
} else if (command && /^[a-z-]+$/.test(name ?? "") && command === "write") {
  if (!sql) {
    console.log("Schema and migrations agree; nothing to write.");
  } else {
    const stamp = new Date().toISOString().replace(/\D/g, "").slice(0, 14);
    const folder = path.join("prisma", "migrations", `${stamp}_${name}`);
    mkdirSync(folder, { recursive: true });
    writeFileSync(path.join(folder, "migration.sql"), sql);
    writeFileSync(path.join("prisma", "migrations", "migration_lock.toml"), 'provider = "sqlite"\n');
    console.log(`Wrote ${folder}. Add triggers, STRICT and CHECK by hand where the table keeps records.`);
  }
} else {
  console.log("Usage: npm run migration -- check | write NAME   (NAME in kebab-case)");
  process.exit(command === "--help" ? 0 : 2);
}
