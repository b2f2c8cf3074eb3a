// Serves Lastlook: Next behind a small server of our own, which gives every answer its security headers.
import { randomBytes } from "node:crypto";
import { existsSync } from "node:fs";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import path from "node:path";
import Database from "better-sqlite3";
import next from "next";
import { databaseFile, dataDirectory } from "#lib/db/client";
import { demonstrationPeople, DEMONSTRATION_PASSWORD } from "#lib/edge/demonstration";
import { holdBody } from "#lib/edge/request-body";
import { securityHeaders } from "#lib/edge/security-headers";
import { clearIncoming } from "#lib/photos/store";
import { house } from "#lib/services/house";
import { runStudy } from "#lib/services/study-photo";

const dev = process.argv.includes("--dev");
const port = portOf(process.env.PORT ?? "3000");
/** Without one, every address of this machine. */
const host = process.env.HOST;

/** A phone with a weak signal may take this long over one photo. */
const REQUEST_TIMEOUT_MS = 15 * 60_000;
const STOP_AFTER_MS = 10_000;

function portOf(text: string): number {
  const number = Number(text);
  if (!/^\d+$/.test(text) || number > 65_535) fail(`PORT is "${text}". Give a number from 0 to 65535.`);
  return number;
}

function fail(message: string): never {
  console.error(message);
  process.exit(1);
}

/**
 * One server at a time over one data folder: each clears what the last one left half received. The lock is the operating
 * system's, held by an open database, so it ends with the process, however that ends.
 */
function holdDataDirectory(directory: string): Database.Database {
  const lock = new Database(path.join(directory, "serving.lock"), { timeout: 500 });
  try {
    lock.exec("BEGIN EXCLUSIVE");
    return lock;
  } catch {
    return fail(`Another Lastlook serves ${directory} already. Stop that one, or set DATA_DIR to another folder.`);
  }
}

async function main(): Promise<void> {
  const directory = dataDirectory();
  if (!existsSync(databaseFile(directory))) fail(`There is no database in ${directory}. Make it with: npm run migrate`);
  const here = house();
  const lock = holdDataDirectory(directory);
  await clearIncoming(directory);

  const app = next({ dev, dir: process.cwd(), hostname: host, port });
  await app.prepare();
  const answer = app.getRequestHandler();
  const server = createServer({ requestTimeout: REQUEST_TIMEOUT_MS }, (request, response) => {
    giveHeaders(request, response);
    holdBody(request, response);
    void answer(request, response);
  });
  if (dev) server.on("upgrade", app.getUpgradeHandler());
  await listen(server);
  const study = runStudy(here);

  const stop = (): void => {
    // Requests under way are finished; connections that only wait are closed.
    server.close(() => {
      void study.stop().then(() => here.db.close()).then(() => {
        lock.close();
        process.exit(0);
      });
    });
    server.closeIdleConnections();
    setTimeout(() => process.exit(0), STOP_AFTER_MS).unref();
  };
  process.once("SIGINT", stop);
  process.once("SIGTERM", stop);

  const address = server.address();
  const open = typeof address === "object" && address ? address.port : port;
  console.log(`Lastlook is ready: http://localhost:${open}${await signInsOf()}`);
}

/** Next reads the nonce for its scripts from the policy on the request. */
function giveHeaders(request: IncomingMessage, response: ServerResponse): void {
  const asked = request.url ?? "/";
  const headers = securityHeaders({ path: asked, nonce: randomBytes(16).toString("base64"), dev });
  for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
  request.headers["content-security-policy"] = headers["content-security-policy"];
  request.headers["x-asked-for"] = asked;
}

function listen(server: Server): Promise<void> {
  return new Promise((resolve) => {
    server.once("error", (error: NodeJS.ErrnoException) => {
      fail(error.code === "EADDRINUSE" ? `Port ${port} is taken. Set PORT to another one, for example PORT=${port + 1} npm start` : `Cannot listen on port ${port}: ${error.message}`);
    });
    server.listen(port, host, resolve);
  });
}

async function signInsOf(): Promise<string> {
  const people = await demonstrationPeople(house());
  if (people.length === 0) return "";
  const names = people.map(({ signIn, roles }) => `${signIn} (${roles.join(", ")})`);
  return `\nDemonstration, password "${DEMONSTRATION_PASSWORD}", sign in as: ${names.join(", ")}`;
}

await main();
