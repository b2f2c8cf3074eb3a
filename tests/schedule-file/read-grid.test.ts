import * as xlsx from "@e965/xlsx";
import { zipSync, strToU8 } from "fflate";
import { describe, expect, it } from "vitest";
import type { Grid } from "#lib/domain/schedule/grid";
import { MOST_BYTES, readGrid, readPaste } from "#lib/schedule-file/read-grid";

const bytes = (text: string, encoding: BufferEncoding = "utf8"): Uint8Array => Buffer.from(text, encoding);
function gridOf(reading: ReturnType<typeof readGrid>): Grid {
  if (!reading.ok) throw new Error(reading.message);
  return reading.grid;
}
const texts = ({ rows }: Grid) => rows.map(({ cells }) => cells.map((cell) => cell?.text ?? ""));
const refusal = (reading: ReturnType<typeof readGrid>): string => (reading.ok ? `read ${reading.grid.rows.length} rows` : reading.message);

function workbook(cells: Record<string, xlsx.CellObject>, change: (sheet: xlsx.WorkSheet, book: xlsx.WorkBook) => void = () => {}): Uint8Array {
  const sheet: xlsx.WorkSheet = { ...cells, "!ref": "A1:H20" };
  const book = xlsx.utils.book_new();
  xlsx.utils.book_append_sheet(book, sheet, "Piles");
  change(sheet, book);
  return xlsx.write(book, { type: "buffer", bookType: "xlsx", compression: true }) as Uint8Array;
}

describe("separated text", () => {
  it.each<[string, string]>([
    ["commas", "Mark,Height\n17-A,3.5\n17-B,4\n"],
    ["semicolons with decimal commas", "Mark;Height\n17-A;3,5\n17-B;4,0\n"],
    ["tabs", "Mark\tHeight\r\n17-A\t3,5\r\n17-B\t4;0\r\n"],
  ])("is cut at its %s", (_, text) => {
    expect(gridOf(readGrid(bytes(text), "piles.csv"))).toMatchObject({ sheetName: "piles", rows: [{ number: 1 }, { number: 2 }, { number: 3 }], columns: [{ letter: "A" }, { letter: "B" }] });
  });

  it("keeps inch marks, quoted cells with line breaks, and the numbers of rows after blank ones", () => {
    const grid = gridOf(readGrid(bytes("Mark,Top,Note\n17-A,4'-3 1/2\",\"one, or\ntwo\"\n\n17-B,\"4'-3\"\"\",\n"), "piles.csv"));
    expect(texts(grid)).toEqual([["Mark", "Top", "Note"], ["17-A", "4'-3 1/2\"", "one, or\ntwo"], ["17-B", "4'-3\""]]);
    expect(grid.rows.map(({ number }) => number)).toEqual([1, 2, 4]);
  });

  it.each<[string, Uint8Array, string | null]>([
    ["UTF-8", bytes("Mark,Höhe\n17-A,½"), null],
    ["UTF-8 with its mark", bytes("\uFEFFMark,Höhe\n17-A,½"), null],
    ["UTF-16 with its mark", Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from("Mark,Höhe\n17-A,½", "utf16le")]), null],
    ["UTF-16 the other way", Buffer.concat([Buffer.from([0xfe, 0xff]), Buffer.from("Mark,Höhe\n17-A,½", "utf16le").swap16()]), null],
    ["Windows-1252, and says so", bytes("Mark,Höhe\n17-A,½", "latin1"), "Windows-1252"],
  ])("is read as %s", (_, file, note) => {
    const grid = gridOf(readGrid(file, "piles.csv"));
    expect(texts(grid)).toEqual([["Mark", "Höhe"], ["17-A", "½"]]);
    expect(grid.notes.join(" ").includes("Windows-1252")).toBe(note !== null);
  });

  it.each(["=1+1", "@SUM(A1)", "+A1", "+cmd|' /C calc'!A0", "=HYPERLINK(\"x\")"])("marks %s as a formula written as text", (text) => {
    expect(gridOf(readPaste(`Mark\tNote\n17-A\t${text}`)).rows[1]?.cells[1]).toMatchObject({ formula: "text" });
  });
  it.each(["+3.5", "+4'-3 1/2\"", "-2", "+ 3 ft", "a=b", "17-A"])("takes %s for a value", (text) => {
    expect(gridOf(readPaste(`Mark\tNote\n17-A\t${text}`)).rows[1]?.cells[1]).toMatchObject({ formula: "none", text });
  });

  it.each<[string, string, RegExp]>([
    ["nothing", "  \n ", /Nothing was pasted/],
    ["an open quotation mark", "Mark,Note\n17-A,\"never closed", /never closed/],
    ["too many rows", "17-A,1\n".repeat(20_001), /more than 20 000 rows/],
    ["too many columns", ",".repeat(200) + "x", /more than 200 columns/],
    ["too many cells", `${"a,".repeat(149)}a\n`.repeat(4_000), /more than 500 000 cells/],
  ])("refuses %s", (_, text, message) => expect(refusal(readPaste(text))).toMatch(message));
});

describe("files that are no schedule", () => {
  const archive = (parts: Record<string, string>): Uint8Array => zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])));
  const old = Buffer.concat([Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]), Buffer.alloc(100)]);
  it.each<[string, Uint8Array, RegExp]>([
    ["nothing", new Uint8Array(), /empty/],
    ["more than 20 MB", new Uint8Array(MOST_BYTES + 1), /larger than 20 MB/],
    ["a PDF", bytes("%PDF-1.7"), /This is a PDF/],
    ["a picture", Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13]), /neither a workbook nor text/],
    ["a web page", bytes("<html><table></table></html>"), /web page/],
    ["an old workbook", old, /old workbook/],
    ["a workbook behind a password", Buffer.concat([old, Buffer.from("EncryptedPackage", "utf16le")]), /password/],
    ["a broken archive", Buffer.from([0x50, 0x4b, 3, 4, 1, 2, 3]), /damaged/],
    ["another archive", archive({ "readme.txt": "x" }), /archive and not a workbook/],
    ["macros", archive({ "xl/workbook.xml": "<a/>", "xl/vbaProject.bin": "x" }), /macros/],
    ["a binary workbook", archive({ "xl/workbook.bin": "x" }), /XLSB/],
    ["an OpenDocument sheet", archive({ mimetype: "x", "content.xml": "<a/>" }), /OpenDocument/],
    ["a workbook of nothing", archive({ "xl/workbook.xml": "<a/>" }), /cannot be read|No visible sheet/],
  ])("are refused: %s", (_, file, message) => expect(refusal(readGrid(file, "piles.xlsx"))).toMatch(message));

  /** Writes another unpacked size into every place where the archive states that of one part. */
  function restated(file: Uint8Array, name: string, size: number): Uint8Array {
    const copy = Buffer.from(file);
    for (let at = copy.indexOf(name); at >= 0; at = copy.indexOf(name, at + 1)) {
      if (copy.readUInt32LE(Math.max(0, at - 30)) === 0x04034b50) copy.writeUInt32LE(size, at - 30 + 22);
      if (copy.readUInt32LE(Math.max(0, at - 46)) === 0x02014b50) copy.writeUInt32LE(size, at - 46 + 24);
    }
    return copy;
  }
  it("are refused when they state that they unpack to more than 200 MB", () => {
    expect(refusal(readGrid(restated(workbook({ A1: { t: "s", v: "Mark" } }), "xl/worksheets/sheet1.xml", 220 * 1024 * 1024), "x.xlsx"))).toMatch(/more than 200 MB/);
  });
  it("are refused when they unpack to more than they state", () => {
    const many = Object.fromEntries(Array.from({ length: 20 }, (_, index) => [`A${index + 1}`, { t: "s", v: `17-${index}` } as xlsx.CellObject]));
    expect(refusal(readGrid(restated(workbook(many), "xl/worksheets/sheet1.xml", 400), "x.xlsx"))).toMatch(/damaged/);
  });
});

describe("workbooks", () => {
  it("show cells as the file does, with the whole number behind them", () => {
    const grid = gridOf(readGrid(workbook({ A1: { t: "n", v: 2, z: "00" }, B1: { t: "n", v: 44.12345678901, z: "0.00" }, C1: { t: "n", v: 0.1 + 0.2 }, D1: { t: "n", v: 1.5e-9 }, E1: { t: "b", v: true }, F1: { t: "n", v: 1 / 3, z: "0.00" } }), "x.xlsx"));
    expect(grid.rows[0]?.cells.map((cell) => [cell?.text, cell?.number])).toEqual([["02", "2"], ["44.12", "44.12345678901"], ["0.3", "0.3"], ["1.5E-09", "0.0000000015"], ["TRUE", null], ["0.33", "0.333333333333"]]);
  });

  it("take the value kept beside a formula, and work out none", () => {
    const cells = gridOf(readGrid(workbook({ A1: { t: "n", v: 1 }, B1: { t: "n", f: "A1*42", v: 42 }, C1: { t: "n", f: "A1+1" }, D1: { t: "s", v: "=A1" } }), "x.xlsx")).rows[0]?.cells;
    expect(cells?.map((cell) => [cell?.text, cell?.formula])).toEqual([["1", "none"], ["42", "value taken"], ["", "no value"], ["=A1", "text"]]);
  });

  it("tell dates that the spreadsheet made of what was typed", () => {
    expect(gridOf(readGrid(workbook({ A1: { t: "n", v: 46_000, z: "d-mmm" }, B1: { t: "n", v: 46_000 } }), "x.xlsx")).rows[0]?.cells.map((cell) => cell?.date)).toEqual([true, false]);
  });

  it("tell merged cells, hidden columns and hidden rows", () => {
    const grid = gridOf(readGrid(workbook({ A1: { t: "s", v: "17" }, B1: { t: "s", v: "17-A" }, B2: { t: "s", v: "17-B" }, B3: { t: "s", v: "17-C" } }, (sheet) => {
      sheet["!merges"] = [{ s: { r: 0, c: 0 }, e: { r: 2, c: 0 } }];
      sheet["!cols"] = [{}, { hidden: true }];
      sheet["!rows"] = [{}, { hidden: true }];
    }), "x.xlsx"));
    expect(grid.rows.map(({ number, hidden, cells }) => [number, hidden, cells[0]?.merged])).toEqual([[1, false, null], [2, true, { row: 1, column: 0 }], [3, false, { row: 1, column: 0 }]]);
    expect(grid.columns).toEqual([{ letter: "A", hidden: false }, { letter: "B", hidden: true }]);
  });

  it("offer their visible sheets, and open the first with something in it or the one that is named", () => {
    const file = workbook({}, (_, book) => {
      for (const [name, value] of [["Old", "old"], ["Bents", "bent"], ["More", "more"]] as const) xlsx.utils.book_append_sheet(book, xlsx.utils.aoa_to_sheet([[value]]), name);
      book.Workbook = { Sheets: [{ Hidden: 0 }, { Hidden: 1 }, { Hidden: 0 }, { Hidden: 0 }] };
    });
    const grid = gridOf(readGrid(file, "x.xlsx"));
    expect([grid.sheetName, grid.sheetNames, grid.notes]).toEqual(["Bents", ["Piles", "Bents", "More"], ["Hidden in the workbook and not offered: Old."]]);
    expect(texts(gridOf(readGrid(file, "x.xlsx", "More")))).toEqual([["more"]]);
    expect(refusal(readGrid(file, "x.xlsx", "Old"))).toBe("The workbook has no visible sheet Old.");
  });

  it("are refused with too many rows or columns", () => {
    expect(refusal(readGrid(workbook({ A1: { t: "s", v: "x" }, A20001: { t: "s", v: "y" } }, (sheet) => void (sheet["!ref"] = "A1:A20001")), "x.xlsx"))).toMatch(/more than 20 000 rows/);
    expect(refusal(readGrid(workbook({ A1: { t: "s", v: "x" }, GS1: { t: "s", v: "y" } }, (sheet) => void (sheet["!ref"] = "A1:GS1")), "x.xlsx"))).toMatch(/more than 200 columns/);
  });
});

it("reads GeoJSON by its content", () => {
  const file = bytes(JSON.stringify({ type: "FeatureCollection", features: [{ type: "Feature", geometry: { type: "Point", coordinates: [-63.5, 44] }, properties: { mark: "17-A" } }] }));
  expect(texts(gridOf(readGrid(file, "piles.csv")))).toEqual([["mark", "latitude", "longitude"], ["17-A", "44", "-63.5"]]);
});
