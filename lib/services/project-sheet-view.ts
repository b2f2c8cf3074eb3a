import type { Member } from "#lib/domain/access/member";
import { formatWhen, siteTime } from "#lib/domain/clock/site-time";
import type { PointKind, PointState } from "#lib/domain/point/state";
import type { Tx } from "#lib/db/client";
import { listMembers, listRevisions } from "#lib/db/project";
import type { StampView } from "#lib/services/decision-history";
import { decisionView, type DecisionView } from "#lib/services/decision-view";
import type { Sheet } from "#lib/services/sheet";
import { dayWords } from "#lib/services/words";

export interface ProjectPoint {
  line: string;
  kind: PointKind;
  name: string;
  state: PointState;
  /** The fact that matters. */
  fact: string;
  /** Who let it stand, or who has to. */
  by: string;
  /** Null for a point of its own; otherwise the register that it is judged from. */
  register: "instruments" | "lots" | null;
}

export interface ProjectSheetView {
  points: ProjectPoint[];
  /** Points with values of their own, for their tables and stamps. */
  sent: { line: string; name: string; values: DecisionView["values"]; documents: { id: string; title: string }[]; stamps: StampView[] }[];
  revisions: { letter: string; title: string; appliesFrom: string; approvedBy: string; digest: string }[];
  facts: { label: string; value: string }[];
}

/** What has to stand before any pile begins, and what the project itself says. */
export async function projectSheetView(tx: Tx, sheet: Sheet, member: Member): Promise<ProjectSheetView> {
  const { project, lines } = sheet;
  const [members, revisions] = await Promise.all([listMembers(tx, project.id), listRevisions(tx, project.id)]);
  const views = new Map<string, DecisionView>();
  for (const line of lines) if (!line.register) views.set(line.line, await decisionView(tx, sheet, line.line, member));
  return {
    points: lines.map((line): ProjectPoint => {
      const view = views.get(line.line);
      const state = sheet.folded.get(line.line)?.state ?? "not open";
      const common = { line: line.line, kind: line.kind, name: line.name, state, register: line.register };
      if (line.register === "instruments") return { ...common, fact: instrumentFact(sheet), by: "continuous, by register" };
      if (line.register === "lots") return { ...common, fact: lotFact(sheet), by: "continuous, by register" };
      return { ...common, fact: valueFact(view), by: decidedFact(view, line.release.roles.join(line.release.all ? " and " : " or ")) };
    }),
    sent: [...views.values()].filter(({ submission }) => submission !== null).map(({ line, name, values, submission, history }) => ({
      line, name, values, documents: submission?.documents ?? [], stamps: history.at(-1)?.submissions.at(-1)?.stamps ?? [],
    })),
    revisions: revisions.map(({ letter, revision, appliesFrom, approvedBy, digest }) => ({
      letter,
      title: revision.title,
      appliesFrom: formatWhen(appliesFrom, project.zone),
      approvedBy: members.find(({ personId }) => personId === approvedBy)?.name ?? approvedBy,
      digest,
    })),
    facts: [
      { label: "place", value: project.place },
      { label: "site", value: `within ${project.site.radiusM} m of ${degrees(project.site.latitude, "N", "S")} ${degrees(project.site.longitude, "E", "W")}` },
      { label: "time zone", value: project.zone },
      { label: "shift", value: `from ${project.shift.startsAt}, ${project.shift.hours} h` },
      { label: "work from", value: dayWords(project.startsOn) },
    ],
  };
}

function degrees(value: number, positive: string, negative: string): string {
  return `${Math.abs(value).toFixed(4)}° ${value < 0 ? negative : positive}`;
}

function instrumentFact({ instruments, at, project }: Sheet): string {
  const today = siteTime(at, project.zone).date;
  const good = instruments.filter(({ calibrations }) => calibrations.some(({ from, dueOn }) => from <= today && today <= dueOn)).length;
  return `${instruments.length} registered, ${good} calibrated${good < instruments.length ? `, ${instruments.length - good} overdue` : ""}`;
}

function lotFact({ lots, at, project }: Sheet): string {
  const today = siteTime(at, project.zone).date;
  const expired = lots.filter(({ expiresOn }) => expiresOn !== null && expiresOn < today).length;
  const certified = lots.filter(({ certificate }) => certificate !== "").length;
  return `${lots.length} received, ${certified} with certificate${expired > 0 ? `, ${expired} expired` : ""}`;
}

function valueFact(view: DecisionView | undefined): string {
  if (!view?.submission) return "nothing sent yet";
  const meets = view.values.filter(({ verdict }) => verdict === "meets").length;
  return `${meets} of ${view.values.length} meet, attempt ${view.attempt}`;
}

function decidedFact(view: DecisionView | undefined, roles: string): string {
  const stamps = view?.history.at(-1)?.submissions.at(-1)?.stamps ?? [];
  const last = stamps.findLast(({ kind }) => kind === "released" || kind === "rejected" || kind === "reopened");
  if (!last) return `decided by ${roles}`;
  return `${last.kind} by ${[...new Set(stamps.filter(({ kind }) => kind === last.kind).map(({ who }) => who))].join(" and ")}`;
}
