import { randomUUID } from "node:crypto";
import { readEntryTime } from "#lib/domain/clock/entry-time";
import type { LoggerUnit } from "#lib/domain/clock/logger-file";
import { formatWhen } from "#lib/domain/clock/site-time";
import { readWeatherFile } from "#lib/domain/clock/weather-file";
import { dewPointC } from "#lib/domain/estimate/dew-point";
import type { Instant } from "#lib/domain/instant";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi, UNIT_SYMBOLS, type Dimension, type Unit } from "#lib/domain/quantity/unit";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { listWeather, type WeatherReading } from "#lib/db/clock";
import { fileRecord } from "#lib/db/journal";
import { inProject, requireMember, type Asking } from "#lib/services/ask";
import { whenNear } from "#lib/services/clock-view";
import { readCsvFile, type IncomingCsv } from "#lib/services/csv-file";
import type { LoggerReceipt } from "#lib/services/record-logger-file";
import { noteWords, tableFaults, timeChoice, type TableTimes } from "#lib/services/table-choice";

export interface WeatherInput {
  id: string;
  /** What it was read with, or where: "HY-1, under bent 04". */
  title: string;
  /** On the site's clock or with an offset; empty for now. */
  at: string;
  air: string;
  airUnit: string | null;
  humidity: string;
  /** Empty where the surface was not read. */
  surface: string;
  surfaceUnit: string | null;
}

/** Records air, humidity and, where it was read, the surface. */
export async function recordWeather(asking: Asking, input: WeatherInput): Promise<void> {
  await inProject(asking, "read temperature", async (tx, member, now) => {
    const reading = readWeather(input, asking.project.zone, now);
    const title = input.title.trim();
    if ((await listWeather(tx, asking.project.id)).some(({ id }) => id === input.id)) return;
    await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at: now,
      body: { kind: "weather", id: input.id || randomUUID(), title, sha256: null, readings: [{ ...reading, at: new Date(reading.at).toISOString() }], by: member.personId },
    });
  });
}

export interface WeatherFileInput extends IncomingCsv, TableTimes {
  id?: string;
  unit: LoggerUnit | null;
}

/** Reads a weather logger's file: all of it, or nothing with the reasons row by row. */
export async function recordWeatherFile(asking: Asking, input: WeatherFileInput): Promise<LoggerReceipt> {
  const { house, project } = asking;
  await requireMember(house.db.read, asking, "read temperature");
  const file = await readCsvFile(input, "Weather log");
  const { readings, faults, notes } = readWeatherFile(file.rows, { ...timeChoice(input, project.zone), unit: input.unit });
  if (faults.length > 0) throw new DomainError("invalid", "Nothing of the file was taken.", tableFaults(faults, "file"));
  return inProject(asking, "read temperature", async (tx, member, now) => {
    const [first, last] = [readings[0]?.at ?? now, readings.at(-1)?.at ?? now];
    const refuse = (message: string): never => {
      throw new DomainError("invalid", message, [{ field: "file", message }]);
    };
    if (last > now) refuse(`Its last reading, ${formatWhen(last, project.zone)}, lies in the future. Check the clock that its times are on.`);
    const before = (await listWeather(tx, project.id)).find(({ sha256 }) => sha256 === file.sha256);
    const id = input.id ?? randomUUID();
    const receipt: LoggerReceipt = {
      id: before?.id ?? id, sha256: file.sha256, readings: readings.length, notes: notes.map(noteWords),
      words: `${readings.length} readings, ${whenNear(first, project.zone, now)} to ${whenNear(last, project.zone, now)}.`,
    };
    if (before && before.id === input.id) return receipt;
    if (before) refuse(`This file was read already, ${formatWhen(before.enteredAt, project.zone)}.`);
    await fileRecord(tx, house.key, {
      projectId: project.id,
      actor: member.personId,
      at: now,
      body: { kind: "weather", id, title: file.title.replace(/\.(?:csv|txt)$/i, ""), sha256: file.sha256, readings: readings.map((one) => ({ ...one, at: new Date(one.at).toISOString() })), by: member.personId },
    });
    return receipt;
  });
}

/** Reads a reading as typed, and refuses it with each thing that is wrong with it. */
export function readWeather(input: WeatherInput, zone: string, now: Instant): WeatherReading {
  const faults: Fault[] = [];
  const when = readEntryTime(input.at, zone);
  if (!when.ok) faults.push({ field: "at", message: when.message });
  else if (when.instant !== null && when.instant > now) faults.push({ field: "at", message: "This time lies in the future." });
  if (input.title.trim() === "") faults.push({ field: "title", message: "Say what it was read with, or where." });
  const air = read(input.air, "temperature", input.airUnit, "air", faults);
  const humidity = read(input.humidity, "share", "%", "humidity", faults);
  const surface = input.surface.trim() === "" ? null : read(input.surface, "temperature", input.surfaceUnit, "surface", faults);
  const [airC, humidityPct] = [air && inUnit(air, "°C"), humidity && inUnit(humidity, "%")];
  if (humidityPct !== null && !(Number(humidityPct) > 0 && Number(humidityPct) <= 100)) faults.push({ field: "humidity", message: "Relative humidity is more than 0 and at most 100 %." });
  else if (airC !== null && humidityPct !== null && dewPointC(Number(airC), Number(humidityPct)) === null) faults.push({ field: "air", message: "The dew point cannot be told for this air. Check the number and its unit." });
  if (faults.length > 0 || !when.ok || airC === null || humidityPct === null) throw new DomainError("invalid", "The reading is not complete.", faults);
  return { at: when.instant ?? now, airC, humidityPct, surfaceC: surface && inUnit(surface, "°C") };
}

function read(text: string, dimension: Dimension, unit: string | null, field: string, faults: Fault[]): string | null {
  const known = UNIT_SYMBOLS.find((one) => one === unit);
  const result = parseMeasured(text, { dimension, ...(known ? { unit: known } : {}) });
  if (result.ok) return result.measured.si;
  faults.push({ field, message: result.problem.message });
  return null;
}

/** A twentieth digit of a thermometer says nothing: a hundredth is kept. */
function inUnit(si: string, unit: Unit): string {
  return fromSi(si, unit).toDecimalPlaces(2).toFixed();
}
