import { PHOTO_LIMITS, type PhotoLimitName, type PhotoLimits } from "#lib/domain/photo/limits";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { fileRecord, type Filed } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";
import { limitsNow } from "#lib/services/evidence-facts";

export interface PhotoLimitsInput {
  /** Made where it is sent, so that sending twice is one act. */
  id: string;
  /** Those that change; the rest stay as they are. */
  limits: Partial<PhotoLimits>;
  words: string;
}

/** Records the limits that photos received from here on are held against. Photos received before keep theirs. */
export async function setPhotoLimits(asking: Asking, { id, limits: changed, words }: PhotoLimitsInput): Promise<Filed> {
  return inProject(asking, "set photo limits", async (tx, member, at) => {
    const before = await limitsNow(tx, asking.project.id);
    const limits: PhotoLimits = { ...before, ...changed };
    const faults = limitFaults(limits);
    const same = limitNames().every((name) => limits[name] === before[name]);
    if (faults.length === 0 && same) faults.push({ field: null, message: "Every limit is as it was. Change one first." });
    if (words.trim() === "") faults.push({ field: "words", message: "Give the reason: it stands in the log beside the change." });
    if (faults.length > 0) throw new DomainError("invalid", faults.length === 1 ? "1 thing stops this from being recorded." : `${faults.length} things stop this from being recorded.`, faults);
    return fileRecord(tx, asking.house.key, { projectId: asking.project.id, actor: member.personId, at, body: { kind: "photo limits", id, limits, words: words.trim(), by: member.personId } });
  });
}

export function limitNames(): readonly PhotoLimitName[] {
  return Object.keys(PHOTO_LIMITS) as PhotoLimitName[];
}

function limitFaults(limits: PhotoLimits): Fault[] {
  return limitNames().flatMap((name): Fault[] => {
    const { title, unit, least, most } = PHOTO_LIMITS[name];
    const value = limits[name];
    return Number.isFinite(value) && value >= least && value <= most ? [] : [{ field: name, message: `${title}: from ${least} to ${most} ${unit}, ${value} was given.` }];
  });
}
