// Measures the product's intake beside the bare loop, on the same photos in one run. Prints figures and ratios; a ratio
// past its limit ends the run with 1.
import { spawn, spawnSync } from "node:child_process";
import { randomUUID } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { Agent, request } from "node:http";
import os from "node:os";
import path from "node:path";
import { sha256 } from "#lib/records/canonical";
import { openSession } from "#lib/services/sign-in";
import { LARGE, makePhotos, ORDINARY } from "#tests/bench/photo-maker";
import { cpuMs, residentMb } from "#tests/bench/process-tree";
import { CODE, smallProject } from "#tests/services/small-project";

const PHOTOS = 24;
const WARM_UP = 24;
const ALONE = 12;
const CLIENTS = 4;
const QUEUED = 200;
/** Project's own limits for this machine kind: ratio to the bare loop, or an amount. */
const LIMITS = { cpu: 1.35, throughput: 0.75, receiptP95: 2, growthMb: 128 } as const;

const folder = mkdtempSync(path.join(os.tmpdir(), "lastlook-bench-"));
const say = (words: string): void => void process.stdout.write(`${words}\n`);
const percentile = (values: readonly number[], share: number): number => [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.ceil(values.length * share) - 1)] ?? Number.NaN;
const each = (sum: number): string => `${(sum / PHOTOS).toFixed(0)} ms`;

interface Run {
  wallMs: number;
  cpuMs: number;
  took: number[];
}

function bare(files: readonly string[], atOnce: number): Run {
  const { stdout, stderr, status } = spawnSync(process.execPath, ["tests/bench/bare.mjs", path.join(folder, `bare-${randomUUID()}`), String(atOnce), ...files], { encoding: "utf8" });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Run;
}

/** A photo as a phone holds it when it begins to send: its digest is known. */
interface Ready {
  body: Buffer;
  sha256: string;
}

function ready(file: string): Ready {
  const body = readFileSync(file);
  return { body, sha256: sha256(body) };
}

interface Served {
  pid: number;
  /** Milliseconds until the receipt is there. */
  send(photo: Ready): Promise<number>;
  fetch(place: string): Promise<Response>;
  stop(): Promise<void>;
}

async function serve(): Promise<Served> {
  const dataDir = path.join(folder, "data");
  const site = await smallProject({ dataDir });
  site.clock.now = Date.now();
  const { token } = await openSession(site.house, "crew", "bench");
  const { id } = await site.sheet("02-A");
  await site.close();
  const child = spawn(process.execPath, ["--import", "tsx", "lib/cli/serve.ts"], { env: { ...process.env, DATA_DIR: dataDir, PORT: "0", NODE_ENV: "production" }, stdio: ["ignore", "pipe", "inherit"] });
  const base = await new Promise<string>((resolve, reject) => {
    let said = "";
    child.stdout.on("data", (chunk: Buffer) => {
      said += chunk.toString();
      const found = /http:\/\/localhost:\d+/.exec(said)?.[0];
      if (found) resolve(found);
    });
    child.once("exit", () => reject(new Error(`The server ended: ${said}`)));
  });
  const headers = { authorization: `Bearer ${token}` };
  const agent = new Agent({ keepAlive: true });
  return {
    pid: child.pid ?? 0,
    send: ({ body, sha256 }) => new Promise((resolve, reject) => {
      const began = performance.now();
      const place = `${base}/api/v1/projects/${CODE}/points/${id}/4/photos?subject=close-up&id=${randomUUID()}`;
      const call = request(place, { method: "PUT", agent, headers: { ...headers, "content-length": body.length, "x-content-sha256": sha256 } }, (answer) => {
        const ms = performance.now() - began;
        let said = "";
        answer.on("data", (chunk: Buffer) => (said += chunk.toString()));
        answer.on("end", () => (answer.statusCode === 201 ? resolve(ms) : reject(new Error(said))));
      });
      call.once("error", reject);
      call.end(body);
    }),
    fetch: (place) => fetch(`${base}${place}`, { headers }),
    stop: () => new Promise((resolve) => {
      agent.destroy();
      child.once("exit", () => resolve());
      child.kill("SIGTERM");
    }),
  };
}

async function inTurn<T>(jobs: readonly (() => Promise<T>)[], atOnce: number): Promise<T[]> {
  const waiting = [...jobs];
  const done: T[] = [];
  await Promise.all(Array.from({ length: atOnce }, async () => {
    for (let next = waiting.shift(); next; next = waiting.shift()) done.push(await next());
  }));
  return done;
}

async function settled(pid: number): Promise<void> {
  const busy = (): number => cpuMs(pid, "waited for") + cpuMs(pid, "giving way");
  for (let quiet = 0, last = busy(); quiet < 4; ) {
    await new Promise((resolve) => setTimeout(resolve, 250));
    const now = busy();
    quiet = now - last <= 20 ? quiet + 1 : 0;
    last = now;
  }
}

try {
  const wanted = { warmUp: WARM_UP, intake: PHOTOS, alone: ALONE, busy: PHOTOS };
  const count = Object.values(wanted).reduce((sum, one) => sum + one, 0);
  say(`Making ${count} photos of 12 megapixels, each another picture.`);
  const all = await makePhotos(folder, count, ORDINARY);
  const large = await makePhotos(folder, 8, LARGE, count);
  const mb = (list: readonly string[]): string => (list.reduce((sum, file) => sum + statSync(file).size, 0) / list.length / 1e6).toFixed(1);
  say(`${mb(all)} MB each, and 8 of ${mb(large)} MB.`);
  const [warmUp = [], files = [], alone = [], later = []] = Object.values(wanted).map((many) => all.splice(0, many));

  const one = bare(files, 1);
  const four = bare(files, CLIENTS);
  const served = await serve();
  const sendAll = (photos: readonly Ready[], atOnce: number) => inTurn(photos.map((photo) => () => served.send(photo)), atOnce);
  await sendAll(warmUp.map(ready), CLIENTS); // a server is slow in its first seconds
  await settled(served.pid);

  // Receipt and renditions; what is read from the picture afterwards is no part of the bare loop and is measured apart.
  const photos = files.map(ready);
  const before = { intake: cpuMs(served.pid, "waited for"), study: cpuMs(served.pid, "giving way") };
  const began = performance.now();
  await sendAll(photos, CLIENTS);
  const answeredMs = performance.now() - began;
  await settled(served.pid);
  const intakeMs = cpuMs(served.pid, "waited for") - before.intake;
  const studyMs = cpuMs(served.pid, "giving way") - before.study;

  const quiet = await sendAll(alone.map(ready), 1);
  await settled(served.pid);

  // The reduced copies of all photos are lost and asked for at once, again and again, while receipts go on.
  rmSync(path.join(folder, "data", "renditions"), { recursive: true });
  const next = later.map(ready);
  const asked = Array.from({ length: QUEUED }, (_, i) => served.fetch(`/api/v1/projects/${CODE}/renditions/1600/${photos[i % photos.length]?.sha256}`).then((answer) => answer.arrayBuffer()));
  await new Promise((resolve) => setTimeout(resolve, 200));
  const busy = await sendAll(next, 1);
  await Promise.all(asked);
  await settled(served.pid);

  const largest = large.map(ready);
  const restMb = residentMb(served.pid);
  let mostMb = restMb;
  const watch = setInterval(() => (mostMb = Math.max(mostMb, residentMb(served.pid))), 20);
  await sendAll(largest, 8);
  clearInterval(watch);
  await served.stop();

  const bareP95 = percentile(one.took, 0.95);
  const busyP95 = percentile(busy, 0.95);
  const ratios = {
    cpu: intakeMs / four.cpuMs,
    throughput: PHOTOS / answeredMs / (PHOTOS / four.wallMs),
    receiptP95: busyP95 / bareP95,
    growthMb: mostMb - restMb,
  };
  say(`CPU a photo          bare ${each(four.cpuMs)}, product ${each(intakeMs)}: ${ratios.cpu.toFixed(2)} (limit ${LIMITS.cpu})`);
  say(`  reading tags afterwards, giving way to everything, ${each(studyMs)}`);
  say(`photos/s, ${CLIENTS} clients  bare ${((1000 * PHOTOS) / four.wallMs).toFixed(1)}, product ${((1000 * PHOTOS) / answeredMs).toFixed(1)}: ${ratios.throughput.toFixed(2)} (limit ${LIMITS.throughput})`);
  say(`receipt p95          bare ${bareP95.toFixed(0)} ms, product alone ${percentile(quiet, 0.95).toFixed(0)} ms, with ${QUEUED} renditions queued ${busyP95.toFixed(0)} ms: ${ratios.receiptP95.toFixed(2)} (limit ${LIMITS.receiptP95})`);
  say(`memory growth        ${ratios.growthMb.toFixed(0)} MB for 8 uploads of ${mb(large)} MB at once (limit ${LIMITS.growthMb} MB)`);
  const good = ratios.cpu <= LIMITS.cpu && ratios.throughput >= LIMITS.throughput && ratios.receiptP95 <= LIMITS.receiptP95 && ratios.growthMb <= LIMITS.growthMb;
  say(good ? "Within every limit." : "Past a limit.");
  process.exitCode = good ? 0 : 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}
