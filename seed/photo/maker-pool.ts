import { type ChildProcess, fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import type { CameraFacts } from "#seed/photo/exif";
import type { Scene, SceneOptions } from "#seed/photo/scene";

/** One photo to make. With `facts` the file says when, where and with what it was taken; without, it says nothing. */
export interface PhotoJob {
  scene: Scene;
  options: SceneOptions;
  facts?: CameraFacts;
  /** Saved again smaller, as a message carries it. */
  savedAgain?: boolean;
}

export interface PhotoMaker {
  make(job: PhotoJob): Promise<Buffer>;
  /** Ends the workers. Jobs that are still waiting are refused. */
  close(): Promise<void>;
}

/** What passes between the pool and its workers. */
export interface MakerRequest extends PhotoJob {
  id: number;
}
export type MakerReply = { id: number; jpeg: Uint8Array } | { id: number; error: string };

interface Waiting {
  resolve(jpeg: Buffer): void;
  reject(reason: Error): void;
}

const WORKER = fileURLToPath(new URL("./maker-worker.ts", import.meta.url));
/** Two jobs at a worker: one is encoded while the other is drawn. */
const JOBS_AT_ONCE = 2;

/**
 * Makes photos in processes of their own, one for each core unless told otherwise, so that whoever asks can go on.
 * Processes rather than threads: the image library's settings are one for a process, and these workers set them.
 */
export function createPhotoMaker(workers = availableParallelism()): PhotoMaker {
  const waiting = new Map<number, Waiting>();
  const queue: MakerRequest[] = [];
  let lastId = 0;
  let closed = false;

  const crew = Array.from({ length: Math.max(1, workers) }, () => {
    const child = fork(WORKER, [], { execArgv: ["--import", "tsx"], serialization: "advanced" });
    return { child, busy: new Set<number>() };
  });

  const refuse = (ids: Iterable<number>, why: string): void => {
    for (const id of ids) {
      waiting.get(id)?.reject(new Error(why));
      waiting.delete(id);
    }
  };

  const hand = (): void => {
    for (const worker of crew) {
      while (worker.child.connected && worker.busy.size < JOBS_AT_ONCE) {
        const request = queue.shift();
        if (!request) return;
        worker.busy.add(request.id);
        worker.child.send(request);
      }
    }
    if (!crew.some(({ child }) => child.connected)) refuse(queue.splice(0).map(({ id }) => id), "The photo workers have ended.");
  };

  for (const worker of crew) {
    worker.child.on("message", (reply: MakerReply) => {
      worker.busy.delete(reply.id);
      const asked = waiting.get(reply.id);
      waiting.delete(reply.id);
      if ("jpeg" in reply) asked?.resolve(Buffer.from(reply.jpeg.buffer, reply.jpeg.byteOffset, reply.jpeg.byteLength));
      else asked?.reject(new Error(reply.error));
      hand();
    });
    worker.child.on("exit", () => {
      refuse(worker.busy, "The photo worker ended before its photo was made.");
      worker.busy.clear();
      hand();
    });
  }

  return {
    make: (job) =>
      new Promise((resolve, reject) => {
        if (closed) {
          reject(new Error("The photo maker is closed."));
          return;
        }
        const id = ++lastId;
        waiting.set(id, { resolve, reject });
        queue.push({ id, ...job });
        hand();
      }),
    async close() {
      closed = true;
      refuse(queue.splice(0).map(({ id }) => id), "The photo maker was closed.");
      await Promise.all(crew.map(({ child }) => ended(child)));
    },
  };
}

function ended(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve();
  return new Promise((resolve) => {
    child.once("exit", () => resolve());
    child.kill();
  });
}
