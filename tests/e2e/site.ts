import { spawn, type ChildProcess } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createServer, type AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import path from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { expect, test as base, type Page } from "@playwright/test";
import type { Instant } from "#lib/domain/instant";
import { openHouse } from "#lib/services/house";
import { openSession } from "#lib/services/sign-in";

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

/** Opens a session of a person on a site. */
export async function sessionToken({ dataDir }: Pick<Site, "dataDir">, who: string): Promise<string> {
  const house = openHouse(dataDir);
  const { token } = await openSession(house, who, "journey");
  await house.db.close();
  return token;
}

/**
 * Tests on a site of their own, made in an empty data folder and served for as long as a worker lives. Its clock goes on
 * from its last record.
 */
export function siteTest({ make, password }: { make: (dataDir: string) => Promise<Instant>; password: string }) {
  return base.extend<Fixtures, { site: Site }>({
    site: [
      async ({}, use) => {
        const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-e2e-"));
        const now = await make(dataDir);
        const { server, url } = await serve(dataDir);
        await use({ url, dataDir, now, password });
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
        const token = await sessionToken(site, who);
        await page.context().addCookies([{ name: "lastlook-session", value: token, url: site.url }]);
      });
    },
  });
}

export { expect } from "@playwright/test";

/** Nothing on the page stands in the way of somebody who cannot see it, or use a mouse. */
export async function expectAccessible(page: Page, where?: string): Promise<void> {
  expect((await new AxeBuilder({ page }).analyze()).violations, where).toEqual([]);
}
