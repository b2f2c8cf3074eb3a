import { mkdir, writeFile } from "node:fs/promises";
import path from "node:path";
import { siteTime } from "#lib/domain/clock/site-time";
import { MINUTE, type Instant } from "#lib/domain/instant";
import { READY_LIST, readyFolder, type ReadyPhoto } from "#lib/services/ready-photo";
import { onSite, STANDS_AT, ZONE } from "#seed/calendar";
import type { PileFact } from "#seed/facts/fact";
import type { PhotoMaker } from "#seed/photo/maker-pool";
import { linesOf, subjectOf } from "#seed/pile-act";
import { shotsOf, type Going } from "#seed/point-act";
import { LOT_SETS } from "#seed/register";
import { writeRevision } from "#seed/specification";

/** A number that no attempt of the story reaches, so that a ready photo is another press of the shutter. */
const READY_ATTEMPT = 9;
const LAST_BEFORE = STANDS_AT - 4 * MINUTE;

/** Makes the photos that lie ready for the points where somebody may go on, and writes them with their lists. */
export async function writeReadyPhotos(dataDir: string, projectCode: string, piles: readonly PileFact[], maker: PhotoMaker): Promise<number> {
  const revision = writeRevision("B");
  const written = await Promise.all(
    piles.flatMap((pile) =>
      (pile.ready ?? []).map(async ({ line: id, from, only }): Promise<number> => {
        const line = linesOf(pile, revision).find((one) => one.line === id);
        const folder = readyFolder(dataDir, projectCode, pile.mark, id);
        if (!line || folder === null) throw new Error(`There is no point ${id} of ${pile.mark}.`);
        const began = onSite(`2026-12-03 ${from}`);
        const by = line.submits.includes("crew lead") ? pile.crew : "hanne";
        const going: Going = { subject: subjectOf("w2", pile.mark), line, attempt: READY_ATTEMPT, began, ended: LAST_BEFORE, lots: LOT_SETS[pile.lots], by };
        const shots = shotsOf(going, { from: began, to: LAST_BEFORE, camera: "mira's phone", ...(only ? { only } : {}) });
        await mkdir(folder, { recursive: true });
        const list = await Promise.all(
          shots.map(async ({ subject, n, job, taken }): Promise<ReadyPhoto> => {
            const file = `${subject}-${n}.jpg`;
            await writeFile(path.join(folder, file), await maker.make(job));
            return { file, subject, taken: isoOf(taken) };
          }),
        );
        await writeFile(path.join(folder, READY_LIST), `${JSON.stringify({ format: 1, photos: list }, null, 2)}\n`);
        return list.length;
      }),
    ),
  );
  return written.reduce((sum, count) => sum + count, 0);
}

const isoOf = (at: Instant): string => siteTime(at, ZONE).iso;
