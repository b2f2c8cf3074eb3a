import { afterEach, beforeEach, expect, it } from "vitest";
import { fileRecord } from "#lib/db/journal";
import { addPile } from "#lib/services/add-pile";
import { smallProject, type SmallProject } from "#tests/services/small-project";

let site: SmallProject;
beforeEach(async () => {
  site = await smallProject();
});
afterEach(() => site.close());

/** What was loaded is one object for as long as it is not loaded again, whenever it is folded. */
const loaded = async (mark?: string) => (await shelved(mark)).history.submissions;
const shelved = (mark = "02-A") => site.house.sheets.sheet(site.house.db.read, site.project, mark, site.clock.now);

it("loads a sheet once for many photos, and again after anything else", async () => {
  const first = await loaded();
  await site.sendPhoto("02-A", "4", "close-up");
  await site.sendPhoto("02-A", "4", "close-up");
  expect(await loaded()).toBe(first);

  await site.sendPreparation("02-A");
  expect((await shelved()).folded.get("4")?.state).toBe("submitted");
  await site.check("02-A", "4");
  await site.decide("inspector", "02-A", "4", "release");
  expect((await shelved()).folded.get("4")?.state).toBe("released");
});

it("counts what was sent for the attempt that follows a refusal, as soon as it is refused", async () => {
  await site.sendPreparation("02-A");
  await site.check("02-A", "4");
  await site.decide("inspector", "02-A", "4", "reject", { codes: ["MEAS"], words: "Below the limit." });
  const id = await site.sendPhoto("02-A", "4", "close-up");
  const { body } = await site.house.db.read.photo.findUniqueOrThrow({ where: { id } });
  expect((JSON.parse(body) as { attempt: number }).attempt).toBe(2);
});

it("forgets what a transaction saw that was taken back", async () => {
  const { house, project } = site;
  await site.sendPhoto("02-A", "4", "close-up");
  const before = (await shelved()).lots.length;
  const refused = house.db.write(async (tx) => {
    const body = { kind: "lot", id: "lot-x", number: "X-1", lotKind: "resin A", certificate: "K-1", expiresOn: "2027-04-01", receivedOn: "2026-11-10", quantity: "20 kg" } as const;
    await fileRecord(tx, house.key, { projectId: project.id, actor: "qc", at: site.clock.now, body });
    expect((await house.sheets.sheet(tx, project, "02-A", site.clock.now)).lots).toHaveLength(before + 1);
    throw new Error("taken back");
  });
  await expect(refused).rejects.toThrow("taken back");
  expect((await shelved()).lots).toHaveLength(before);
});

it("keeps no more than the last sixteen", async () => {
  const others = Array.from({ length: 16 }, (_, i) => `09-${i}`);
  const qc = site.as("qc");
  for (const mark of others) await addPile(qc, { id: mark, bent: "09", row: mark.slice(3), mark, type: "H", latitude: null, longitude: null, overrides: [], drawn: null, words: "" });
  const first = await loaded("02-A");
  for (const mark of others.slice(0, 15)) await shelved(mark);
  expect(await loaded("02-A")).toBe(first);
  for (const mark of others) await shelved(mark);
  expect(await loaded("02-A")).not.toBe(first);
});
