import { fork } from "node:child_process";
import { once } from "node:events";
import path from "node:path";

import { describe, expect, it, onTestFinished } from "vitest";

import { dataFolder, fixturePath } from "#tests/photos/fixture";

function startWorker(memoryBytes: number) {
  const worker = fork(path.join(process.cwd(), "lib", "photos", "picture-worker.mjs"), [String(memoryBytes)], { execArgv: [], serialization: "advanced" });
  onTestFinished(() => void worker.kill("SIGKILL"));
  return worker;
}

describe("a picture worker", () => {
  it("stops itself when a picture takes more memory than allowed", async () => {
    const worker = startWorker(1024 ** 2); // less than it has to begin with
    const renditions = [{ px: 1600, path: path.join(await dataFolder(), "x.jpg") }];
    worker.send({ id: 1, job: { kind: "decode", path: fixturePath("15000-square.png"), width: 15_000, height: 15_000, px: 1600, orientation: 1, renditions } });
    expect((await once(worker, "exit"))[0]).toBe(75);
  });

  it("ends with the process that started it", async () => {
    const worker = startWorker(1024 ** 3);
    worker.send({ id: 1, job: { kind: "header", path: fixturePath("no-metadata.jpg"), maxMetadataBytes: 1000 } });
    await once(worker, "message");
    worker.disconnect();
    expect((await once(worker, "exit"))[0]).toBe(0);
  });

  it("opens no other format, whatever the file is called", async () => {
    const worker = startWorker(1024 ** 3);
    worker.send({ id: 7, job: { kind: "header", path: fixturePath("picture.gif"), maxMetadataBytes: 1000 } });
    expect((await once(worker, "message"))[0]).toEqual({ id: 7, answer: null, done: true });
  });
});
