import { HOUR, type Instant } from "#lib/domain/instant";
import type { Override } from "#lib/domain/plan/plan";
import { databaseFile } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { getProjectById } from "#lib/db/project";
import { addPile } from "#lib/services/add-pile";
import type { Asking } from "#lib/services/ask";
import { openHouse } from "#lib/services/house";
import { receiveLot } from "#lib/services/keep-register";
import { addMember, approveRevision, giveCredential, openProject } from "#lib/services/open-project";
import { writeRevision } from "#seed/specification";

export const CODE = "wharf";
export const PASSWORD = "quiet harbour";
export const MORNING: Instant = Date.parse("2026-12-02T08:00:00-04:00");

/** A project with the demonstration's three types and 24 piles of them, two jacket lots on the register, and no work done. */
export async function estimateProject(dataDir: string, now: () => Instant = () => MORNING, clockFrom: Instant | null = null) {
  migrate(databaseFile(dataDir));
  const house = openHouse(dataDir, now);
  await openProject(
    house,
    {
      id: CODE, code: CODE, name: "Long wharf", place: "Nowhere Cove", zone: "America/Halifax", startsOn: "2026-10-05", clockFrom: clockFrom === null ? null : new Date(clockFrom).toISOString(),
      site: { latitude: "44.0", longitude: "-63.5", radiusM: 100, assumedErrorM: 15 },
      shift: { startsAt: "06:00", hours: 14 },
      organisations: [{ id: "works", name: "Venn Marine Works", part: "contractor" }, { id: "desk", name: "Selwick and Rowe", part: "engineer" }],
    },
    MORNING,
  );
  await addMember(house, CODE, { personId: "qc", name: "Hedda Lorne", organisationId: "works", roles: ["QC manager"] }, MORNING);
  await addMember(house, CODE, { personId: "engineer", name: "Bram Selwick", organisationId: "desk", roles: ["engineer"] }, MORNING);
  await giveCredential(house, "qc", "qc", PASSWORD);
  const project = await getProjectById(house.db.read, CODE);
  const as = (personId: string): Asking => ({ house, project, personId });
  await approveRevision(as("engineer"), { id: "rev-b", revision: writeRevision("B"), appliesFrom: MORNING - 30 * 24 * HOUR });
  for (const number of ["J-14", "J-15"]) {
    await receiveLot(as("qc"), { id: number, number, lotKind: "jacket", certificate: "K-2", expiresOn: null, receivedOn: "2026-11-10", quantity: "4 rolls" });
  }
  const add = (mark: string, type: string, overrides: Override[] = []): Promise<void> =>
    addPile(as("qc"), { id: `pile-${mark}`, bent: mark.slice(0, 2), row: mark.slice(-1), mark, type, latitude: null, longitude: null, overrides, drawn: null, words: "" });
  for (const [bent, type] of [["02", "H"], ["03", "H"], ["04", "C"], ["05", "C"], ["06", "C"], ["07", "T"]] as const) {
    for (const row of ["A", "B", "C", "D"]) await add(`${bent}-${row}`, type);
  }
  return { house, project, as, add };
}
