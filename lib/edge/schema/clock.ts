import { z } from "zod";
import { OperationId } from "#lib/edge/schema/point";

const Typed = z.string().max(60);
const Unit = z.string().max(12).nullable().default(null);

/** How the times of a table or file without their own offsets are to be read. */
export const TABLE_CLOCKS = ["own", "site", "fixed"] as const;
const TableClock = z.enum(TABLE_CLOCKS);
const Offset = z.string().max(6).default("");

export const WeatherBody = z
  .strictObject({ id: OperationId, title: z.string().max(120), at: z.string().max(40).default(""), air: Typed, airUnit: Unit, humidity: Typed, surface: Typed.default(""), surfaceUnit: Unit })
  .describe("Air, humidity and surface as typed, such as 53.6 °F. Without a time it is now; without a surface no margin is worked out.");

export const TideTableBody = z
  .strictObject({
    id: OperationId, table: z.string().max(500_000), source: z.string().max(200), clock: TableClock, offset: Offset, unit: z.enum(["m", "ft"]), workLevel: Typed, allowance: Typed,
  })
  .describe("Rows of date and time, height, high or low, as in a CSV file. Level and allowance carry their units.");

export const LOGGER_QUERY = {
  clock: "How its times are written: own (each with its offset), site (the site's clock) or fixed (see offset)",
  offset: "With clock=fixed, such as -04:00",
  unit: "Unit of its temperatures, where the file does not name one: °C or °F",
  id: "UUID of the file; sending it twice is one receipt",
};

/** How a logger's file is to be read, from the query of the call. */
export function loggerQuery(request: Request): { clock: (typeof TABLE_CLOCKS)[number]; offset: string; unit: string | null } {
  const query = new URL(request.url).searchParams;
  return { clock: TableClock.catch("own").parse(query.get("clock")), offset: Offset.catch("").parse(query.get("offset") ?? ""), unit: Unit.catch(null).parse(query.get("unit")) };
}
