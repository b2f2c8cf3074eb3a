import { z } from "zod";
import { OperationId } from "#lib/edge/schema/point";

const Typed = z.string().max(60);
const Unit = z.string().max(12).nullable().default(null);

/** How the times of a table or file without their own offsets are to be read. */
const TABLE_CLOCKS = ["own", "site", "fixed"] as const;
const TableClock = z.enum(TABLE_CLOCKS);
const Offset = z.string().max(6).default("");
const DateOrder = z.enum(["", "day first", "month first"]).default("");

export const WeatherBody = z
  .strictObject({ id: OperationId, title: z.string().max(120), at: z.string().max(40).default(""), air: Typed, airUnit: Unit, humidity: Typed, surface: Typed.default(""), surfaceUnit: Unit })
  .describe("Air, humidity and surface as typed, such as 53.6 °F. Without a time it is now; without a surface no margin is worked out.");

export const TideTableBody = z
  .strictObject({
    id: OperationId, table: z.string().max(500_000), source: z.string().max(200), clock: TableClock, offset: Offset, order: DateOrder, unit: z.enum(["m", "ft"]).nullable().default(null), workLevel: Typed, allowance: Typed,
  })
  .describe("Rows of date and time, height, high or low, as in a CSV file. Level and allowance carry their units.");

export const LOGGER_QUERY = {
  clock: "How its times are written: own (each with its offset), site (the site's clock) or fixed (see offset)",
  offset: "With clock=fixed, such as -04:00",
  order: "What comes first in dates such as 03/04/26, where no row shows it: day first or month first",
  unit: "Unit of its temperatures, where the file does not name one: °C or °F",
  column: "Head of the column with the temperature of a clock, where several hold one",
  id: "UUID of the file; sending it twice is one receipt",
};

const LoggerQuery = z.object({
  clock: TableClock.catch("own"), offset: Offset.catch(""), order: DateOrder.catch(""), unit: z.enum(["°C", "°F"]).nullable().catch(null), column: z.string().max(120).catch(""),
});

/** How a logger's file is to be read, from the query of the call. */
export function loggerQuery(request: Request): z.output<typeof LoggerQuery> {
  return LoggerQuery.parse(Object.fromEntries(new URL(request.url).searchParams));
}
