import { unzipSync, zipSync, type Zippable } from "fflate";

/** Most bytes that a workbook may unpack to. Schedules are far below it; what is above is broken or meant to harm. */
const MOST_UNPACKED = 200 * 1024 * 1024;
const MOST_PARTS = 2_000;

/** The parts that cells are read from, or that name them. Pictures and everything else of a workbook are not unpacked. */
const PARTS = /\.(?:xml|rels)$/i;

export type WorkbookParts = { ok: true; workbook: Uint8Array } | { ok: false; message: string };

/**
 * Opens the archive of a workbook without trusting it: its contents are looked at before anything is unpacked, sizes are
 * summed, and only the parts with cells are unpacked, each into the room that it stated, and packed again without compression.
 */
export function openWorkbook(bytes: Uint8Array): WorkbookParts {
  const refuse = (message: string): WorkbookParts => ({ ok: false, message });
  const names: string[] = [];
  let unpacked = 0;
  try {
    unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        names.push(name);
        unpacked += originalSize;
        return false;
      },
    });
  } catch {
    return refuse("The workbook is damaged. Save it again as XLSX.");
  }
  const has = (pattern: RegExp): boolean => names.some((name) => pattern.test(name));
  if (unpacked > MOST_UNPACKED || names.length > MOST_PARTS) return refuse("The file unpacks to more than 200 MB. Send a workbook with the schedule only.");
  if (has(/vbaProject\.bin$/i)) return refuse("The workbook has macros in it. Save it as XLSX without macros.");
  if (has(/^xl\/workbook\.bin$/i)) return refuse("This is a binary workbook (XLSB). Save it as XLSX.");
  if (has(/^content\.xml$/i) && has(/^mimetype$/i)) return refuse("This is an OpenDocument file. Save it as XLSX or CSV.");
  if (!has(/^xl\/workbook\.xml$/i)) return refuse("This is an archive and not a workbook. Send the schedule as XLSX or CSV.");
  if (names.some((name, index) => PARTS.test(name) && names.indexOf(name) < index)) return refuse("The workbook holds one part twice. Save it again as XLSX.");
  try {
    const parts = unzipSync(bytes, { filter: ({ name }) => PARTS.test(name) });
    const cut = Object.entries(parts).find(([, part]) => !endsLikeXml(part));
    if (cut) return refuse("The workbook is damaged: one of its parts breaks off. Save it again as XLSX.");
    return { ok: true, workbook: zipSync(Object.fromEntries(Object.entries(parts).map(([name, part]): [string, Zippable[string]] => [name, [part, { level: 0 }]]))) };
  } catch {
    return refuse("The workbook is damaged. Save it again as XLSX.");
  }
}

/** A part whose stated size was too small breaks off before its last ">". */
function endsLikeXml(part: Uint8Array): boolean {
  const end = new TextDecoder("latin1").decode(part.subarray(-64)).replaceAll("\u0000", "").trimEnd();
  return end.endsWith(">") && /<\/[\w:]+>$|\/>$|\?>$/.test(end);
}
