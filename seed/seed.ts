import { siteTime } from "#lib/domain/clock/site-time";
import { databaseFile } from "#lib/db/client";
import { migrate } from "#lib/db/migrations";
import { listProjects } from "#lib/db/project";
import { openHouse, type House } from "#lib/services/house";
import { giveCredential } from "#lib/services/open-project";
import { ZONE } from "#seed/calendar";
import { CAST, PASSWORD } from "#seed/cast";
import { PILES } from "#seed/facts/all";
import type { PileFact } from "#seed/facts/fact";
import { createPhotoMaker, type PhotoMaker } from "#seed/photo/maker-pool";
import { writeReadyPhotos } from "#seed/ready";
import { replay } from "#seed/replay";
import { openWharf2, WHARF_2, wharf2Acts } from "#seed/wharf-2";
import { openWharf3, WHARF_3, wharf3Acts } from "#seed/wharf-3";

export interface SeedOptions {
  /** For a part of the demonstration: these piles of Wharf 2 only. */
  piles?: readonly PileFact[];
  /** Whether the second project, on real time, is made too. */
  second?: boolean;
  /** Another maker of photos than the one that draws them. */
  maker?: PhotoMaker;
  say?(line: string): void;
}

/**
 * Makes the demonstration in a data folder by playing it through the services, as it would have happened. Does nothing
 * where a project is on record already, and returns whether it made one.
 */
export async function seed(dataDir: string, { piles = PILES, second = true, maker, say = () => undefined }: SeedOptions = {}): Promise<boolean> {
  migrate(databaseFile(dataDir));
  const house = openHouse(dataDir);
  try {
    if ((await listProjects(house.db.read)).length > 0) return false;
    const photos = maker ?? createPhotoMaker();
    try {
      await play(house, photos, { piles, second, say });
    } finally {
      await photos.close();
    }
    return true;
  } finally {
    await house.db.close();
  }
}

async function play(house: House, maker: PhotoMaker, { piles, second, say }: Required<Omit<SeedOptions, "maker">>): Promise<void> {
  const stage = await openWharf2(house);
  await Promise.all(Object.keys(CAST).map((person) => giveCredential(house, person, person, PASSWORD)));
  let said = 0;
  await replay(stage, wharf2Acts(piles), maker, (done, of) => {
    const quarters = Math.floor((4 * done) / of);
    if (quarters > said) say(`${WHARF_2}: ${done} of ${of} acts, ${siteTime(stage.clock.at, ZONE).date}`);
    said = quarters;
  });
  say(`${await writeReadyPhotos(house.dataDir, WHARF_2, piles, maker)} photos lie ready to be tried.`);
  if (!second) return;
  const now = house.realNow();
  await replay(await openWharf3(house, now), wharf3Acts(now), maker);
  say(`${WHARF_3}: runs on real time, three piles not started`);
}
