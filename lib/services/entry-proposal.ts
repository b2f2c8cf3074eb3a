import { fromSite, shiftOf, siteTime } from "#lib/domain/clock/site-time";
import { MINUTE, type Instant } from "#lib/domain/instant";
import type { PlanLine } from "#lib/domain/plan/plan";
import type { Unit } from "#lib/domain/quantity/unit";
import type { WeatherOnFile } from "#lib/db/clock";
import type { Submission } from "#lib/db/point-record";
import { whenNear } from "#lib/services/clock-view";
import type { PhotoView } from "#lib/services/evidence";
import { dayOf, type Sheet } from "#lib/services/sheet";
import type { RawSubmission } from "#lib/services/submit-point";

/** What the last submissions used, offered to be confirmed; never taken by itself. */
export interface ProposalView {
  instruments: Record<string, string>;
  lots: Record<string, string>;
  words: string;
}

export interface TimesProposal {
  began: string;
  beganOffset: string;
  ended: string;
  endedOffset: string;
  words: string;
}

interface Used {
  instrument(id: (one: string) => boolean): { id: string; submission: Submission } | null;
  lot(id: (one: string) => boolean): { id: string; submission: Submission } | null;
}

/** What was used last: by this person, else by anybody of the project. `submissions` newest first. */
export function lastUsed(submissions: readonly Submission[], personId: string): Used {
  const ordered = [...submissions.filter(({ by }) => by === personId), ...submissions.filter(({ by }) => by !== personId)];
  const find = (idsOf: (submission: Submission) => string[], wanted: (id: string) => boolean) => {
    for (const submission of ordered) {
      const id = idsOf(submission).findLast(wanted);
      if (id !== undefined) return { id, submission };
    }
    return null;
  };
  return {
    instrument: (wanted) => find(({ entries }) => entries.flatMap((entry) => (entry.kind === "measured" && entry.instrumentId ? [entry.instrumentId] : [])), wanted),
    lot: (wanted) => find(({ lots }) => lots.map(({ lotId }) => lotId), wanted),
  };
}

/** Yesterday's instruments and lots for what is not chosen yet. An instrument overdue or a lot expired is not proposed. */
export function proposalOf(sheet: Sheet, line: PlanLine, writing: RawSubmission, used: Used): ProposalView | null {
  const day = dayOf(sheet);
  const marks: string[] = [];
  const instruments: Record<string, string> = {};
  for (const quantity of line.quantities) {
    if (quantity.instrument === null || quantity.derived || writing.values.some((value) => value.quantity === quantity.id && value.instrumentId)) continue;
    const good = (id: string) => sheet.instruments.some((one) => one.id === id && one.class === quantity.instrument && one.calibrations.some(({ from, dueOn }) => from <= day && day <= dueOn));
    const found = used.instrument(good);
    const instrument = found && sheet.instruments.find(({ id }) => id === found.id);
    if (!instrument) continue;
    instruments[quantity.id] = instrument.id;
    marks.push(`${instrument.class} ${instrument.mark}`);
  }
  const lots: Record<string, string> = {};
  for (const { id: use, kind } of line.lots) {
    if (writing.lots.some((lot) => lot.use === use && lot.lotId)) continue;
    const found = used.lot((id) => sheet.lots.some((lot) => lot.id === id && lot.kind === kind && (lot.expiresOn === null || lot.expiresOn >= day)));
    const lot = found && sheet.lots.find(({ id }) => id === found.id);
    if (!lot) continue;
    lots[use] = lot.id;
    marks.push(`${lot.kind} lot ${lot.number}`);
  }
  return marks.length > 0 ? { instruments, lots, words: [...new Set(marks)].join(", ") } : null;
}

/** When the work began and ended as its photos tell, to the minute around them; null once both are given. */
export function timesOf(sheet: Sheet, writing: RawSubmission, photos: readonly PhotoView[]): TimesProposal | null {
  const instants = photos.flatMap(({ derived }) => (derived.instant === null ? [] : [derived.instant]));
  if (instants.length === 0 || (writing.workBegan && writing.workEnded)) return null;
  const { zone } = sheet.project;
  const began = Math.floor(Math.min(...instants) / MINUTE) * MINUTE;
  const ended = Math.min(Math.ceil(Math.max(...instants) / MINUTE) * MINUTE, sheet.at);
  const [from, to] = [localTime(began, zone), localTime(ended, zone)];
  return {
    began: from.local, beganOffset: from.offset, ended: to.local, endedOffset: to.offset,
    words: `${whenNear(began, zone, sheet.at)} to ${siteTime(ended, zone).time}, from ${instants.length} ${instants.length === 1 ? "photo" : "photos"}`,
  };
}

/** What was last read of the weather, for the values of a point that nobody has entered yet. */
export interface WeatherProposal {
  values: { quantity: string; text: string; unit: Unit }[];
  words: string;
}

/**
 * Offers the last weather of this shift to a point whose margin over the dew point is asked for. It is named with its time and
 * its source, and taken only when confirmed; a value that stands entered is not offered again.
 */
export function weatherOf({ at, project }: Sheet, line: PlanLine, writing: RawSubmission, weather: readonly WeatherOnFile[]): WeatherProposal | null {
  const margin = line.quantities.find(({ derived }) => derived?.formula === "dew margin");
  const shift = shiftOf(at, project.zone, project.shift).date;
  const readings = weather.flatMap(({ title, sha256, readings: own }) => own.map((reading) => ({ ...reading, source: sha256 === null ? title : `${title} log` })));
  const last = readings.filter((one) => one.at <= at && shiftOf(one.at, project.zone, project.shift).date === shift).sort((a, b) => a.at - b.at).at(-1);
  if (!margin?.derived || !last) return null;
  const [air, humidity, surface] = margin.derived.from;
  const read: [string | undefined, string | null, Unit][] = [[air, last.airC, "°C"], [humidity, last.humidityPct, "%"], [surface, last.surfaceC, "°C"]];
  const values = read.flatMap(([quantity, text, unit]) =>
    quantity === undefined || text === null || writing.values.some((one) => one.quantity === quantity && one.text.trim() !== "") ? [] : [{ quantity, text, unit }],
  );
  const named = values.map(({ quantity, text, unit }) => `${line.quantities.find(({ id }) => id === quantity)?.name ?? quantity} ${text} ${unit}`);
  return values.length > 0 ? { values, words: `${named.join(", ")}, as read at ${siteTime(last.at, project.zone).time}, ${last.source}` } : null;
}

/** As a date field takes it; with the offset only where the clocks show this time twice. */
export function localTime(at: Instant, zone: string): { local: string; offset: string } {
  const { date, time, offset } = siteTime(at, zone);
  const local = `${date}T${time}`;
  return { local, offset: fromSite(local, zone).problem === "ambiguous" ? offset : "" };
}
