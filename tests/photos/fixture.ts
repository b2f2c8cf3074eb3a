import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";

import { onTestFinished } from "vitest";

export const fixturePath = (name: string): string => path.join(process.cwd(), "tests", "fixtures", "photos", name);
export const fixtureBytes = (name: string): Promise<Buffer> => readFile(fixturePath(name));
export const fixtureStream = (name: string) => createReadStream(fixturePath(name));
export const sha256 = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

/** A data folder of one test's own, gone when it ends. */
export async function dataFolder(): Promise<string> {
  const folder = await mkdtemp(path.join(tmpdir(), "photos-test-"));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

/** Every file below a folder, relative to it, sorted. */
export async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries.filter((entry) => entry.isFile()).map((entry) => path.relative(folder, path.join(entry.parentPath, entry.name))).sort();
}

export async function* streamOf(...chunks: readonly Uint8Array[]): AsyncGenerator<Uint8Array> {
  yield* chunks;
}
