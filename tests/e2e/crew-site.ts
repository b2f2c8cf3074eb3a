import { spawn, type ChildProcess } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer, type AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import { test as base, type Page } from "@playwright/test";
import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { openHouse } from "#lib/services/house";
import { recordTemperature } from "#lib/services/record-temperature";
import { openSession } from "#lib/services/sign-in";
import { bringTo, CODE, crewProject, MORNING, openSite, PASSWORD } from "#tests/services/crew-project";

/** Where a test's own site is served, and what time it was there when its records end. */
export interface Site {
  url: string;
  dataDir: string;
  now: Instant;
  password: string;
}

interface Fixtures {
  signInAs(who: string, page?: Page): Promise<void>;
}

const READY = /Lastlook is ready: (\S+)/;
const START_WITHIN_MS = 60_000;

/**
 * A site in a data folder of its own: 02-A stands before its bars, 03-C before its clamp torque, 03-A at its grout cure and
 * 07-A is complete. Its clock goes on from its last record.
 */
async function makeSite(dataDir: string): Promise<Instant> {
  const clock = { now: MORNING };
  const project = await crewProject(dataDir, () => clock.now, MORNING);
  await openSite(project, clock);
  await bringTo(project, clock, "07-A", "26");
  // Strength results take 28 days, so the others are begun after them, in the morning of a shift.
  clock.now = Date.parse("2027-01-06T07:00:00-04:00");
  await bringTo(project, clock, "03-A", "21");
  clock.now += 2 * HOUR;
  await recordTemperature(await project.as("crew"), { sheet: "pile-03-A", line: "22", at: new Date(clock.now).toISOString(), temperature: "12", unit: "°C" });
  clock.now = Date.parse("2027-01-08T07:00:00-04:00");
  await bringTo(project, clock, "03-C", "8");
  await bringTo(project, clock, "02-A", "6");
  clock.now += MINUTE;
  await project.house.db.close();
  return clock.now;
}

/** A port that is free now. The server has to know its own, so it cannot be left to choose one. */
function freePort(): Promise<number> {
  return new Promise((answer) => {
    const probe = createServer().listen(0, "127.0.0.1", () => {
      const { port } = probe.address() as AddressInfo;
      probe.close(() => answer(port));
    });
  });
}

async function serve(dataDir: string): Promise<{ server: ChildProcess; url: string }> {
  const port = await freePort();
  const dev = process.env.LASTLOOK_DEV === "1" ? ["--dev"] : [];
  const server = spawn(process.execPath, ["--import", "tsx", "lib/cli/serve.ts", ...dev], { env: { ...process.env, DATA_DIR: dataDir, PORT: String(port), HOST: "127.0.0.1" }, stdio: ["ignore", "pipe", "inherit"] });
  return new Promise((answer, refuse) => {
    const timer = setTimeout(() => refuse(new Error("The server did not start.")), START_WITHIN_MS);
    server.once("exit", (code) => refuse(new Error(`The server ended with ${code}.`)));
    server.stdout.on("data", (chunk: Buffer) => {
      const [, url] = READY.exec(chunk.toString()) ?? [];
      if (!url) return;
      clearTimeout(timer);
      answer({ server, url: url.replace("localhost", "127.0.0.1") });
    });
  });
}

export const test = base.extend<Fixtures, { site: Site }>({
  site: [
    async ({}, use) => {
      const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-e2e-"));
      const now = await makeSite(dataDir);
      const { server, url } = await serve(dataDir);
      await use({ url, dataDir, now, password: PASSWORD });
      server.removeAllListeners("exit");
      const ended = new Promise((answer) => server.once("exit", answer));
      server.kill("SIGTERM");
      await ended;
      rmSync(dataDir, { recursive: true, force: true });
    },
    { scope: "worker", timeout: 3 * 60_000 },
  ],
  baseURL: async ({ site }, use) => use(site.url),
  signInAs: async ({ site, page: own }, use) => {
    await use(async (who, page = own) => {
      const house = openHouse(site.dataDir);
      const { token } = await openSession(house, who, "journey");
      await house.db.close();
      await page.context().addCookies([{ name: "lastlook-session", value: token, url: site.url }]);
    });
  },
});

export { expect } from "@playwright/test";
export const projectPath = `/p/${CODE}`;
