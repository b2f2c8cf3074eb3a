// Makes the tables again from the log, in a folder of its own, and compares them with those that are in use.
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import { databaseFile, openDatabase } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { rebuildFromLog, viewDifferences } from "#lib/services/rebuild";

const HELP = `Compares the tables in DATA_DIR (default: data) with those that its log gives. Nothing is changed.

  npm run rebuild-check

Ends with 1 when they differ.
`;

const words = process.argv.slice(2);
const file = databaseFile();
if (words.includes("--help") || words.includes("-h")) {
  process.stdout.write(HELP);
} else if (words.length > 0) {
  process.stderr.write(`${words[0]} is not known here.\n\n${HELP}`);
  process.exitCode = 2;
} else if (!existsSync(file)) {
  process.stderr.write(`There is no database at ${file}.\n`);
  process.exitCode = 2;
} else {
  process.exitCode = await compare(file);
}

async function compare(living: string): Promise<number> {
  const folder = mkdtempSync(path.join(os.tmpdir(), "lastlook-rebuild-"));
  migrate(databaseFile(folder));
  const [from, into] = [openDatabase(living), openDatabase(databaseFile(folder))];
  try {
    await rebuildFromLog(from, into);
    const differences = await viewDifferences(from, into);
    process.stdout.write(differences.length === 0 ? "The tables are what the log gives, row for row.\n" : `${differences.join("\n")}\n`);
    return differences.length === 0 ? 0 : 1;
  } finally {
    await Promise.all([from.close(), into.close()]);
    rmSync(folder, { recursive: true, force: true });
  }
}
