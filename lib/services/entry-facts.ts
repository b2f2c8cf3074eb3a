import { gateShifts } from "#lib/domain/point/gate";
import type { EntryFacts } from "#lib/domain/point/judge-entry";
import type { PlanLine } from "#lib/domain/plan/plan";
import { itemRule } from "#lib/domain/requirement/rule";
import { entriesAt, type Sheet } from "#lib/services/sheet";

/** What judging an entry at a point needs, as plain data, with the photos and documents that would be sent with it. */
export function entryFacts(sheet: Sheet, line: PlanLine, photos: EntryFacts["photos"], documents: EntryFacts["documents"]): EntryFacts {
  const { project, folded } = sheet;
  const gate = line.gate === "under the gate" ? sheet.lines.find((one) => one.gate === "is the gate") : undefined;
  const gateStanding = gate && folded.get(gate.line)?.standing;
  return {
    zone: project.zone,
    shift: project.shift,
    now: sheet.at,
    instruments: sheet.instruments.map(({ id, mark, class: kind, unit, rangeMin, rangeMax, accuracy, calibrations }) => ({ id, mark, class: kind, unit, rangeMin, rangeMax, accuracy, calibrations })),
    work: Object.fromEntries(
      [...folded].flatMap(([id, { standing }]) => (standing.trail ? [[id, { began: standing.trail.submission.workBegan, ended: standing.trail.submission.workEnded }]] : [])),
    ),
    entries: Object.fromEntries(line.quantities.flatMap(({ rule }) => {
      const item = itemRule(rule);
      return item.form === "pot life" ? [[item.from, entriesAt(sheet, item.from)]] : [];
    })),
    readings: sheet.readings.filter((reading) => reading.line === line.line).map(({ at, celsius }) => ({ at, celsius })),
    photos: photos.map(({ sha256, subject }) => ({ sha256, subject })),
    documents: documents.map(({ use }) => ({ use })),
    gate: gate && gateStanding ? { line: gate.line, name: gate.name, standsOn: gateShifts(gateStanding, project.zone, project.shift) } : null,
  };
}
