import type { Instant } from "#lib/domain/instant";
import type { CameraClock } from "#lib/domain/photo/camera-clock";
import type { OrderVerdict } from "#lib/domain/photo/verdict";
import type { PhotoCamera } from "#lib/db/camera";
import type { Tx } from "#lib/db/client";
import { listPhotos } from "#lib/db/evidence";
import type { Project } from "#lib/db/project";
import { secondsWriter, viewPhotos, type PhotoView } from "#lib/services/evidence";
import { loadEvidenceFacts } from "#lib/services/evidence-facts";
import { loadCommon, loadSheet } from "#lib/services/sheet";

/** One photo by the camera's own word, and by its clock. */
export interface CorrectedPhoto {
  id: string;
  mark: string | null;
  line: string;
  subject: string;
  cameraSaid: string;
  before: { standsAt: string; verdict: OrderVerdict };
  after: { standsAt: string; verdict: OrderVerdict };
  corrected: boolean;
}

/** What the photos of a camera are judged to be with one clock and with another. */
export interface CameraEffect {
  photos: number;
  /** Whose instant, or how well it is known, differs. */
  corrected: number;
  /** Verdicts of order that move, the most frequent first. */
  moves: { from: OrderVerdict; to: OrderVerdict; count: number }[];
  /** Those whose verdict moves first, then those that are corrected, then the newest. */
  examples: CorrectedPhoto[];
}

const EXAMPLES = 8;

/** Judges every photo of a camera twice: as if it were confirmed as `before`, and as if it were confirmed as `after`. Null for not at all. */
export async function cameraEffect(
  tx: Tx,
  project: Project,
  taken: readonly PhotoCamera[],
  { before, after, at }: { before: CameraClock | null; after: CameraClock | null; at: Instant },
): Promise<CameraEffect> {
  const own = new Set(taken.map(({ photo }) => photo));
  const common = await loadCommon(tx, project);
  const when = secondsWriter(project.zone);
  const judged: CorrectedPhoto[] = [];
  for (const id of new Set(taken.map(({ sheet }) => sheet))) {
    const [sheet, photos] = await Promise.all([loadSheet(tx, project, id, at, common), listPhotos(tx, id)]);
    const mine = photos.filter((photo) => own.has(photo.id));
    const known = await loadEvidenceFacts(tx, project, mine);
    const submissions = [...sheet.history.submissions.values()];
    for (const photo of mine) {
      const line = sheet.lines.find((one) => one.line === photo.line);
      if (!line) continue;
      const submission = submissions.findLast((one) => one.photos.some((sent) => sent.id === photo.id));
      const sent = { attempt: submission?.attempt ?? photo.attempt, beforeSeq: submission?.seq ?? Number.POSITIVE_INFINITY };
      const judge = (confirmed: CameraClock | null) => viewPhotos(sheet, line, [photo], sent, { ...known, cameraOf: (one) => ({ ...known.cameraOf(one), confirmed }) })[0]!;
      const [was, is] = [judge(before), judge(after)];
      judged.push({
        id: photo.id, mark: sheet.pile?.mark ?? null, line: line.line, subject: line.photos.find((one) => one.id === photo.subject)?.name ?? photo.subject,
        cameraSaid: was.derived.cameraSays ?? "no time",
        before: { standsAt: standsAt(was, when), verdict: was.order.verdict },
        after: { standsAt: standsAt(is, when), verdict: is.order.verdict },
        corrected: standsAt(was, when) !== standsAt(is, when),
      });
    }
  }
  return { photos: judged.length, corrected: judged.filter(({ corrected }) => corrected).length, moves: movesOf(judged), examples: examplesOf(judged) };
}

/** "Thu 3 Dec 2026, 10:12:08 −04:00 ± 2 s", with every reading that is left. */
function standsAt({ derived: { instant, hypotheses, uncertaintySeconds } }: PhotoView, when: (at: Instant) => string): string {
  const readings = instant === null ? hypotheses : [instant];
  if (readings.length === 0 || uncertaintySeconds === null) return "cannot be told";
  return `${readings.map(when).join(" or ")} ± ${Math.round(uncertaintySeconds)} s`;
}

function movesOf(judged: readonly CorrectedPhoto[]): CameraEffect["moves"] {
  const counts = new Map<string, CameraEffect["moves"][number]>();
  for (const { before, after } of judged) {
    if (before.verdict === after.verdict) continue;
    const key = `${before.verdict} ${after.verdict}`;
    counts.set(key, { from: before.verdict, to: after.verdict, count: (counts.get(key)?.count ?? 0) + 1 });
  }
  return [...counts.values()].sort((a, b) => b.count - a.count);
}

function examplesOf(judged: readonly CorrectedPhoto[]): CorrectedPhoto[] {
  const rank = ({ before, after, corrected }: CorrectedPhoto): number => (before.verdict !== after.verdict ? 0 : corrected ? 1 : 2);
  return judged.map((photo, place) => ({ photo, place })).sort((a, b) => rank(a.photo) - rank(b.photo) || b.place - a.place).slice(0, EXAMPLES).map(({ photo }) => photo);
}
