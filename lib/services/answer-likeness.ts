import { DomainError } from "#lib/domain/refusal";
import { getPhoto, type Photo } from "#lib/db/evidence";
import { fileRecord, type Filed } from "#lib/db/journal";
import { listLikenessOf } from "#lib/db/likeness";
import type { LIKENESS_ANSWERS } from "#lib/records/photo-kind";
import { inProject, type Asking } from "#lib/services/ask";
import type { Tx } from "#lib/db/client";

export interface LikenessInput {
  /** Made where it is sent, so that sending twice is one act. */
  id: string;
  photoId: string;
  otherId: string;
  answer: (typeof LIKENESS_ANSWERS)[number];
  words: string;
}

/**
 * Records what a decision maker says of two photos that are alike. What it means for the counting of either follows from
 * the last answer; nothing is reopened by it, and what was released is shown for review.
 */
export async function answerLikeness(asking: Asking, { id, photoId, otherId, answer, words }: LikenessInput): Promise<Filed> {
  return inProject(asking, "answer likeness", async (tx, member, at) => {
    const [photo, other] = await Promise.all([getPhoto(tx, photoId), getPhoto(tx, otherId)]);
    if (![photo, other].every(({ projectId }) => projectId === asking.project.id) || !(await areAlike(tx, photo, other))) {
      throw new DomainError("not-found", "There are no such two photos that are alike.");
    }
    if (answer === "two pictures" && photo.sha256 === other.sha256) {
      throw new DomainError("invalid", "This is one file, so it is one picture.", [{ field: "answer", message: "Say to which point it belongs, or that it cannot be told." }]);
    }
    if (answer !== "two pictures" && words.trim() === "") {
      throw new DomainError("invalid", "Give the reason.", [{ field: "words", message: "Say in a few words why: it goes with the photo that does not count." }]);
    }
    const role = member.roles.find((one) => ANSWERS.has(one)) ?? member.roles[0]!;
    return fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: { kind: "likeness answer", id, photoId, otherId, answer, words: words.trim(), by: member.personId, role, answeredAt: new Date(at).toISOString() },
    });
  });
}

/** The roles in which somebody answers; a person with several answers in the one that decides points. */
const ANSWERS: ReadonlySet<string> = new Set(["inspector", "delegate", "engineer", "QC manager"]);

async function areAlike(tx: Tx, photo: Photo, other: Photo): Promise<boolean> {
  if (photo.id === other.id) return false;
  if (photo.sha256 === other.sha256) return true;
  return (await listLikenessOf(tx, [photo.id])).some(({ photoId, otherId }) => photoId === other.id || otherId === other.id);
}
