import { randomUUID } from "node:crypto";
import { siteTime } from "#lib/domain/clock/site-time";
import type { Instant } from "#lib/domain/instant";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Tx } from "#lib/db/client";
import { fileRecord } from "#lib/db/journal";
import type { RecordOf } from "#lib/records/kind";
import type { Asking } from "#lib/services/ask";

/** Records a release by the system where the plan line says so and every value meets; otherwise it stays submitted and blocks. */
export async function releaseAutomatically(
  tx: Tx,
  { house, project }: Asking,
  line: PlanLine,
  submission: RecordOf<"submission"> & { digest: string },
  at: Instant,
): Promise<void> {
  const everyValueMeets = submission.judged.every(({ verdict, mark }) => (verdict === "meets" || verdict === "meets, inside uncertainty" || verdict === null) && mark === "");
  if (!line.release.automatic || !everyValueMeets) return;
  const body: RecordOf<"decision"> = {
    kind: "decision",
    id: randomUUID(),
    sheet: submission.sheet,
    line: submission.line,
    attempt: submission.attempt,
    submissionId: submission.id,
    submissionDigest: submission.digest,
    outcome: "release",
    by: null,
    role: null,
    organisation: "",
    seenAs: "not attended",
    observedOn: siteTime(at, project.zone).date,
    codes: [],
    words: "Every value meets; the plan line is released by the system.",
    photos: submission.photos.map(({ sha256 }) => sha256),
    answers: [],
    attestation: "system",
    decidedAt: new Date(at).toISOString(),
  };
  await fileRecord(tx, house.key, { projectId: project.id, actor: "system", at, body });
}
