import type { Member } from "#lib/domain/access/member";
import { releasedEntries } from "#lib/domain/point/gate";
import { mayNotDecide, needsCheck } from "#lib/domain/point/may";
import type { OutsidePoint, PointStatus } from "#lib/domain/point/fold";
import { photoCounts, unanswered, type GivenAnswer, type JudgedPhoto, type Question } from "#lib/domain/point/question";
import type { PointState } from "#lib/domain/point/state";
import { upstream, type PlanLine } from "#lib/domain/plan/plan";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";

/** Why a point may not be released now, in the order a person would mend it. */
export type ReleaseBlock =
  | { kind: "nothing submitted" }
  | { kind: "person"; words: string }
  | { kind: "not checked" }
  | { kind: "upstream"; line: string; state: PointState }
  | { kind: "value"; verdict: ValueVerdict }
  | { kind: "photos"; subject: string; counted: number; needed: number }
  | { kind: "questions"; open: Question[] };

export interface ReleaseFacts {
  line: PlanLine;
  lines: readonly PlanLine[];
  status: PointStatus;
  folded: ReadonlyMap<string, PointStatus>;
  outside: readonly OutsidePoint[];
  /** The least favourable verdict of the values as judged now. */
  worst: ValueVerdict | null;
  photos: readonly JudgedPhoto[];
  questions: readonly Question[];
  answers: readonly GivenAnswer[];
}

const CURRENT: ReadonlySet<PointState> = new Set(["released", "not applicable", "notice lapsed", "released under concession"]);

/**
 * Lists what still blocks a release. An empty list means it may be released.
 *
 * A hold point needs every point upstream decided and current; any point needs the ones it stands on directly. Values
 * have to be judged and not fail, save where the plan line names who decides a failing value and that person decides.
 * A photo counts once by its digest, under the first subject it was sent with.
 *
 * Two things upstream are judged on the day of the work and not at the release: the registers of instruments and lots,
 * and the shift's access check, whose lapse reopens nothing.
 */
export function releaseBlocks(facts: ReleaseFacts, member: Member): ReleaseBlock[] {
  const { line, status, answers } = facts;
  if (!status.standing.trail) return [{ kind: "nothing submitted" }];
  const person = mayNotDecide(line, status.standing, member, facts.worst);
  const open = unanswered(facts.questions, answers);
  return [
    ...(person ? [{ kind: "person", words: person } as const] : []),
    ...(needsCheck(line, status.standing) && !status.standing.checked ? [{ kind: "not checked" } as const] : []),
    ...upstreamBlocks(facts),
    ...valueBlocks(facts, member),
    ...photoBlocks(facts),
    ...(open.length > 0 ? [{ kind: "questions", open } as const] : []),
  ];
}

function upstreamBlocks({ line, lines, folded, outside, status }: ReleaseFacts): ReleaseBlock[] {
  const direct = new Set(status.blocks.filter(({ code }) => code === "predecessor").map((block) => block.line));
  const expired = status.blocks.filter(({ code }) => code === "expired").map((block): ReleaseBlock => ({ kind: "upstream", line: block.line, state: "expired" }));
  const before = line.kind === "H" ? upstream(lines, line) : upstream(lines, line).filter((id) => direct.has(id));
  const undecided = before.flatMap((id): ReleaseBlock[] => {
    if (outside.find((one) => one.line === id)?.register || gateWasPassed(lines, folded, id)) return [];
    const state = folded.get(id)?.state ?? outside.find((one) => one.line === id)?.state ?? "not open";
    // An expired point blocks only the second point of its wait, which shows as a block of its own.
    return CURRENT.has(state) || state === "expired" ? [] : [{ kind: "upstream", line: id, state }];
  });
  return [...undecided, ...expired];
}

function gateWasPassed(lines: readonly PlanLine[], folded: ReadonlyMap<string, PointStatus>, id: string): boolean {
  const status = folded.get(id);
  const isGate = lines.some(({ line, gate }) => line === id && gate === "is the gate");
  return isGate && status !== undefined && status.state !== "in doubt" && releasedEntries(status.standing).length > 0;
}

function valueBlocks({ line, worst }: ReleaseFacts, member: Member): ReleaseBlock[] {
  if (worst === null || worst === "meets" || worst === "meets, inside uncertainty") return [];
  const empowered = worst === "fails" && line.release.whenFails.some((role) => member.roles.includes(role));
  return empowered ? [] : [{ kind: "value", verdict: worst }];
}

function photoBlocks({ line, photos, answers }: ReleaseFacts): ReleaseBlock[] {
  const distinct = photos.filter((photo, index) => photos.findIndex(({ sha256 }) => sha256 === photo.sha256) === index);
  return line.photos.flatMap(({ id, name, count }): ReleaseBlock[] => {
    const counted = distinct.filter((photo) => photo.subject === id && photoCounts(photo, answers, line.kind === "H")).length;
    return counted < count ? [{ kind: "photos", subject: name, counted, needed: count }] : [];
  });
}

/** A block as a sentence that says what to do next. */
export function releaseBlockWords(block: ReleaseBlock): string {
  switch (block.kind) {
    case "nothing submitted":
      return "Nothing stands submitted at this point.";
    case "person":
      return block.words;
    case "not checked":
      return "The QC manager has not checked it yet.";
    case "upstream":
      return `Point ${block.line} is ${block.state}. It has to be decided first.`;
    case "value":
      return block.verdict === "fails" ? "A value fails. Reject it, or leave it to whom the plan names." : `A value is ${block.verdict}. Reject it and say what is missing.`;
    case "photos":
      return `${block.subject}: ${block.counted} of ${block.needed} photos count.`;
    case "questions":
      return block.open.length === 1 ? "1 flag is not answered." : `${block.open.length} flags are not answered.`;
  }
}
