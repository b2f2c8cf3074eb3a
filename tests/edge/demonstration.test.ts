import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { databaseFile } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { demonstrationPeople, DEMONSTRATION_PASSWORD } from "#lib/edge/demonstration";
import { openHouse, type House } from "#lib/services/house";
import { addMember, closeMembership, giveCredential, openProject } from "#lib/services/open-project";

const NOW = Date.parse("2026-12-02T12:00:00Z");
const dataDir = mkdtempSync(path.join(tmpdir(), "lastlook-"));
let house: House;

async function open(id: string, clockFrom: string | null): Promise<void> {
  await openProject(
    house,
    {
      id, code: id, name: `Project ${id}`, place: "Nowhere Cove", zone: "UTC", startsOn: "2026-10-05", clockFrom,
      site: { latitude: "44", longitude: "-63", radiusM: 100, assumedErrorM: 15 },
      shift: { startsAt: "06:00", hours: 14 },
      organisations: [{ id: `${id}-works`, name: "Works", part: "contractor" }],
    },
    NOW,
  );
}

async function join(id: string, person: string): Promise<void> {
  await addMember(house, id, { personId: person, name: `Person ${person}`, organisationId: `${id}-works`, roles: ["crew lead"] }, NOW);
}

beforeAll(async () => {
  migrate(databaseFile(dataDir));
  house = openHouse(dataDir, () => NOW);
  await open("demo", "2026-12-03T16:00:00.000Z");
  await open("real", null);
  for (const person of ["shown", "joined", "left", "nameless"]) await join("demo", person);
  for (const person of ["shown", "real"]) await join("real", person);
  for (const person of ["shown", "left", "real"]) await giveCredential(house, person, person, DEMONSTRATION_PASSWORD);
  await giveCredential(house, "joined", "joined", "a password of one's own");
  await closeMembership(house, "demo", "left", "", NOW);
});
afterAll(async () => {
  await house.db.close();
  rmSync(dataDir, { recursive: true, force: true });
});

it("shows those who can be tried out, and nobody who has a password of their own, has left or works on real time alone", async () => {
  expect(await demonstrationPeople(house)).toEqual([{ signIn: "shown", name: "Person shown", roles: ["crew lead"] }]);
});
