import type { Instant } from "#lib/domain/instant";
import type { PointStatus } from "#lib/domain/point/fold";
import { buildPlan, downstream, overridesAt, upstream, type PlanLine } from "#lib/domain/plan/plan";
import { differenceOf, type LineDifference, type RevisionDifference } from "#lib/domain/requirement/difference";
import { impactOf, type PointImpact } from "#lib/domain/requirement/impact";
import type { Revision } from "#lib/domain/requirement/set";
import type { Tx } from "#lib/db/client";
import { listReadings } from "#lib/db/evidence";
import { listPiles } from "#lib/db/pile";
import { NO_HISTORY, projectHistories } from "#lib/db/point-record";
import type { Project } from "#lib/db/project";
import { canonicalBytes, sha256 } from "#lib/records/canonical";
import { loadCommon, pileSheet, pointFacts, projectSheet, revisionOf, type Sheet } from "#lib/services/sheet";

/** A signed point at a line that a revision changes. */
export interface SignedUnder {
  sheet: string;
  type: string | null;
  line: string;
  letter: string;
  submissionSeq: number;
  submissionDigest: string;
  now: PlanLine;
  impact: PointImpact;
  /** Signed points of the sheet that stand on it: in doubt with it where the change is retroactive and it does not meet. */
  downstream: string[];
}

export interface RevisionImpact {
  difference: RevisionDifference;
  /** Sheets in scope, the project's first. */
  sheets: Sheet[];
  signed: SignedUnder[];
  /** Of everything that the engineer is shown and answers for; another one means that something was signed since. */
  digest: string;
}


/** Holds every signed point of a project against a revision, as it stands at an instant. Nothing is written. */
export async function revisionImpact(tx: Tx, project: Project, { was, now }: { was: Revision; now: Revision }, at: Instant): Promise<RevisionImpact> {
  const difference = differenceOf(was, now);
  const sheets = await sheetsInScope(tx, project, at);
  const lines = difference.changes.flatMap((change) => change.lines);
  const signed = sheets.flatMap((sheet) => lines.filter(({ type }) => type === (sheet.pile?.type ?? null)).flatMap((line) => signedUnder(sheet, sheets, line)));
  const shown = signed.map(({ sheet, line, submissionDigest, impact: { finding } }) => ({ sheet, line, submissionDigest, finding }));
  const digest = sha256(canonicalBytes({ was: sha256(canonicalBytes(was)), now: sha256(canonicalBytes(now)), shown }));
  return { difference, sheets, signed, digest };
}

async function sheetsInScope(tx: Tx, project: Project, at: Instant): Promise<Sheet[]> {
  const [common, piles, histories] = await Promise.all([loadCommon(tx, project), listPiles(tx, project.id), projectHistories(tx, project.id)]);
  const sheets = [projectSheet(project, common, at)];
  for (const pile of piles.filter(({ scope }) => scope === "in")) {
    const history = histories.get(pile.id) ?? NO_HISTORY;
    const readings = history.events.length > 0 ? await listReadings(tx, pile.id) : [];
    sheets.push(pileSheet(project, pile, common, { history, readings }, at));
  }
  return sheets;
}

function signedUnder(sheet: Sheet, sheets: readonly Sheet[], { type, line: id, now: spec }: LineDifference): SignedUnder[] {
  const was = sheet.lines.find(({ line }) => line === id);
  const status = sheet.folded.get(id);
  const submission = sheet.history.submissions.get(status?.standing.trail?.submission.submissionId ?? "");
  if (!was || !status || !submission) return [];
  const overrides = overridesAt(sheet.pile?.overrides ?? [], submission.seq).filter(({ line }) => line === id);
  // A line that is taken out asks nothing more of what was signed at it.
  const now = spec && buildPlan({ lines: [spec] }, { mark: sheet.pile?.mark ?? "", overrides }).lines[0];
  const releasedAt = status.standing.release?.at ?? null;
  const sent = { entries: submission.entries, photos: submission.photos.map(({ subject }) => subject), documents: submission.documents.map(({ use }) => use), lots: submission.lots.map(({ use }) => use), releasedAt };
  const work = { began: Date.parse(submission.workBegan), ended: Date.parse(submission.workEnded) };
  return [{
    sheet: sheet.id, type, line: id, letter: revisionOf(sheet, id).letter, submissionSeq: submission.seq, submissionDigest: submission.digest, now: now ?? was,
    impact: now ? impactOf({ was, now }, sent, pointFacts(sheet, id, work)) : { finding: "still meets", values: [], words: [] },
    downstream: sheet.pile ? downstream(sheet.lines, was).filter((line) => isSigned(sheet.folded.get(line))) : onPiles(sheets, id, was, sheet),
  }];
}

function isSigned(status: PointStatus | undefined): boolean {
  return Boolean(status?.standing.trail);
}

/** What stands on a point of the project sheet: there, and on the piles each point with its mark. */
function onPiles(sheets: readonly Sheet[], id: string, was: PlanLine, own: Sheet): string[] {
  const here = downstream(own.lines, was).filter((line) => isSigned(own.folded.get(line)));
  const there = sheets.flatMap((sheet) => (sheet.pile ? sheet.lines.filter((line) => upstream(sheet.lines, line).includes(id) && isSigned(sheet.folded.get(line.line))).map(({ line }) => `${sheet.pile?.mark ?? ""} ${line}`) : []));
  return [...here, ...there];
}
