import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import path from "node:path";
import { z } from "zod";
import { whenNear } from "#lib/services/clock-view";
import type { Sheet } from "#lib/services/sheet";

/** One photo that lies ready to be tried at a point of a demonstration. */
const ReadyPhotoSchema = z.strictObject({
  file: z.string().regex(/^[a-z0-9][a-z0-9-]{0,60}\.jpg$/),
  subject: z.string().min(1).max(40),
  /** When it says that it was taken, ISO 8601 with offset. */
  taken: z.iso.datetime({ offset: true }),
});
export type ReadyPhoto = z.infer<typeof ReadyPhotoSchema>;

export const ReadyListSchema = z.strictObject({ format: z.literal(1), photos: z.array(ReadyPhotoSchema) });

/** Name of the list beside the photos. */
export const READY_LIST = "list.json";

const CODE = /^[a-z][a-z0-9-]{1,30}$/;
const MARK = /^[0-9A-Z][0-9A-Z.-]{0,14}$/;
const LINE = /^P?\d{1,2}[a-z]?$/;

/** Where the ready photos of a point lie; null for names that cannot be those of a point. */
export function readyFolder(dataDir: string, projectCode: string, mark: string, line: string): string | null {
  if (!CODE.test(projectCode) || !MARK.test(mark) || !LINE.test(line)) return null;
  return path.join(dataDir, "demonstration", projectCode, `${mark}-${line}`);
}

/** The photos that lie ready for a point of a demonstration, in the order of its subjects; none elsewhere. */
export async function readyPhotos(dataDir: string, projectCode: string, mark: string, line: string): Promise<ReadyPhoto[]> {
  const folder = readyFolder(dataDir, projectCode, mark, line);
  if (folder === null) return [];
  const text = await readFile(path.join(folder, READY_LIST), "utf8").catch((error: unknown) => {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return null;
    throw error;
  });
  return text === null ? [] : ReadyListSchema.parse(JSON.parse(text)).photos;
}

/** The path of one of them, or null where the list does not name it. */
export async function readyPhotoFile(dataDir: string, projectCode: string, mark: string, line: string, file: string): Promise<string | null> {
  const folder = readyFolder(dataDir, projectCode, mark, line);
  const listed = await readyPhotos(dataDir, projectCode, mark, line);
  return folder !== null && listed.some((one) => one.file === file) ? path.join(folder, file) : null;
}

/** A ready photo as the page offers it. */
export interface ReadyView {
  file: string;
  /** When it says that it was taken. */
  taken: string;
  /** Where it is fetched from. */
  href: string;
  /** It lies at the point already: among the photos of the given digests. */
  there: boolean;
}

/**
 * What a demonstration offers for a point, by the subject of each photo. A project on real time offers nothing.
 *
 * @param received SHA-256 in hex of the photos that the point has already.
 */
export async function readyViews(dataDir: string, { project, pile, at }: Sheet, line: string, received: ReadonlySet<string>): Promise<Map<string, ReadyView[]>> {
  const views = new Map<string, ReadyView[]>();
  if (project.clockFrom === null || !pile) return views;
  for (const { file, subject, taken } of await readyPhotos(dataDir, project.code, pile.mark, line)) {
    const where = await readyPhotoFile(dataDir, project.code, pile.mark, line, file);
    const view: ReadyView = {
      file,
      taken: whenNear(Date.parse(taken), project.zone, at),
      href: `/api/v1/projects/${project.code}/ready/${encodeURIComponent(pile.mark)}/${line}/${file}`,
      there: where !== null && received.has(createHash("sha256").update(await readFile(where)).digest("hex")),
    };
    views.set(subject, [...(views.get(subject) ?? []), view]);
  }
  return views;
}
