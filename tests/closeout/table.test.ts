import { Ajv2020 } from "ajv/dist/2020.js";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CellValue, Table } from "#lib/closeout/package-input";
import { csvBytes, inertCell, tableSchema } from "#lib/closeout/table";
import { exampleTables } from "#tests/closeout/example";

async function csv(table: Table): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of csvBytes(table)) chunks.push(chunk);
  return Buffer.concat(chunks).toString("utf8");
}
const oneColumn = (rows: CellValue[][]): Table => ({ name: "t", description: "", columns: [{ name: "words", type: "string", description: "", nullable: true }], rows });

describe("a table", () => {
  it("is written as RFC 4180 says: header, CRLF, quotes around comma, quote and line break, quotes doubled", async () => {
    expect(await csv(oneColumn([["plain"], ["a,b"], ['say "no"'], ["two\nlines"], [null], ["1'-6 1/2\""], ["−2,20 ft é"]]))).toBe(
      'words\r\nplain\r\n"a,b"\r\n"say ""no"""\r\n"two\nlines"\r\n\r\n"1\'-6 1/2"""\r\n"−2,20 ft é"\r\n',
    );
  });

  it.each([
    ["=1+1", "'=1+1"],
    ["+SUM(A1)", "'+SUM(A1)"],
    ["-2+3", "'-2+3"],
    ["@x", "'@x"],
    ["\t=1", "'\t=1"],
    ["\r=1", "'\r=1"],
    ["-2.20", "-2.20"],
    ["+1.30", "+1.30"],
    ["-1e9", "'-1e9"],
    ["7.0 in", "7.0 in"],
    ["'quoted", "'quoted"],
    ["", ""],
  ])("writes the cell %j as %j, so that no spreadsheet runs it", (cell, written) => {
    expect(inertCell(cell)).toBe(written);
  });

  it("reads back what was put in, whatever the words, less the apostrophe", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(fc.string({ unit: "grapheme" }), fc.string()), { minLength: 1, maxLength: 8 }), async (rows) => {
        const columns = ["a", "b"].map((name) => ({ name, type: "string" as const, description: "" }));
        const text = await csv({ name: "t", description: "", columns, rows });
        const read = parse(text, { record_delimiter: ["\r\n", "\r", "\n"] }) as string[][];
        expect(read.slice(1)).toEqual(rows.map((row) => row.map(inertCell)));
      }),
      { numRuns: 60 },
    );
  });

  it.each<[string, CellValue[], string]>([
    ["a cell too many", ["05-C", 1, "in work", null, "more"], "5 cells for 4 columns"],
    ["words where a number belongs", ["05-C", "1.3", "in work", null], "top_ft is not of type number"],
    ["NaN", ["05-C", NaN, "in work", null], "top_ft is not of type number"],
    ["nothing where something must stand", [null, 1, "in work", null], "mark has no value"],
  ])("is refused with %s", async (_what, row, problem) => {
    await expect(csv({ ...exampleTables()[0]!, rows: [row] })).rejects.toThrow(problem);
  });

  it("takes its rows from a source that delivers them one by one", async () => {
    async function* rows(): AsyncGenerator<CellValue[]> {
      for (let i = 0; i < 5_000; i++) yield [`row ${i}`];
    }
    const text = await csv({ ...oneColumn([]), rows: rows() });
    expect(text.split("\r\n")).toHaveLength(5_002);
  });
});

describe("the schema of the tables", () => {
  const ajv = new Ajv2020({ strict: true, validateFormats: false });
  const validate = ajv.compile(tableSchema(exampleTables()));

  it("is a valid draft 2020-12 schema that holds for rows as they were written", () => {
    expect(validate({ piles: [{ mark: "05-C", top_ft: 1.3, state: "in work", note: null }] })).toBe(true);
  });

  it.each([
    ["a column is missing", { mark: "05-C", top_ft: 1.3, state: "in work" }],
    ["a column is unknown", { mark: "05-C", top_ft: 1.3, state: "in work", note: null, more: 1 }],
    ["a value is of another type", { mark: "05-C", top_ft: "1.3", state: "in work", note: null }],
    ["a word is not in the list", { mark: "05-C", top_ft: 1.3, state: "done", note: null }],
    ["a value is null that may not be", { mark: null, top_ft: 1.3, state: "in work", note: null }],
  ])("does not hold when %s", (_what, row) => {
    expect(validate({ piles: [row] })).toBe(false);
  });
});
