import { randomUUID } from "node:crypto";
import { readEntryTime } from "#lib/domain/clock/entry-time";
import { dewPointC } from "#lib/domain/estimate/dew-point";
import type { Instant } from "#lib/domain/instant";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi, UNIT_SYMBOLS, type Dimension, type Unit } from "#lib/domain/quantity/unit";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { listWeather, type WeatherReading } from "#lib/db/clock";
import { fileRecord } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";

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
