import { randomUUID } from "node:crypto";
import { readEntryTime } from "#lib/domain/clock/entry-time";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi, UNIT_SYMBOLS } from "#lib/domain/quantity/unit";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { fileRecord } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";
import { refreshSheet } from "#lib/services/refresh";
import { clockOf, getLine, loadSheet } from "#lib/services/sheet";

export interface TemperatureInput {
  id?: string;
  sheet: string;
  line: string;
  /** When it was read, on the site's clock or with an offset. */
  at: string;
  /** As typed, such as "12 °C" or "53.6 F". */
  temperature: string;
  unit: string | null;
}

/** Adds a temperature, read by hand, to the clock of a cure or maturity point. */
export async function recordTemperature(asking: Asking, input: TemperatureInput): Promise<void> {
  await inProject(asking, "read temperature", async (tx, member, now) => {
    const sheet = await loadSheet(tx, asking.project, input.sheet, now);
    const { line } = getLine(sheet, input.line);
    const clock = clockOf(sheet, line);
    if (!clock) throw new DomainError("blocked", `Point ${line.line} has no clock that runs now.`);
    const when = readEntryTime(input.at, asking.project.zone);
    const unit = UNIT_SYMBOLS.find((one) => one === input.unit);
    const read = parseMeasured(input.temperature, { dimension: "temperature", ...(unit ? { unit } : {}) });
    const faults: Fault[] = [];
    if (!when.ok) faults.push({ field: "at", message: when.message });
    else if (when.instant === null) faults.push({ field: "at", message: "Give the time at which it was read." });
    else if (when.instant > now) faults.push({ field: "at", message: "This time lies in the future." });
    else if (when.instant < clock.from) faults.push({ field: "at", message: "This time is before the clock began." });
    if (!read.ok) faults.push({ field: "temperature", message: read.problem.message });
    if (faults.length > 0 || !when.ok || when.instant === null || !read.ok) throw new DomainError("invalid", "The reading is not complete.", faults);

    const id = input.id ?? randomUUID();
    if (sheet.readings.some((reading) => reading.id === id)) return;
    await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at: now,
      body: {
        kind: "temperature",
        id,
        sheet: sheet.id,
        line: line.line,
        at: new Date(when.instant).toISOString(),
        // A twentieth digit of a thermometer says nothing: a hundredth of a degree is kept.
        celsius: fromSi(read.measured.si, "°C").toDecimalPlaces(2).toString(),
        asTyped: read.measured.text,
        by: member.personId,
      },
    });
    await refreshSheet(tx, asking.project, sheet.id, now);
  });
}
