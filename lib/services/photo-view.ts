import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { PhotoClaims } from "#lib/domain/photo/claims";
import { isMixSubject } from "#lib/domain/photo/mix-subject";
import { photoCounts } from "#lib/domain/point/question";
import type { PointKind } from "#lib/domain/point/state";
import type { Tx } from "#lib/db/client";
import { getPhoto } from "#lib/db/evidence";
import { listMembers, type Project } from "#lib/db/project";
import { secondsWriter, type PhotoView } from "#lib/services/evidence";
import { likenessLinks, type LikenessLink } from "#lib/services/likeness-view";
import { photosOfSheet, type SheetPhoto } from "#lib/services/point-photos";
import { photoWords, type PhotoWords } from "#lib/services/photo-words";
import { loadSheet } from "#lib/services/sheet";

export interface PhotoPageView {
  words: PhotoWords;
  /** "Bar with tape 4" */
  label: string;
  mark: string | null;
  line: { line: string; name: string; kind: PointKind };
  attempt: number;
  /** "photo 4 of 8" */
  place: string;
  previous: string | null;
  next: string | null;
  /** Whether it counts to the photos that the point asks for. */
  counts: { yes: boolean; words: string };
  /** The window it had to be taken in. */
  window: { from: Instant | null; to: Instant; closed: boolean };
  at: Instant | null;
  uncertaintyMs: number;
  /** What the camera showed, where that is not the time that it is judged by. */
  cameraSays: string | null;
  standsAt: string;
  receivedWords: string;
  by: string;
  bytesWords: string;
  /** What the file and the phone say, as written. */
  claims: { source: string; rows: [string, string][] }[];
  likeness: LikenessLink[];
  /** The picture shows a mix that can be checked for streaks. */
  mix: boolean;
}

/** One photo with every verdict, what each rests on, and what it claims. */
export async function photoPageView(tx: Tx, project: Project, id: string, at: Instant): Promise<PhotoPageView> {
  const photo = await getPhoto(tx, id);
  const sheet = await loadSheet(tx, project, photo.sheet, at);
  const [photos, members] = await Promise.all([photosOfSheet(tx, sheet), listMembers(tx, project.id)]);
  const shown = photos.find((one) => one.view.photo.id === id)!;
  const { view, line, submission } = shown;
  const own = photos.filter((one) => one.line === line && one.submission === submission);
  const position = own.findIndex((one) => one.view === view);
  const decision = sheet.history.decisions.findLast((one) => one.submissionId === submission?.id);
  const when = secondsWriter(project.zone);
  const standsAt = view.derived.instant ?? view.derived.hypotheses[0] ?? null;
  return {
    words: photoWords(view, project.zone),
    label: labelOf(own, view, line.photos),
    mark: sheet.pile?.mark ?? null,
    line: { line: line.line, name: line.name, kind: line.kind },
    attempt: submission?.attempt ?? photo.attempt,
    place: `photo ${position + 1} of ${own.length}`,
    previous: own[position - 1]?.view.photo.id ?? null,
    next: own[position + 1]?.view.photo.id ?? null,
    counts: countsOf(view, photoCounts(view, decision?.answers ?? [], line.kind === "H")),
    window: { from: view.window.from, to: view.window.to, closed: view.window.to !== photo.receivedAt },
    at: standsAt,
    uncertaintyMs: (view.derived.uncertaintySeconds ?? 0) * 1_000,
    cameraSays: view.derived.cameraSays,
    standsAt: standsAt === null ? "cannot be told" : view.derived.hypotheses.length > 1 ? view.derived.hypotheses.map(when).join(" or ") : when(standsAt),
    receivedWords: when(photo.receivedAt),
    by: members.find(({ personId }) => personId === photo.by)?.name ?? photo.by,
    bytesWords: `${photo.bytes.toLocaleString("en")} bytes, ${photo.width ?? "?"} × ${photo.height ?? "?"} px`,
    claims: claimRows(photo.claims),
    likeness: await likenessLinks(tx, sheet, shown),
    mix: isMixSubject(line.line, view.subject),
  };
}

function labelOf(own: readonly SheetPhoto[], view: PhotoView, subjects: readonly { id: string; name: string }[]): string {
  const name = subjects.find(({ id }) => id === view.subject)?.name ?? view.subject;
  const alike = own.filter((one) => one.view.subject === view.subject);
  return alike.length < 2 ? name : `${name} ${alike.findIndex((one) => one.view === view) + 1}`;
}

function countsOf(view: PhotoView, yes: boolean): PhotoPageView["counts"] {
  if (yes) return { yes, words: "Counts to the photos of its point" };
  if (view.elsewhere) return { yes, words: "Does not count: the same file or picture stands at another point too" };
  if (view.order.verdict !== "in order") return { yes, words: `Does not count yet: ${view.order.verdict}` };
  return { yes, words: "Does not count: a flag was rejected, or the original is wanted" };
}

const CLAIM_NAMES: Readonly<Record<string, string>> = {
  camera: "The camera wrote", gps: "The GPS fields say", xmp: "The second set of fields (XMP) says", device: "The phone said at capture",
};

/** Every claim that is there, as written: nothing is corrected or combined here. */
function claimRows(claims: PhotoClaims): PhotoPageView["claims"] {
  return Object.entries(CLAIM_NAMES).flatMap(([group, source]) => {
    const fields = Object.entries(claims[group as keyof PhotoClaims] ?? {}).filter(([, value]) => value !== null && value !== undefined);
    return fields.length === 0 ? [] : [{ source, rows: fields.map(([name, value]): [string, string] => [fieldName(name), String(value)]) }];
  });
}

/** "dateTimeOriginal" as "date time original". */
function fieldName(name: string): string {
  return name.replace(/([A-Z])/g, " $1").toLowerCase();
}

/** The zone's own way of writing the instants of a window. */
export function windowWords({ from, to }: PhotoPageView["window"], zone: string): { from: string; to: string } {
  return { from: from === null ? "open" : formatWhen(from, zone, { short: true }), to: formatWhen(to, zone, { short: true }) };
}
