import { mergeFlags } from "#lib/domain/photo/flag";
import type { Tx } from "#lib/db/client";
import { listSameFiles, type Photo } from "#lib/db/evidence";
import { findPile } from "#lib/db/pile";
import { sheetHistory } from "#lib/db/point-record";
import type { PhotoView } from "#lib/services/evidence";
import type { Sheet } from "#lib/services/sheet";

/**
 * Marks the photos whose file stands submitted at another point as well. The same bytes show one thing only, so they
 * count for neither until one of the submissions is withdrawn, sent back or refused, with its reason.
 */
export async function markRepeats(tx: Tx, { project, id, pile }: Sheet, line: string, photos: readonly PhotoView[]): Promise<PhotoView[]> {
  const others = (await listSameFiles(tx, project.id, photos.map(({ sha256 }) => sha256))).filter((one) => one.sheet !== id || one.line !== line);
  const standing: { photo: Photo; where: string }[] = [];
  for (const photo of others) {
    if (!(await standsSubmitted(tx, photo))) continue;
    const mark = photo.sheet === id ? pile?.mark : (await findPile(tx, project.id, { id: photo.sheet }))?.mark;
    standing.push({ photo, where: `${mark ? `pile ${mark}, ` : ""}point ${photo.line}` });
  }
  return photos.map((view) => {
    const where = standing.filter(({ photo }) => photo.sha256 === view.sha256).map((one) => one.where);
    if (where.length === 0) return view;
    const flag = { code: "DUP_EXACT", measured: `the same file stands at ${[...new Set(where)].join(" and ")}`, limit: `SHA-256 ${view.sha256.slice(0, 12)}… once` } as const;
    return { ...view, elsewhere: true, flags: mergeFlags([...view.flags, flag]) };
  });
}

async function standsSubmitted(tx: Tx, { sheet, line, id }: Photo): Promise<boolean> {
  const { submissions, withdrawals, checks, decisions } = await sheetHistory(tx, sheet);
  return [...submissions.values()].some(({ id: submissionId, line: at, photos }) => {
    if (at !== line || !photos.some((photo) => photo.id === id)) return false;
    const takenBack = withdrawals.some((one) => one.submissionId === submissionId) || checks.some((one) => one.submissionId === submissionId && one.outcome === "sent back");
    const last = decisions.findLast((one) => one.submissionId === submissionId);
    return !takenBack && (last === undefined || last.outcome === "release");
  });
}
