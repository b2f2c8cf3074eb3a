import type { PointEvent } from "#lib/domain/point/history";
import type { Tx } from "#lib/db/client";
import type { CheckBody, DecisionBody, RecordOf, SubmissionBody } from "#lib/records/kind";

export type Submission = SubmissionBody & { seq: number; digest: string };
export type Check = CheckBody & { seq: number; digest: string; at: number };
export type Decision = DecisionBody & { seq: number; digest: string };
export type Withdrawal = RecordOf<"withdrawal"> & { seq: number; at: number };

/** Everything done at the points of a sheet: as events for the fold, and in full by id. */
export interface SheetHistory {
  events: PointEvent[];
  submissions: Map<string, Submission>;
  checks: Check[];
  decisions: Decision[];
  withdrawals: Withdrawal[];
}

/** Of a sheet that nothing was done at. */
export const NO_HISTORY: SheetHistory = { events: [], submissions: new Map(), checks: [], decisions: [], withdrawals: [] };

const fields = { kind: true, seq: true, at: true, body: true, digest: true } as const;

export async function sheetHistory(tx: Tx, sheet: string): Promise<SheetHistory> {
  const rows = await tx.pointRecord.findMany({ where: { sheet }, orderBy: { seq: "asc" }, select: fields });
  return toHistory(rows);
}

/** The histories of every sheet of a project at once. */
export async function projectHistories(tx: Tx, projectId: string): Promise<Map<string, SheetHistory>> {
  const rows = await tx.pointRecord.findMany({ where: { projectId }, orderBy: { seq: "asc" }, select: { ...fields, sheet: true } });
  const sheets = new Map<string, Row[]>();
  for (const { sheet, ...row } of rows) {
    const own = sheets.get(sheet);
    if (own) own.push(row);
    else sheets.set(sheet, [row]);
  }
  return new Map([...sheets].map(([sheet, own]) => [sheet, toHistory(own)]));
}

interface Row {
  kind: string;
  seq: number;
  at: Date;
  body: string;
  digest: string;
}

function toHistory(rows: readonly Row[]): SheetHistory {
  const history: SheetHistory = { events: [], submissions: new Map(), checks: [], decisions: [], withdrawals: [] };
  for (const { kind, seq, at: date, body, digest } of rows) {
    const at = date.getTime();
    const record = JSON.parse(body) as RecordOf<"submission" | "withdrawal" | "check" | "decision">;
    switch (record.kind) {
      case "submission": {
        const { id, line, by, role, enteredBy, workBegan, workEnded, worst } = record;
        history.submissions.set(id, { ...record, seq, digest });
        history.events.push({
          type: "submitted", seq, at, line, submissionId: id, by, byRole: role, enteredBy, workBegan: Date.parse(workBegan), workEnded: Date.parse(workEnded), worst,
        });
        break;
      }
      case "withdrawal":
        history.withdrawals.push({ ...record, seq, at });
        history.events.push({ type: "withdrawn", seq, at, line: record.line, submissionId: record.submissionId, by: record.by });
        break;
      case "check":
        history.checks.push({ ...record, seq, digest, at });
        history.events.push({ type: "checked", seq, at, line: record.line, submissionId: record.submissionId, by: record.by, outcome: record.outcome });
        break;
      case "decision": {
        const { id, line, submissionId, by, role, outcome } = record;
        history.decisions.push({ ...record, seq, digest });
        history.events.push({ type: "decided", seq, at, line, decisionId: id, submissionId, by, role, outcome });
        break;
      }
      default:
        throw new Error(`A record of kind ${kind} does not belong to a point.`);
    }
  }
  return history;
}
