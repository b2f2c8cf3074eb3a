import type { Instant } from "#lib/domain/instant";
import { CODE, PASSWORD, smallProject } from "#tests/services/small-project";
import { siteTest } from "#tests/e2e/site";

/**
 * 02-A waits at its preparation with a face over the limit, 02-B is at its last look, 02-C is released to the end and
 * 02-D waits at a preparation whose camera was three hours ahead.
 */
async function makeSite(dataDir: string): Promise<Instant> {
  const small = await smallProject({ dataDir, demonstration: true });
  await small.bringToLastLook("02-C");
  await small.sendLastLook("02-C");
  await small.finish("02-C");
  small.later(60);
  await small.bringToLastLook("02-B");
  small.later(60);
  await small.sendPreparation("02-D", ["2.2", "2.3", "2.4", "2.5"], { cameraMinutesOff: 180 });
  await small.sendPreparation("02-A", ["2.4", "4.6", "2.5", "3.0"], { reason: "blasted twice" });
  await small.close();
  return small.clock.now;
}

export const test = siteTest({ make: makeSite, password: PASSWORD });
export { expect, expectAccessible, type Site } from "#tests/e2e/site";
export const projectPath = `/p/${CODE}`;
