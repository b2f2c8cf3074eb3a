import sharp from "sharp";
import { renderSVG } from "uqr";
import { MINUTE, type Instant } from "#lib/domain/instant";
import { siteTime } from "#lib/domain/clock/site-time";
import { pileCode } from "#lib/domain/photo/tag";
import { receivePhoto } from "#lib/services/receive-photo";
import { withExif } from "#seed/photo/exif";
import { FORGOTTEN, one, shotBy } from "#tests/services/camera-shot";
import { bringTo, CODE, crewProject, doPoint, MORNING, openSite, PASSWORD, settle, ZONE } from "#tests/services/crew-project";
import { HOUR, sendSoundWork } from "#tests/services/whole-pile";
import { pictureOf } from "#tests/support/picture";
import { siteTest } from "#tests/e2e/site";

const FIRST_PICTURE = 90_000;
let number = FIRST_PICTURE;

/** What a camera with a serial number writes at an instant: the site's time, with its zone. */
function written(at: Instant) {
  const local = siteTime(at, ZONE);
  return { dateTimeOriginal: `${local.date.replaceAll("-", ":")} ${local.iso.slice(11, 19)}`, offset: local.offset, make: "Cove", model: "Two", serial: "11" };
}

/** A photo off a camera card, taken at an instant; with the tag of a pile in it, or without one. */
export async function cardPhoto(at: Instant, pile: string | null): Promise<Buffer> {
  const plain = await pictureOf((number += 1), 640, 480);
  const code = pile === null ? null : await sharp(Buffer.from(renderSVG(pileCode(pile), { border: 4, ecc: "Q" }))).resize(180, 180).png().toBuffer();
  const jpeg = code === null ? plain : await sharp(plain).composite([{ input: code, left: 40, top: 60 }]).jpeg().toBuffer();
  return withExif(jpeg, written(at));
}

/** Where the resin is in the picture of the bucket, as shares of its width and height. */
export const MIX = { x: 0.375, y: 0.5 };

/** A bucket of resin on planks, seen from above, with a pale streak that was not stirred in. */
async function bucketWithStreak(): Promise<Buffer> {
  const planks = [0, 1, 2, 3, 4].map((plank) => `<rect y="${plank * 120}" width="800" height="114" fill="#5a4632"/>`).join("");
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600"><rect width="800" height="600" fill="#33261a"/>${planks}<circle cx="300" cy="300" r="230" fill="#d8d4c8"/><circle cx="300" cy="300" r="200" fill="#b49a62"/><path d="M180 260Q300 200 420 300T300 420" fill="none" stroke="#efe9d8" stroke-width="26"/></svg>`;
  return sharp(Buffer.from(svg)).jpeg({ quality: 90 }).toBuffer();
}

/**
 * A site in a data folder of its own. 02-A and 03-C stand before their growth removal, and nothing else of theirs takes photos. At 02-B
 * that point is released, and waits at 03-A for a decision with one of its pictures saved again. 07-A is at its resin batch, with the
 * photo of the mix and one by a camera that was left on summer time. Its clock goes on from its last record.
 */
async function makeSite(dataDir: string): Promise<Instant> {
  const clock = { now: MORNING };
  const project = await crewProject(dataDir, () => clock.now, MORNING);
  const crew = await project.as("crew");
  await openSite(project, clock);
  for (const mark of ["02-A", "03-C"]) {
    await doPoint(project, clock, mark, "12", 6);
    await bringTo(project, clock, mark, "2");
  }
  const face = await pictureOf(FIRST_PICTURE, 640, 480);
  for (const [mark, picture] of [["02-B", face], ["03-A", await sharp(face).resize(320).jpeg({ quality: 60 }).toBuffer()]] as const) {
    await bringTo(project, clock, mark, "2");
    const began = clock.now + MINUTE;
    clock.now += 10 * MINUTE;
    await receivePhoto(crew, { sheet: `pile-${mark}`, line: "3", subject: "faces", stream: one(withExif(picture, written(clock.now - 5 * MINUTE))) });
    await sendSoundWork(crew, { sheet: `pile-${mark}`, line: "3", began, ended: clock.now });
    if (mark === "02-B") await settle(project, clock, mark, "3");
  }
  await bringTo(project, clock, "07-A", "12");
  clock.now += HOUR;
  for (const [subject, bytes] of [
    ["mix", withExif(await bucketWithStreak(), written(clock.now - 5 * MINUTE))],
    ["scale", withExif(await pictureOf((number += 1)), shotBy(FORGOTTEN, clock.now - 4 * MINUTE))],
  ] as const) {
    await receivePhoto(crew, { sheet: "pile-07-A", line: "13", subject, stream: one(bytes) });
  }
  await project.house.db.close();
  return clock.now;
}

export const test = siteTest({ make: makeSite, password: PASSWORD });
export { expect, expectAccessible, type Site } from "#tests/e2e/site";
export const projectPath = `/p/${CODE}`;
