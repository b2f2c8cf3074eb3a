import { randomUUID } from "node:crypto";
import type { PhotoFlag } from "#lib/domain/photo/flag";
import { listUnreadPhotos, type Photo } from "#lib/db/evidence";
import { fileRecord } from "#lib/db/journal";
import { getProjectById } from "#lib/db/project";
import { studyOriginal, type PhotoStudy } from "#lib/photos/study";
import type { RecordOf } from "#lib/records/kind";
import { limitsNow } from "#lib/services/evidence-facts";
import type { House } from "#lib/services/house";
import { acrossProjects } from "#lib/services/repeat";

/** Photos looked at before the list is asked for again. */
const AT_ONCE = 16;

/**
 * Reads what receipts left to be read: the codes on tags in each photo and, of a HEIC, its pixels. Each photo gets one
 * record of what was read, also where nothing can be, so that nobody tries it for ever.
 *
 * @returns How many photos were read.
 */
export async function studyPhotos(house: House, stopped: () => boolean = () => false): Promise<number> {
  for (let count = 0; ; ) {
    const unread = await listUnreadPhotos(house.db.read, AT_ONCE);
    if (unread.length === 0 || stopped()) return count;
    await Promise.all(unread.map((photo) => studyOne(house, photo)));
    count += unread.length;
  }
}

async function studyOne(house: House, photo: Photo): Promise<void> {
  const { sha256, mediaType, claims, preview } = photo;
  const wantLooks = photo.looks === null;
  const flags: PhotoFlag[] = [];
  const nothing = (problem: unknown): PhotoStudy => {
    // What receipt has flagged already is not said twice.
    if (preview === "none" && photo.flags.length === 0) flags.push({ code: "CORRUPT", measured: words(problem), limit: "a picture that can be decoded" });
    return { codes: [], looks: null, flags: [] };
  };
  const project = await getProjectById(house.db.read, photo.projectId);
  const limits = await limitsNow(house.db.read, project.id);
  const orientation = claims.camera.orientation ?? 1;
  const { codes, looks, flags: seen } = await studyOriginal({ dataDir: house.dataDir, sha256, mediaType, orientation, wantLooks, limits }).catch(nothing);
  const at = await house.now(project);
  await house.db.write(async (tx) => {
    const body: RecordOf<"photo reading"> = {
      kind: "photo reading",
      id: randomUUID(),
      photoId: photo.id,
      sha256,
      looks,
      codes: [...codes],
      flags: [...flags, ...seen, ...(looks === null ? [] : await acrossProjects(tx, project, photo.by, { looks }))],
      preview: preview === "made" || looks !== null ? "made" : "none",
    };
    await fileRecord(tx, house.key, { projectId: project.id, actor: "system", at, body });
  });
}

function words(problem: unknown): string {
  return (problem instanceof Error ? problem.message : String(problem)).split("\n", 1)[0]?.slice(0, 300) ?? "";
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
  let running: Promise<void> | null = null;
  const run = async (): Promise<void> => {
    do {
      asked = false;
      // A photo that could not be recorded is tried again at the next waking; the reason stands in the server's own log.
      await studyPhotos(house, () => stopped).catch((error: unknown) => console.error("Reading photos:", error));
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
      delete shared[RUNNER];
      await running;
    },
  };
}
