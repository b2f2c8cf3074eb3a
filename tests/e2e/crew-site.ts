import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import { recordTemperature } from "#lib/services/record-temperature";
import { bringTo, CODE, crewProject, MORNING, openSite, PASSWORD } from "#tests/services/crew-project";
import { siteTest } from "#tests/e2e/site";

/**
 * A site in a data folder of its own: 02-A stands before its bars, 03-C before its clamp torque, 03-A at its grout cure and
 * 07-A is complete. Its clock goes on from its last record.
 */
async function makeSite(dataDir: string): Promise<Instant> {
  const clock = { now: MORNING };
  const project = await crewProject(dataDir, () => clock.now, MORNING);
  await openSite(project, clock);
  await bringTo(project, clock, "07-A", "26");
  // Strength results take 28 days, so the others are begun after them, in the morning of a shift.
  clock.now = Date.parse("2027-01-06T07:00:00-04:00");
  await bringTo(project, clock, "03-A", "21");
  clock.now += 2 * HOUR;
  await recordTemperature(await project.as("crew"), { sheet: "pile-03-A", line: "22", at: new Date(clock.now).toISOString(), temperature: "12", unit: "°C" });
  clock.now = Date.parse("2027-01-08T07:00:00-04:00");
  await bringTo(project, clock, "03-C", "8");
  await bringTo(project, clock, "02-A", "6");
  clock.now += MINUTE;
  await project.house.db.close();
  return clock.now;
}

export const test = siteTest({ make: makeSite, password: PASSWORD });
export { expect, expectAccessible, type Site } from "#tests/e2e/site";
export const projectPath = `/p/${CODE}`;
