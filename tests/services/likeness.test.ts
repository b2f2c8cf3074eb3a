import { randomUUID } from "node:crypto";
import sharp, { type Sharp } from "sharp";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { listPhotos } from "#lib/db/evidence";
import { answerLikeness } from "#lib/services/answer-likeness";
import { standingSubmission } from "#lib/services/decide-point";
import { besideView, likenessTasks } from "#lib/services/likeness-view";
import { addMember, openProject } from "#lib/services/open-project";
import { receivePhoto } from "#lib/services/receive-photo";
import { withExif } from "#seed/photo/exif";
import { pictureOf } from "#tests/support/picture";
import { expectRebuilt } from "#tests/services/rebuilt";
import { refusedWith } from "#tests/services/refused";
import { MORNING, smallProject, ZONE, type SmallProject } from "#tests/services/small-project";

let small: SmallProject;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

const again = (picture: Buffer): Promise<Buffer> => sharp(picture).resize(240).jpeg({ quality: 60 }).toBuffer();
const standing = async (mark: string) => (await standingSubmission(small.house.db.read, await small.sheet(mark), "4"))!;
const view = async (mark: string) => (await standing(mark)).photos[0]!;
const flags = async (mark: string) => (await view(mark)).flags.filter(({ code }) => code.startsWith("DUP")).map(({ code, measured, weight }) => [code, measured, weight ?? "question"]);
const idAt = async (mark: string) => (await listPhotos(small.house.db.read, mark))[0]!.id;

/** One picture at 02-A, and one made from it at 02-B. */
async function sendTwice(second: (picture: Buffer) => Promise<Buffer> = again): Promise<void> {
  const picture = await pictureOf(4_000, 640, 480);
  await small.sendPreparation("02-A", undefined, { picture });
  small.later(90);
  await small.sendPreparation("02-B", undefined, { picture: await second(picture) });
}

async function answer(words: "same, belongs to this" | "same, belongs to the other" | "two pictures" | "cannot tell", reason = "same shells"): Promise<void> {
  await answerLikeness(small.as("inspector"), { id: randomUUID(), photoId: await idAt("02-B"), otherId: await idAt("02-A"), answer: words, words: reason });
}

describe("a picture that looks like one of another pile", () => {
  it("is a question to whoever decides either, and counts meanwhile", async () => {
    await sendTwice();
    for (const [mark, other] of [["02-A", "02-B"], ["02-B", "02-A"]] as const) {
      expect(await flags(mark)).toEqual([["DUP_NEAR", expect.stringMatching(new RegExp(`^\\d of 64 cells differ from the photo at pile ${other}, point 4$`)), "question"]]);
      expect((await view(mark)).elsewhere).toBe(false);
      expect((await standing(mark)).questions.map(({ code }) => code)).toContain("DUP_NEAR");
    }
  });

  it.each([["turned a quarter", (one: Sharp) => one.rotate(90)], ["mirrored", (one: Sharp) => one.flop()], ["in grey", (one: Sharp) => one.greyscale()]] as const)("is found where it is %s", async (_, change) => {
    await sendTwice((picture) => change(sharp(picture)).jpeg().toBuffer());
    expect((await flags("02-B")).map(([code]) => code)).toEqual(["DUP_NEAR"]);
  });

  it("is no question any more once somebody said that they are two, and the note stays", async () => {
    await sendTwice();
    await answer("two pictures", "");
    expect(await flags("02-A")).toEqual([["DUP_NEAR", expect.stringContaining("answered: two pictures"), "note"]]);
    expect((await standing("02-B")).questions).toEqual([]);
  });

  it("counts only where it belongs once somebody said so, and the last answer holds", async () => {
    await sendTwice();
    await answer("same, belongs to the other");
    expect([(await view("02-A")).elsewhere, (await view("02-B")).elsewhere]).toEqual([false, true]);
    await answer("cannot tell");
    expect([(await view("02-A")).elsewhere, (await view("02-B")).elsewhere]).toEqual([true, true]);
    await answer("same, belongs to this");
    expect([(await view("02-A")).elsewhere, (await view("02-B")).elsewhere]).toEqual([true, false]);
    await expectRebuilt(small.house);
  });

  it("asks nobody while the other is withdrawn, sent back or refused", async () => {
    await sendTwice();
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "reject", { codes: ["LOC"], words: "wrong pile" });
    expect(await flags("02-B")).toEqual([]);
  });
});

it("counts the same pixels in another file for neither", async () => {
  await sendTwice((picture) => Promise.resolve(picture));
  expect(await flags("02-B")).toEqual([["DUP_PIXELS", "the same pixels stand at pile 02-A, point 4", "question"]]);
  expect([(await view("02-A")).elsewhere, (await view("02-B")).elsewhere]).toEqual([true, true]);
});

it("says that one camera took two pictures at the same instant at two piles", async () => {
  const facts = { dateTimeOriginal: "2026:12:02 07:58:00", subSec: "250", offset: "-04:00", make: "Cove", model: "One", serial: "7" };
  for (const [mark, number] of [["02-A", 1], ["02-B", 2]] as const) {
    const bytes = withExif(await pictureOf(5_000 + number), facts);
    await receivePhoto(small.as("crew"), { sheet: mark, line: "4", subject: "close-up", stream: (async function* () { yield bytes; })() });
    await small.submit("crew", mark, "4", { profile: ["2.4 mil", "2.4 mil", "2.4 mil", "2.4 mil"] }, { instrumentId: "rt-3" });
  }
  expect(await flags("02-B")).toEqual([["DUP_NEAR", "same camera and same instant as the photo at pile 02-A, point 4", "question"]]);
});

describe("what was released before its double came", () => {
  it("is shown to whoever decides it, until they have answered", async () => {
    const picture = await pictureOf(4_001, 640, 480);
    await small.sendPreparation("02-A", undefined, { picture });
    await small.check("02-A", "4");
    await small.decide("inspector", "02-A", "4", "release");
    const tasks = async (who: "inspector" | "crew" | "engineer") => likenessTasks(small.house.db.read, small.project, await small.member(who), small.clock.now);
    expect(await tasks("inspector")).toEqual([]);
    small.later(60);
    await small.sendPreparation("02-B", undefined, { picture: await again(picture) });
    expect((await tasks("inspector")).map(({ marks }) => marks)).toEqual([["02-A", "02-B"]]);
    expect(await tasks("engineer")).toEqual([]);
    const beside = await besideView(small.house.db.read, small.project, await idAt("02-B"), await idAt("02-A"), small.clock.now);
    expect([beside.first.mark, beside.first.released, beside.first.counts, beside.second.counts.needed]).toEqual(["02-A", true, { now: 1, without: 0, with: 1, needed: 1 }, 1]);
    expect(beside.differing!.length).toBeLessThanOrEqual(8);
    await answer("two pictures", "");
    expect(await tasks("inspector")).toEqual([]);
  });
});

describe("an answer", () => {
  it("needs a reason where a photo stops counting, and two photos that are alike", async () => {
    await sendTwice();
    expect((await refusedWith(answer("cannot tell", " "))).faults).toEqual([{ field: "words", message: expect.stringContaining("why") }]);
    await small.sendPhoto("02-C", "4", "close-up");
    const unlike = { id: randomUUID(), photoId: await idAt("02-C"), otherId: await idAt("02-A"), answer: "two pictures" as const, words: "" };
    expect((await refusedWith(answerLikeness(small.as("inspector"), unlike))).code).toBe("not-found");
    expect((await refusedWith(answerLikeness(small.as("crew"), { ...unlike, photoId: await idAt("02-B") }))).code).toBe("not-allowed");
  });
});

describe("a picture of another project", () => {
  async function otherProject(organisation: string): Promise<void> {
    await openProject(small.house, {
      id: "other", code: "other", name: "Secret pier", place: "Elsewhere", zone: ZONE, startsOn: "2026-10-05", clockFrom: null,
      site: { latitude: "44.0", longitude: "-63.5", radiusM: 100, assumedErrorM: 15 }, shift: { startsAt: "06:00", hours: 14 }, organisations: [{ id: "theirs", name: organisation, part: "contractor" }],
    }, MORNING);
    await addMember(small.house, "other", { personId: "crew", name: "Ora Venn", organisationId: "theirs", roles: ["crew lead"] }, MORNING);
    await small.house.db.write((tx) => tx.$executeRaw`INSERT INTO "PhotoLook" SELECT 'there', 'other', "pixels", "hash", "band0", "band1", "band2" FROM "PhotoLook" LIMIT 1`);
    await small.house.db.write((tx) => tx.$executeRaw`INSERT INTO "Photo" SELECT 'there', 'other', "sheet", "line", "attempt", "subject", 'f' || substr("sha256", 2), "mediaType", "bytes", "seq", "receivedAt", "byId", "body", NULL FROM "Photo" LIMIT 1`);
  }
  const recorded = async (mark: string) => (await listPhotos(small.house.db.read, mark))[0]!.flags.filter(({ code }) => code.startsWith("DUP"));

  it("of the same organisation is flagged, and nothing of that project is said", async () => {
    const picture = await pictureOf(4_002, 640, 480);
    await small.sendPhoto("02-A", "4", "close-up", { picture });
    await otherProject("Venn Marine Works");
    await small.house.db.write((tx) => tx.$executeRaw`DELETE FROM "PhotoLook" WHERE "projectId" = 'small'`);
    await small.sendPhoto("02-B", "4", "close-up", { picture: await again(picture) });
    expect(await recorded("02-B")).toEqual([{ code: "DUP_NEAR", measured: expect.stringMatching(/^\d of 64 cells differ from a photo of another project of Venn Marine Works, received /), limit: "more than 8 of 64" }]);
    expect(JSON.stringify(await recorded("02-B"))).not.toMatch(/Secret|there|other pier/);
  });

  it("of another organisation is nobody's business", async () => {
    const picture = await pictureOf(4_003, 640, 480);
    await small.sendPhoto("02-A", "4", "close-up", { picture });
    await otherProject("Somebody Else");
    await small.house.db.write((tx) => tx.$executeRaw`DELETE FROM "PhotoLook" WHERE "projectId" = 'small'`);
    await small.sendPhoto("02-B", "4", "close-up", { picture: await again(picture) });
    expect(await recorded("02-B")).toEqual([]);
  });
});
