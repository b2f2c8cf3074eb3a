// npm test: installs what is missing, the browser included, and runs every check. Ends with "N passed, N failed".
import { spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import os from "node:os";
import path from "node:path";
import process from "node:process";
import { alone, build, enter, fail, install, npx } from "./prepare.mjs";

enter();
alone(install);
const chrome = browser();
const reports = mkdtempSync(path.join(os.tmpdir(), "lastlook-check-"));
const counts = { passed: 0, failed: 0 };

/** Debian's Chromium, or the one that CHROME_PATH names; installed where that can be done. */
function browser() {
  const found = [process.env.CHROME_PATH, "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((place) => place && existsSync(place));
  if (found) return found;
  const debian = existsSync("/etc/debian_version") && process.getuid?.() === 0;
  if (!debian) fail("The browser tests need Chromium. Install it, or set CHROME_PATH to the program of one.");
  console.log("Installing Chromium for the browser tests.");
  const apt = (...words) => spawnSync("apt-get", words, { stdio: "inherit", env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" } }).status;
  apt("update");
  if (apt("install", "-y", "--no-install-recommends", "chromium", "jq", "unzip", "poppler-utils") !== 0) fail("Chromium could not be installed. Install it by hand, or set CHROME_PATH.");
  return "/usr/bin/chromium";
}

/** The tools that a package is verified with; the tests run its verify.sh. */
function verifier() {
  const missing = ["jq", "openssl"].filter((tool) => spawnSync(tool, ["--version"]).error);
  if (missing.length === 0) return;
  if (existsSync("/etc/debian_version") && process.getuid?.() === 0) {
    spawnSync("apt-get", ["update"], { stdio: "inherit" });
    if (spawnSync("apt-get", ["install", "-y", "--no-install-recommends", ...missing], { stdio: "inherit" }).status === 0) return;
  }
  fail(`The closeout tests verify packages with ${missing.join(" and ")}. Install ${missing.length === 1 ? "it" : "them"}.`);
}

function step(name, command, words, env = {}) {
  const began = Date.now();
  return new Promise((done) => {
    const chunks = [];
    const child = spawn(command, words, { env: { ...process.env, CHROME_PATH: chrome, FORCE_COLOR: "0", ...env }, stdio: ["ignore", "pipe", "pipe"] });
    child.stdout.on("data", (chunk) => chunks.push(chunk));
    child.stderr.on("data", (chunk) => chunks.push(chunk));
    child.on("close", (code) => {
      const seconds = Math.round((Date.now() - began) / 1000);
      console.log(`${code === 0 ? "passed" : "FAILED"}  ${name}  (${seconds} s)`);
      if (code !== 0) console.log(Buffer.concat(chunks).toString());
      done(code === 0);
    });
  });
}

/** A step that counts as one. */
async function one(name, command, words, env) {
  if (await step(name, command, words, env)) counts.passed += 1;
  else counts.failed += 1;
}

/** A test run, counted by its own report. */
async function tests(name, command, words, report, env = {}) {
  const file = path.join(reports, `${name.replace(/\W+/g, "-")}.json`);
  const good = await step(name, command, words(file), { ...env, ...report(file).env });
  const { passed, failed } = existsSync(file) ? report(file).count(JSON.parse(readFileSync(file, "utf8"))) : { passed: 0, failed: 1 };
  counts.passed += passed;
  counts.failed += good ? failed : Math.max(1, failed);
}

const vitestReport = () => ({ env: {}, count: ({ numPassedTests, numFailedTests }) => ({ passed: numPassedTests, failed: numFailedTests }) });
const playwrightReport = (file) => ({
  env: { PLAYWRIGHT_JSON_OUTPUT_NAME: file },
  count: ({ stats }) => ({ passed: stats.expected + stats.flaky, failed: stats.unexpected }),
});
const vitest = (folders) => (file) => ["run", "--reporter=default", "--reporter=json", `--outputFile.json=${file}`, ...folders];

verifier();
await Promise.all([
  one("types of app and lib", npx("tsc"), ["--noEmit", "-p", "tsconfig.json"]),
  one("lint", npx("eslint"), [".", "--max-warnings", "0", "--cache", "--cache-location", "node_modules/.cache/eslint/"]),
]);
await one("types of tests", npx("tsc"), ["--noEmit", "-p", "tsconfig.tests.json"]);
await one("schema and migrations agree", process.execPath, ["--import", "tsx", "lib/cli/new-migration.ts", "check"]);
await tests("rules, records and services", npx("vitest"), vitest([]), vitestReport, { TZ: "UTC" });
const zoned = ["tests/domain/clock", "tests/domain/photo", "tests/domain/point", "tests/services"];
for (const TZ of ["America/New_York", "Asia/Tokyo"]) await tests(`times under ${TZ}`, npx("vitest"), vitest(zoned), vitestReport, { TZ });
alone(build);
await tests("journeys in a browser", npx("playwright"), () => ["test", "--reporter=json"], playwrightReport);

rmSync(reports, { recursive: true, force: true });
console.log(`${counts.passed} passed, ${counts.failed} failed`);
process.exit(counts.failed === 0 && counts.passed > 0 ? 0 : 1);
