import { findMember } from "#lib/db/project";
import { json, projectRoute } from "#lib/edge/route";
import { releaseBlockWords } from "#lib/domain/point/release";
import { requirementWords } from "#lib/domain/requirement/words";
import { blocksOf, standingSubmission } from "#lib/services/decide-point";
import { getLine, loadSheet, namedRevision } from "#lib/services/sheet";
import { blockWords } from "#lib/services/submit-point";

/** The plan line, where the point stands, what stands submitted at it, and what blocks its release by who asks. */
export const GET = projectRoute("see project", async ({ asking: { house, project, personId }, params }) => {
  const tx = house.db.read;
  const sheet = await loadSheet(tx, project, params.sheet ?? "", await house.now(project));
  const { line, status } = getLine(sheet, params.line ?? "");
  const [standing, member] = await Promise.all([standingSubmission(tx, sheet, line.line), findMember(tx, project.id, personId)]);
  return json({
    sheet: sheet.id,
    line: line.line,
    name: line.name,
    kind: line.kind,
    notApplicable: line.notApplicable,
    state: status.state,
    attempt: status.attempt,
    mayBegin: status.mayBegin,
    blocks: status.blocks.map((block) => blockWords(block, project.zone)),
    revision: namedRevision(sheet, line.line),
    quantities: line.quantities.map(({ id, name, rule, instrument, derived, override }) => ({ id, name, requirement: requirementWords(rule), rule, instrument, derived, override })),
    photos: line.photos,
    documents: line.documents,
    lots: line.lots,
    submits: line.submits,
    release: line.release,
    submission: standing && {
      id: standing.submission.id,
      digest: standing.submission.digest,
      attempt: standing.submission.attempt,
      workBegan: standing.submission.workBegan,
      workEnded: standing.submission.workEnded,
      values: standing.judged.map(({ quantity, item, verdict, requirement, measured, margin, instrument, mark }) => ({
        quantity: quantity.id, item, verdict, requirement, measured, margin, instrument: instrument?.mark ?? null, mark,
      })),
      photos: standing.photos.map(({ photo, derived, order, place, flags, window }) => ({
        id: photo.id,
        sha256: photo.sha256,
        subject: photo.subject,
        takenAt: derived.instant === null ? null : new Date(derived.instant).toISOString(),
        possible: derived.hypotheses.map((one) => new Date(one).toISOString()),
        basis: derived.basis,
        uncertaintySeconds: derived.uncertaintySeconds,
        order: order.verdict,
        words: order.words,
        window: { from: window.from === null ? null : new Date(window.from).toISOString(), to: new Date(window.to).toISOString() },
        place: place.verdict,
        flags,
      })),
      questions: standing.questions,
      releaseBlocks: member ? blocksOf(sheet, standing, member, []).map(releaseBlockWords) : [],
    },
  });
});
