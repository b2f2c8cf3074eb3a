import { DomainError } from "#lib/domain/refusal";
import { listReferences } from "#lib/db/camera";
import { fileRecord, type Filed } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";
import { confirmedClock } from "#lib/services/camera-knowledge";
import { limitsNow } from "#lib/services/evidence-facts";

export interface CameraClockInput {
  /** Made where it is sent, so that sending twice is one act. */
  id: string;
  camera: string;
  /** Place in the log of the last reference that the person saw: what came later is not confirmed unseen. */
  seen: number;
  words: string;
}

/**
 * Records that the QC manager takes a camera's clock to have run as its references show. They are frozen in the record; every
 * photo of the camera, earlier and later, is judged by the last confirmation.
 */
export async function confirmCameraClock(asking: Asking, { id, camera, seen, words }: CameraClockInput): Promise<Filed> {
  return inProject(asking, "confirm camera", async (tx, member, at) => {
    const own = (await listReferences(tx, asking.project.id, [camera])).get(camera);
    if (!own) throw new DomainError("not-found", "No photo of such a camera tells how its clock runs.");
    const references = own.filter(({ seq }) => seq <= seen);
    if (confirmedClock(references, await limitsNow(tx, asking.project.id)) === null) {
      throw new DomainError("blocked", "There are too few references to say how this clock runs. Photograph the clock page with the camera, and hand the photo in.");
    }
    return fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: {
        kind: "camera clock", id, camera, words: words.trim(), by: member.personId, confirmedAt: new Date(at).toISOString(),
        references: references.map(({ source, photo, wall, at: trueAt }) => ({ source, photo, wall, at: new Date(trueAt).toISOString() })),
      },
    });
  });
}
