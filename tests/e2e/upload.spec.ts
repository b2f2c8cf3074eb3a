import { randomUUID } from "node:crypto";
import { readdir } from "node:fs/promises";
import { request } from "node:http";
import { connect } from "node:net";
import path from "node:path";
import type { APIResponse } from "@playwright/test";
import sharp from "sharp";
import { sha256 } from "#lib/records/canonical";
import { openHouse } from "#lib/services/house";
import { withExif } from "#seed/photo/exif";
import { CODE } from "#tests/services/crew-project";
import { expect, projectPath, test, type Site } from "#tests/e2e/crew-site";
import { sessionToken } from "#tests/e2e/site";

const BOMBS = 20;
/** Shares of a photo after which its sender is gone; the last byte alone may be missing. */
const CUTS = [0, 0.0004, 0.013, 0.21, 0.37, 0.5, 0.618, 0.83, 0.97, 0.9999] as const;

const place = (id: string) => `/api/v1/projects/${CODE}/points/pile-02-A/8/photos?subject=clamp&id=${id}`;

/** Everything that a receipt leaves: rows, entries of the log, files of any kind. */
async function onRecord({ dataDir }: Site): Promise<{ photos: number; entries: number; files: string[] }> {
  const house = openHouse(dataDir);
  const [photos, entries] = await Promise.all([house.db.read.photo.count(), house.db.read.logEntry.count({ where: { type: "photo received" } })]);
  await house.db.close();
  const there = await readdir(dataDir, { recursive: true, withFileTypes: true });
  const files = there.filter((one) => one.isFile()).map((one) => path.relative(dataDir, path.join(one.parentPath, one.name)));
  return { photos, entries, files: files.filter((name) => /^(?:incoming|originals|renditions)\//.test(name)).sort() };
}

/** Announces a photo, sends so many bytes of it and is gone. */
function sendCut(site: Site, token: string, photo: Buffer, bytes: number): Promise<void> {
  const { hostname, port } = new URL(site.url);
  return new Promise((over, fail) => {
    const socket = connect(Number(port), hostname, () => {
      const head = [`PUT ${place(randomUUID())} HTTP/1.1`, `Host: ${hostname}:${port}`, `Authorization: Bearer ${token}`, `Content-Length: ${photo.length}`, "", ""];
      socket.write(head.join("\r\n"));
      socket.write(photo.subarray(0, bytes), () => socket.destroy());
    });
    socket.once("error", fail);
    socket.once("close", () => over());
  });
}

function send(site: Site, token: string, id: string, body: Buffer): Promise<number> {
  return new Promise((answered, fail) => {
    const call = request(`${site.url}${place(id)}`, { method: "PUT", headers: { authorization: `Bearer ${token}`, "content-length": body.length, "x-content-sha256": sha256(body) } }, (answer) => {
      answer.resume().once("end", () => answered(answer.statusCode ?? 0));
    });
    call.once("error", fail);
    call.end(body);
  });
}

test("an upload that breaks off anywhere leaves nothing, and the same photo is taken whole afterwards", async ({ site, request: browser }) => {
  const token = await sessionToken(site, "crew");
  const noise = { type: "gaussian" as const, mean: 128, sigma: 30 };
  const picture = await sharp({ create: { width: 2000, height: 1500, channels: 3, background: "#777", noise } }).jpeg().toBuffer();
  const photo = withExif(picture, { dateTimeOriginal: "2027:01:08 07:05:00", offset: "-04:00", make: "Cove", model: "One" });
  const before = await onRecord(site);
  await Promise.all(CUTS.map((share) => sendCut(site, token, photo, Math.floor(photo.length * share))));
  await expect.poll(() => onRecord(site)).toEqual(before);

  const id = randomUUID();
  expect(await send(site, token, id, photo)).toBe(201);
  const original: APIResponse = await browser.get(`${site.url}/api/v1/projects/${CODE}/photos/${id}/original`, { headers: { authorization: `Bearer ${token}` } });
  expect(sha256(await original.body())).toBe(sha256(photo));
  const after = await onRecord(site);
  expect(after.photos).toBe(before.photos + 1);
  expect(after.files.filter((name) => name.startsWith("incoming/"))).toEqual([]);
});

/** Pictures of one colour: small files that unfold to a square of so many pixels, told apart by a few bytes behind the picture. */
async function squares(side: number, count: number): Promise<Buffer[]> {
  const square = await sharp({ create: { width: side, height: side, channels: 3, background: "#467" } }).png({ compressionLevel: 9 }).toBuffer();
  return Array.from({ length: count }, (_, i) => Buffer.concat([square, Buffer.from(`${i}`.padStart(4))]));
}

test("twenty files that unfold to too many megapixels leave nothing, and pages answer while they and the largest allowed come in", async ({ site, page, signInAs }) => {
  const token = await sessionToken(site, "crew");
  await signInAs("crew");
  await page.goto(projectPath);
  const [bombs, largest] = await Promise.all([squares(16_000, BOMBS), squares(10_900, 10)]);
  const before = await onRecord(site);

  const answers: number[] = [];
  const sent = [...bombs, ...largest].map((body) => send(site, token, randomUUID(), body).then((status) => answers.push(status)));
  await page.goto(`${projectPath}/piles/02-A`);
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
  expect(answers.length).toBeLessThan(sent.length);
  await Promise.all(sent);
  expect(answers.filter((status) => status === 422)).toHaveLength(bombs.length);
  expect(answers.filter((status) => status === 201)).toHaveLength(largest.length);

  const after = await onRecord(site);
  const originals = (files: string[]) => files.filter((name) => name.startsWith("originals/"));
  expect(originals(after.files)).toHaveLength(originals(before.files).length + largest.length);
  expect(after.photos).toBe(before.photos + largest.length);
  expect(after.entries).toBe(before.entries + largest.length);
});
