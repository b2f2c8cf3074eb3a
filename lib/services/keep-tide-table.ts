import { readTideTable as readRows } from "#lib/domain/clock/tide-table";
import { Decimal } from "#lib/domain/quantity/decimal";
import { parseMeasured } from "#lib/domain/quantity/measured";
import { fromSi } from "#lib/domain/quantity/unit";
import { DomainError, type Fault } from "#lib/domain/refusal";
import { listTideTables, type TideTableOnFile } from "#lib/db/clock";
import { fileRecord } from "#lib/db/journal";
import { inProject, type Asking } from "#lib/services/ask";
import { csvRows } from "#lib/services/csv-file";
import { noteWords, tableFaults, timeChoice, type TableTimes } from "#lib/services/table-choice";

export interface TideInput extends TableTimes {
  id: string;
  /** High and low waters as pasted or in a CSV file. */
  table: string;
  /** Where the table was published. */
  source: string;
  /** Unit of bare heights; null where the head says it. */
  unit: "m" | "ft" | null;
  /** With their units: "0.8 m". */
  workLevel: string;
  allowance: string;
}

export type TideReading = Pick<TideTableOnFile, "waters" | "workLevelM" | "allowanceM"> & { notes: string[] };

/** Reads a table as typed; refuses it with each row and field that has to be mended. Nothing is kept yet. */
export function readTideTable(input: TideInput, siteZone: string): TideReading {
  if (input.table.trim() === "") throw new DomainError("invalid", "There is no table.", [{ field: "table", message: "Paste the rows of the table, or choose its file." }]);
  const { waters, faults: rowFaults, notes } = readRows(csvRows(input.table), { ...timeChoice(input, siteZone), unit: input.unit });
  const faults = tableFaults(rowFaults, "table").map((one) => (one.field === "column" ? { ...one, field: "table" } : one));
  const workLevelM = metres(input.workLevel, "workLevel", faults);
  const allowanceM = metres(input.allowance, "allowance", faults);
  if (allowanceM !== null && new Decimal(allowanceM).lt(0)) faults.push({ field: "allowance", message: "An allowance is not negative. Give 0 m where none is made." });
  if (faults.length > 0 || workLevelM === null || allowanceM === null) throw new DomainError("invalid", "Nothing of the table was taken.", faults);
  return { waters, workLevelM, allowanceM, notes: notes.map(noteWords) };
}

function metres(text: string, field: string, faults: Fault[]): string | null {
  const read = parseMeasured(text, { dimension: "length" });
  // To the tenth of a millimetre, as the heights of the table.
  if (read.ok) return fromSi(read.measured.si, "m").toDecimalPlaces(4).toFixed();
  faults.push({ field, message: read.problem.message });
  return null;
}

/** Keeps a published table of high and low waters, with the level at which work stops. A later table counts where both know a day. */
export async function keepTideTable(asking: Asking, input: TideInput): Promise<TideReading> {
  return inProject(asking, "keep tides", async (tx, member, at) => {
    const reading = readTideTable(input, asking.project.zone);
    const source = input.source.trim();
    if (source === "") throw new DomainError("invalid", "The table is not complete.", [{ field: "source", message: "Say where the table was published." }]);
    if ((await listTideTables(tx, asking.project.id)).some(({ id }) => id === input.id)) return reading;
    const { waters, workLevelM, allowanceM } = reading;
    await fileRecord(tx, asking.house.key, {
      projectId: asking.project.id,
      actor: member.personId,
      at,
      body: { kind: "tide table", id: input.id, source, rows: waters.map((one) => ({ ...one, at: new Date(one.at).toISOString() })), workLevelM, allowanceM, by: member.personId },
    });
    return reading;
  });
}
