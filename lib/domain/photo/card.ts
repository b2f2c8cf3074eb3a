import { MINUTE, SECOND, type Instant } from "#lib/domain/instant";
import { many } from "#lib/domain/many";
import type { PlaceVerdict } from "#lib/domain/photo/verdict";

/** One photo of a camera card, as far as it is known what it says. */
export interface CardPhoto {
  readonly id: string;
  /** The pile whose tag was read out of it, by its id; null where none was. */
  readonly pile: string | null;
  /** Every instant at which it may have been taken, the first to show; none where it has no time. */
  readonly hypotheses: readonly Instant[];
  readonly uncertaintySeconds: number;
  /** The camera that took it; null where it names none. */
  readonly camera: string | null;
  readonly place: PlaceVerdict;
}

/** A point that takes photos now. */
export interface OpenPoint {
  readonly sheet: string;
  /** Mark of the pile; null for a point of the project. */
  readonly mark: string | null;
  readonly line: string;
  readonly name: string;
  readonly from: Instant | null;
  readonly to: Instant;
  /** The access check of a shift is open all day on every pile: it is never proposed, a person can choose it. */
  readonly gate: boolean;
  /** What it asks photos of, in the order of its list, and how many of each are there already. */
  readonly subjects: readonly { readonly id: string; readonly name: string; readonly count: number; readonly have: number }[];
}

export const CERTAINTIES = ["tag and time agree", "time only, one point fits", "pile sure, point not", "cannot tell", "for no point"] as const;
export type Certainty = (typeof CERTAINTIES)[number];

/** What speaks for a proposal or against it, with the mark it is drawn with. */
export interface CardReason {
  readonly mark: "tag" | "order" | "place" | "count" | "tell";
  readonly words: string;
}

export interface CardGroup {
  /** In the order they were taken. */
  readonly photos: readonly CardPhoto[];
  /** Where they go; null where a person has to say it. */
  readonly proposal: OpenPoint | null;
  /** Every point that fits. */
  readonly candidates: readonly OpenPoint[];
  readonly certainty: Certainty;
  readonly reasons: readonly CardReason[];
}

/** A pause of more than this between two photos begins a new group. Common practice, no source. */
const PAUSE = 12 * MINUTE;

/**
 * Puts the photos of a card into groups, and each group to the point it can belong to. Photos of one camera that follow each
 * other closely belong together until a tag names another pile. A point fits when the window of every photo of the group holds
 * all its readings with their uncertainty: a photo outside every window is proposed nowhere, and where a tag was read no other
 * pile is. Where several points fit, a person decides.
 *
 * @param markOf Mark of a pile by its id; null for no pile of the project.
 * @returns Groups by time; those without a time last.
 */
export function proposeCard(photos: readonly CardPhoto[], open: readonly OpenPoint[], markOf: (pile: string) => string | null): CardGroup[] {
  return groupsOf(photos).map((group) => propose(group, open, markOf));
}

function groupsOf(photos: readonly CardPhoto[]): CardPhoto[][] {
  const timeOf = (photo: CardPhoto): Instant => photo.hypotheses[0] ?? Number.POSITIVE_INFINITY;
  const order = (a: string | null, b: string | null): number => ((a ?? "") < (b ?? "") ? -1 : (a ?? "") > (b ?? "") ? 1 : 0);
  const sorted = [...photos].sort((a, b) => order(a.camera, b.camera) || timeOf(a) - timeOf(b) || order(a.id, b.id));
  const groups: { members: CardPhoto[]; pile: string | null }[] = [];
  for (const photo of sorted) {
    const last = groups.at(-1);
    const before = last?.members.at(-1);
    const follows = before !== undefined && before.camera === photo.camera && (timeOf(photo) === timeOf(before) || timeOf(photo) - timeOf(before) <= PAUSE);
    const otherPile = last?.pile != null && photo.pile !== null && last.pile !== photo.pile;
    if (last && follows && !otherPile) {
      last.members.push(photo);
      last.pile ??= photo.pile;
    } else groups.push({ members: [photo], pile: photo.pile });
  }
  return groups.map(({ members }) => members).sort((a, b) => timeOf(a[0]!) - timeOf(b[0]!) || order(a[0]!.id, b[0]!.id));
}

function propose(photos: readonly CardPhoto[], open: readonly OpenPoint[], markOf: (pile: string) => string | null): CardGroup {
  const tagged = photos.filter(({ pile }) => pile !== null);
  const pile = tagged[0]?.pile ?? null;
  const candidates = open.filter((point) => !point.gate && (pile === null || point.sheet === pile) && photos.every((photo) => fits(photo, point)));
  const certainty = certaintyOf(photos, pile, candidates, markOf);
  const proposal = certainty === "tag and time agree" || certainty === "time only, one point fits" ? (candidates[0] ?? null) : null;
  return { photos, proposal, candidates, certainty, reasons: reasonsOf(photos, { pile, tagged: tagged.length, candidates, proposal }, markOf) };
}

/** Whether a photo can only have been taken in the window of a point, whichever reading of its time is right. */
function fits({ hypotheses, uncertaintySeconds }: CardPhoto, { from, to }: OpenPoint): boolean {
  const u = uncertaintySeconds * SECOND;
  return hypotheses.length > 0 && hypotheses.every((at) => (from === null || at - u >= from) && at + u <= to);
}

function certaintyOf(photos: readonly CardPhoto[], pile: string | null, candidates: readonly OpenPoint[], markOf: (pile: string) => string | null): Certainty {
  if (pile !== null && markOf(pile) === null) return "for no point";
  if (candidates.length === 0) return photos.some(({ hypotheses }) => hypotheses.length !== 1) ? "cannot tell" : "for no point";
  if (pile !== null) return candidates.length === 1 ? "tag and time agree" : "pile sure, point not";
  // Without a tag, a time that rests on a guess of the zone says too little.
  return candidates.length === 1 ? "time only, one point fits" : "cannot tell";
}

interface Found {
  readonly pile: string | null;
  readonly tagged: number;
  readonly candidates: readonly OpenPoint[];
  readonly proposal: OpenPoint | null;
}

function reasonsOf(photos: readonly CardPhoto[], { pile, tagged, candidates, proposal }: Found, markOf: (pile: string) => string | null): CardReason[] {
  const reasons: CardReason[] = [];
  const of = `in ${tagged} of ${photos.length}`;
  const mark = pile === null ? null : markOf(pile);
  if (pile === null) reasons.push({ mark: "tell", words: `no tag read in ${many(photos.length, "photo")}` });
  else reasons.push(mark === null ? { mark: "tell", words: `tag of another project read ${of}` } : { mark: "tag", words: `tag ${mark} read ${of}` });

  const undated = photos.filter(({ hypotheses }) => hypotheses.length === 0).length;
  const doubtful = photos.filter(({ hypotheses }) => hypotheses.length > 1).length;
  if (undated > 0) reasons.push({ mark: "tell", words: `${undated} without a usable time` });
  if (doubtful > 0) reasons.push({ mark: "tell", words: `${doubtful} with more than one possible time: confirm the camera’s clock` });
  if (candidates.length === 1) reasons.push({ mark: "order", words: pile === null ? `inside the window of ${pointWords(candidates[0]!)}, and of no other` : `inside the open window of ${candidates[0]!.line}` });
  if (candidates.length > 1) reasons.push({ mark: "tell", words: `${candidates.slice(0, 3).map(pointWords).join(", ")}${candidates.length > 3 ? ` and ${candidates.length - 3} more` : ""} open then` });
  if (candidates.length === 0 && undated === 0) reasons.push({ mark: "tell", words: mark === null ? "no point that takes photos was open then" : `no point of ${mark} that takes photos was open then` });

  const away = photos.filter(({ place }) => place === "elsewhere").length;
  if (away > 0) reasons.push({ mark: "place", words: `${away} taken away from the site` });
  if (proposal !== null) {
    const wanted = proposal.subjects.reduce((sum, { count, have }) => sum + Math.max(0, count - have), 0);
    reasons.push({ mark: "count", words: `${wanted} photos asked still, ${photos.length} here` });
  }
  return reasons;
}

function pointWords({ mark, line }: OpenPoint): string {
  return mark === null ? line : `${mark}, ${line}`;
}

/**
 * Which subject of a point each photo is put to, in the order of its list: each takes what it still asks for, the rest go to the
 * last one. A person can say otherwise for each.
 *
 * @returns Subject id by photo id; empty for a point that asks for no photos.
 */
export function proposeSubjects(photos: readonly { readonly id: string }[], { subjects }: OpenPoint): ReadonlyMap<string, string> {
  const places = subjects.flatMap(({ id, count, have }) => Array.from({ length: Math.max(0, count - have) }, () => id));
  const rest = subjects.at(-1)?.id;
  return new Map(photos.flatMap(({ id }, position): [string, string][] => {
    const subject = places[position] ?? rest;
    return subject === undefined ? [] : [[id, subject]];
  }));
}
