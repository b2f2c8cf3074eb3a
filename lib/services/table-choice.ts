import type { TableFault, TableNote, TimeChoice } from "#lib/domain/clock/table";
import type { DateOrder } from "#lib/domain/clock/table-time";
import { DomainError, type Fault } from "#lib/domain/refusal";

/** How the person says that the times of a table are written. */
export interface TableTimes {
  /** "own": with an offset in each row; "site": on the site's clock; "fixed": at the one `offset`. */
  clock: "own" | "site" | "fixed";
  offset: string;
  /** What comes first in 03/04/26; empty where nobody said it. */
  order: DateOrder | "";
}

/** The same as the rules read it. An offset that is asked for and is none is refused. */
export function timeChoice({ clock, offset, order }: TableTimes, siteZone: string): TimeChoice {
  const choice = { order: order === "" ? null : order };
  if (clock === "own") return { ...choice, zone: null };
  if (clock === "site") return { ...choice, zone: siteZone };
  const zone = offsetOf(offset);
  if (zone === null) throw new DomainError("invalid", "Give the offset of the table.", [{ field: "offset", message: "Give the offset that the table keeps all along, such as -04:00." }]);
  return { ...choice, zone };
}

/** "-4", "−04:00" and "+0530" as the rules read an offset: "-04:00"; null for what is none. */
function offsetOf(text: string): string | null {
  const [, sign, hours = "", minutes = "00"] = /^([+-])(\d{1,2}?)(?::?(\d{2}))?$/.exec(text.normalize("NFKC").replace(/[−–]/g, "-").trim()) ?? [];
  if (!sign || Number(hours) > 18 || Number(minutes) > 59) return null;
  return `${sign}${hours.padStart(2, "0")}:${minutes}`;
}

const FIELDS: Record<NonNullable<TableFault["asks"]>, string> = { zone: "clock", unit: "unit", "date order": "order", columns: "column" };

/** Each fault with its row, at the choice that would mend it, else at the table itself. */
export function tableFaults(faults: readonly TableFault[], table: string): Fault[] {
  return faults.map(({ asks, ...note }) => ({ field: asks === null ? table : FIELDS[asks], message: noteWords(note) }));
}

export function noteWords({ row, message }: TableNote): string {
  return row === null || /\brows? \d/i.test(message) ? message : `Row ${row}: ${message}`;
}
