import { defineConfig } from "prisma/config";

// Every Prisma command looks for a schema engine to download, although only `generate`, `validate` and `format`
// are used here: migrations are plain SQL, applied by lib/cli/migrate.ts. An existing file stops the search.
process.env.PRISMA_SCHEMA_ENGINE_BINARY ??= process.execPath;
process.env.CHECKPOINT_DISABLE ??= "1";

export default defineConfig({
  schema: "prisma/schema.prisma",
  datasource: { url: process.env.DATABASE_URL ?? "file:./data/lastlook.db" },
});
