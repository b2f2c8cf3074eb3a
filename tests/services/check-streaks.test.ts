import { randomUUID } from "node:crypto";
import { rm } from "node:fs/promises";
import sharp from "sharp";
import { afterEach, beforeEach, expect, it } from "vitest";
import { PHOTO_LIMIT_DEFAULTS } from "#lib/domain/photo/limits";
import { originalPath } from "#lib/photos/store";
import { checkStreaks, measureStreaks } from "#lib/services/check-streaks";
import { setPhotoLimits } from "#lib/services/set-photo-limits";
import { streakView } from "#lib/services/streak-view";
import { refusedWith } from "#tests/services/refused";
import { smallProject, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

/** A bucket from above, on planks; with a streak where it is wanted. */
async function bucket(streak: boolean): Promise<Buffer> {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600"><rect width="800" height="600" fill="#5a4632"/><circle cx="300" cy="300" r="230" fill="#d8d4c8"/><circle cx="300" cy="300" r="200" fill="#b49a62"/>${streak ? '<path d="M180 260Q300 200 420 300T300 420" fill="none" stroke="#efe9d8" stroke-width="26"/>' : ""}</svg>`;
  return sharp(Buffer.from(svg)).jpeg({ quality: 90 }).toBuffer();
}

/** The catalogue's own point for a mix; the small project asks for no photo there, so the photo is put there by its record. */
async function sendMix(streak: boolean): Promise<string> {
  const id = await small.sendPhoto("02-A", "4", "close-up", { picture: await bucket(streak) });
  await small.house.db.write((tx) => tx.$executeRawUnsafe(`DROP TRIGGER "Photo_no_update"`));
  await small.house.db.write((tx) => tx.$executeRaw`UPDATE "Photo" SET "line" = '13', "subject" = 'mix', "body" = json_set("body", '$.line', '13', '$.subject', 'mix') WHERE "id" = ${id}`);
  return id;
}
const MIX = { x: 0.375, y: 0.5, r: 0.3 };

it("finds the streak where the mix is marked, keeps it with the area, and shows the last check", async () => {
  const photo = await sendMix(true);
  const { finding } = await checkStreaks(small.as("crew"), { id: randomUUID(), photoId: photo, area: MIX });
  expect([finding.verdict, finding.sharePct > 2, finding.contrastDeltaE > 5]).toEqual(["streaks", true, true]);
  const view = await streakView(small.as("inspector"), photo, null);
  expect([view.area, view.assumed, view.finding.verdict, view.earlier.length]).toEqual([MIX, false, "streaks", 1]);
});

it("calls an even mix uniform, and cannot tell where the wall is marked too", async () => {
  const photo = await sendMix(false);
  expect(await measureStreaks(small.as("owner"), photo, MIX)).toMatchObject({ verdict: "uniform", reason: "", sharePct: 0, contrastDeltaE: 0 });
  expect(await measureStreaks(small.as("owner"), photo, { ...MIX, r: 0.42 })).toMatchObject({ verdict: "cannot tell", reason: expect.stringMatching(/edge of the circle/) });
  const nobody = await streakView(small.as("owner"), photo, null);
  expect([nobody.assumed, nobody.area]).toEqual([true, { x: 0.5, y: 0.5, r: 0.25 }]);
});

it("is asked of a photo of a mix alone, and kept by whoever may check", async () => {
  const other = await small.sendPhoto("02-A", "4", "close-up");
  expect((await refusedWith(measureStreaks(small.as("crew"), other, MIX))).code).toBe("invalid");
  expect((await refusedWith(checkStreaks(small.as("owner"), { id: randomUUID(), photoId: await sendMix(false), area: MIX }))).code).toBe("not-allowed");
});

it("is measured against the limits of the project, and lists every check with what was recorded then", async () => {
  const photo = await sendMix(true);
  await checkStreaks(small.as("crew"), { id: randomUUID(), photoId: photo, area: MIX });
  await setPhotoLimits(small.as("qc"), { id: randomUUID(), limits: { ...PHOTO_LIMIT_DEFAULTS, streakSharePct: 50 }, words: "A trial batch" });
  await checkStreaks(small.as("qc"), { id: randomUUID(), photoId: photo, area: { ...MIX, r: 0.28 } });
  const { earlier, area, limits } = await streakView(small.as("inspector"), photo, null);
  expect(earlier.map(({ verdict }) => verdict)).toEqual(["uniform", "streaks"]);
  expect([area.r, limits.sharePct]).toEqual([0.28, 50]);
});

it("cannot tell of a picture that cannot be read, and says so", async () => {
  const photo = await sendMix(false);
  const [{ sha256 }] = await small.house.db.read.$queryRaw<[{ sha256: string }]>`SELECT "sha256" FROM "Photo" WHERE "id" = ${photo}`;
  await rm(originalPath(small.house.dataDir, sha256), { force: true });
  expect(await measureStreaks(small.as("owner"), photo, MIX)).toMatchObject({ verdict: "cannot tell", reason: "the picture cannot be read" });
});

it("is one record when it is sent twice", async () => {
  const photo = await sendMix(true);
  const sent = { id: randomUUID(), photoId: photo, area: MIX };
  await checkStreaks(small.as("crew"), sent);
  expect((await refusedWith(checkStreaks(small.as("crew"), sent))).code).toBe("conflict");
  expect((await streakView(small.as("crew"), photo, null)).earlier).toHaveLength(1);
});
