import { formatWhen } from "#lib/domain/clock/site-time";
import { MINUTE, type Instant } from "#lib/domain/instant";
import { cameraInstant } from "#lib/domain/photo/camera-instant";
import type { Question, JudgedPhoto } from "#lib/domain/point/question";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Standing } from "#lib/services/decide-point";
import type { PhotoView } from "#lib/services/evidence";
import { groupBy, questionWords } from "#lib/services/exceptions";
import { photoWords, type PhotoWords } from "#lib/services/photo-words";
import type { Sheet } from "#lib/services/sheet";

export interface DecisionPhoto extends PhotoWords {
  /** "Bar with tape 4" */
  label: string;
  at: Instant | null;
  uncertaintyMs: number;
  /** What the camera wrote, where it was not on the site's time. */
  cameraAt: Instant | null;
  windowFrom: Instant | null;
  windowTo: Instant;
  /** The window is closed by work that hides this point, not only by the receipt of the photo. */
  windowClosed: boolean;
  /** Numbers of the questions that stand against it. */
  numbers: number[];
  /** Sent with the attempt before as well. */
  again: boolean;
  /** As the rules count it. */
  judged: JudgedPhoto;
}

/** The same flag on all photos of one camera in one attempt: one answer may serve them all. */
export interface QuestionGroup {
  number: number;
  code: string;
  words: string;
  camera: string;
  items: { photo: string | null; label: string; measured: string; limit: string }[];
}

/** The photos of a submission by subject, each with its verdicts, its window and the questions against it. */
export function photoViews(sheet: Sheet, line: PlanLine, { photos }: Standing, groups: readonly QuestionGroup[], before: Standing | null): DecisionPhoto[] {
  const labels = photoLabels(line, photos);
  const place = (subject: string): number => line.photos.findIndex(({ id }) => id === subject);
  const ordered = [...photos].sort((a, b) => place(a.subject) - place(b.subject) || a.photo.seq - b.photo.seq);
  return ordered.map((view): DecisionPhoto => ({
    ...photoWords(view, sheet.project.zone),
    label: labels.get(view.photo.id) ?? view.subject,
    at: view.derived.instant ?? view.derived.hypotheses[0] ?? null,
    uncertaintyMs: (view.derived.uncertaintySeconds ?? 0) * 1_000,
    cameraAt: cameraInstant(view.derived, sheet.project.zone, MINUTE), // less lies on the photo itself
    windowFrom: view.window.from,
    windowTo: view.window.to,
    windowClosed: view.window.to !== view.photo.receivedAt,
    numbers: groups.filter(({ items }) => items.some(({ photo }) => photo === view.sha256)).map(({ number }) => number),
    again: before?.submission.photos.some(({ sha256 }) => sha256 === view.sha256) ?? false,
    judged: { sha256: view.sha256, subject: view.subject, order: view.order, flags: view.flags, elsewhere: view.elsewhere ?? false },
  }));
}

/** "Bar with tape 4", or the subject alone where one photo shows it; by photo id. */
function photoLabels(line: PlanLine, photos: readonly PhotoView[]): Map<string, string> {
  return new Map(
    groupBy(photos, ({ subject }) => subject).flatMap(([subject, same]) => {
      const name = line.photos.find(({ id }) => id === subject)?.name ?? subject;
      return same.map(({ photo }, index): [string, string] => [photo.id, same.length === 1 ? name : `${name} ${index + 1}`]);
    }),
  );
}

/** The questions of a submission, the same flag of one camera together. */
export function questionGroups(line: PlanLine, { questions, photos }: Standing, zone: string): QuestionGroup[] {
  const labels = photoLabels(line, photos);
  const viewOf = ({ photo }: Question): PhotoView | undefined => photos.find(({ sha256 }) => sha256 === photo);
  return groupBy(questions, (question) => JSON.stringify([question.code, cameraOf(viewOf(question))])).map(([, same], index): QuestionGroup => {
    const [first] = same;
    const words = new Set(same.map((question) => questionWords(line, question)));
    const subjects = new Set(same.map((question) => viewOf(question)?.subject));
    const [only = ""] = words;
    return {
      number: index + 1,
      code: first!.code,
      words: words.size === 1 ? only : only.slice(only.indexOf(": ") + 2),
      camera: subjects.has(undefined) ? "" : cameraOf(viewOf(first!)),
      items: same.map((question) => ({
        photo: question.photo,
        label: labels.get(viewOf(question)?.photo.id ?? "") ?? "",
        measured: onSite(question.measured, zone),
        limit: onSite(question.limit, zone),
      })),
    };
  });
}

/** Flags are raised without a zone, so their instants are written in UTC; the reader's clock is the site's. */
function onSite(text: string, zone: string): string {
  return text.replace(/\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d+)?Z/g, (utc) => formatWhen(Date.parse(utc), zone, { seconds: true })).replace(/-(\d{2}:\d{2})\b/g, "−$1");
}

function cameraOf(view: PhotoView | undefined): string {
  const { make, model, serial } = view?.photo.claims.camera ?? { make: null, model: null, serial: null };
  return [make, model, serial].filter(Boolean).join(" ") || "camera not named";
}
