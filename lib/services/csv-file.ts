import { CsvError, parse } from "csv-parse/sync";
import { DomainError } from "#lib/domain/refusal";
import { decodeText } from "#lib/schedule-file/decode";
import { sha256 } from "#lib/records/canonical";

/** A table or a logger's file as it arrives. */
export interface IncomingCsv {
  stream: AsyncIterable<Uint8Array>;
  declaredLength?: number;
  declaredSha256?: string;
  fileName?: string;
}

export interface CsvFile {
  /** The name of the file, or what it is called where it came without one. */
  title: string;
  sha256: string;
  rows: string[][];
}

/** A month of a logger that reads every minute is a third of it. */
const LARGEST_BYTES = 5 * 1024 * 1024;
const LONGEST_TITLE = 120;

function tooLarge(): DomainError {
  const message = `The file is larger than ${LARGEST_BYTES / 1024 ** 2} MB. Send the part of it that is about this work.`;
  return new DomainError("invalid", message, [{ field: "file", message }]);
}

/** Reads a CSV file whole; one that says it is larger than 5 MB is refused before anything of it is read. */
export async function readCsvFile({ stream, declaredLength, declaredSha256, fileName }: IncomingCsv, called: string): Promise<CsvFile> {
  if (declaredLength !== undefined && declaredLength > LARGEST_BYTES) throw tooLarge();
  const chunks: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of stream) {
    length += chunk.byteLength;
    if (length > LARGEST_BYTES) throw tooLarge();
    chunks.push(chunk);
  }
  const bytes = Buffer.concat(chunks);
  const digest = sha256(bytes);
  if (declaredSha256 !== undefined && declaredSha256.toLowerCase() !== digest) throw new DomainError("invalid", "The file changed on its way. Send it again.", [{ field: "file", message: "The file changed on its way. Send it again." }]);
  const decoded = decodeText(bytes);
  if (!decoded) throw notCsv("it holds bytes that no text has");
  return { title: titleOf(fileName) || called, sha256: digest, rows: csvRows(decoded.text) };
}

/** The last part of a path, without what no name needs. */
function titleOf(fileName = ""): string {
  return (fileName.split(/[\\/]/).at(-1) ?? "").replace(/\p{C}/gu, "").trim().slice(0, LONGEST_TITLE);
}

/** The rows of a table as typed, pasted or exported, blank ones too: cells between commas, semicolons or tabs, whichever the text uses. */
export function csvRows(text: string): string[][] {
  try {
    return parse(text, { delimiter: delimiterOf(text), bom: true, trim: true, relax_column_count: true, skip_empty_lines: false, relax_quotes: true });
  } catch (error) {
    if (error instanceof CsvError) throw notCsv(`a quotation mark in line ${(error as { lines?: number }).lines ?? 1} is not closed`);
    throw error;
  }
}

/** A comma may be inside a number, a semicolon or a tab is not. */
function delimiterOf(text: string): string {
  const head = text.slice(0, 4_000);
  return ["\t", ";"].find((one) => head.includes(one)) ?? ",";
}

function notCsv(because: string): DomainError {
  const message = `This is not a CSV file: ${because}. Export it as CSV and send that.`;
  return new DomainError("invalid", message, [{ field: "file", message }]);
}
