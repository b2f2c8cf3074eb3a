import type { OrderFinding } from "#lib/domain/photo/order";
import { PHOTO_FLAGS, weightOf, type PhotoFlag } from "#lib/domain/photo/flag";

/** A photo as it is judged where it was sent. */
export interface JudgedPhoto {
  sha256: string;
  subject: string;
  order: OrderFinding;
  flags: readonly PhotoFlag[];
  /** The same file stands at another point too: it shows one thing only, so it counts for neither. */
  elsewhere?: boolean;
}

export interface Question {
  /** Null where the question is about the submission. */
  photo: string | null;
  code: string;
  title: string;
  measured: string;
  limit: string;
}

export interface GivenAnswer {
  photo: string | null;
  code: string;
  answer: "seen" | "explained" | "rejected";
}

/** Flag codes that come from where a photo stands in time, besides those of the photo itself. */
export const ORDER_CODES = {
  "too early": "ORDER_TOO_EARLY",
  "too late": "ORDER_TOO_LATE",
  "cannot tell": "ORDER_CANNOT_TELL",
  "clock in doubt": "ORDER_CLOCK_IN_DOUBT",
} as const;

/** Something about an instrument or a lot that the decider has to answer. */
export interface SupplyMark {
  /** The quantity that was read, or the use of the lot. */
  quantity: string;
  instrument: string;
  mark: string;
  limit?: string;
}

/** A code has forty characters, and the name of the quantity has to fit into them. */
const SHORT_MARKS: Readonly<Record<string, string>> = { "instrument not accurate enough": "not accurate enough", "instrument accuracy not known": "accuracy not known" };

/**
 * What the decider has to answer before a release: every flag that is a question, every photo that is not in order, and
 * every instrument mark. The answers are part of what is signed.
 */
export function questionsOf(photos: readonly JudgedPhoto[], marks: readonly SupplyMark[]): Question[] {
  const fromPhotos = photos.flatMap(({ sha256, subject, order, flags }): Question[] => {
    const code = order.verdict in ORDER_CODES ? ORDER_CODES[order.verdict as keyof typeof ORDER_CODES] : null;
    const own = code ? [{ photo: sha256, code, title: `${subject}: ${order.verdict}`, measured: order.words, limit: "in order" }] : [];
    const raised = flags
      .filter((flag) => weightOf(flag, order.verdict) === "question")
      .map((flag) => ({ photo: sha256, code: flag.code, title: `${subject}: ${PHOTO_FLAGS[flag.code].title}`, measured: flag.measured, limit: flag.limit }));
    return [...own, ...raised];
  });
  const fromMarks = marks.map(({ quantity, instrument, mark, limit }) => ({
    photo: null, code: shortCode(`${SHORT_MARKS[mark] ?? mark}: ${quantity}`), title: `${quantity}: ${mark}`, measured: instrument || "no instrument", limit: limit ?? "calibrated on the day of use, and in range",
  }));
  return [...fromPhotos, ...fromMarks.filter((one, index) => fromMarks.findIndex(({ code }) => code === one.code) === index)];
}

/** Two quantities often differ in the last word of their names only, so a long code keeps both ends. */
function shortCode(text: string): string {
  return text.length <= 40 ? text : `${text.slice(0, 31)}…${text.slice(-8)}`;
}

/** The questions without an answer. An answer to one photo's flag serves that photo only. */
export function unanswered(questions: readonly Question[], answers: readonly GivenAnswer[]): Question[] {
  return questions.filter(({ photo, code }) => !answers.some((one) => one.photo === photo && one.code === code));
}

/** Files of which the original is wanted at a hold point: what came back from an editor shows what somebody made of it. */
const NO_ORIGINAL: ReadonlySet<string> = new Set(["SOFTWARE_EDITED", "SYNTHETIC_DECLARED"]);

/**
 * Whether a photo counts to the minimum of its subject: it is in order, or where that cannot be told, or there is no
 * time at a point that is not a hold point, the decider has seen or explained it. None counts whose flag was rejected or
 * whose file stands at another point too; at a hold point none that an editor saved.
 */
export function photoCounts(photo: JudgedPhoto, answers: readonly GivenAnswer[], hold: boolean): boolean {
  const own = answers.filter((one) => one.photo === photo.sha256);
  if (photo.elsewhere || own.some(({ answer }) => answer === "rejected")) return false;
  if (hold && photo.flags.some(({ code }) => NO_ORIGINAL.has(code))) return false;
  if (photo.order.verdict === "in order") return true;
  const accepted = (code: string): boolean => own.some((one) => one.code === code);
  if (photo.order.verdict === "cannot tell") return accepted(ORDER_CODES["cannot tell"]);
  if (photo.order.verdict === "no time" && !hold) return accepted("TIME_MISSING") || accepted("NO_CAMERA_METADATA");
  return false;
}
