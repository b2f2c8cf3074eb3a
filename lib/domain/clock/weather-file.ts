import { readLoggerFile, type LoggerUnit } from "#lib/domain/clock/logger-file";
import { fault, isBlank, readTimes, shortened, statedOffset, timeColumns, timeText, type TableFault, type TableNote, type TimeChoice } from "#lib/domain/clock/table";
import type { Instant } from "#lib/domain/instant";
import { readNumber } from "#lib/domain/quantity/number-text";

export interface WeatherRow {
  at: Instant;
  /** °C, a plain decimal. */
  airC: string;
  /** Relative humidity, more than 0 and at most 100 %. */
  humidityPct: string;
  /** Temperature of the pile's own surface, °C; null where the file does not hold it. */
  surfaceC: string | null;
}
export interface WeatherChoice extends TimeChoice {
  /** The unit of temperatures, where the heads do not say it. */
  unit: LoggerUnit | null;
}
/** All of a file or nothing: with a fault there are no readings. */
export interface WeatherFile {
  /** Ascending, each instant once. */
  readings: WeatherRow[];
  faults: TableFault[];
  notes: TableNote[];
}

interface Columns {
  headRow: number;
  date: number | null;
  time: number;
  air: number;
  humidity: number;
  surface: number | null;
}

const HEAD_WITHIN = 60;
const HUMIDITY_HEAD = /humid|\brh\b|%/i;
const SURFACE_HEAD = /surface|substrate|pile|steel|concrete/i;
const AIR_HEAD = /air|ambient|temp/i;
const NOT_AIR_HEAD = /dew|wet.?bulb/i;

/**
 * Reads the rows of a weather logger's file: time, air, humidity, and the surface of the pile where it was logged, by their heads.
 * Times and temperatures are read as `readLoggerFile` reads them. A row without air or humidity is noted and left out.
 *
 * @param rows  Cells as a CSV reader gives them, blank rows included so that rows keep their numbers.
 */
export function readWeatherFile(rows: readonly (readonly string[])[], choice: WeatherChoice): WeatherFile {
  const columns = findColumns(rows);
  if (!columns) return { readings: [], notes: [], faults: [fault(null, null, "The columns are not found. Head them Time, Air and Humidity, and Surface where it was logged.", "columns")] };
  const { headRow, date, time } = columns;
  const of = (temperature: number) => readLoggerFile(rows, { ...choice, columns: { headRow, date, time, temperature } });
  const air = of(columns.air);
  const surface = columns.surface === null ? null : of(columns.surface);
  const data = rows.map((cells, i) => ({ row: i + 1, cells })).filter(({ row, cells }) => row > headRow && !isBlank(cells));
  const stated = statedOffset(rows[headRow - 1]?.[time] ?? "");
  const times = readTimes(data.map(({ row, cells }) => ({ row, column: time, text: timeText(cells, columns) })), { ...choice, zone: stated ?? choice.zone }, true);
  const humidities = data.map(({ cells }) => readHumidity((cells[columns.humidity] ?? "").trim()));
  const faults = [...air.faults, ...(surface?.faults ?? []).filter(({ column }) => column === columns.surface), ...data.flatMap(({ row }, i) => (humidities[i]?.kind === "fault" ? [fault(row, columns.humidity, humidities[i].message)] : []))];
  if (faults.length > 0) return { readings: [], faults, notes: [] };

  const [airAt, surfaceAt] = [air, surface].map((file) => new Map(file?.readings.map(({ at, celsius }) => [at, celsius])));
  const found = new Map<Instant, WeatherRow>();
  const notes = [...air.notes];
  data.forEach(({ row }, i) => {
    const [at, humidity] = [times.instants[i] ?? null, humidities[i]];
    const airC = at === null ? undefined : airAt?.get(at);
    if (humidity?.kind !== "read") notes.push({ row, column: columns.humidity, message: "No humidity stands in it. The row is left out." });
    else if (at !== null && airC !== undefined) found.set(at, { at, airC, humidityPct: humidity.percent, surfaceC: surfaceAt?.get(at) ?? null });
  });
  const readings = [...found.values()].sort((a, b) => a.at - b.at);
  return readings.length > 0 ? { readings, faults: [], notes } : { readings: [], notes, faults: [fault(null, null, "No row holds both air and humidity.")] };
}

/** The first row that heads a time, one temperature of the air and one humidity. */
function findColumns(rows: readonly (readonly string[])[]): Columns | null {
  for (const [i, head] of rows.slice(0, HEAD_WITHIN).entries()) {
    const when = timeColumns(head);
    const where = (test: (cell: string) => boolean): number[] => head.flatMap((cell, column) => (column !== when?.time && column !== when?.date && test(cell) ? [column] : []));
    const humidity = where((cell) => HUMIDITY_HEAD.test(cell));
    const surface = where((cell) => SURFACE_HEAD.test(cell));
    const air = where((cell) => AIR_HEAD.test(cell) && !NOT_AIR_HEAD.test(cell) && !SURFACE_HEAD.test(cell) && !HUMIDITY_HEAD.test(cell));
    if (when && air[0] !== undefined && air.length === 1 && humidity[0] !== undefined && humidity.length === 1 && surface.length <= 1) {
      return { headRow: i + 1, ...when, air: air[0], humidity: humidity[0], surface: surface[0] ?? null };
    }
  }
  return null;
}

type HumidityRead = { kind: "read"; percent: string } | { kind: "none" } | { kind: "fault"; message: string };

function readHumidity(text: string): HumidityRead {
  if (!/\d/.test(text)) return { kind: "none" };
  const read = readNumber(text.replace(/\s*%$/, ""));
  if ("fault" in read) return { kind: "fault", message: `${shortened(text)} is not a humidity that can be read.` };
  if (!read.number.gt(0) || read.number.gt(100)) return { kind: "fault", message: `${shortened(text)} is no relative humidity: it is more than 0 and at most 100 %.` };
  return { kind: "read", percent: read.number.toDecimalPlaces(4).toFixed() };
}
