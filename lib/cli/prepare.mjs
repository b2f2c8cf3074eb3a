// What has to stand before anything else runs: Node, packages, the generated client. Plain JavaScript, because it runs
// before TypeScript can be.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import process from "node:process";

const OLDEST_NODE = [20, 19];
const STAMPS = path.join("node_modules", ".lastlook");

/** Goes to the project's folder and refuses a Node that is too old. */
export function enter() {
  process.chdir(path.join(import.meta.dirname, "..", ".."));
  const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);
  if (major < OLDEST_NODE[0] || (major === OLDEST_NODE[0] && minor < OLDEST_NODE[1])) {
    fail(`Lastlook needs Node ${OLDEST_NODE.join(".")} or newer; this is ${process.versions.node}. Install a newer Node and try again.`);
  }
}

export function fail(message) {
  console.error(message);
  process.exit(1);
}

/** Runs a command and ends with its code when it fails. */
export function run(command, words, env = {}) {
  const { status, signal } = spawnSync(command, words, { stdio: "inherit", env: { ...process.env, ...env } });
  return signal ? 1 : (status ?? 1);
}

export const npx = (tool) => path.join("node_modules", ".bin", tool);

/** Runs TypeScript of lib/cli. */
export function runTs(file, words = [], env = {}) {
  return run(process.execPath, ["--import", "tsx", file, ...words], env);
}

export function stamp(name) {
  const file = path.join(STAMPS, name);
  return existsSync(file) ? readFileSync(file, "utf8") : null;
}

export function keepStamp(name, text) {
  mkdirSync(STAMPS, { recursive: true });
  writeFileSync(path.join(STAMPS, name), text);
}

/** One digest over the contents of files and folders, so that a change anywhere in them is seen. */
export function digestOf(places) {
  const hash = createHash("sha256");
  const visit = (place) => {
    if (!existsSync(place)) return;
    const entries = readdirOrNull(place);
    if (entries === null) hash.update(`${place}\0`).update(readFileSync(place));
    else for (const entry of entries.filter((name) => name !== "generated").sort()) visit(path.join(place, entry));
  };
  places.forEach(visit);
  return hash.digest("hex");
}

function readdirOrNull(place) {
  try {
    return readdirSync(place);
  } catch {
    return null;
  }
}

/** Installs the packages when they are missing or the lock file has changed since. */
export function install() {
  const wanted = digestOf(["package.json", "package-lock.json", "prisma/schema.prisma", "prisma.config.ts"]);
  if (stamp("installed") === wanted && existsSync(path.join("lib", "db", "generated"))) return;
  console.log("Installing packages. The database driver is compiled: this takes a few minutes the first time.");
  if (run("npm", ["ci", "--include=dev", "--no-audit", "--no-fund"]) !== 0) fail("The packages could not be installed. Look at the lines above; a C++ compiler, make and Python 3 are needed.");
  keepStamp("installed", wanted);
}

const LOCK = ".lastlook.lock";

/** Sets something up while no other start or check of this checkout does; another one waits until it has ended. */
export function alone(work) {
  for (let told = false; !takeLock(); told = true) {
    if (!told) console.log("Another start is setting things up; waiting for it.");
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 500);
  }
  const release = () => rmSync(LOCK, { force: true });
  process.once("exit", release); // fail() ends the process inside the work
  work();
  process.off("exit", release);
  release();
}

/** The lock names its holder; one whose holder has ended, however it did, is taken over. */
function takeLock() {
  try {
    writeFileSync(LOCK, String(process.pid), { flag: "wx" });
    return true;
  } catch (error) {
    if (error.code !== "EEXIST") throw error;
  }
  const holder = Number(readOrNull(LOCK));
  if (holder > 0 && !isRunning(holder)) rmSync(LOCK, { force: true });
  return false;
}

function readOrNull(file) {
  try {
    return readFileSync(file, "utf8");
  } catch {
    return null;
  }
}

function isRunning(pid) {
  try {
    process.kill(pid, 0);
    return pid !== process.pid;
  } catch (error) {
    return error.code === "EPERM";
  }
}

/** Builds the pages when anything they are made of has changed since the last good build. */
export function build() {
  const output = process.env.NEXT_DIST_DIR ?? ".next";
  const wanted = digestOf(["app", "lib", "public", "next.config.mjs", "tsconfig.json", "package-lock.json", "prisma/schema.prisma"]);
  const name = `built-${output.replace(/\W/g, "_")}`;
  if (stamp(name) === wanted && existsSync(path.join(output, "BUILD_ID"))) return;
  console.log("Building the pages.");
  // What a failed build leaves behind makes the next one fail too.
  rmSync(output, { recursive: true, force: true });
  if (run(npx("next"), ["build"], { NEXT_TELEMETRY_DISABLED: "1" }) !== 0) {
    rmSync(output, { recursive: true, force: true });
    fail("The pages could not be built. Look at the lines above.");
  }
  keepStamp(name, wanted);
}
