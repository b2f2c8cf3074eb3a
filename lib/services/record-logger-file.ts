import { randomUUID } from "node:crypto";
import { readLoggerFile, type LoggerUnit } from "#lib/domain/clock/logger-file";
import { formatWhen } from "#lib/domain/clock/site-time";
import { DomainError } from "#lib/domain/refusal";
import { listLoggers } from "#lib/db/clock";
import { fileRecord } from "#lib/db/journal";
import { inProject, requireMember, type Asking } from "#lib/services/ask";
import { whenNear } from "#lib/services/clock-view";
import { readCsvFile, type IncomingCsv } from "#lib/services/csv-file";
import { columnsOf } from "#lib/services/logger-column";
import { refreshSheet } from "#lib/services/refresh";
import { clockOf, getLine, loadSheet } from "#lib/services/sheet";
import { noteWords, tableFaults, timeChoice, type TableTimes } from "#lib/services/table-choice";

/** How a logger's file is to be read where it does not say it itself. */
export interface LoggerReadingChoice extends TableTimes {
  unit: LoggerUnit | null;
  /** The head of the column that holds the temperature, where several do; empty where one does. */
  column: string;
}

export interface LoggerInput extends IncomingCsv, LoggerReadingChoice {
  id?: string;
  sheet: string;
  line: string;
}

export interface LoggerReceipt {
  id: string;
  sha256: string;
  readings: number;
  /** What was read of it, in words. */
  words: string;
  /** Rows that were left out, and the like. */
  notes: string[];
}

/** Reads a logger's file into the clock of a point: all of it, or nothing with the reasons row by row. */
export async function recordLoggerFile(asking: Asking, input: LoggerInput): Promise<LoggerReceipt> {
  const { house, project } = asking;
  await requireMember(house.db.read, asking, "read temperature");
  const file = await readCsvFile(input, "Logger file");
  const { readings, faults, notes } = readLoggerFile(file.rows, { ...timeChoice(input, project.zone), unit: input.unit, columns: columnsOf(file.rows, input.column) });
  if (faults.length > 0) throw new DomainError("invalid", "Nothing of the file was taken.", tableFaults(faults, "file"));

  return inProject(asking, "read temperature", async (tx, member, now) => {
    const sheet = await loadSheet(tx, project, input.sheet, now);
    const { line } = getLine(sheet, input.line);
    const clock = clockOf(sheet, line);
    if (!clock) throw new DomainError("blocked", `Point ${line.line} has no clock that runs now.`);
    const [first, last] = [readings[0]?.at ?? now, readings.at(-1)?.at ?? now];
    const when = (at: number): string => formatWhen(at, project.zone);
    const refuse = (message: string): never => {
      throw new DomainError("invalid", message, [{ field: "file", message }]);
    };
    if (last > now) refuse(`Its last reading, ${when(last)}, lies in the future. Check the clock that its times are on.`);
    if (last < clock.from) refuse(`Its last reading, ${when(last)}, is before the clock began at ${when(clock.from)}. Check the clock that its times are on.`);
    const id = input.id ?? randomUUID();
    const before = (await listLoggers(tx, sheet.id, line.line)).find((one) => one.sha256 === file.sha256);
    const receipt: LoggerReceipt = {
      id: before?.id ?? id, sha256: file.sha256, readings: readings.length, notes: notes.map(noteWords),
      words: [`${readings.length} readings, ${whenNear(first, project.zone, now)} to ${whenNear(last, project.zone, now)}.`, ...(notes.length > 0 ? [`${notes.length} to note: ${noteWords(notes[0]!)}`] : [])].join(" "),
    };
    if (before && before.id === input.id) return receipt;
    if (before) refuse(`This file was read into this clock already, ${when(before.enteredAt)}.`);
    await fileRecord(tx, house.key, {
      projectId: project.id,
      actor: member.personId,
      at: now,
      body: {
        kind: "logger", id, sheet: sheet.id, line: line.line, title: file.title, sha256: file.sha256, by: member.personId,
        readings: readings.map(({ at, celsius }) => ({ at: new Date(at).toISOString(), celsius })),
      },
    });
    await refreshSheet(tx, project, sheet.id, now);
    return receipt;
  });
}
