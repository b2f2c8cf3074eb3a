import { createHash } from "node:crypto";
import { afterAll, expect, it } from "vitest";
import { withExif } from "#seed/photo/exif";
import { createPhotoMaker } from "#seed/photo/maker-pool";
import { drawScene, type Scene } from "#seed/photo/scene";

const maker = createPhotoMaker(2);
afterAll(() => maker.close());

const FACTS = { dateTimeOriginal: "2026:10:19 09:12:00", offset: "-03:00", make: "Marrow", model: "M2" };
const digest = (jpeg: Buffer): string => createHash("sha256").update(jpeg).digest("hex");

it("makes in its workers the same bytes as are made here", async () => {
  const scenes: readonly Scene[] = ["pile-tag", "mix", "lift-top", "report", "ties"];
  const jobs = scenes.map((scene, variant) => ({ scene, options: { core: "square" as const, variant, mark: "04-C" } }));

  const made = await Promise.all(jobs.map((job) => maker.make({ ...job, facts: FACTS })));

  for (const [i, { scene, options }] of jobs.entries()) {
    expect(digest(made[i] ?? Buffer.alloc(0))).toBe(digest(withExif(await drawScene(scene, options), FACTS)));
  }
});

it("makes a photo without camera facts when none are given", async () => {
  const options = { core: "H" as const, variant: 1 };
  expect((await maker.make({ scene: "clamp", options })).equals(await drawScene("clamp", options))).toBe(true);
});

it("refuses a job that cannot be done and goes on with the next", async () => {
  const bad = { ...FACTS, gps: { latitude: 44, longitude: -63.5, utc: "noon" } };
  await expect(maker.make({ scene: "mix", options: { core: "H", variant: 1 }, facts: bad })).rejects.toThrow(/time/i);
  await expect(maker.make({ scene: "mix", options: { core: "H", variant: 1 } })).resolves.toBeInstanceOf(Buffer);
});

it("refuses what is still waiting when it is closed, and everything after", async () => {
  const short = createPhotoMaker(1);
  const asked = Promise.allSettled(Array.from({ length: 5 }, (_, variant) => short.make({ scene: "seam", options: { core: "H", variant } })));
  await short.close();
  expect((await asked).map(({ status }) => status)).toEqual(Array(5).fill("rejected"));
  await expect(short.make({ scene: "seam", options: { core: "H", variant: 1 } })).rejects.toThrow("closed");
});
