import { mkdir, readFile, stat, writeFile } from "node:fs/promises";
import path from "node:path";

import { describe, expect, it } from "vitest";

import { clearIncoming, keepOriginal, openOriginal, openRendition, originalPath, receive, renditionPath } from "#lib/photos/store";
import type { Arrival } from "#lib/photos/store";
import { dataFolder, filesIn, sha256, streamOf } from "#tests/photos/fixture";

const BYTES = Buffer.from("bytes of a photo");
const LIMITS = { maxBytes: 1000, declaredLength: null };

describe("the store of originals", () => {
  it("joins the chunks of a stream and knows their digest", async () => {
    const dataDir = await dataFolder();
    const arrival = (await receive(dataDir, streamOf(BYTES.subarray(0, 5), BYTES.subarray(5, 5), BYTES.subarray(5)), LIMITS)) as Arrival;
    expect(arrival).toMatchObject({ bytes: BYTES.length, sha256: sha256(BYTES) });
    expect(await readFile(arrival.path)).toEqual(BYTES);
  });

  it("opens what it holds, says null for what it does not, and lets nobody write by accident", async () => {
    const dataDir = await dataFolder();
    const arrival = (await receive(dataDir, streamOf(BYTES), LIMITS)) as Arrival;
    await keepOriginal(dataDir, arrival);

    const file = await openOriginal(dataDir, sha256(BYTES));
    expect(await file?.readFile()).toEqual(BYTES);
    await file?.close();
    expect((await stat(originalPath(dataDir, sha256(BYTES)))).mode & 0o222).toBe(0);
    expect(await openOriginal(dataDir, sha256(Buffer.from("other")))).toBeNull();
    expect(await openRendition(dataDir, 320, sha256(BYTES))).toBeNull();
  });

  it.each(["../../etc/passwd", "", "AB".repeat(32), "a".repeat(63), `${"a".repeat(64)}/x`])("makes no path of %j", (name) => {
    expect(() => originalPath("/data", name)).toThrow("SHA-256");
    expect(() => renditionPath("/data", 320, name)).toThrow("SHA-256");
  });

  it("does not pass over an original whose size is wrong on the disk", async () => {
    const dataDir = await dataFolder();
    const kept = originalPath(dataDir, sha256(BYTES));
    await mkdir(path.dirname(kept), { recursive: true });
    await writeFile(kept, "short");
    const arrival = (await receive(dataDir, streamOf(BYTES), LIMITS)) as Arrival;
    await expect(keepOriginal(dataDir, arrival)).rejects.toThrow("has 5 bytes on the disk");
    expect(await readFile(kept, "utf8")).toBe("short");
  });

  it("clears what a stopped server left half received, and only that", async () => {
    const dataDir = await dataFolder();
    await keepOriginal(dataDir, (await receive(dataDir, streamOf(BYTES), LIMITS)) as Arrival);
    await receive(dataDir, streamOf(Buffer.from("left over")), LIMITS);
    await clearIncoming(dataDir);
    expect(await filesIn(dataDir)).toEqual([`originals/${sha256(BYTES).slice(0, 2)}/${sha256(BYTES)}`]);
    await clearIncoming(path.join(dataDir, "not there yet"));
  });
});
