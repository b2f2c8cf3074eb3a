import type { LoggerColumns } from "#lib/domain/clock/logger-file";
import { timeColumns } from "#lib/domain/clock/table";
import { DomainError } from "#lib/domain/refusal";

/** The head stands within the first rows: facts about the logger may come before it. */
const HEAD_WITHIN = 60;

const same = (a: string, b: string): boolean => a.normalize("NFKC").trim().toLowerCase() === b.normalize("NFKC").trim().toLowerCase();

/** Where the column is that a person named by its head; null where nobody named one, and it is found by itself. */
export function columnsOf(rows: readonly (readonly string[])[], named: string): LoggerColumns | null {
  if (named.trim() === "") return null;
  for (const [index, head] of rows.slice(0, HEAD_WITHIN).entries()) {
    const when = timeColumns(head);
    const temperature = head.findIndex((cell) => same(cell, named));
    if (when && temperature >= 0) return { headRow: index + 1, ...when, temperature };
  }
  const message = `No column is headed ${named.trim().slice(0, 60)}. Write its head as it stands in the file.`;
  throw new DomainError("invalid", message, [{ field: "column", message }]);
}
