import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import { cautionsAt } from "#lib/domain/plan/caution";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { PointStatus } from "#lib/domain/point/fold";
import { REASON_CODES, type SeenAs } from "#lib/domain/point/history";
import { submittingRole } from "#lib/domain/point/may";
import type { PointKind, PointState } from "#lib/domain/point/state";
import type { Tx } from "#lib/db/client";
import { listMembers } from "#lib/db/project";
import { clockView, whenNear, type ClockView } from "#lib/services/clock-view";
import { blocksInWords } from "#lib/services/pile-view";
import { clockOf, getLine, revisionOf, type Sheet } from "#lib/services/sheet";

/** Which side of a point a member sees. */
export type PointFace = "entry" | "received" | "decision" | "planned";

/**
 * Chooses by role and state. Who writes sees the entry while something may be sent and afterwards what was received; who
 * decides sees the decision as soon as anything was sent; everybody else, and everybody before that, the plan.
 */
export function pointFace(sheet: Sheet, lineId: string, member: Member): PointFace {
  const { line, status } = getLine(sheet, lineId);
  const writes = can(member, "write draft", sheet.project.id) && (submittingRole(line, member) !== null || member.roles.includes("crew member"));
  const trails = status.standing.attempts.flatMap(({ submissions }) => submissions);
  const ownHands = status.standing.trail?.submission.by === member.personId;
  if (writes && status.maySend) return "entry";
  if (trails.length === 0) return "planned";
  const decides = can(member, "decide point", sheet.project.id) || can(member, "check submission", sheet.project.id);
  return writes && (ownHands || !decides) ? "received" : "decision";
}

export interface StampView {
  kind: "released" | "rejected" | "reopened" | "checked" | "sent back";
  lines: string[];
  attested: boolean;
}

export interface PointHeadView {
  sheet: string;
  mark: string | null;
  line: string;
  kind: PointKind;
  name: string;
  state: PointState;
  attempt: number;
  blocks: string[];
  cautions: readonly string[];
  /** Who sends and who releases, in words. */
  hands: string;
  /** The revision that the point stands under, where that is not the pile's own. */
  otherRevision: string | null;
  stamps: StampView[];
  clock: ClockView | null;
  waits: string[];
}

function whoSends({ submits, release, register }: PlanLine): string {
  if (register) return `Judged from the register of ${register}; nothing is sent here.`;
  const releases = release.automatic ? "released by the system when every value meets" : `released by ${release.roles.join(release.all ? " and " : " or ")}`;
  return `Sent by ${submits.join(" or ")}, ${releases}.`;
}

const SEEN_WORDS: Record<SeenAs, string> = { "in person": "seen in person", delegate: "seen by delegate", "evidence only": "on evidence only", "not attended": "not attended" };

/** What every face of a point shows on top. */
export async function pointHead(tx: Tx, sheet: Sheet, lineId: string): Promise<PointHeadView> {
  const { line, status } = getLine(sheet, lineId);
  const members = await listMembers(tx, sheet.project.id);
  const nameOf = (id: string | null) => (id === null ? "the system" : (members.find(({ personId }) => personId === id)?.name ?? id));
  const { zone } = sheet.project;
  const waits = [...sheet.folded.values()].flatMap(({ runningWaits }) => runningWaits).filter(({ at, wait }) => at === lineId && wait.kind === "at most");
  return {
    sheet: sheet.id, mark: sheet.pile?.mark ?? null, line: line.line, kind: line.kind, name: line.name, state: status.state, attempt: status.attempt,
    blocks: blocksInWords(sheet, status),
    cautions: cautionsAt(line.line),
    hands: whoSends(line),
    otherRevision: revisionOf(sheet, lineId).letter === sheet.revision.letter ? null : revisionOf(sheet, lineId).letter,
    stamps: stampsOf(sheet, lineId, status, nameOf),
    clock: clockView(sheet, line),
    waits: waits.map(({ wait, until, over }) => `${wait.name}, at most ${wait.hours} h${wait.override ? ` (this pile only: ${wait.override.drawing}, type: ${wait.override.was} h)` : ""}: ${over ? "ran out" : "until"} ${whenNear(until, zone, sheet.at)}`),
  };
}

/** The last word on the point: its releases that count, its refusal, or the QC manager's check. */
function stampsOf(sheet: Sheet, lineId: string, { standing }: PointStatus, nameOf: (id: string | null) => string): StampView[] {
  const { zone } = sheet.project;
  const when = (at: Instant) => formatWhen(at, zone);
  const reasons = (codes: readonly (keyof typeof REASON_CODES)[], words: string) => [`${codes.map((code) => `${code}, ${REASON_CODES[code]}`).join("; ")}${words ? `: ${words}` : ""}`];
  const checks = sheet.history.checks.filter((one) => one.line === lineId);
  if (standing.sentBack) {
    const back = checks.findLast(({ outcome, submissionId }) => outcome === "sent back" && submissionId === standing.sentBack?.submissionId);
    return back ? [{ kind: "sent back", attested: false, lines: [...reasons(back.codes, back.words), nameOf(back.by), when(back.at)] }] : [];
  }
  const about = standing.trail?.submission.submissionId ?? standing.refusal?.submissionId;
  const checked = standing.trail ? checks.filter(({ outcome, submissionId }) => outcome === "checked" && submissionId === about) : [];
  const decided = sheet.history.decisions.filter((one) => one.line === lineId && one.submissionId === about);
  return [
    ...checked.map((one): StampView => ({ kind: "checked", attested: false, lines: [nameOf(one.by), when(one.at), ...(one.words ? [one.words] : [])] })),
    ...decided.slice(standing.trail ? 0 : -1).map((one): StampView => ({
      kind: one.outcome === "release" ? "released" : one.outcome === "reject" ? "rejected" : "reopened",
      attested: one.attestation === "server-attested",
      lines: [
        ...(one.outcome === "release" ? [] : reasons(one.codes, one.words)),
        one.by === null ? "by the system, every value meets" : `${nameOf(one.by)}, ${one.organisation}`,
        when(Date.parse(one.decidedAt)),
        ...(one.by === null ? [] : [SEEN_WORDS[one.seenAs]]),
        ...(one.outcome === "release" && one.words && one.by !== null ? [one.words] : []),
      ],
    })),
  ];
}

/** Whether a clock still holds back what may be sent at a point. */
export function clockHolds(sheet: Sheet, line: PlanLine): boolean {
  const clock = clockOf(sheet, line);
  return clock !== null && clock.state !== "done";
}
