import type { Member } from "#lib/domain/access/member";
import type { Looks } from "#lib/domain/photo/look-alike";
import { formatWhen } from "#lib/domain/clock/site-time";
import { MINUTE, SECOND, type Instant } from "#lib/domain/instant";
import { deriveInstant } from "#lib/domain/photo/derived-instant";
import { mergeFlags, type PhotoFlag } from "#lib/domain/photo/flag";
import type { Tx } from "#lib/db/client";
import { listPhotosById, listSameFiles, type Photo } from "#lib/db/evidence";
import { listLikenessAnswers, listLikenessOf, searchLooks, type Likeness, type LikenessAnswer } from "#lib/db/likeness";
import { findPile } from "#lib/db/pile";
import { sheetHistory, type SheetHistory } from "#lib/db/point-record";
import type { Project } from "#lib/db/project";
import { limitsNow, loadEvidenceFacts, type EvidenceFacts } from "#lib/services/evidence-facts";
import type { PhotoView } from "#lib/services/evidence";
import type { Sheet } from "#lib/services/sheet";

/** Another photo on record that one repeats or looks like. */
export interface Repeat {
  other: Photo;
  kind: "file" | Likeness["kind"];
  /** Bits of 64 that differ; 0 for the same file or pixels. */
  distance: number;
  /** "pile 04-B, point 3" */
  where: string;
  /** It stands in a submission that was not taken back or refused. */
  stands: boolean;
  /** Taken within the burst limit of each other, on the same pile. */
  burst: boolean;
  /** What a decision maker said of the two last. */
  answer: LikenessAnswer | null;
}

/**
 * Everything on record that photos of a sheet repeat, by photo id. Two photos of one point are no repeat of each other: a
 * burst, or a shot taken again.
 */
export async function repeatsOf(tx: Tx, sheet: Sheet, views: readonly PhotoView[]): Promise<Map<string, Repeat[]>> {
  const ids = views.map(({ photo }) => photo.id);
  const [pairs, sameFiles] = await Promise.all([listLikenessOf(tx, ids), listSameFiles(tx, sheet.project.id, views.map(({ sha256 }) => sha256))]);
  const otherIds = new Set(pairs.flatMap(({ photoId, otherId }) => [photoId, otherId]));
  const others = new Map([...sameFiles, ...(await listPhotosById(tx, [...otherIds]))].map((photo) => [photo.id, photo]));
  if (others.size === 0) return new Map();

  const [answers, known] = await Promise.all([listLikenessAnswers(tx, ids), loadEvidenceFacts(tx, sheet.project, [...others.values()])]);
  const around = new Surroundings(tx, sheet, known);
  const found = new Map<string, Repeat[]>();
  for (const view of views) {
    const { photo } = view;
    const own = new Map<string, Likeness>(pairs.flatMap((pair): [string, Likeness][] => (pair.photoId === photo.id ? [[pair.otherId, pair]] : pair.otherId === photo.id ? [[pair.photoId, pair]] : [])));
    const alike = [...others.values()].filter((other) => !(other.sheet === photo.sheet && other.line === photo.line) && (other.sha256 === photo.sha256 || own.has(other.id)));
    const repeats = await Promise.all(alike.map(async (other): Promise<Repeat> => {
      const pair = own.get(other.id);
      return {
        other,
        kind: other.sha256 === photo.sha256 ? "file" : (pair?.kind ?? "near"),
        distance: pair?.distance ?? 0,
        where: await around.where(other),
        stands: await around.stands(other),
        burst: other.sheet === photo.sheet && around.withinBurst(view, other),
        answer: answers.findLast((one) => (one.photoId === photo.id && one.otherId === other.id) || (one.photoId === other.id && one.otherId === photo.id)) ?? null,
      };
    }));
    if (repeats.length > 0) found.set(photo.id, repeats);
  }
  return found;
}

/** What is read about other photos, each pile's history once. */
class Surroundings {
  readonly #histories = new Map<string, Promise<SheetHistory>>();
  readonly #marks = new Map<string, Promise<string | null>>();

  constructor(
    readonly tx: Tx,
    readonly sheet: Sheet,
    readonly known: EvidenceFacts,
  ) {}

  async where(photo: Photo): Promise<string> {
    const { project, id, pile } = this.sheet;
    if (!this.#marks.has(photo.sheet)) {
      const mark = photo.sheet === id ? Promise.resolve(pile?.mark ?? null) : findPile(this.tx, project.id, { id: photo.sheet }).then((other) => other?.mark ?? null);
      this.#marks.set(photo.sheet, mark);
    }
    const mark = await this.#marks.get(photo.sheet);
    return `${mark ? `pile ${mark}, ` : ""}point ${photo.line}`;
  }

  async stands({ sheet, line, id }: Photo): Promise<boolean> {
    if (!this.#histories.has(sheet)) this.#histories.set(sheet, sheetHistory(this.tx, sheet));
    const { submissions, withdrawals, checks, decisions } = await this.#histories.get(sheet)!;
    return [...submissions.values()].some(({ id: submissionId, line: at, photos }) => {
      if (at !== line || !photos.some((photo) => photo.id === id)) return false;
      const takenBack = withdrawals.some((one) => one.submissionId === submissionId) || checks.some((one) => one.submissionId === submissionId && one.outcome === "sent back");
      const last = decisions.findLast((one) => one.submissionId === submissionId);
      return !takenBack && (last === undefined || last.outcome === "release");
    });
  }

  withinBurst(view: PhotoView, other: Photo): boolean {
    const { zone } = this.sheet.project;
    const limits = this.known.limitsAt(view.photo.seq);
    const theirs = deriveInstant(other.claims, { siteZone: zone, receivedAt: other.receivedAt, limits, camera: this.known.cameraOf(other) }).instant;
    const own: Instant | null = view.derived.instant;
    return own !== null && theirs !== null && Math.abs(own - theirs) <= limits.burstSeconds * SECOND;
  }
}

/**
 * Flags the photos that repeat another one. The same file, the same pixels or the same shot shows one thing only: while
 * the other stands submitted too, it counts for neither, until one is withdrawn, sent back or refused, or a decision maker
 * says to which it belongs. A look-alike is a question to whoever decides either, and counts meanwhile: it is a cue, never
 * a bar. A burst is a note.
 */
export async function markRepeats(tx: Tx, sheet: Sheet, photos: readonly PhotoView[]): Promise<PhotoView[]> {
  const repeats = await repeatsOf(tx, sheet, photos);
  if (repeats.size === 0) return [...photos];
  const known = await loadEvidenceFacts(tx, sheet.project, photos.map(({ photo }) => photo));
  return photos.map((view) => {
    const limit = known.limitsAt(view.photo.seq).lookAlikeBits;
    const marks = (repeats.get(view.photo.id) ?? []).flatMap((repeat) => markOf(view, repeat, limit) ?? []);
    if (marks.length === 0) return view;
    return { ...view, elsewhere: (view.elsewhere ?? false) || marks.some(({ counts }) => !counts), flags: mergeFlags([...view.flags, ...marks.map(({ flag }) => flag)]) };
  });
}

/** What another photo means for this one; null where it means nothing. */
function markOf({ photo, sha256 }: PhotoView, { kind, distance, where, stands, burst, answer }: Repeat, limit: number): { flag: PhotoFlag; counts: boolean } | null {
  if (!stands || (kind === "near" && distance > limit)) return null;
  const said = answer === null ? null : answerFor(answer, photo.id);
  const words = said === null ? "" : `; ${said.words}`;
  switch (kind) {
    case "file":
      return { flag: { code: "DUP_EXACT", measured: `the same file stands at ${where}${words}`, limit: `SHA-256 ${sha256.slice(0, 12)}… once`, ...noteIf(said?.counts) }, counts: said?.counts ?? false };
    case "pixels":
      return { flag: { code: "DUP_PIXELS", measured: `the same pixels stand at ${where}${words}`, limit: "a picture once", ...noteIf(said?.counts) }, counts: said?.counts ?? false };
    case "shot":
      return { flag: { code: "DUP_NEAR", measured: `same camera and same instant as the photo at ${where}${words}`, limit: "one shot at one pile", ...noteIf(said?.counts) }, counts: said?.counts ?? true };
    case "near": {
      const measured = `${distance} of 64 cells differ from the photo at ${where}${burst ? ", taken within a burst" : ""}${words}`;
      return { flag: { code: "DUP_NEAR", measured, limit: `more than ${limit} of 64`, ...noteIf(burst || said?.counts) }, counts: said?.counts ?? true };
    }
  }
}

function noteIf(noted: boolean | undefined): { weight?: "note" } {
  return noted === true ? { weight: "note" } : {};
}

/** What the last answer about two photos means for one of them. */
function answerFor({ answer, photoId }: LikenessAnswer, own: string): { counts: boolean; words: string } {
  switch (answer) {
    case "two pictures":
      return { counts: true, words: "answered: two pictures" };
    case "cannot tell":
      return { counts: false, words: "answered: cannot tell, counts for neither" };
    case "same, belongs to this":
    case "same, belongs to the other": {
      const here = (answer === "same, belongs to this") === (photoId === own);
      return { counts: here, words: here ? "answered: the same picture, and it belongs here" : "answered: the same picture, and it belongs there" };
    }
  }
}

/**
 * Flags for a photo that was used in another project in which the sender's organisation takes part. They say that and when
 * it was received, and nothing else of that project.
 *
 * @param member Who sends it.
 */
export async function acrossProjects(tx: Tx, project: Project, member: Member, { sha256, looks }: { sha256?: string; looks: Looks | null }): Promise<PhotoFlag[]> {
  const rows = await tx.organisation.findMany({ where: { name: member.organisation, NOT: { projectId: project.id } }, select: { projectId: true } });
  const elsewhere = [...new Set(rows.map(({ projectId }) => projectId))];
  if (elsewhere.length === 0) return [];

  const words = async (id: string): Promise<string> => {
    const row = await tx.photo.findUniqueOrThrow({ where: { id }, select: { receivedAt: true } });
    return `a photo of another project of ${member.organisation}, received ${formatWhen(Math.floor(row.receivedAt.getTime() / MINUTE) * MINUTE, project.zone)}`;
  };
  const same = sha256 === undefined ? null : await tx.photo.findFirst({ where: { projectId: { in: elsewhere }, sha256 }, orderBy: { receivedAt: "asc" }, select: { id: true } });
  if (same) return [{ code: "DUP_EXACT", measured: `the same file as ${await words(same.id)}`, limit: "a file once" }];
  const limit = (await limitsNow(tx, project.id)).lookAlikeBits;
  const [first] = looks === null ? [] : (await searchLooks(tx, elsewhere, looks)).filter(({ distance }) => distance <= limit);
  if (!first) return [];
  if (first.kind === "pixels") return [{ code: "DUP_PIXELS", measured: `the same pixels as ${await words(first.photoId)}`, limit: "a picture once" }];
  return [{ code: "DUP_NEAR", measured: `${first.distance} of 64 cells differ from ${await words(first.photoId)}`, limit: `more than ${limit} of 64` }];
}
