import { createHash, randomUUID } from "node:crypto";
import { mkdir, open, readdir, rename, rm, stat } from "node:fs/promises";
import type { FileHandle } from "node:fs/promises";
import path from "node:path";

import { refusal } from "#lib/domain/photo/refusal";
import type { Refusal } from "#lib/domain/photo/refusal";

/** Longest sides of the renditions, pixels: for lists, and for looking at one photo. */
export const RENDITION_PX = [320, 1600] as const;
export type RenditionPx = (typeof RENDITION_PX)[number];

/** A file that has arrived whole and is not yet kept. */
export interface Arrival {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
}

/**
 * Where an original lies. The digest is the only thing that ever becomes part of a path. Throws on anything that is no
 * digest.
 */
export function originalPath(dataDir: string, sha256: string): string {
  return path.join(dataDir, "originals", folderOf(sha256), sha256);
}

export function renditionPath(dataDir: string, px: RenditionPx, sha256: string): string {
  return path.join(/* turbopackIgnore: true */ dataDir, "renditions", String(px), folderOf(sha256), `${sha256}.jpg`);
}

/** A new name for a file on its way in, on the same file system as the originals. */
export async function incomingPath(dataDir: string): Promise<string> {
  const folder = path.join(dataDir, "incoming");
  await mkdir(folder, { recursive: true });
  return path.join(folder, `${randomUUID()}.part`);
}

/**
 * Writes a stream to a file while hashing it. When it breaks off, grows past `maxBytes` or differs from the announced
 * length, no file is left.
 * An error of the disk itself is thrown.
 */
export async function receive(
  dataDir: string,
  stream: AsyncIterable<Uint8Array>,
  { maxBytes, declaredLength }: { readonly maxBytes: number; readonly declaredLength: number | null },
): Promise<Arrival | Refusal> {
  if (declaredLength !== null && declaredLength > maxBytes) return refusal("TOO_LARGE", `${declaredLength} of at most ${maxBytes} bytes`);

  const arriving = await incomingPath(dataDir);
  const file = await open(arriving, "wx");
  let kept = false;
  try {
    const arrived = await drain(stream, file, maxBytes);
    if ("code" in arrived) return arrived;
    const wrongLength = lengthRefusal(arrived.bytes, declaredLength);
    if (wrongLength !== null) return wrongLength;
    kept = true;
    return { path: arriving, ...arrived };
  } finally {
    await file.close();
    if (!kept) await discard(arriving);
  }
}

/** Chunks of the network are small; so many bytes are written at once. */
const WRITE_BYTES = 1024 ** 2;

async function drain(stream: AsyncIterable<Uint8Array>, file: FileHandle, maxBytes: number): Promise<{ bytes: number; sha256: string } | Refusal> {
  const hash = createHash("sha256");
  const chunks = stream[Symbol.asyncIterator]();
  let bytes = 0;
  let held: Uint8Array[] = [];
  let heldBytes = 0;
  const write = async (): Promise<void> => {
    if (heldBytes > 0) await writeAll(file, held);
    [held, heldBytes] = [[], 0];
  };

  for (;;) {
    let next: IteratorResult<Uint8Array>;
    try {
      next = await chunks.next();
    } catch {
      // Only the sender's side fails here; an error of the disk is no interruption and is not caught.
      return refusal("INTERRUPTED", `${bytes} bytes arrived`);
    }
    if (next.done) {
      await write();
      return { bytes, sha256: hash.digest("hex") };
    }

    bytes += next.value.byteLength;
    if (bytes > maxBytes) {
      await chunks.return?.().catch(() => undefined);
      return refusal("TOO_LARGE", `more than ${maxBytes} bytes`);
    }
    hash.update(next.value);
    held.push(next.value);
    heldBytes += next.value.byteLength;
    if (heldBytes >= WRITE_BYTES) await write();
  }
}

/** Goes on from where the last write ended; the operating system may take less than it is given. */
async function writeAll(file: FileHandle, chunks: readonly Uint8Array[]): Promise<void> {
  const wanted = chunks.reduce((sum, { byteLength }) => sum + byteLength, 0);
  const { bytesWritten } = await file.writev(chunks);
  if (bytesWritten < wanted) await file.writeFile(Buffer.concat(chunks).subarray(bytesWritten));
}

function lengthRefusal(bytes: number, declaredLength: number | null): Refusal | null {
  if (declaredLength === null || bytes === declaredLength) return null;
  return refusal(bytes < declaredLength ? "INTERRUPTED" : "DIGEST_MISMATCH", `${bytes} of ${declaredLength} bytes`);
}

/**
 * Keeps an arrival for good: its bytes and its name are on the disk when this returns. An original that is there already
 * stays untouched.
 *
 * @returns Whether the same bytes were held before.
 */
export async function keepOriginal(dataDir: string, arrival: Arrival): Promise<{ readonly alreadyHeld: boolean }> {
  const kept = originalPath(dataDir, arrival.sha256);
  const held = await stat(kept).catch(() => null);
  if (held !== null) {
    if (held.size !== arrival.bytes) throw new Error(`The original ${arrival.sha256} has ${held.size} bytes on the disk, not ${arrival.bytes}.`);
    await discard(arrival.path);
    return { alreadyHeld: true };
  }

  const file = await open(arrival.path, "r+");
  try {
    await file.chmod(0o444); // nobody rewrites an original by accident
    await file.sync();
  } finally {
    await file.close();
  }
  await makeFolder(path.dirname(kept));
  await rename(arrival.path, kept);
  await syncFolder(path.dirname(kept));
  return { alreadyHeld: false };
}

/** Opens an original for reading; null when it is not held. The caller closes it. */
export function openOriginal(dataDir: string, sha256: string): Promise<FileHandle | null> {
  return openIfThere(originalPath(dataDir, sha256));
}

/** Opens a rendition for reading; null when there is none (HEIC, or a file too damaged to show). The caller closes it. */
export function openRendition(dataDir: string, px: RenditionPx, sha256: string): Promise<FileHandle | null> {
  return openIfThere(renditionPath(dataDir, px, sha256));
}

/** Removes an original that no record holds, with its renditions. */
export async function removeOriginal(dataDir: string, sha256: string): Promise<void> {
  await Promise.all([originalPath(dataDir, sha256), ...RENDITION_PX.map((px) => renditionPath(dataDir, px, sha256))].map(discard));
}

/** Removes a file on its way in; it may be gone already. */
export async function discard(file: string): Promise<void> {
  await rm(file, { force: true });
}

/** Removes what a stopped server left half received. Only for start-up, before anything is received. */
export async function clearIncoming(dataDir: string): Promise<void> {
  const folder = path.join(dataDir, "incoming");
  const left = await readdir(folder).catch(() => []);
  await Promise.all(left.map((name) => discard(path.join(folder, name))));
}

function folderOf(sha256: string): string {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new Error("An original is known by its SHA-256 in 64 small hexadecimal digits.");
  return sha256.slice(0, 2);
}

/** A new folder is only safe once the folder it lies in is on the disk too. */
async function makeFolder(folder: string): Promise<void> {
  const topmost = await mkdir(folder, { recursive: true });
  if (topmost === undefined) return;
  const above = path.dirname(path.resolve(topmost));
  for (let made = path.resolve(folder); made !== above; made = path.dirname(made)) await syncFolder(path.dirname(made));
}

async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function openIfThere(file: string): Promise<FileHandle | null> {
  return open(file, "r").catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return null;
    throw error;
  });
}
