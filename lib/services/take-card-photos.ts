import { DomainError } from "#lib/domain/refusal";
import { dropCardPhotos, listCardPhotos } from "#lib/db/card-photo";
import { inProject, type Asking } from "#lib/services/ask";
import { forgetFile } from "#lib/services/forget-file";
import { fileReceivedPhoto } from "#lib/services/receive-photo";
import { getLine } from "#lib/services/sheet";
import { wakeStudy } from "#lib/services/study-photo";

export interface CardChoice {
  taken: readonly { photo: string; sheet: string; line: string; subject: string }[];
  /** Photos that go off the card. */
  left: readonly string[];
}

/**
 * Puts the photos of a card to their points in one act, each as it would have been received there; those left out go off the card, and
 * their files too where no record holds them. What is not on the card any more was done before.
 */
export async function takeCardPhotos(asking: Asking, { taken, left }: CardChoice): Promise<{ taken: number; left: number }> {
  const { house, project, personId } = asking;
  const owner = { projectId: project.id, personId };
  const done = await inProject(asking, "send photo", async (tx, member, at) => {
    const held = new Map((await listCardPhotos(tx, owner)).map((photo) => [photo.id, photo]));
    const here = taken.filter(({ photo }) => held.has(photo));
    for (const { photo: id, sheet: sheetId, line: lineId, subject } of here) {
      const sheet = await house.sheets.sheet(tx, project, sheetId, at);
      const { line, status } = getLine(sheet, lineId);
      const name = `${sheet.pile ? `pile ${sheet.pile.mark}, ` : ""}point ${lineId}`;
      if (!status.maySend) throw new DomainError("blocked", `${name} takes no photos now. Nothing was taken; choose another point for it.`, [{ field: null, message: `${name} is ${status.state}.` }]);
      if (!line.photos.some((one) => one.id === subject)) throw new DomainError("invalid", `${name} asks for no such photo. Nothing was taken.`, [{ field: null, message: `It asks for: ${line.photos.map((one) => one.name).join(", ")}.` }]);
      const photo = held.get(id)!;
      await fileReceivedPhoto(tx, asking, member, { ...photo, flags: [...photo.flags] }, { id, at, receivedAt: photo.receivedAt, sheet: sheetId, line: lineId, subject });
    }
    const leaving = left.flatMap((id) => held.get(id) ?? []);
    await dropCardPhotos(tx, owner, [...here.map(({ photo }) => photo), ...leaving.map(({ id }) => id)]);
    return { taken: here.length, leaving };
  });
  for (const { sha256 } of done.leaving) await forgetFile(house, { sha256 });
  wakeStudy();
  return { taken: done.taken, left: done.leaving.length };
}
