import { can } from "#lib/domain/access/can";
import type { Member } from "#lib/domain/access/member";
import { formatWhen } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { PointStatus, RunningWait } from "#lib/domain/point/fold";
import { gateStands } from "#lib/domain/point/gate";
import { pileState } from "#lib/domain/point/pile-state";
import { submittingRole } from "#lib/domain/point/may";
import type { PileState, PointKind, PointState } from "#lib/domain/point/state";
import { jacketOf, overridesAt, type PlanLine } from "#lib/domain/plan/plan";
import { fromSi, type Unit } from "#lib/domain/quantity/unit";
import type { RequirementSet } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { listTideTables } from "#lib/db/clock";
import { draftedLines } from "#lib/db/draft";
import { listAcceptances, type Acceptance } from "#lib/db/pile";
import { listMembers } from "#lib/db/project";
import { clockView, whenNear, type ClockView } from "#lib/services/clock-view";
import { nextActionsView, type NextActionsView } from "#lib/services/next-action-view";
import { overrideChoices, overrideRows, type OverrideChoices, type OverrideView } from "#lib/services/pile-override";
import { doubtWords } from "#lib/services/round-view";
import { sequenceView, type SequenceView } from "#lib/services/sequence-view";
import { revisionOf, type Sheet } from "#lib/services/sheet";
import { blockWords } from "#lib/services/submit-point";
import { tideTableAt } from "#lib/services/tide-view";

export interface PointRowView {
  line: string;
  kind: PointKind;
  name: string;
  state: PointState;
  /** The fact that matters, under the name. */
  second: string;
  /** Work may begin here and this person may do it. */
  workable: boolean;
}

export interface WaitView {
  line: string;
  words: string;
  over: boolean;
}

export interface PileView {
  id: string;
  mark: string;
  typeName: string;
  state: PileState;
  stateWords: string;
  place: string;
  elevation: {
    core: RequirementSet["core"];
    mark: string;
    topFt: number | null;
    bottomFt: number | null;
    heightIn: number;
    insideDiameterIn: number;
    coreWidthIn: number;
    spacerRings: number;
    tieSets: number;
    clampCount: number;
    lifts: { heightIn: number; state: PointState }[];
    waterFt?: number;
    stage: { cleaned: boolean; bars: boolean; clamps: boolean; spacers: boolean; jacket: boolean; grouted: boolean; stripped: boolean };
  };
  points: PointRowView[];
  /** Where the pile stands now: what is open, under way or in the way, then what comes after it. */
  next: PointRowView[];
  clocks: ClockView[];
  waits: WaitView[];
  /** When the next work can be done, and what cannot be met any more. */
  nextActions: NextActionsView;
  overrides: OverrideView[];
  /** What this person may change by a drawing, and what may be taken back; null where they may not. */
  mayOverride: OverrideChoices | null;
  sequence: SequenceView | null;
  acceptance: {
    /** This person may accept the pile now. */
    open: boolean;
    stamps: { by: string; organisation: string; when: string; words: string }[];
  };
}

/** One pile's sheet for one member, as plain data ready to be drawn. */
export async function pileView(tx: Tx, sheet: Sheet, member: Member): Promise<PileView> {
  const { pile, set, project } = sheet;
  if (!pile || !set) throw new RangeError("The project sheet is not a pile's.");
  const [drafts, acceptances, members, sequence] = await Promise.all([
    draftedLines(tx, sheet.id), listAcceptances(tx, project.id, pile.id), listMembers(tx, project.id), sequenceView(tx, sheet),
  ]);
  const tides = await listTideTables(tx, project.id);
  const clocks = new Map(sheet.lines.flatMap((line): [string, ClockView][] => {
    const clock = sheet.folded.get(line.line)?.standing.released ? null : clockView(sheet, line);
    return clock ? [[line.line, clock]] : [];
  }));
  const points = sheet.lines.map((line) => rowOf(sheet, line, member, drafts, clocks.get(line.line)));
  const state = pileState([...sheet.folded.values()], acceptances.at(-1)?.seq ?? 0);
  const applicable = points.filter((point) => point.state !== "not applicable");
  const released = applicable.filter((point) => point.state === "released").length;
  return {
    id: pile.id,
    mark: pile.mark,
    typeName: set.name,
    state,
    stateWords: state === "in work" ? `in work, ${released} of ${applicable.length} released` : state,
    place: `bent ${pile.bent}, row ${pile.row}`,
    elevation: elevationOf(sheet, set),
    points,
    next: nextOf(points),
    clocks: [...clocks.values()],
    waits: waitsOf(sheet),
    nextActions: nextActionsView(sheet, tideTableAt(tides, sheet.at)),
    overrides: overrideRows(sheet),
    mayOverride: can(member, "change requirement", project.id) && pile.scope === "in" ? overrideChoices(sheet, pile) : null,
    sequence,
    acceptance: {
      open: can(member, "accept pile", project.id) && state !== "accepted" && applicable.every((point) => point.state === "released"),
      stamps: acceptances.map((one) => stampOf(one, members, project.zone)),
    },
  };
}

function stampOf({ by, organisation, acceptedAt, words }: Acceptance, members: readonly { personId: string; name: string }[], zone: string) {
  return { by: members.find(({ personId }) => personId === by)?.name ?? by, organisation, when: formatWhen(Date.parse(acceptedAt), zone), words };
}

function rowOf(sheet: Sheet, line: PlanLine, member: Member, drafts: ReadonlySet<string>, clock: ClockView | undefined): PointRowView {
  const status = sheet.folded.get(line.line) as PointStatus;
  const drafted = status.mayBegin && status.state === "open" && drafts.has(line.line);
  const waiting = clock !== undefined && clock.progress < clock.required;
  return {
    line: line.line,
    kind: line.kind,
    name: line.name,
    state: drafted ? "draft" : status.state,
    second: withRevision(secondOf(sheet, line, status, clock), sheet, line),
    workable: status.mayBegin && !waiting && (submittingRole(line, member) !== null || member.roles.includes("crew member")) && !(line.gate === "is the gate" && gateNow(sheet)),
  };
}

/** Says the revision that a point stands under, where that is not the pile's own and is not said already. */
function withRevision(words: string, sheet: Sheet, { line, notApplicable }: PlanLine): string {
  const named = `revision ${revisionOf(sheet, line).letter}`;
  const own = revisionOf(sheet, line).letter === sheet.revision.letter;
  return own || notApplicable || words.includes(named) ? words : [words, named].filter(Boolean).join(", ");
}

function gateNow({ lines, folded, at, project }: Sheet): boolean {
  const gate = lines.find((line) => line.gate === "is the gate");
  const status = gate && folded.get(gate.line);
  return status !== undefined && gateStands(status.standing, at, project.zone, project.shift);
}

function secondOf(sheet: Sheet, line: PlanLine, status: PointStatus, clock: ClockView | undefined): string {
  const { zone } = sheet.project;
  const near = (instant: Instant) => whenNear(instant, zone, sheet.at);
  const { trail, release } = status.standing;
  switch (status.state) {
    case "not applicable":
      return line.notApplicable ?? "";
    case "released":
      return line.gate === "is the gate" && !gateNow(sheet) ? "enter it again for this shift" : `released ${release ? near(release.at) : ""}`.trim();
    case "submitted":
    case "QC checked":
      return `sent ${trail ? near(trail.submission.at) : ""}, waits for ${status.state === "submitted" && !line.release.roles.includes("QC manager") ? "the QC manager" : line.release.roles.join(line.release.all ? " and " : " or ")}`;
    case "rejected":
      return status.blocks.length > 0 ? blocksShort(status) : `attempt ${status.attempt} may begin`;
    case "in doubt":
      return doubtWords(sheet, line);
    case "expired":
      return `${status.runningWaits.find(({ over }) => over)?.wait.name ?? "maximum wait"} has run out: re-check`;
    case "open":
      if (clock && clock.progress < clock.required) return clock.paused ? "the clock stands still" : `${clock.headline}, the clock runs`;
      return deadlineWords(sheet, line) ?? (status.attempt > 1 ? `attempt ${status.attempt} may begin` : "work may begin");
    default:
      return status.blocks.length > 0 ? blocksShort(status) : "";
  }
}

function deadlineWords(sheet: Sheet, { line }: PlanLine): string | null {
  const running = [...sheet.folded.values()].flatMap(({ runningWaits }) => runningWaits).find(({ at, over }) => at === line && !over);
  return running ? `${running.wait.name}: until ${whenNear(running.until, sheet.project.zone, sheet.at)}` : null;
}

/** Why it is not open, in few words: "after 22, 23". The whole sentences stand at the point. */
function blocksShort({ blocks }: PointStatus): string {
  const after = blocks.filter(({ code }) => code === "predecessor").map(({ line }) => line);
  const expired = blocks.find(({ code }) => code === "expired");
  if (expired) return `point ${expired.line} has expired`;
  return after.length > 0 ? `after ${after.join(", ")}` : "too soon";
}

const SETTLED: readonly PointState[] = ["released", "not applicable"];

function nextOf(points: readonly PointRowView[]): PointRowView[] {
  const first = points.findIndex(({ state }) => !SETTLED.includes(state));
  if (first === -1) return [];
  const live = points.filter(({ state, workable }) => workable || (!SETTLED.includes(state) && state !== "not open"));
  const after = points.filter(({ state }) => state === "not open");
  return [...live, ...after.slice(0, Math.max(0, 3 - live.length))].slice(0, Math.max(3, live.length));
}

function waitsOf(sheet: Sheet): WaitView[] {
  const all = [...sheet.folded.values()].flatMap(({ line, runningWaits }) => runningWaits.map((wait) => ({ line, wait })));
  return all.map(({ line, wait }) => ({ line, over: wait.over, words: waitWords(wait, sheet) }));
}

function waitWords({ wait, at, until, over }: RunningWait, sheet: Sheet): string {
  const when = whenNear(until, sheet.project.zone, sheet.at);
  const act = wait.until === "released" ? "be released" : "begin";
  return over ? `Point ${at} had to ${act} by ${when} (${wait.name}, ${wait.hours} h). Re-check point ${wait.from}.` : `Point ${at} has to ${act} by ${when} (${wait.name}, ${wait.hours} h).`;
}

// ---- the elevation --------------------------------------------------------------------------------------------------

function elevationOf(sheet: Sheet, set: RequirementSet): PileView["elevation"] {
  const jacket = jacketOf(set, overridesAt(sheet.pile?.overrides ?? [], null));
  const sent = (line: string): boolean => Boolean(sheet.folded.get(line)?.standing.trail);
  const water = measured(sheet, "1", "water", "ft")[0];
  return {
    core: set.core,
    mark: sheet.pile?.mark ?? "",
    coreWidthIn: Number(set.coreWidthIn),
    topFt: measured(sheet, "2", "top", "ft")[0] ?? null,
    bottomFt: measured(sheet, "2", "bottom", "ft")[0] ?? null,
    heightIn: Number(jacket.heightIn),
    insideDiameterIn: Number(jacket.insideDiameterIn),
    spacerRings: jacket.spacerRings,
    tieSets: jacket.tieSets,
    clampCount: jacket.clamps,
    lifts: ["19", "20"].flatMap((line) => measured(sheet, line, "height", "in").map((heightIn) => ({ heightIn, state: sheet.folded.get(line)?.state ?? "not open" }))),
    ...(water === undefined ? {} : { waterFt: water }),
    stage: { cleaned: sent("3"), bars: sent("7"), clamps: sent("8"), spacers: sent("10"), jacket: sent("15"), grouted: sent("21"), stripped: sent("23") },
  };
}

/** The values of a quantity in what stands submitted, in a unit, to a hundredth. */
function measured(sheet: Sheet, line: string, quantity: string, unit: Unit): number[] {
  const id = sheet.folded.get(line)?.standing.trail?.submission.submissionId;
  const entries = id === undefined ? [] : (sheet.history.submissions.get(id)?.entries ?? []);
  return entries.flatMap((entry) => (entry.kind === "measured" && entry.quantity === quantity ? [fromSi(entry.measured.si, unit).toDecimalPlaces(2).toNumber()] : []));
}

/** Why a point is not open, each as a sentence. */
export function blocksInWords(sheet: Sheet, { blocks }: PointStatus): string[] {
  return blocks.map((block) => blockWords(block, sheet.project.zone));
}
