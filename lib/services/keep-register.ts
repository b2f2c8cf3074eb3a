import { readEntryTime } from "#lib/domain/clock/entry-time";
import { siteTime } from "#lib/domain/clock/site-time";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { fileRecord } from "#lib/db/journal";
import { listMembers } from "#lib/db/project";
import { listInstruments, listLots, listQualifications } from "#lib/db/register";
import type { RecordOf } from "#lib/records/kind";
import { inProject, type Asking } from "#lib/services/ask";
import { refreshProject } from "#lib/services/refresh";

type Input<K extends "instrument" | "lot" | "qualification"> = Omit<RecordOf<K>, "kind">;

function refuse(field: string, message: string): never {
  throw new DomainError("invalid", message, [{ field, message }]);
}

/** Adds an instrument to the register. It counts as overdue until a calibration is recorded. */
export async function registerInstrument(asking: Asking, input: Input<"instrument">): Promise<void> {
  await inProject(asking, "keep instruments", async (tx, member, at) => {
    const register = await listInstruments(tx, asking.project.id, asking.project.zone);
    if (register.some(({ mark }) => mark.toLowerCase() === input.mark.toLowerCase())) refuse("mark", `${input.mark} is registered already. Give this one another mark.`);
    if (input.rangeMin !== null && input.rangeMax !== null && Number(input.rangeMin) > Number(input.rangeMax)) refuse("rangeMax", "The range ends before it begins.");
    if ((input.rangeMin !== null || input.rangeMax !== null || input.accuracy?.kind === "absolute") && input.unit === null) refuse("unit", "Give the unit of range and accuracy.");
    await fileRecord(tx, asking.house.key, { projectId: asking.project.id, actor: member.personId, at, body: { kind: "instrument", ...input } });
    await refreshProject(tx, asking.project, at);
  });
}

export interface CalibrationInput {
  id: string;
  instrumentId: string;
  /** On the site's clock or with an offset. */
  calibratedAt: string;
  dueOn: string;
  certificate: string;
  words: string;
}

export async function recordCalibration(asking: Asking, input: CalibrationInput): Promise<void> {
  await inProject(asking, "keep instruments", async (tx, member, at) => {
    const register = await listInstruments(tx, asking.project.id, asking.project.zone);
    if (!register.some(({ id }) => id === input.instrumentId)) throw new DomainError("not-found", "There is no such instrument.");
    const when = readEntryTime(input.calibratedAt, asking.project.zone);
    const faults: Fault[] = [];
    if (!when.ok) faults.push({ field: "calibratedAt", message: when.message });
    else if (when.instant === null) faults.push({ field: "calibratedAt", message: "Give the day and time of the calibration." });
    else if (when.instant > at) faults.push({ field: "calibratedAt", message: "The calibration lies in the future." });
    else if (input.dueOn < siteTime(when.instant, asking.project.zone).date) faults.push({ field: "dueOn", message: "It would be due before it was calibrated." });
    if (input.certificate.trim() === "") faults.push({ field: "certificate", message: "Give the number of the certificate." });
    if (faults.length > 0 || !when.ok || when.instant === null) throw new DomainError("invalid", "The calibration is not complete.", faults);
    await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: { kind: "calibration", ...input, calibratedAt: new Date(when.instant).toISOString() },
    });
    await refreshProject(tx, asking.project, at);
  });
}

export async function receiveLot(asking: Asking, input: Input<"lot">): Promise<void> {
  await inProject(asking, "keep lots", async (tx, member, at) => {
    const lots = await listLots(tx, asking.project.id);
    if (lots.some(({ kind, number }) => kind === input.lotKind && number.toLowerCase() === input.number.toLowerCase())) refuse("number", `Lot ${input.number} is on the register already.`);
    if (input.expiresOn !== null && input.expiresOn < input.receivedOn) refuse("expiresOn", "The lot had expired when it was received. It cannot be used.");
    await fileRecord(tx, asking.house.key, { projectId: asking.project.id, actor: member.personId, at, body: { kind: "lot", ...input } });
    await refreshProject(tx, asking.project, at);
  });
}

export async function recordQualification(asking: Asking, input: Input<"qualification">): Promise<void> {
  await inProject(asking, "keep people", async (tx, member, at) => {
    const members = await listMembers(tx, asking.project.id);
    if (!members.some(({ personId }) => personId === input.personId)) throw new DomainError("not-found", "This person is not a member of the project.");
    const known = await listQualifications(tx, asking.project.id);
    if (known.some(({ id }) => id === input.id)) return;
    await fileRecord(tx, asking.house.key, { projectId: asking.project.id, actor: member.personId, at, body: { kind: "qualification", ...input } });
  });
}
