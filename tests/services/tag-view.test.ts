import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readPileCode } from "#lib/domain/photo/tag";
import { PAPERS } from "#lib/closeout/paper";
import { tagPdf } from "#lib/closeout/tag-pdf";
import { readTagQuery, tagSearch } from "#lib/edge/schema/tag";
import { addPile } from "#lib/services/add-pile";
import { bentWords, tagPrint, tagView } from "#lib/services/tag-view";
import { wordsOfPages } from "#tests/closeout/pdf-words";
import { CODE, smallProject, type SmallProject } from "#tests/services/small-project";

let site: SmallProject;
const view = (bents: string[] = []) => tagView(site.house.db.read, site.as("qc").project, site.clock.now, bents);

beforeAll(async () => {
  site = await smallProject();
  const pile = { type: "H", latitude: null, longitude: null, overrides: [], words: "" };
  for (const row of ["A", "B", "C", "D", "E"]) {
    await addPile(site.as("qc"), { ...pile, id: `three-${row}`, bent: "03", row, mark: `03-${row}`, drawn: { top: { value: "1.30", unit: "ft" }, bottom: null } });
  }
  await addPile(site.as("qc"), { ...pile, id: "long", bent: "B12", row: "N", mark: "B12-W.104-NORTH", drawn: null });
});
afterAll(() => site.close());

describe("the tags of a project", () => {
  it("are one for each pile, by bent and row, each with a code that names its pile", async () => {
    const { tags, bents, faults } = await view();
    expect(bents).toEqual([{ code: "02", piles: 4 }, { code: "03", piles: 5 }, { code: "B12", piles: 1 }]);
    expect(tags.map(({ mark }) => mark)).toEqual(["02-A", "02-B", "02-C", "02-D", "03-A", "03-B", "03-C", "03-D", "03-E", "B12-W.104-NORTH"]);
    expect(tags.every(({ pileId, code }) => readPileCode(code) === pileId)).toBe(true);
    expect(faults).toEqual([]);
  });

  it("say the type by its name, and the top only where it is drawn", async () => {
    const { tags } = await view(["02", "03"]);
    expect(tags[0]).toMatchObject({ core: "H", top: null });
    expect(tags[0]?.type.length).toBeGreaterThan(1);
    expect(tags[4]).toMatchObject({ mark: "03-A", top: "1.30 ft" });
  });

  it("are those of the bents that were asked for; one that is not there is told", async () => {
    const { tags, faults } = await view(["03", "77"]);
    expect(tags.map(({ bent }) => bent)).toEqual(["03", "03", "03", "03", "03"]);
    expect(faults).toEqual([{ field: "bents", message: "There is no pile in a bent 77." }]);
  });

  it("leave out what a change order took out of scope", async () => {
    const own = await smallProject();
    await own.house.db.write((tx) => tx.pile.update({ where: { id: "02-B" }, data: { scope: "out" } }));
    expect((await tagView(own.house.db.read, own.as("qc").project, own.clock.now, [])).tags.map(({ mark }) => mark)).toEqual(["02-A", "02-C", "02-D"]);
    await own.close();
  });

  it.each([
    [["05"], "Bent 05"],
    [["05", "05", "06"], "Bents 05 and 06"],
    [["02", "03", "04"], "Bents 02, 03 and 04"],
  ])("of %j are called %j", (bents, words) => {
    expect(bentWords(bents.map((bent) => ({ bent })))).toBe(words);
  });
});

describe("the query of a tag sheet", () => {
  it("takes bents given several times, and a paper", () => {
    expect(readTagQuery(new URLSearchParams("bents=05&bents=06&bents=05&bents=+&paper=letter"))).toEqual({ bents: ["05", "06"], paper: "Letter", faults: [] });
  });

  it("tells a paper that it does not know, and takes A4", () => {
    expect(readTagQuery(new URLSearchParams("paper=A5"))).toMatchObject({ paper: "A4", faults: [{ field: "paper" }] });
  });

  it("is read back from the address of its print", () => {
    const asked = { bents: ["B<9>", "5 & 6", "07"], paper: "Letter" as const };
    expect(readTagQuery(new URLSearchParams(tagSearch(asked)))).toEqual({ ...asked, faults: [] });
  });
});

describe("the print of tags", () => {
  it.each(Object.keys(PAPERS) as (keyof typeof PAPERS)[])("on %s has eight to a page, its size, the log head and what it is no substitute for on each", async (paper) => {
    const print = await tagPrint(site.as("qc"), { view: await view(), by: await site.member("qc"), at: site.clock.now });
    const pdf = await tagPdf({ ...print, paper });
    const pages = wordsOfPages(pdf);
    expect(pages).toHaveLength(2);
    const marks = (page: string) => page.split("|").filter((words) => /^(0\d-[A-E]|B12-W\.104-NORTH)$/.test(words));
    expect(marks(pages[0]!)).toHaveLength(8);
    expect(marks(pages[1]!)).toEqual(["03-E", "B12-W.104-NORTH"]);
    pages.forEach((page, i) => {
      for (const words of [`${i + 1} of 2`, "40 mm", "NOT A SUBSTITUTE", print.log.digest, "lace through both ends"]) expect(page.replaceAll("|", " ")).toContain(words);
    });
    const [wide, high] = PAPERS[paper];
    const [, width, height] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf.toString("latin1"))!;
    expect(Number(width)).toBeCloseTo((wide * 72) / 25.4, 1);
    expect(Number(height)).toBeCloseTo((high * 72) / 25.4, 1);
  });

  it("carries the digest of the project's own log", async () => {
    const print = await tagPrint(site.as("qc"), { view: await view(), by: await site.member("qc"), at: site.clock.now });
    const last = await site.house.db.read.logEntry.findFirst({ where: { projectId: CODE }, orderBy: { seq: "desc" } });
    expect(print.log.digest).toBe(last?.digest);
  });
});
