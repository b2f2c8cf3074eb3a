import { fork } from "node:child_process";
import type { ChildProcess } from "node:child_process";
import { availableParallelism, setPriority } from "node:os";
import path from "node:path";

import type { ExifFields } from "./read-exif.mjs";

/** What a picture says before any pixel is read. */
export interface ImageHeader {
  readonly format: string;
  /** Pixels as stored, before turning. */
  readonly width: number;
  readonly height: number;
  /** Pictures in it, one after the other in time. */
  readonly pages: number;
  /** Size of everything in it that is no picture: Exif, XMP, profiles, comments. */
  readonly metadataBytes: number;
  readonly layout: FileLayout;
  /** The fields of the Exif block and the XMP packet; null when there is none, or when all metadata is larger than asked for. */
  readonly exif: ExifFields | null;
  readonly xmp: Uint8Array | null;
  /** The JPEG that a camera puts beside the picture; null without one. */
  readonly smallPicture: Uint8Array | null;
  /** Texts that a PNG carries, by their keywords. */
  readonly notes: readonly { readonly keyword: string; readonly text: string }[];
}

/** How a file is put together. */
export interface FileLayout {
  /** Behind the end of the picture, without what the file itself says is there. */
  readonly trailingBytes: number;
  /** The file says that it is longer than it is. */
  readonly cutShort: boolean;
  /** What its C2PA blocks call the source of the picture, in the words of the IPTC. */
  readonly sourceTypes: readonly string[];
  /** Exif blocks of a JPEG. A camera writes one; the first is read. */
  readonly exifBlocks: number;
}

export interface DecodeRequest {
  readonly path: string;
  readonly width: number;
  readonly height: number;
  /** The orientation tag, 1–8. */
  readonly orientation: number;
  /** Longest side that the pixels are reduced to. */
  readonly px: number;
  /** From the header, to be looked at beside the large one. */
  readonly smallPicture?: Uint8Array | null;
  /** Longest side and where it is kept; written after the answer. */
  readonly renditions: readonly { readonly px: number; readonly path: string }[];
}

export interface DecodeAnswer {
  /** What the decoder complained about; null for a healthy file. */
  readonly damage: string | null;
  /** The damage is a missing end. */
  readonly truncated: boolean;
  /** Null when not even a damaged picture could be made. */
  readonly looks: { readonly pixels: string; readonly grid: Uint8Array } | null;
  /** Null without a small picture, or where it could not be decoded. */
  readonly small: { readonly width: number; readonly height: number; readonly grid: Uint8Array } | null;
}

/** A worker was stopped in the middle of a picture. */
export class WorkerStopped extends Error {
  constructor(readonly reason: "time" | "memory" | "crash") {
    super(`The picture worker was stopped: ${reason}.`);
  }
}

/** Longest time for one picture, milliseconds, and most memory of one worker, bytes. Common practice, no source. */
export const WORKER_LIMITS = { timeMs: 30_000, memoryBytes: 1024 ** 3 } as const;

/** What nobody waits for begins when no receipt was under way for so long, and after the longest hold in any case, milliseconds. Common practice, no source. */
const GIVES_WAY = { quietMs: 400, mostMs: 20_000 } as const;

/** Exit code of a worker that used more memory than allowed; the worker holds the same number. */
const EXIT_MEMORY = 75;

interface WorkerMessage {
  readonly id: number;
  readonly answer?: unknown;
  readonly failure?: string;
  /** The job is over; until then an answer may be there while the worker goes on. */
  readonly done?: boolean;
}

interface Task {
  readonly job: object;
  readonly timeMs: number;
  readonly resolve: (answer: unknown) => void;
  readonly reject: (error: Error) => void;
  /** The worker is free again, or gone. */
  readonly over: () => void;
  /** When it was asked for. */
  readonly since: number;
}

/** Reads what a picture says about itself. Null when the file is no picture. */
export function readHeader(file: string, maxMetadataBytes: number): Promise<ImageHeader | null> {
  return pools().receipt.run({ kind: "header", path: file, maxMetadataBytes }) as Promise<ImageHeader | null>;
}

/**
 * Reads every pixel, and goes on to write the renditions. Rejects with {@link WorkerStopped} when the file takes too long
 * or too much memory.
 *
 * @param waitedFor False where a receipt goes before it.
 * @returns The answer, and when the renditions are there or will not be.
 */
export async function decodeImage(
  request: DecodeRequest,
  { timeMs = WORKER_LIMITS.timeMs, waitedFor = true }: { timeMs?: number; waitedFor?: boolean } = {},
): Promise<{ answer: DecodeAnswer; over: Promise<void> }> {
  let end: () => void = () => undefined;
  const over = new Promise<void>((resolve) => (end = resolve));
  const { receipt, study } = pools();
  const answer = (await (waitedFor ? receipt : study).run({ kind: "decode", ...request }, timeMs, end)) as DecodeAnswer;
  return { answer, over };
}

/** Does something that nobody on the pile waits for: it waits for receipts, and gives way to them while it runs. */
export function studyImage(job: { readonly kind: "study" | "mix"; readonly path: string } & Readonly<Record<string, unknown>>, timeMs: number = WORKER_LIMITS.timeMs): Promise<unknown> {
  return pools().study.run(job, timeMs);
}

/** Worker processes that live on from picture to picture: starting one costs more than a small picture does. */
class PicturePool {
  readonly #waiting: Task[] = [];
  readonly #workers = new Set<Worker>();
  #lastUsed = Number.NEGATIVE_INFINITY;
  #hold: NodeJS.Timeout | undefined;

  /**
   * @param priority Of the operating system: 0 as everybody, 19 last.
   * @param before The pool whose work goes first.
   */
  constructor(
    readonly size: number,
    readonly priority: number,
    readonly before: PicturePool | null = null,
  ) {}

  run(job: object, timeMs: number = WORKER_LIMITS.timeMs, over: () => void = () => undefined): Promise<unknown> {
    this.#lastUsed = performance.now();
    return new Promise((resolve, reject) => {
      this.#waiting.push({ job, timeMs, resolve, reject, over, since: performance.now() });
      this.#next();
    });
  }

  /** Milliseconds since it last had something to do; 0 while it has. */
  get quietMs(): number {
    return this.#waiting.length > 0 || [...this.#workers].some(({ idle }) => !idle) ? 0 : performance.now() - this.#lastUsed;
  }

  /** How long the next task has to hold for those that go first, milliseconds. */
  #holdMs(): number {
    const [first] = this.#waiting;
    if (this.before === null || first === undefined) return 0;
    const { quietMs, mostMs } = GIVES_WAY;
    return Math.max(0, Math.min(quietMs - this.before.quietMs, first.since + mostMs - performance.now()));
  }

  #next(): void {
    while (this.#waiting.length > 0) {
      const holdMs = this.#holdMs();
      if (holdMs > 0) {
        clearTimeout(this.#hold);
        this.#hold = setTimeout(() => this.#next(), holdMs);
        return;
      }
      const worker = [...this.#workers].find(({ idle }) => idle) ?? this.#start();
      const task = worker === null ? undefined : this.#waiting.shift();
      if (worker === null || task === undefined) return;
      worker.take(task);
    }
  }

  #start(): Worker | null {
    if (this.#workers.size >= this.size) return null;
    const worker = new Worker(
      this.priority,
      () => {
        this.#lastUsed = performance.now();
        this.#next();
      },
      () => {
        this.#workers.delete(worker);
        this.#next();
      },
    );
    this.#workers.add(worker);
    return worker;
  }
}

class Worker {
  readonly #child: ChildProcess;
  #task: Task | null = null;
  #timer: NodeJS.Timeout | undefined;
  #timedOut = false;
  #count = 0;
  #gone = false;

  constructor(
    priority: number,
    readonly onIdle: () => void,
    readonly onGone: () => void,
  ) {
    // Found at run time, so that no bundler takes it along or moves it.
    const file = path.join(/* turbopackIgnore: true */ process.cwd(), "lib", "photos", "picture-worker.mjs");
    this.#child = fork(/* turbopackIgnore: true */ file, [String(WORKER_LIMITS.memoryBytes)], {
      execArgv: [], // the parent's loaders are not for this plain file
      env: { ...process.env, NODE_OPTIONS: "" },
      serialization: "advanced", // metadata travels as bytes
      stdio: ["ignore", "ignore", "inherit", "ipc"],
    });
    if (priority !== 0 && this.#child.pid !== undefined) setPriority(this.#child.pid, priority);
    this.#child.on("message", (message: WorkerMessage) => this.#said(message));
    this.#child.on("error", () => this.#stopped(null));
    this.#child.on("exit", (code) => this.#stopped(code));
    this.#holdProcess(false);
  }

  get idle(): boolean {
    return this.#task === null && !this.#gone;
  }

  take(task: Task): void {
    this.#task = task;
    this.#count += 1;
    this.#holdProcess(true);
    this.#timer = setTimeout(() => {
      this.#timedOut = true;
      this.#child.kill("SIGKILL");
    }, task.timeMs);
    this.#child.send({ id: this.#count, job: task.job }, (error) => {
      if (error) this.#stopped(null);
    });
  }

  #said({ id, answer, failure, done }: WorkerMessage): void {
    const task = this.#task;
    if (task === null || id !== this.#count) return;
    // The message that only ends a job finds its promise settled.
    if (failure !== undefined) task.reject(new Error(failure));
    else task.resolve(answer);
    if (!done) return;
    task.over();
    this.#release();
    this.onIdle();
  }

  #stopped(code: number | null): void {
    if (this.#gone) return;
    this.#gone = true;
    const task = this.#task;
    this.#release();
    task?.over();
    task?.reject(new WorkerStopped(this.#timedOut ? "time" : code === EXIT_MEMORY ? "memory" : "crash"));
    this.onGone();
  }

  #release(): void {
    clearTimeout(this.#timer);
    this.#task = null;
    this.#holdProcess(false);
  }

  /** An idle worker must not keep a finished command alive; a busy one must. */
  #holdProcess(hold: boolean): void {
    const { channel } = this.#child;
    if (hold) {
      this.#child.ref();
      channel?.ref();
    } else {
      this.#child.unref();
      channel?.unref();
    }
  }
}

// A server bundle may hold this module more than once; the workers are for the whole process. What somebody waits for on
// the pile has workers of its own, and the rest runs beside them with the lowest priority.
const POOLS = Symbol.for("lastlook.picture-pools");
interface Pools {
  readonly receipt: PicturePool;
  readonly study: PicturePool;
}
const shared = globalThis as typeof globalThis & { [POOLS]?: Pools };

function pools(): Pools {
  const cores = availableParallelism();
  if (shared[POOLS] === undefined) {
    const receipt = new PicturePool(cores, 0);
    shared[POOLS] = { receipt, study: new PicturePool(Math.max(1, cores - 1), 19, receipt) };
  }
  return shared[POOLS];
}
