import { utils, write } from "@e965/xlsx";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { listPiles, listSchedules } from "#lib/db/pile";
import { findScheduleDraft } from "#lib/db/schedule-draft";
import { answerSchedule, commitSchedule, dropSchedule, mapSchedule, pasteSchedule, readingOf, receiveSchedule, type CommitInput } from "#lib/services/read-schedule";
import { refusedWith } from "#tests/services/refused";
import { CODE, smallProject } from "#tests/services/small-project";

let small: Awaited<ReturnType<typeof smallProject>>;
beforeEach(async () => {
  small = await smallProject();
});
afterEach(() => small.close());

const tx = () => small.house.db.read;
const qc = () => small.as("qc");
const reading = async () => (await readingOf(tx(), qc(), small.clock.now))!;
const COMMIT: CommitInput = { withoutAside: false, changeOrder: null, missing: "leave", renumbered: null, words: "" };
const marks = async () => (await listPiles(tx(), CODE)).map(({ mark }) => mark);

async function* chunks(bytes: Uint8Array) {
  for (let at = 0; at < bytes.length; at += 4_096) yield bytes.subarray(at, at + 4_096);
}
const send = (bytes: Uint8Array, fileName = "piles.xlsx") => receiveSchedule(qc(), { fileName, stream: chunks(bytes), sheet: null });

type Row = (string | number | null)[];
function workbook(rows: Row[], merges: { s: { r: number; c: number }; e: { r: number; c: number } }[] = [], formula?: { cell: string; f: string }): Uint8Array {
  const sheet = utils.aoa_to_sheet(rows);
  sheet["!merges"] = merges;
  if (formula) sheet[formula.cell] = { t: "n", f: formula.f };
  const book = utils.book_new();
  utils.book_append_sheet(book, sheet, "Piles");
  return new Uint8Array(write(book, { type: "array", bookType: "xlsx" }) as ArrayBuffer);
}

const HEAD: Row = ["BENT", "PILE NO", "TYPE", "JKT LENGTH (FT)", "REMARKS"];
/** Ten piles in two bents; the second bent repeats a mark, and one length is in inches. */
const MESSY: Row[] = [
  HEAD, [11, "11-A", "HP", 3.5, null], [null, "11-B", "DO", "DO", null], [null, "11-C", "DO", "3'-6\"", "fender bracket"], [null, "11-D", "DO", "DO", null], [null, "11-E", "DO", "DO", null],
  [12, "11-E", "HP", "DO", null], [null, "12-B", "DO", "DO", null], [null, "12-C", "DO", 42, null], [null, "12-D", "DO", 3.5, null], [null, "12-E", "DO", "DO", null], ["TOTAL", "10 piles", null, null, null],
];
const MERGES = [{ s: { r: 1, c: 0 }, e: { r: 5, c: 0 } }, { s: { r: 6, c: 0 }, e: { r: 10, c: 0 } }];

describe("a drawing schedule", () => {
  it("is read, asked about and brought in once, with the two rows that need a person answered", async () => {
    await send(workbook(MESSY, MERGES));
    const first = await reading();
    expect(first.faults).toEqual([]);
    expect(first.run).toMatchObject({ ready: { length: 8 }, aside: [{ row: 7 }, { row: 9 }] });
    expect(await refusedWith(commitSchedule(qc(), COMMIT))).toMatchObject({ code: "invalid", faults: [{ field: "withoutAside" }] });

    const [twice, length] = first.run!.questions.map(({ question }) => question);
    const inches = length!.answers.find(({ effect }) => effect.kind === "unit")!;
    const renamed = twice!.answers.find(({ effect }) => effect.kind === "mark")!;
    await answerSchedule(qc(), { [twice!.id]: renamed.id, [length!.id]: inches.id });
    expect((await reading()).run).toMatchObject({ ready: { length: 10 }, aside: [] });
    expect(await commitSchedule(qc(), COMMIT)).toEqual({ added: 10, changed: 0, removed: 0 });
    expect(await marks()).toEqual(expect.arrayContaining(["11-A", "12-A", "12-E", "02-A"]));
    expect(await findScheduleDraft(tx(), CODE, "qc")).toBeNull();
    expect((await listPiles(tx(), CODE)).find(({ mark }) => mark === "11-C")?.words).toBe("fender bracket");
  });

  it("remembers what its columns were, and shows a later file as a change order", async () => {
    await send(workbook([["BENT", "PILE NO", "TYPE", "LEN", "REMARKS"], ...MESSY.slice(1, 6)], MERGES.slice(0, 1)));
    const { draft } = await reading();
    expect(draft.mapping.columns[3]?.field).toBe("leave out");
    await mapSchedule(qc(), { ...draft.mapping, columns: draft.mapping.columns.map((column, index) => (index === 3 ? { ...column, field: "jacket height", unit: "ft" } : column)) });
    await commitSchedule(qc(), COMMIT);

    await send(workbook([["BENT", "PILE NO", "TYPE", "LEN", "REMARKS"], [11, "11-A", "HP", 3.5, null], [null, "11-B", "DO", 4, null], [null, "11-X", "DO", 3.5, null]], [{ s: { r: 1, c: 0 }, e: { r: 3, c: 0 } }]));
    const later = await reading();
    expect(later.draft.mapping.columns[3]).toMatchObject({ field: "jacket height", unit: "ft" });
    expect(later.difference!.changed.map(({ now, changes }) => [now.mark, changes.some(({ field }) => field === "requirement")])).toEqual([["11-B", true]]);
    expect(later.difference!.added.map(({ mark }) => mark)).toEqual(["11-X"]);
    expect(later.missing.map(({ mark }) => mark)).toEqual(expect.arrayContaining(["11-C", "11-D", "11-E"]));

    expect(await refusedWith(commitSchedule(qc(), { ...COMMIT, missing: null }))).toMatchObject({ faults: [{ field: "missing" }, { field: "changeOrder" }] });
    expect(await commitSchedule(qc(), { ...COMMIT, missing: "take out", changeOrder: "CO-4" })).toMatchObject({ added: 1, changed: 1, removed: 7 });
    const piles = await listPiles(tx(), CODE);
    expect(piles.find(({ mark }) => mark === "11-C")).toMatchObject({ scope: "out", state: "out of scope" });
    expect(piles.find(({ mark }) => mark === "11-B")?.overrides.map(({ override }) => override.change.kind)).toContain("jacket");
    expect((await listSchedules(tx(), CODE)).map(({ changeOrder }) => changeOrder)).toEqual([null, "CO-4"]);
  });

  it("can be pasted, and let go of", async () => {
    await pasteSchedule(qc(), "BENT\tMARK\tTYPE\n21\t21-A\tHP\n");
    expect((await reading()).run?.ready).toHaveLength(1);
    await dropSchedule(qc());
    expect(await findScheduleDraft(tx(), CODE, "qc")).toBeNull();
    expect(await refusedWith(commitSchedule(qc(), COMMIT))).toMatchObject({ code: "blocked" });
  });

  it.each<[string, () => Promise<unknown>, RegExp]>([
    ["a file announced as 40 MB", () => receiveSchedule(qc(), { fileName: "big.csv", stream: chunks(new Uint8Array(0)), declaredLength: 40 * 1024 ** 2, sheet: null }), /larger than 20 MB/],
    ["a file that turns out larger than it said", () => receiveSchedule(qc(), { fileName: "big.csv", stream: (async function* () { for (let mb = 0; mb < 22; mb++) yield new Uint8Array(1024 ** 2); })(), declaredLength: 10, sheet: null }), /larger than 20 MB/],
    ["a picture", () => send(new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 1, 2]), "piles.csv"), /neither a workbook nor text|not/],
    ["nothing", () => pasteSchedule(qc(), "  \n"), /Nothing was pasted/],
  ])("does not take %s, says so, and leaves nothing", async (_what, act, message) => {
    expect((await refusedWith(act())).message).toMatch(message);
    expect(await findScheduleDraft(tx(), CODE, "qc")).toBeNull();
  });

  it.each<[string, Row[], RegExp]>([
    ["a number beyond all numbers", [HEAD, [11, "11-A", "HP", "1e400", null]], /1e400|number/],
    ["a negative height", [HEAD, [11, "11-A", "HP", -3.5, null]], /more than nothing/],
    ["a formula typed as text", [HEAD, [11, "11-A", "HP", "=SUM(A1:A3)", null]], /formula/],
    ["no mark", [HEAD, [11, null, "HP", 3.5, "x"]], /no mark/],
  ])("stops the row with %s, and brings the others in when it is told to", async (_what, rows, message) => {
    await send(workbook([...rows, [11, "11-B", "HP", 3.5, null]]));
    const { run } = await reading();
    expect(run!.aside.map(({ why }) => why.join(" "))).toEqual([expect.stringMatching(message)]);
    await refusedWith(commitSchedule(qc(), COMMIT));
    expect(await marks()).toHaveLength(4);
    expect(await commitSchedule(qc(), { ...COMMIT, withoutAside: true })).toMatchObject({ added: 1 });
  });

  it("stops the row with a formula that has no value", async () => {
    await send(workbook([HEAD, [11, "11-A", "HP", 3.5, null]], [], { cell: "D2", f: "SUM(A1:A3)" }));
    expect((await reading()).run!.aside[0]!.why.join(" ")).toMatch(/formula without a value/i);
  });

  it("asks which of two columns with one name is meant, and for the unit of a length", async () => {
    await pasteSchedule(qc(), "MARK\tBENT\tTYPE\tHEIGHT\tHEIGHT\n11-A\t11\tHP\t48\t50\n");
    const { draft, faults, run } = await reading();
    expect(draft.mapping.columns.map(({ field }) => field)).toEqual(["mark", "bent", "type", "jacket height", "leave out"]);
    expect(faults.map(({ message }) => message)).toEqual([expect.stringMatching(/unit/)]);
    expect(run).toBeNull();
  });

  it("belongs to the one who is reading it, and to who may bring piles in", async () => {
    await pasteSchedule(qc(), "BENT\tMARK\tTYPE\n21\t21-A\tHP\n");
    expect(await findScheduleDraft(tx(), CODE, "crew")).toBeNull();
    expect(await refusedWith(pasteSchedule(small.as("crew"), "BENT\tMARK\tTYPE\n21\t21-A\tHP\n"))).toMatchObject({ code: "not-allowed" });
  });
});
