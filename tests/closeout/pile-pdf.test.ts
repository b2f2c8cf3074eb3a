import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { PileRecord, PointRecord } from "#lib/closeout/package-input";
import { fontBytes, FONT_FILE } from "#lib/closeout/pdf-font";
import { pilePdf, projectPdf, stampsOf, type PdfContext } from "#lib/closeout/pile-pdf";
import { printedSpan, printedTime } from "#lib/closeout/printed-time";
import { POINT_STATES } from "#lib/domain/point/state";
import { exampleFiles, examplePackage, examplePile, point } from "#tests/closeout/example";
import { wordsOfPages } from "#tests/closeout/pdf-words";

let dir: string;
let pile: PileRecord;
let context: PdfContext;
beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), "closeout-pdf-"));
  const { project, issue } = await examplePackage(join(dir, "made"));
  pile = await examplePile(exampleFiles(join(dir, "files")));
  context = { project, issue, head: { v: 1, project: "W2", size: 3902, last: "9c1e".repeat(16), at: "2026-11-30T20:05:00.000Z", key: "0123456789abcdef" } };
});
afterAll(() => rmSync(dir, { recursive: true }));

const decision = (outcome: "release" | "reject" | "release under concession", at: string): PointRecord["decisions"][number] => ({
  attempt: 1, outcome, by: "Ilse Tarrowby", organisation: "Brandlewick Inspection Office", at, seenAs: "in person", observedOn: null, reasons: [], words: null, attestation: "server-attested",
});

describe("a pile's PDF", () => {
  it("carries on every page the log head in full, page n of m, the issue, and what it is no substitute for", async () => {
    const pages = wordsOfPages(await pilePdf(pile, context));
    expect(pages.length).toBeGreaterThan(1);
    pages.forEach((words, i) => {
      expect(words).toContain("9c1e".repeat(16));
      expect(words).toContain("entry 3902, signed 30 Nov 2026 16:05 −04:00, key 0123456789abcdef");
      expect(words).toContain(`${i + 1} of ${pages.length}`);
      expect(words).toContain("issue 1, interim");
      expect(words).toContain("for the engineer’s|judgement, the contract, or a|person looking.");
    });
  });

  it("says on the cover which pile it is, in which state, and what was rejected and why", async () => {
    const [cover] = wordsOfPages(await pilePdf(pile, context));
    for (const words of ["05-C", "In work", "4 of 7 points released, point 7 rejected", "REJECTED, POINT 7", "MEAS measured value fails", "RELEASED, POINT 4", "(1 OF 4 RELEASED)", "+1.30 ft", "42 in", "24 in inside"]) {
      expect(cover).toContain(words);
    }
  });

  it("shows a value with its requirement, verdict and margin, and a not applicable point with its reason", async () => {
    const words = wordsOfPages(await pilePdf(pile, context)).join("\n");
    expect(words).toMatch(/embedment, bar 4\|>=\| 7\.0 in\|6\.4 in\|tape T-4\|fails\|0\.6 in short/);
    expect(words).toContain("ring 1|to be recorded|6|recorded|submitted");
    expect(words).toContain("Not applicable: revision B, type C");
  });

  it("shows each photo with subject, both times, basis, order and place verdict, flags with answers, and the digest in full", async () => {
    const words = wordsOfPages(await pilePdf(pile, context)).at(-1)!;
    for (const { photos } of pile.points) {
      for (const photo of photos) for (const shown of [photo.subject, `taken ${photo.takenWords} (${photo.basis})`, `received ${photo.receivedWords}`, `${photo.order} · ${photo.place}`, photo.sha256, `data/${photo.bagPath}`]) expect(words).toContain(shown);
    }
    expect(words).toContain("GPS_FAR: 64 m from the site's position");
    expect(words).toContain("Answer: explained: reference");
    expect(words).toContain("No reduced copy could be made.");
  });

  it("repeats the head of a long table on each page, and leaves no point out", async () => {
    const points = POINT_STATES.flatMap((state, i) =>
      [0, 1, 2].map((n) => point({ line: String(3 * i + n + 1), name: `Point ${3 * i + n + 1} in its place`, state, decisions: [decision("release", "2026-10-13T11:20:00-03:00")] })),
    );
    const pages = wordsOfPages(await pilePdf({ ...pile, points }, context));
    for (const { name } of points) expect(pages.filter((words) => words.includes(name))).toHaveLength(1);
    const withPoints = pages.filter((words) => words.includes("in its place"));
    expect(withPoints.length).toBeGreaterThan(1);
    for (const words of withPoints) expect(words).toContain("Requirement|Measured|Verdict|State");
  });

  it("is the same, byte for byte, when made again, and names itself", async () => {
    const [first, second] = [await pilePdf(pile, context), await pilePdf(pile, context)];
    expect(first.equals(second)).toBe(true);
    const text = first.toString("latin1");
    const names = ["(Pile 05-C, Wharf 2 Pile Encasement)", "(Thornmarl Marine Works)", "/Marked true", "/Lang (en)"];
    expect(names.filter((name) => !text.includes(name))).toEqual([]);
  });

  it("embeds every face it uses, none of the built-in ones", async () => {
    const text = (await pilePdf(pile, context)).toString("latin1");
    const faces = text.match(/\/Type \/FontDescriptor/g)!.length;
    expect(text.match(/\/FontFile2 /g)).toHaveLength(faces);
    expect(/\/Subtype \/Type1\b/.test(text)).toBe(false);
  });

  it("has a sign for every letter of a name from Central Europe, and a box for what no face has", async () => {
    const words = wordsOfPages(await pilePdf({ ...pile, stateWords: "Łęg Ðő, 東" }, context)).join("\n");
    expect(words.replaceAll("|", "")).toContain("Łęg Ðő, ?");
  });

  it("is made for a pile of which next to nothing is known", async () => {
    const bare = { ...pile, points: [], facts: [], elevation: null, stateWords: null, position: null, state: "not started" as const };
    const pages = wordsOfPages(await pilePdf(bare, context));
    expect(pages).toHaveLength(1);
    expect(pages[0]).toContain("Levels and sizes are not on record.");
  });

  it("is made for the points of the project in the same form", async () => {
    const pages = wordsOfPages(await projectPdf([point({ line: "P4", name: "Mock-up", state: "released", decisions: [decision("release", "2026-10-02T11:00:00-03:00")] })], context));
    expect(pages[0]).toContain("Points of the project");
    expect(pages[0]).toMatch(/P4\|H\|Mock-up\|released\|Ilse Tarrowby/);
  });
});

describe("the stamps on a cover", () => {
  it("put what was rejected first, then concessions, acceptance, and the newest release", () => {
    const points = [
      point({ line: "4", name: "a", state: "released", decisions: [decision("release", "2026-10-13T11:20:00-03:00")] }),
      point({ line: "26", name: "b", state: "released", decisions: [decision("release", "2026-11-24T14:15:00-04:00")] }),
      point({ line: "10", name: "c", state: "released under concession", decisions: [decision("release under concession", "2026-10-16T15:40:00-03:00")] }),
      point({ line: "7", name: "d", state: "rejected", decisions: [decision("reject", "2026-10-14T10:00:00-03:00")] }),
    ];
    const acceptance = { outcome: "accepted" as const, by: "Sabine Corvale", organisation: "Ellumbrey Harbour Commission", at: "2026-11-27T10:00:00-04:00", words: null, warrantyWords: null };
    expect(stampsOf({ ...pile, points, acceptance }, "America/Halifax").map(({ kind, title }) => [kind, title])).toEqual([
      ["rejected", "Rejected, point 7"],
      ["concession", "Released under concession, point 10"],
      ["released", "accepted"],
      ["released", "Released, point 26"],
    ]);
  });

  it("stand only for what is still so: a point reopened after its release has none", () => {
    const reopened = point({ line: "4", name: "a", state: "in doubt", decisions: [decision("release", "2026-10-13T11:20:00-03:00")] });
    expect(stampsOf({ ...pile, points: [reopened], acceptance: null }, "America/Halifax")).toEqual([]);
  });
});

describe("times on paper", () => {
  it.each([
    ["2026-11-01T03:30:00Z", "1 Nov 2026 00:30 −03:00"],
    ["2026-11-01T13:30:12-04:00", "1 Nov 2026 13:30:12 −04:00"],
  ])("show %s in the site's zone with its offset, on either side of a clock change", (iso, words) => {
    expect(printedTime(iso, "America/Halifax")).toBe(words);
  });

  it("show a span within a day once, and over a clock change in full", () => {
    expect(printedSpan("2026-10-13T08:10:00-03:00", "2026-10-13T12:40:00Z", "America/Halifax")).toBe("13 Oct 2026 08:10 to 09:40 −03:00");
    expect(printedSpan("2026-10-31T20:30:00-03:00", "2026-11-01T13:30:00-04:00", "America/Halifax")).toBe("31 Oct 2026 20:30 −03:00 to 1 Nov 2026 13:30 −04:00");
  });
});

describe("the faces", () => {
  // OpenType, "Calculating checksums": the sum of a table's 32-bit words; the whole font gives 0xB1B0AFBA less head.checkSumAdjustment.
  it.each(Object.keys(FONT_FILE) as (keyof typeof FONT_FILE)[])("%s is unpacked with every table as its checksum says", (name) => {
    const font = fontBytes(name);
    const sum = (bytes: Buffer): number => {
      let total = 0;
      for (let at = 0; at < bytes.length; at += 4) total = (total + bytes.readUInt32BE(at)) >>> 0;
      return total;
    };
    for (let i = 0; i < font.readUInt16BE(4); i++) {
      const row = 12 + 16 * i;
      const [checksum, offset, length] = [font.readUInt32BE(row + 4), font.readUInt32BE(row + 8), font.readUInt32BE(row + 12)];
      const table = Buffer.from(font.subarray(offset, offset + Math.ceil(length / 4) * 4));
      if (font.toString("latin1", row, row + 4) === "head") table.writeUInt32BE(0, 8);
      expect(sum(table), font.toString("latin1", row, row + 4)).toBe(checksum);
    }
  });
});
