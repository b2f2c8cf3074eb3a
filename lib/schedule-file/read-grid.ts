import path from "node:path";
import { geojsonGrid } from "#lib/domain/schedule/geojson";
import type { GridReading } from "#lib/domain/schedule/grid";
import { decodeText } from "#lib/schedule-file/decode";
import { readSeparated } from "#lib/schedule-file/separated";
import { readWorkbook } from "#lib/schedule-file/workbook";

/** Largest schedule that is taken, bytes. */
export const MOST_BYTES = 20 * 1024 * 1024;

/**
 * Reads the file of a drawing schedule into its cells. What it is, its content tells: an XLSX workbook, a GeoJSON collection
 * of points, or text with commas, semicolons or tabs. Everything else is refused with words for the person who sent it.
 *
 * @param fileName  names the sheet of a file that has no sheets; it says nothing of the kind.
 * @param sheet     the sheet of a workbook; null takes the first visible one with something in it.
 */
export function readGrid(bytes: Uint8Array, fileName: string, sheet: string | null = null): GridReading {
  const refuse = (message: string): GridReading => ({ ok: false, message });
  if (bytes.length > MOST_BYTES) return refuse("The file is larger than 20 MB. Send the sheet with the piles only.");
  if (bytes.length === 0) return refuse("The file is empty. Send the schedule with its rows.");
  const begins = (...signature: number[]): boolean => signature.every((byte, index) => bytes[index] === byte);
  if (begins(0x50, 0x4b)) return readWorkbook(bytes, sheet);
  if (begins(0xd0, 0xcf, 0x11, 0xe0)) return refuse(compoundWords(bytes));
  if (begins(0x25, 0x50, 0x44, 0x46)) return refuse("This is a PDF. Send the schedule as XLSX or CSV.");
  const decoded = decodeText(bytes);
  if (!decoded) return refuse("This is neither a workbook nor text. Save the schedule as XLSX, or as CSV in UTF-8.");
  const { text, note } = decoded;
  if (/^\s*\{/.test(text)) return geojsonGrid(text);
  if (/^\s*<(?:!doctype|html|\?xml|table)\b/i.test(text)) return refuse("This is a web page or XML. Save the schedule as XLSX or CSV.");
  return readSeparated(text, path.parse(fileName).name, note);
}

/** Reads cells that were copied out of a spreadsheet or typed as text. */
export function readPaste(text: string): GridReading {
  if (Buffer.byteLength(text) > MOST_BYTES) return { ok: false, message: "More than 20 MB was pasted. Paste the rows of the piles only." };
  if (text.trim() === "") return { ok: false, message: "Nothing was pasted. Copy the rows of the schedule with their header." };
  return readSeparated(text, "Pasted", null);
}

/** The old container holds either a workbook of before 2007 or a new one behind a password. */
function compoundWords(bytes: Uint8Array): string {
  const encrypted = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).includes(Buffer.from("EncryptedPackage", "utf16le"));
  return encrypted ? "The workbook is protected by a password. Save it without one." : "This is an old workbook (XLS). Save it as XLSX.";
}
