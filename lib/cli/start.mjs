// npm start: makes everything that is missing, then serves.
import { spawn } from "node:child_process";
import process from "node:process";
import { alone, build, enter, fail, install, runTs } from "./prepare.mjs";

enter();
const dev = process.argv.includes("--dev");
alone(() => {
  install();
  // Makes the demonstration where there is no database yet; migrating comes after, for one that is there already.
  if (runTs("lib/cli/seed.ts") !== 0) fail("The demonstration could not be made.");
  if (runTs("lib/cli/migrate.ts") !== 0) fail("The database could not be brought up to date.");
  if (!dev) build();
});

console.log("Starting.");
const server = spawn(process.execPath, ["--import", "tsx", "lib/cli/serve.ts", ...(dev ? ["--dev"] : [])], {
  stdio: "inherit",
  env: { ...process.env, NODE_ENV: dev ? "development" : "production", NEXT_TELEMETRY_DISABLED: "1" },
});
for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => server.kill(signal));
server.on("exit", (code, signal) => process.exit(signal ? 0 : (code ?? 1)));
