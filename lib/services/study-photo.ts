import { randomUUID } from "node:crypto";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import type { PhotoLimits } from "#lib/domain/photo/limits";
import type { Looks } from "#lib/domain/photo/look-alike";
import type { Tx } from "#lib/db/client";
import { listUnreadPhotos, type Photo } from "#lib/db/evidence";
import { fileRecord } from "#lib/db/journal";
import { findMember, getProjectById, type Project } from "#lib/db/project";
import { WorkerStopped } from "#lib/photos/picture-pool";
import { OriginalMissing, studyOriginal, type PhotoStudy } from "#lib/photos/study";
import type { RecordOf } from "#lib/records/kind";
import { limitsNow } from "#lib/services/evidence-facts";
import type { House } from "#lib/services/house";
import { acrossProjects } from "#lib/services/repeat";

/** Photos read side by side and recorded together. */
const AT_ONCE = 8;

/** A worker may end for reasons that are not the photo's, such as a server that is being stopped: a photo gets so many. */
const TRIES = 3;

interface StudyOptions {
  /** Place of the last photo that was looked at before. */
  after?: number;
  stopped?: () => boolean;
}

/**
 * Reads what receipts left to be read: the codes on tags in each photo and, of a HEIC, its pixels. Each photo gets one
 * record of what was read, also where nothing can be, so that nobody tries it for ever.
 *
 * @returns How many photos were read, and the place of the last one.
 */
export async function studyPhotos(house: House, { after = 0, stopped = () => false }: StudyOptions = {}): Promise<{ count: number; after: number }> {
  for (let count = 0; ; ) {
    const unread = await listUnreadPhotos(house.db.read, { after, most: AT_ONCE });
    const last = unread.at(-1);
    if (!last || stopped()) return { count, after };
    const projects = new Set(unread.map(({ photo }) => photo.projectId));
    for (const id of projects) count += await studyOf(house, await getProjectById(house.db.read, id), unread.flatMap(({ photo }) => (photo.projectId === id ? [photo] : [])), stopped);
    after = last.place;
  }
}

/** A photo with what was read of it. */
interface Finding {
  photo: Photo;
  study: PhotoStudy;
}

async function studyOf(house: House, project: Project, photos: readonly Photo[], stopped: () => boolean): Promise<number> {
  const limits = await limitsNow(house.db.read, project.id);
  const found = (await Promise.all(photos.map((photo) => study(house, photo, limits, stopped)))).filter((one) => one !== null);
  if (found.length === 0) return 0;
  const at = await house.now(project);
  await house.db.write(async (tx) => {
    for (const { photo, study: { codes, looks, flags } } of found) {
      const body: RecordOf<"photo reading"> = {
        kind: "photo reading",
        id: randomUUID(),
        photoId: photo.id,
        sha256: photo.sha256,
        looks,
        codes: [...codes],
        flags: [...flags, ...(await usedElsewhere(tx, project, photo.by, looks))],
        preview: photo.preview === "made" || looks !== null ? "made" : "none",
      };
      await fileRecord(tx, house.key, { projectId: project.id, actor: "system", at, body });
    }
  });
  return found.length;
}

/** A sender who has left by now takes part in no other project through this one. */
async function usedElsewhere(tx: Tx, project: Project, by: string, looks: Looks | null): Promise<PhotoFlag[]> {
  const member = looks && (await findMember(tx, project.id, by));
  return member ? acrossProjects(tx, project, member, { looks }) : [];
}

/** Null where it is not the photo's fault that it was not read: it stays unread until the next start. */
async function study({ dataDir }: House, photo: Photo, limits: PhotoLimits, stopped: () => boolean): Promise<Finding | null> {
  const { sha256, mediaType, claims } = photo;
  const request = { dataDir, sha256, mediaType, orientation: claims.camera.orientation ?? 1, wantLooks: photo.looks === null, limits };
  for (let tries = 1; ; tries += 1) {
    try {
      return { photo, study: await studyOriginal(request) };
    } catch (problem) {
      const ended = problem instanceof WorkerStopped && problem.reason === "crash";
      if (ended && stopped()) return null;
      if (ended && tries < TRIES) continue;
      if (!(problem instanceof OriginalMissing)) return { photo, study: { codes: [], looks: null, flags: unreadable(photo, problem) } };
      console.error(`Reading photo ${photo.id}: its original ${sha256} is not there.`);
      return null;
    }
  }
}

/** What the receipt has flagged already is not said twice. */
function unreadable({ preview, flags }: Photo, problem: unknown): PhotoFlag[] {
  if (preview === "made" || flags.some(({ code }) => code === "CORRUPT" || code === "TRUNCATED")) return [];
  const measured = (problem instanceof Error ? problem.message : String(problem)).split("\n", 1)[0]?.slice(0, 300) ?? "";
  return [{ code: "CORRUPT", measured, limit: "a picture that can be decoded" }];
}

// One runner for the whole process, though the server bundle may hold this module more than once.
const RUNNER = Symbol.for("lastlook.study-runner");
const shared = globalThis as typeof globalThis & { [RUNNER]?: () => void };

/** Says that there is something to read. Nothing happens where no server runs. */
export function wakeStudy(): void {
  shared[RUNNER]?.();
}

/** Reads whatever is left, and again whenever it is woken, until `stop` is called. */
export function runStudy(house: House): { stop(): Promise<void> } {
  let stopped = false;
  let asked = false;
  let after = 0;
  let running: Promise<void> | null = null;
  const run = async (): Promise<void> => {
    do {
      asked = false;
      try {
        ({ after } = await studyPhotos(house, { after, stopped: () => stopped }));
      } catch (error) {
        // What could not be recorded is tried again at the next waking; the reason stands in the server's own log.
        console.error("Reading photos:", error);
      }
    } while (asked && !stopped);
    running = null;
  };
  const wake = (): void => {
    asked = true;
    if (!stopped) running ??= run();
  };
  shared[RUNNER] = wake;
  wake();
  return {
    stop: async () => {
      stopped = true;
      if (shared[RUNNER] === wake) delete shared[RUNNER];
      await running;
    },
  };
}
