import { HOUR, MINUTE, type Instant } from "#lib/domain/instant";
import type { Member } from "#lib/domain/access/member";
import { standing } from "#lib/domain/point/attempt";
import { foldSheet, type OutsidePoint, type PointStatus, type SheetFacts } from "#lib/domain/point/fold";
import type { Outcome, PointEvent, Submitted } from "#lib/domain/point/history";
import { buildPlan, requirementSet, type PlanLine } from "#lib/domain/plan/plan";
import type { ValueVerdict } from "#lib/domain/quantity/verdict";
import type { Role } from "#lib/domain/requirement/set";
import { writeRevision } from "#seed/specification";

const REVISION = writeRevision("B");
export const T0: Instant = Date.parse("2026-10-20T10:00:00Z");
export const ZONE = "America/Halifax";
export const SHIFT = { startsAt: "06:00", hours: 14 };

export const PROJECT_LINES = buildPlan({ lines: REVISION.projectLines }, { mark: "", overrides: [] }).lines;
export const linesOf = (type: "H" | "C" | "T"): PlanLine[] => buildPlan(requirementSet(REVISION, type)!, { mark: "02-A", overrides: [] }).lines;
export const H = linesOf("H");
export const lineOf = (id: string, lines: readonly PlanLine[] = [...PROJECT_LINES, ...H]): PlanLine => {
  const found = lines.find(({ line }) => line === id);
  if (!found) throw new Error(`There is no point ${id}.`);
  return found;
};

export interface SubmitParts {
  by?: string;
  role?: Role;
  enteredBy?: string[];
  worst?: ValueVerdict | null;
  /** Minutes that the work took before it was sent; it ended a minute before. */
  took?: number;
  ended?: Instant;
}

/** A story of one sheet: every act comes a while after the one before, with the next place in the log. */
export class Story {
  readonly events: PointEvent[] = [];
  now: Instant = T0;
  private made = 0;

  constructor(readonly lines: readonly PlanLine[] = H, readonly outside: readonly OutsidePoint[] = OPEN_SITE) {}

  later(ms: number): this {
    this.now += ms;
    return this;
  }

  submit(line: string, { by = "crew", role = "crew lead", enteredBy = [by], worst = "meets", took = 30, ended }: SubmitParts = {}): this {
    this.later((took + 1) * MINUTE);
    const workEnded = ended ?? this.now - MINUTE;
    return this.add({ type: "submitted", ...this.place(line), submissionId: `s${this.made}`, by, byRole: role, enteredBy, workBegan: workEnded - took * MINUTE, workEnded, worst });
  }

  check(line: string, outcome: "checked" | "sent back" = "checked"): this {
    return this.later(MINUTE).add({ type: "checked", ...this.place(line), submissionId: this.last(line), by: "qc", outcome });
  }

  withdraw(line: string): this {
    return this.later(MINUTE).add({ type: "withdrawn", ...this.place(line), submissionId: this.last(line), by: "crew" });
  }

  decide(line: string, outcome: Outcome = "release", { by = "inspector" as string | null, role = "inspector" as Role | null } = {}): this {
    return this.later(MINUTE).add({ type: "decided", ...this.place(line), decisionId: `d${this.made}`, submissionId: this.last(line), by, role, outcome });
  }

  /** A revision reaches back to the point, which does not meet it as it stands. */
  reachBack(line: string, finding: "would fail" | "needs a value" = "would fail"): this {
    return this.later(MINUTE).add({ type: "requirement changed", ...this.place(line), letter: "C", finding });
  }

  /** Sends and releases each of these points, one after the other. */
  release(...lines: string[]): this {
    for (const line of lines) this.submit(line).decide(line);
    return this;
  }

  facts(at: Instant = this.now): SheetFacts {
    return { lines: this.lines, events: this.events, outside: this.outside, registers: { instruments: true, lots: true }, outOfScope: false, at };
  }

  fold(at: Instant = this.now): Map<string, PointStatus> {
    return foldSheet(this.facts(at));
  }

  status(line: string, at: Instant = this.now): PointStatus {
    return this.fold(at).get(line)!;
  }

  states(lines: readonly string[], at: Instant = this.now): string[] {
    const folded = this.fold(at);
    return lines.map((line) => folded.get(line)!.state);
  }

  /** The submission last made at a point that stands there, or the last one of all. */
  last(line: string): string {
    const own = standing(lineOf(line, [...PROJECT_LINES, ...this.lines]), this.events.filter((event) => event.line === line));
    const found = own.trail?.submission ?? this.events.findLast((event): event is Submitted => event.line === line && event.type === "submitted");
    if (!found) throw new Error(`Nothing was sent at ${line}.`);
    return found.submissionId;
  }

  private place(line: string): { seq: number; at: Instant; line: string } {
    this.made += 1;
    return { seq: this.made, at: this.now, line };
  }

  private add(event: PointEvent): this {
    this.events.push(event);
    return this;
  }
}

function outsidePoint(line: PlanLine, letsGo: boolean): OutsidePoint {
  return { line: line.line, kind: line.kind, register: line.register !== null, state: letsGo ? "released" : "open", letsGo, doubtSeq: 0, standing: standing(line, []) };
}

/** The project sheet with everything released, as a pile sees it. */
export const OPEN_SITE: OutsidePoint[] = PROJECT_LINES.map((line) => outsidePoint(line, true));
export const SHUT_SITE: OutsidePoint[] = PROJECT_LINES.map((line) => outsidePoint(line, false));

/** Every point before the last look, in an order in which they can be done. */
export const BEFORE_COVER = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "10"] as const;

export function member(personId: string, roles: Role[], part: Member["part"] = "inspection"): Member {
  return { personId, name: personId, projectId: "p", organisationId: part, organisation: part, part, roles };
}

export { HOUR, MINUTE };
