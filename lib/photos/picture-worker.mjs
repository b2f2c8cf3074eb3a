// Opens pictures in a process of its own, so that a file made to hang or to fill the memory costs this process and nothing else.
// Plain JavaScript on purpose: it is started from its file, by servers and commands that load their own code in different ways.
import sharp from "sharp";

import { decode } from "./work/decode.mjs";
import { readHeader } from "./work/header.mjs";
import { readMix } from "./work/mix.mjs";
import { study } from "./work/study.mjs";

/** Exit code that tells the parent why: more memory than allowed. */
const EXIT_MEMORY = 75;
const MEMORY_LIMIT_BYTES = Number(process.argv[2]);

// Two pictures at once in two processes are faster than two threads in one, and nothing is opened twice.
sharp.concurrency(1);
sharp.cache(false);
// Only these formats are opened, whatever the file says it is. HEIC is opened for its header alone.
sharp.block({ operation: ["VipsForeignLoad"] });
sharp.unblock({ operation: ["VipsForeignLoadJpeg", "VipsForeignLoadPng", "VipsForeignLoadWebp", "VipsForeignLoadHeif"] });

// Decoding runs outside the event loop, so this timer keeps ticking while it does.
const memoryWatch = setInterval(() => {
  if (process.memoryUsage.rss() > MEMORY_LIMIT_BYTES) process.exit(EXIT_MEMORY);
}, 50);
memoryWatch.unref();

/**
 * What each kind of job is done by. Each gives an answer, and with it what it goes on with that nobody waits for.
 * @type {Record<string, (job: any) => Promise<{ answer: unknown, rest?: () => Promise<void> }>>}
 */
const WORK = {
  header: async (job) => ({ answer: await readHeader(job) }),
  decode,
  study: async (job) => ({ answer: await study(job) }),
  mix: async (job) => ({ answer: await readMix(job) }),
};

process.on("disconnect", () => process.exit());
process.on("message", async (/** @type {{ id: number, job: { kind: string } }} */ { id, job }) => {
  try {
    const { answer, rest } = await WORK[job.kind](job);
    process.send?.({ id, answer, done: rest === undefined });
    if (rest === undefined) return;
    await rest();
    process.send?.({ id, done: true });
  } catch (error) {
    process.send?.({ id, failure: String(error), done: true });
  }
});
