import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { differingCells, lookDistance, orientations } from "#lib/domain/photo/look-alike";
import { photoCounts, type GivenAnswer } from "#lib/domain/point/question";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { PointKind, PointState } from "#lib/domain/point/state";
import { DomainError } from "#lib/domain/refusal";
import type { Tx } from "#lib/db/client";
import { getPhoto, listPhotosById, type Photo } from "#lib/db/evidence";
import { listLikenessAnswers, listLikenessIn, listSameFilePairs } from "#lib/db/likeness";
import { listMembers, type MemberOnFile, type Project } from "#lib/db/project";
import { limitsNow } from "#lib/services/evidence-facts";
import { photosOfSheet, type SheetPhoto } from "#lib/services/point-photos";
import { photoWords, type PhotoWords } from "#lib/services/photo-words";
import { repeatsOf, type Repeat } from "#lib/services/repeat";
import { getLine, loadSheet, type Sheet } from "#lib/services/sheet";

/** A photo that another one repeats or looks like, as a link to both side by side. */
export interface LikenessLink {
  other: string;
  words: string;
}

/** The photos that one of a sheet is worth looking at beside. */
export async function likenessLinks(tx: Tx, sheet: Sheet, { view }: SheetPhoto): Promise<LikenessLink[]> {
  const limit = (await limitsNow(tx, sheet.project.id)).lookAlikeBits;
  const repeats = (await repeatsOf(tx, sheet, [view])).get(view.photo.id) ?? [];
  return repeats.filter((repeat) => worthSeeing(repeat, limit)).map((repeat) => ({ other: repeat.other.id, words: linkWords(repeat) }));
}

function worthSeeing({ kind, distance }: Pick<Repeat, "kind" | "distance">, limit: number): boolean {
  return kind !== "near" || distance <= limit;
}

function linkWords({ kind, distance, where, stands }: Repeat): string {
  const what = { file: "same file", pixels: "same pixels", shot: "same camera and instant", near: `${distance} of 64 cells differ` }[kind];
  return `${what}: ${where}${stands ? "" : ", which does not stand"}`;
}

/** One of two photos side by side. */
export interface BesideSide {
  words: PhotoWords;
  label: string;
  mark: string | null;
  line: { line: string; name: string; kind: PointKind };
  state: PointState;
  sheet: string;
  sizeWords: string;
  by: string;
  /** The first 64 bits of its hash, turned as the pair fits best, as 64 cells: true is dark. */
  cells: readonly boolean[] | null;
  /** How many photos of its subject count now, and would if this one did not, or did. */
  counts: { now: number; without: number; with: number; needed: number };
  released: boolean;
}

export interface BesideView {
  first: BesideSide;
  second: BesideSide;
  /** Numbers 0–63 of the cells that differ; null where either has no hash. */
  differing: readonly number[] | null;
  limit: number;
  sameFile: boolean;
  samePixels: boolean;
  answers: { who: string; when: string; words: string; reason: string }[];
  /** Two people said different things. */
  disagree: boolean;
  /** Ids in the order of receipt: `later` came second. */
  later: string;
  earlier: string;
}

/** Two photos of a project side by side, with what each answer would do. Not found where they have nothing to do with each other. */
export async function besideView(tx: Tx, project: Project, photoId: string, otherId: string, at: Instant): Promise<BesideView> {
  const [one, two] = await Promise.all([getPhoto(tx, photoId), getPhoto(tx, otherId)]);
  if (one.projectId !== project.id || two.projectId !== project.id || one.id === two.id) throw new DomainError("not-found", "There are no such photos.");
  const [earlier, later] = one.seq < two.seq ? [one, two] : [two, one];
  const [members, answers, limits] = await Promise.all([listMembers(tx, project.id), listLikenessAnswers(tx, [earlier.id]), limitsNow(tx, project.id)]);
  const fit = earlier.looks?.hash && later.looks?.hash ? lookDistance(earlier.looks.hash, later.looks.hash) : null;
  const bits = [earlier.looks?.hash?.slice(0, 16) ?? null, fit && later.looks?.hash ? (orientations(later.looks.hash)[fit.orientation] ?? null) : null] as const;
  const [first, second] = await Promise.all([sideOf(tx, project, earlier, members, at, bits[0]), sideOf(tx, project, later, members, at, bits[1])]);
  const own = answers.filter((answer) => [answer.photoId, answer.otherId].includes(later.id));
  const said = new Map(own.map((answer) => [answer.by, answer]));
  return {
    first,
    second,
    differing: bits[0] !== null && bits[1] !== null ? differingCells(bits[0], bits[1]) : null,
    limit: limits.lookAlikeBits,
    sameFile: earlier.sha256 === later.sha256,
    samePixels: earlier.looks !== null && earlier.looks.pixels === later.looks?.pixels,
    answers: own.map((answer) => ({
      who: `${members.find(({ personId }) => personId === answer.by)?.name ?? answer.by}, ${answer.role}`,
      when: formatWhen(Date.parse(answer.answeredAt), project.zone),
      words: answerWords(answer.answer, answer.photoId === later.id, placeName(second), placeName(first)),
      reason: answer.words,
    })),
    disagree: new Set([...said.values()].map(({ answer }) => answer)).size > 1,
    later: later.id,
    earlier: earlier.id,
  };
}

export function placeName({ mark, line }: Pick<BesideSide, "mark" | "line">): string {
  return mark === null ? `point ${line.line}` : `${mark}, point ${line.line}`;
}

function answerWords(answer: string, aboutLater: boolean, later: string, earlier: string): string {
  if (answer === "two pictures") return "two pictures";
  if (answer === "cannot tell") return "cannot tell";
  const ownPlace = (answer === "same, belongs to this") === aboutLater ? later : earlier;
  return `the same picture, it belongs to ${ownPlace}`;
}

async function sideOf(tx: Tx, project: Project, photo: Photo, members: readonly MemberOnFile[], at: Instant, bits: string | null): Promise<BesideSide> {
  const sheet = await loadSheet(tx, project, photo.sheet, at);
  const photos = await photosOfSheet(tx, sheet);
  const { view, line, submission } = photos.find((one) => one.view.photo.id === photo.id)!;
  const own = photos.filter((one) => one.line === line && one.submission === submission && one.view.subject === view.subject);
  const { status } = getLine(sheet, line.line);
  const answers = sheet.history.decisions.findLast((one) => one.submissionId === submission?.id)?.answers ?? [];
  const subject = line.photos.find(({ id }) => id === view.subject);
  return {
    words: photoWords(view, project.zone),
    label: own.length < 2 ? (subject?.name ?? view.subject) : `${subject?.name ?? view.subject} ${own.findIndex((one) => one.view === view) + 1}`,
    mark: sheet.pile?.mark ?? null,
    line: { line: line.line, name: line.name, kind: line.kind },
    state: status.state,
    sheet: sheet.id,
    sizeWords: `${photo.width ?? "?"} × ${photo.height ?? "?"} px`,
    by: members.find(({ personId }) => personId === photo.by)?.name ?? photo.by,
    cells: bits === null ? null : cellsOf(bits),
    counts: countsOf(own, view.photo.id, line, answers, subject?.count ?? 0),
    released: status.standing.released,
  };
}

function cellsOf(bits: string): boolean[] {
  return [...bits].flatMap((digit) => [8, 4, 2, 1].map((bit) => (Number.parseInt(digit, 16) & bit) !== 0));
}

/** Distinct files that count to a subject: as it stands, without one photo, and with it. */
function countsOf(own: readonly SheetPhoto[], id: string, line: PlanLine, answers: readonly GivenAnswer[], needed: number): BesideSide["counts"] {
  const count = (change: (one: SheetPhoto["view"]) => SheetPhoto["view"] | null): number =>
    new Set(own.flatMap(({ view }) => { const seen = view.photo.id === id ? change(view) : view; return seen && photoCounts(seen, answers, line.kind === "H") ? [seen.sha256] : []; })).size;
  return { now: count((view) => view), without: count(() => null), with: count((view) => ({ ...view, elsewhere: false })), needed };
}

/** Two photos that somebody who may decide either of their points has not looked at beside each other yet. */
export interface LikenessTask {
  photo: string;
  other: string;
  marks: string[];
  words: string;
}

/**
 * What a later photo asks of those who decided an earlier one: pairs of which one stands in a released submission, and which
 * this person may decide and has not answered.
 */
export async function likenessTasks(tx: Tx, project: Project, member: Member, at: Instant): Promise<LikenessTask[]> {
  const [near, same, limits] = await Promise.all([listLikenessIn(tx, project.id), listSameFilePairs(tx, project.id), limitsNow(tx, project.id)]);
  const pairs = [...same, ...near].filter((pair) => worthSeeing(pair, limits.lookAlikeBits));
  if (pairs.length === 0) return [];
  const photos = new Map((await listPhotosById(tx, pairs.flatMap(({ photoId, otherId }) => [photoId, otherId]))).map((photo) => [photo.id, photo]));
  const answers = await listLikenessAnswers(tx, [...photos.keys()]);
  const sheets = new Map<string, Sheet>();
  const sheetOf = async (id: string): Promise<Sheet> => {
    const sheet = sheets.get(id) ?? (await loadSheet(tx, project, id, at));
    sheets.set(id, sheet);
    return sheet;
  };
  const tasks = new Map<string, LikenessTask>();
  for (const pair of pairs) {
    const both = [photos.get(pair.otherId), photos.get(pair.photoId)];
    const [one, two] = both;
    if (!one || !two || (one.sheet === two.sheet && one.line === two.line)) continue;
    if (answers.some(({ by, photoId, otherId }) => by === member.personId && [photoId, otherId].includes(one.id) && [photoId, otherId].includes(two.id))) continue;
    const [a, b] = [await sheetOf(one.sheet), await sheetOf(two.sheet)];
    if (!standsSubmitted(a, one) || !standsSubmitted(b, two)) continue;
    const repeat = (await repeatsOf(tx, b, (await photosOfSheet(tx, b)).map(({ view }) => view).filter(({ photo }) => photo.id === two.id))).get(two.id)?.find(({ other }) => other.id === one.id);
    if (!repeat || (repeat.burst && repeat.kind === "near")) continue;
    const decided = [[a, one], [b, two]] as const;
    const asks = decided.some(([sheet, photo]) => {
      const { line, status } = getLine(sheet, photo.line);
      return status.standing.released && line.release.roles.some((role) => member.roles.includes(role));
    });
    if (!asks) continue;
    const marks = decided.map(([sheet]) => sheet.pile?.mark ?? "project");
    tasks.set(`${one.id} ${two.id}`, { photo: two.id, other: one.id, marks, words: `${linkWords(repeat)} and ${b.pile?.mark ?? "project"}, point ${two.line}` });
  }
  return [...tasks.values()];
}

function standsSubmitted(sheet: Sheet, photo: Photo): boolean {
  const trail = getLine(sheet, photo.line).status.standing.trail;
  const submission = trail && sheet.history.submissions.get(trail.submission.submissionId);
  return submission?.photos.some(({ id }) => id === photo.id) ?? false;
}
